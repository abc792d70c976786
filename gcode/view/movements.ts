import { type ReadonlySignal, signal } from '@preact/signals';
import type { ForcePlace, PassForce } from '../../toolpath/survival/force-survey.ts';
import type { NoField } from '../../toolpath/survival/movement-field.ts';
import type { MovementPicture } from '../survival/movement-picture.ts';
import type { MovementWords } from '../survival/movement-words.ts';
import type { SurveyAsk } from './survey.ts';

/** What is to be shown: a surveyed pass by its number, its forces, the place that presses, and the part's name for it. */
export interface MovementWish {
  readonly pass: number;
  readonly force: PassForce;
  readonly place: ForcePlace;
  readonly name: string | null;
}

/** The work bent under one place of a pass, or why there is nothing to show. */
export type ShownMovement =
  | {
      readonly kind: 'picture';
      readonly picture: MovementPicture;
      readonly words: MovementWords;
      /** Movement under the cutter and the most anywhere, mm. */
      readonly under: number;
      readonly most: number;
    }
  | NoField;

export type MovementAsk =
  | { readonly kind: 'work'; readonly work: SurveyAsk }
  | { readonly kind: 'wish'; readonly ticket: number; readonly wish: MovementWish };

export type MovementNews =
  | { readonly kind: 'shown'; readonly ticket: number; readonly shown: ShownMovement }
  | { readonly kind: 'failed'; readonly ticket: number; readonly message: string };

export interface MovementState {
  readonly wish: MovementWish;
  /** The last picture that came; of an earlier wish while `busy`. */
  readonly shown: ShownMovement | null;
  readonly busy: boolean;
  readonly failure: string | null;
}

/** The movement of the whole work, worked out for one pass at a time in a worker of its own. */
export interface Movements {
  /** Null until something is wished for. */
  readonly state: ReadonlySignal<MovementState | null>;
  /** The newest wish is the only one: what was under way for an older one is dropped. */
  wish(work: SurveyAsk, wish: MovementWish): void;
  clear(): void;
}

/** A worker that has been busy this long with an older wish is ended and begun anew, ms. */
const PATIENCE = 1500;

export const createMovements = (): Movements => {
  const state = signal<MovementState | null>(null);
  let worker: Worker | null = null;
  let known: SurveyAsk | null = null;
  let ticket = 0;
  let since = 0;
  const end = (): void => {
    worker?.terminate();
    worker = null;
    known = null;
  };
  const hear = (news: MovementNews): void => {
    const now = state.value;
    if (!now || news.ticket !== ticket) return;
    state.value =
      news.kind === 'shown'
        ? { ...now, shown: news.shown, busy: false, failure: null }
        : { ...now, shown: null, busy: false, failure: news.message };
  };
  const begin = (work: SurveyAsk): Worker => {
    const begun = new Worker(new URL('./movement-worker.ts', import.meta.url), { type: 'module' });
    begun.onmessage = (e: MessageEvent<MovementNews>) => hear(e.data);
    begun.onerror = (e) => {
      end();
      hear({ kind: 'failed', ticket, message: e.message || 'the worker could not be started' });
    };
    begun.postMessage({ kind: 'work', work } satisfies MovementAsk);
    return begun;
  };
  return {
    state,
    wish: (work, wish) => {
      const now = state.value;
      if (now?.busy && performance.now() - since > PATIENCE) end();
      if (known?.planned !== work.planned || known.programs !== work.programs) end();
      worker ??= begin(work);
      known = work;
      if (!now?.busy) since = performance.now();
      ticket++;
      state.value = { wish, shown: now?.shown ?? null, busy: true, failure: null };
      worker.postMessage({ kind: 'wish', ticket, wish } satisfies MovementAsk);
    },
    clear: () => {
      end();
      state.value = null;
    },
  };
};
