import { type ReadonlySignal, signal } from '@preact/signals';
import type { Finding } from '../../sketch/part/part.ts';
import type { PassSurvival } from '../../toolpath/survival/pass-survival.ts';
import type { SqueezeRow } from '../../toolpath/survival/squeeze-route.ts';
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
      readonly findings: readonly Finding[];
      readonly share: number;
      readonly secondsLeft: number | null;
    }
  | { readonly kind: 'progress'; readonly share: number; readonly secondsLeft: number | null }
  /** All passes are solved; what the jaws do to the work in the setups looked at so far. */
  | {
      readonly kind: 'squeezed';
      readonly squeeze: readonly SqueezeRow[];
      readonly findings: readonly Finding[];
    }
  | { readonly kind: 'done' }
  | { readonly kind: 'failed'; readonly message: string };

/** How a survey stands. */
export interface SurveyState {
  readonly passes: readonly PassSurvival[];
  readonly findings: readonly Finding[];
  /** What the jaws do to the work, setup by setup, once the passes are solved. */
  readonly squeeze: readonly SqueezeRow[];
  /** Share of the solving that is done; null when nothing is under way. */
  readonly share: number | null;
  readonly secondsLeft: number | null;
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
  /** Lets everything go: the part is another one. */
  clear(): void;
}

const NOTHING: SurveyState = {
  passes: [],
  findings: [],
  squeeze: [],
  share: 0,
  secondsLeft: null,
  failure: null,
};

export const createSurvey = (): Survey => {
  const state = signal<SurveyState | null>(null);
  const movements = createMovements();
  let worker: Worker | null = null;
  const end = (): void => {
    worker?.terminate();
    worker = null;
  };
  const hear = (news: SurveyNews): void => {
    const now = state.value ?? NOTHING;
    switch (news.kind) {
      case 'passes': {
        const { passes, findings, share, secondsLeft } = news;
        state.value = { ...now, passes, findings, share, secondsLeft };
        break;
      }
      case 'progress':
        state.value = { ...now, share: news.share, secondsLeft: news.secondsLeft };
        break;
      case 'squeezed':
        state.value = { ...now, squeeze: news.squeeze, findings: news.findings };
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
      state.value = NOTHING;
      worker = new Worker(new URL('./survey-worker.ts', import.meta.url), { type: 'module' });
      worker.onmessage = (e: MessageEvent<SurveyNews>) => hear(e.data);
      worker.onerror = (e) =>
        hear({ kind: 'failed', message: e.message || 'the worker could not be started' });
      worker.postMessage(ask);
    },
    stop: () => {
      end();
      if (state.value) state.value = { ...state.value, share: null, secondsLeft: null };
    },
    clear: () => {
      end();
      movements.clear();
      state.value = null;
    },
  };
};
