import { effect, signal } from '@preact/signals';
import { KEPT_FORMAT, KEPT_VERSION, KEYS, type KeptPart } from './kept.ts';
import { takeDown, tell } from './notices.ts';
import { partFile } from './opening.ts';
import { faultOf, type Shelf, type ShelfFault } from './shelf.ts';
import type { Opened, Store } from './store.ts';
import { placement, underlay } from './underlay.ts';

/** Whether all that is drawn is kept in the browser, so that closing the window loses nothing. */
export const allKept = signal(false);

const FAULTS: Readonly<Record<ShelfFault, string>> = {
  full: 'The browser has no more room to keep your work: what you draw now is not kept. Save the part as a file before you close this window.',
  shut: 'This browser keeps nothing for this page: it is a private window, or keeping is blocked. Save the part as a file before you close this window.',
};

let said: ShelfFault | null = null;

/** Says once that nothing can be kept, and why; says it anew only when the reason is another. */
export const sayFault = (error: unknown): void => {
  const fault = faultOf(error);
  if (said === fault) return;
  said = fault;
  tell({ about: 'keeping', grave: true, words: FAULTS[fault] });
};

const keptAgain = (): void => {
  if (said === null) return;
  said = null;
  takeDown('keeping');
};

export interface Writer<T> {
  write(value: T): void;
  /** Settles when nothing more is to be written. */
  settled(): Promise<void>;
}

/** Writes one value at a time, at once; of those that come meanwhile only the newest. */
export const newestOnly = <T>(
  put: (value: T) => Promise<void>,
  done: (error: unknown | null) => void,
): Writer<T> => {
  let next: { readonly value: T } | null = null;
  let running: Promise<void> | null = null;
  const run = async (): Promise<void> => {
    while (next) {
      const { value } = next;
      next = null;
      let fault: unknown = null;
      try {
        await put(value);
      } catch (error) {
        fault = error ?? new Error('unknown');
      }
      if (!next) done(fault);
    }
    running = null;
  };
  return {
    write: (value) => {
      next = { value };
      running ??= run();
    },
    settled: () => running ?? Promise.resolve(),
  };
};

/**
 * Keeps every state of the part in a window's place from now on, with its picture and the file it is saved to.
 * `untouched` is a document that another window keeps already: it is written only once it has been changed.
 */
export const keep = (
  store: Store,
  shelf: Shelf,
  place: string,
  untouched: Opened['document'] | null,
): Writer<KeptPart> => {
  let copy = untouched;
  const parts = newestOnly<KeptPart>(
    (kept) => shelf.put(KEYS.part(place), kept),
    (error) => {
      allKept.value = error === null;
      if (error === null) keptAgain();
      else sayFault(error);
    },
  );
  effect(() => {
    const opened = store.opened.value;
    const unsaved = store.unsaved.value;
    if (!opened) return;
    if (opened.document === copy) {
      allKept.value = true;
      return;
    }
    copy = null;
    allKept.value = false;
    parts.write({
      format: KEPT_FORMAT,
      version: KEPT_VERSION,
      text: JSON.stringify(opened.document),
      name: opened.part.name,
      unsaved,
      at: Date.now(),
    });
  });
  keepUnderlay(shelf, place);
  // A browser that cannot keep the file's handle asks for the file anew: nothing is lost by it.
  const files = newestOnly<typeof partFile.value>(
    (file) => (file ? shelf.put(KEYS.file(place), file) : shelf.remove(KEYS.file(place))),
    () => undefined,
  );
  effect(() => files.write(partFile.value));
  return parts;
};

const keepUnderlay = (shelf: Shelf, place: string): void => {
  const subjects = newestOnly<typeof underlay.value>(
    (under) => (under ? shelf.put(KEYS.subject(place), under.subject) : shelf.remove(KEYS.subject(place))),
    (error) => {
      const under = underlay.peek();
      if (error === null || !under) takeDown('keeping-picture');
      else {
        tell({
          about: 'keeping-picture',
          grave: false,
          words: `The browser has no room to keep “${under.subject.name}”: it lies under the sheet until this window is closed. A smaller one may fit.`,
        });
      }
    },
  );
  const places = newestOnly<typeof placement.value>(
    (where) => shelf.put(KEYS.placement(place), where),
    () => undefined,
  );
  effect(() => subjects.write(underlay.value));
  effect(() => {
    if (underlay.value) places.write(placement.value);
  });
};
