import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import {
  createMovements,
  type MovementAsk,
  type MovementNews,
  type MovementWish,
  type ShownMovement,
} from '../gcode/view/movements.ts';
import type { SurveyAsk } from '../gcode/view/survey.ts';

/** Asking for one movement after another: the newest wish is the only one. The worker is played here by hand. */

class HandWorker {
  static readonly all: HandWorker[] = [];
  readonly asked: MovementAsk[] = [];
  ended = false;
  onmessage: ((e: { data: MovementNews }) => void) | null = null;
  onerror: ((e: { message: string }) => void) | null = null;
  constructor() {
    HandWorker.all.push(this);
  }
  postMessage(ask: MovementAsk): void {
    this.asked.push(ask);
  }
  terminate(): void {
    this.ended = true;
  }
  answer(data: MovementNews): void {
    if (!this.ended) this.onmessage?.({ data });
  }
}

beforeEach(() => {
  HandWorker.all.length = 0;
  vi.stubGlobal('Worker', HandWorker);
  vi.useFakeTimers({ toFake: ['performance'] });
});
afterEach(() => {
  vi.unstubAllGlobals();
  vi.useRealTimers();
});

const work = { planned: {}, programs: [] } as unknown as SurveyAsk;
const wishFor = (pass: number): MovementWish => ({ pass }) as unknown as MovementWish;
const told = (why: string): ShownMovement => ({ kind: 'none', why });
const ticketOf = (ask: MovementAsk | undefined): number => (ask?.kind === 'wish' ? ask.ticket : -1);

test('one worker is told the work once and then each wish; an answer to an older wish is dropped', () => {
  const movements = createMovements();
  movements.wish(work, wishFor(1));
  movements.wish(work, wishFor(2));
  expect(HandWorker.all).toHaveLength(1);
  const [worker] = HandWorker.all;
  expect(worker!.asked.map((a) => a.kind)).toEqual(['work', 'wish', 'wish']);
  const [, first, second] = worker!.asked;
  worker!.answer({ kind: 'shown', ticket: ticketOf(first), shown: told('old') });
  expect(movements.state.value).toMatchObject({ busy: true, shown: null, wish: { pass: 2 } });
  worker!.answer({ kind: 'shown', ticket: ticketOf(second), shown: told('new') });
  expect(movements.state.value).toMatchObject({ busy: false, shown: { why: 'new' } });
  worker!.answer({ kind: 'failed', ticket: ticketOf(first), message: 'late' });
  expect(movements.state.value?.failure).toBeNull();
});

test('a worker that is long busy with an older wish is ended, and a new one takes the newest', () => {
  const movements = createMovements();
  movements.wish(work, wishFor(1));
  vi.advanceTimersByTime(5000);
  movements.wish(work, wishFor(2));
  expect(HandWorker.all.map((w) => w.ended)).toEqual([true, false]);
  expect(HandWorker.all[1]!.asked.map((a) => a.kind)).toEqual(['work', 'wish']);
  // The new one has its own time: a slider that runs on does not end it at once.
  vi.advanceTimersByTime(100);
  movements.wish(work, wishFor(3));
  expect(HandWorker.all).toHaveLength(2);
});

test('a failure is told, and the next wish is answered again', () => {
  const movements = createMovements();
  movements.wish(work, wishFor(1));
  const ticket = ticketOf(HandWorker.all[0]!.asked[1]);
  HandWorker.all[0]!.answer({ kind: 'failed', ticket, message: 'no memory left' });
  expect(movements.state.value).toMatchObject({ busy: false, failure: 'no memory left' });
  movements.wish(work, wishFor(2));
  expect(movements.state.value).toMatchObject({ busy: true, failure: null });
  HandWorker.all.at(-1)!.onerror?.({ message: '' });
  expect(movements.state.value?.failure).toBe('the worker could not be started');
  movements.wish(work, wishFor(3));
  expect(HandWorker.all.at(-1)!.ended).toBe(false);
  expect(HandWorker.all.at(-1)!.asked.map((a) => a.kind)).toEqual(['work', 'wish']);
});

test('another part begins anew, and clearing lets everything go', () => {
  const movements = createMovements();
  movements.wish(work, wishFor(1));
  movements.wish({ ...work, programs: [] }, wishFor(1));
  expect(HandWorker.all.map((w) => w.ended)).toEqual([true, false]);
  movements.clear();
  expect(HandWorker.all.map((w) => w.ended)).toEqual([true, true]);
  expect(movements.state.value).toBeNull();
});
