import { type ReadonlySignal, signal } from '@preact/signals';
import type { PassSurvival } from '../../toolpath/survival/pass-survival.ts';
import type { SetupSqueeze } from '../../toolpath/survival/squeeze-route.ts';
import type { PlannedPart, ProgramFile } from '../chain.ts';
import { createMovements, type Movements } from './movements.ts';

/** What the page asks of the survey's worker. */
export interface SurveyAsk {
  readonly planned: PlannedPart;
  readonly programs: readonly ProgramFile[];
}

export type SurveyNews =
  | {
      readonly kind: 'passes';
      readonly passes: readonly PassSurvival[];
      readonly share: number;
      readonly secondsLeft: number | null;
    }
  | { readonly kind: 'progress'; readonly share: number; readonly secondsLeft: number | null }
  /** All passes are solved; what the jaws do to the work in the setups looked at so far. */
  | {
      readonly kind: 'squeezed';
      readonly squeezes: readonly SetupSqueeze[];
    }
  | { readonly kind: 'done' }
  | { readonly kind: 'failed'; readonly message: string };

/** How a survey stands. */
export interface SurveyState {
  readonly passes: readonly PassSurvival[];
  /** What the jaws do to the work, setup by setup, once the passes are solved. */
  readonly squeezes: readonly SetupSqueeze[];
  /** Share of the solving that is done; null when nothing is under way. */
  readonly share: number | null;
  readonly secondsLeft: number | null;
  /** Whether it was stopped before all was solved: the figures so far stand. */
  readonly stopped: boolean;
  readonly failure: string | null;
}

/** The estimates of force, bending and hold: worked out when asked for, in a worker of its own, and stopped at will. */
export interface Survey {
  /** Null until it is asked for. */
  readonly state: ReadonlySignal<SurveyState | null>;
  /** How the whole of the work moves in one pass of it. */
  readonly movements: Movements;
  begin(ask: SurveyAsk): void;
  /** Stops; what came so far stays. */
  stop(): void;
  /** The work is planned anew: lets everything go, unless only what the figures are judged by has changed. */
  follow(work: PlannedPart | null): void;
}

const NOTHING: SurveyState = {
  passes: [],
  squeezes: [],
  share: 0,
  secondsLeft: null,
  stopped: false,
  failure: null,
};

/** Whether two states of a part are made alike and differ at most in the tolerance that they state. */
const isSameBut = (one: PlannedPart, other: PlannedPart): boolean => {
  const made = ({ document }: PlannedPart): string =>
    JSON.stringify({ ...document, route: { ...document.route, tolerance: undefined } });
  return JSON.stringify(one.profile) === JSON.stringify(other.profile) && made(one) === made(other);
};

export const createSurvey = (): Survey => {
  const state = signal<SurveyState | null>(null);
  const movements = createMovements();
  let worker: Worker | null = null;
  let asked: SurveyAsk | null = null;
  const end = (): void => {
    worker?.terminate();
    worker = null;
  };
  const hear = (news: SurveyNews): void => {
    const now = state.value ?? NOTHING;
    switch (news.kind) {
      case 'passes': {
        const { passes, share, secondsLeft } = news;
        state.value = { ...now, passes, share, secondsLeft };
        break;
      }
      case 'progress':
        state.value = { ...now, share: news.share, secondsLeft: news.secondsLeft };
        break;
      case 'squeezed':
        state.value = { ...now, squeezes: news.squeezes };
        break;
      case 'done':
        state.value = { ...now, share: null, secondsLeft: null };
        end();
        break;
      case 'failed':
        state.value = { ...now, share: null, secondsLeft: null, failure: news.message };
        end();
        break;
    }
  };
  return {
    state,
    movements,
    begin: (ask) => {
      end();
      asked = ask;
      state.value = NOTHING;
      worker = new Worker(new URL('./survey-worker.ts', import.meta.url), { type: 'module' });
      worker.onmessage = (e: MessageEvent<SurveyNews>) => hear(e.data);
      worker.onerror = (e) =>
        hear({ kind: 'failed', message: e.message || 'the worker could not be started' });
      worker.postMessage(ask);
    },
    stop: () => {
      end();
      if (state.value) state.value = { ...state.value, share: null, secondsLeft: null, stopped: true };
    },
    follow: (work) => {
      if (asked !== null && work !== null && isSameBut(asked.planned, work)) return;
      end();
      movements.clear();
      asked = null;
      state.value = null;
    },
  };
};
