import { type ReadonlySignal, signal } from '@preact/signals';
import type { PlannedPart } from '../chain.ts';
import type { OrderPictures } from '../survival/order-pictures.ts';
import type { Advice } from '../survival/report.ts';

/** What the page asks of the worker: the part, and how many letters stand side by side over a picture of the work. */
export interface AdviceAsk {
  readonly planned: PlannedPart;
  readonly across: number;
}

interface Found {
  readonly advice: Advice;
  /** What tells the orders apart. */
  readonly pictures: readonly OrderPictures[];
}

export type AdviceNews =
  | ({ readonly kind: 'advice' } & Found)
  | { readonly kind: 'failed'; readonly message: string };

export type AdviceState =
  | { readonly kind: 'seeking' }
  | ({ readonly kind: 'found' } & Found)
  | { readonly kind: 'failed'; readonly message: string };

/** What would be better: sought when asked for, in a worker of its own. */
export interface Adviser {
  /** Null until it is asked for. */
  readonly state: ReadonlySignal<AdviceState | null>;
  begin(ask: AdviceAsk): void;
  /** Stops, or lets go of what was found. */
  clear(): void;
}

export const createAdviser = (): Adviser => {
  const state = signal<AdviceState | null>(null);
  let worker: Worker | null = null;
  const end = (): void => {
    worker?.terminate();
    worker = null;
  };
  const hear = (news: AdviceNews): void => {
    state.value = news.kind === 'advice' ? { ...news, kind: 'found' } : news;
    end();
  };
  return {
    state,
    begin: (ask) => {
      end();
      state.value = { kind: 'seeking' };
      worker = new Worker(new URL('./advice-worker.ts', import.meta.url), { type: 'module' });
      worker.onmessage = (e: MessageEvent<AdviceNews>) => hear(e.data);
      worker.onerror = (e) =>
        hear({ kind: 'failed', message: e.message || 'the worker could not be started' });
      worker.postMessage(ask);
    },
    clear: () => {
      end();
      state.value = null;
    },
  };
};
