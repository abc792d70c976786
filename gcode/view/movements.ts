import { type ReadonlySignal, signal } from '@preact/signals';
import type { ForcePlace, PassForce } from '../../toolpath/survival/force-survey.ts';
import type { NoField } from '../../toolpath/survival/movement-field.ts';
import type { PassSurvival } from '../../toolpath/survival/pass-survival.ts';
import type { MovementPicture } from '../survival/movement-picture.ts';
import type { MovementWords } from '../survival/movement-words.ts';
import type { WorstPicture } from '../survival/worst-pictures.ts';
import type { SurveyAsk } from './survey.ts';

/** What is to be shown: a surveyed pass by its number, its forces, the place that presses, and the part's name for it. */
export interface MovementWish {
  readonly pass: number;
  readonly force: PassForce;
  readonly place: ForcePlace;
  readonly name: string | null;
  /** How many letters stand side by side over the work's length. */
  readonly across: number;
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
  | { readonly kind: 'wish'; readonly ticket: number; readonly wish: MovementWish }
  /** The worst pass of each setup, for paper. */
  | { readonly kind: 'paper'; readonly work: SurveyAsk; readonly passes: readonly PassSurvival[] };

export type MovementNews =
  | { readonly kind: 'shown'; readonly ticket: number; readonly shown: ShownMovement }
  | { readonly kind: 'failed'; readonly ticket: number; readonly message: string }
  | { readonly kind: 'paper'; readonly pictures: readonly WorstPicture[] };

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

const newWorker = (): Worker =>
  new Worker(new URL('./movement-worker.ts', import.meta.url), { type: 'module' });

/** The worst pass of each setup as a picture for paper, in a worker for this alone. Rejects with a sentence where it fails. */
export const paperPictures = (
  work: SurveyAsk,
  passes: readonly PassSurvival[],
): Promise<readonly WorstPicture[]> =>
  new Promise((done, failed) => {
    const worker = newWorker();
    worker.onmessage = ({ data }: MessageEvent<MovementNews>) => {
      worker.terminate();
      if (data.kind === 'paper') done(data.pictures);
      else failed(new Error(data.kind === 'failed' ? data.message : 'the worker answered something else'));
    };
    worker.onerror = (e) => {
      worker.terminate();
      failed(new Error(e.message || 'the worker could not be started'));
    };
    worker.postMessage({ kind: 'paper', work, passes } satisfies MovementAsk);
  });

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
    if (!now || news.kind === 'paper' || news.ticket !== ticket) return;
    state.value =
      news.kind === 'shown'
        ? { ...now, shown: news.shown, busy: false, failure: null }
        : { ...now, shown: null, busy: false, failure: news.message };
  };
  const begin = (work: SurveyAsk): Worker => {
    const begun = newWorker();
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
      if (!worker || !now?.busy) since = performance.now();
      worker ??= begin(work);
      known = work;
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
