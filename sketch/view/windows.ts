import { effect, type ReadonlySignal, signal } from '@preact/signals';
import { takeDown, tell } from './notices.ts';
import { untilGone } from './places.ts';

/** What windows say to each other: which part lies in which of them. */
interface Word {
  readonly kind: 'here' | 'gone';
  readonly place: string;
  readonly name: string;
  /** Whether the others should say the same of themselves. */
  readonly answer: boolean;
}

const isWord = (value: unknown): value is Word => {
  const v = (typeof value === 'object' ? value : null) as Partial<Record<keyof Word, unknown>> | null;
  return (
    (v?.kind === 'here' || v?.kind === 'gone') && typeof v.place === 'string' && typeof v.name === 'string'
  );
};

/**
 * Says so when the part in this window is open in another one too. Nothing is shared between them: each keeps its own
 * changes in its own place, so that none is ever written over.
 */
export const watchWindows = (place: string, name: ReadonlySignal<string | null>): void => {
  if (typeof BroadcastChannel === 'undefined') return;
  const channel = new BroadcastChannel('leverwright');
  const others = signal<ReadonlyMap<string, string>>(new Map());
  const forget = (gone: string): void => {
    const left = new Map(others.peek());
    if (left.delete(gone)) others.value = left;
  };
  const say = (kind: Word['kind'], answer: boolean): void => {
    const word: Word = { kind, place, name: name.peek() ?? '', answer };
    channel.postMessage(word);
  };
  channel.onmessage = (e: MessageEvent<unknown>) => {
    const word = e.data;
    if (!isWord(word) || word.place === place) return;
    if (word.kind === 'gone') {
      forget(word.place);
      return;
    }
    if (!others.peek().has(word.place)) void untilGone(word.place).then(() => forget(word.place));
    others.value = new Map(others.peek()).set(word.place, word.name);
    if (word.answer) say('here', false);
  };
  let first = true;
  effect(() => {
    name.value;
    say('here', first);
    first = false;
  });
  window.addEventListener('pagehide', () => say('gone', false));
  window.addEventListener('pageshow', (e) => {
    if (e.persisted) say('here', true);
  });
  effect(() => {
    const mine = name.value;
    const twice = mine !== null && [...others.value.values()].includes(mine);
    if (!twice) {
      takeDown('windows');
      return;
    }
    tell({
      about: 'windows',
      grave: true,
      words: `“${mine}” is open in another window too. Each window keeps its own changes; what is drawn in one does not come into the other. Go on in one of them, or save one under another name.`,
    });
  });
};
