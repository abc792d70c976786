import { createStore, del, entries, set, type UseStore } from 'idb-keyval';

/** What stands between the page and the browser's own keeping place (IndexedDB). */
export interface Shelf {
  all(): Promise<readonly (readonly [string, unknown])[]>;
  put(key: string, value: unknown): Promise<void>;
  remove(key: string): Promise<void>;
}

/** Why nothing can be kept. */
export type ShelfFault = 'full' | 'shut';

/**
 * An answer that does not come within this is none, ms: a browser may hang on a keeping place that it cannot open. The
 * first question is asked before there is anything on the sheet.
 */
const PATIENCE = { first: 3000, later: 10_000 };

/** The shelf of this page. Its calls reject where the browser keeps nothing for the page or has no room left. */
export const createShelf = (): Shelf => {
  let place: UseStore | null = null;
  // Made at the first call: where keeping is forbidden, the very name throws.
  const at = (): UseStore => {
    place ??= createStore('leverwright', 'kept');
    return place;
  };
  const waited = async <T>(patience: number, answer: () => Promise<T>): Promise<T> => {
    let timer: ReturnType<typeof setTimeout> | undefined;
    const late = new Promise<never>((_, reject) => {
      timer = setTimeout(() => reject(new DOMException('no answer', 'TimeoutError')), patience);
    });
    try {
      return await Promise.race([answer(), late]);
    } finally {
      clearTimeout(timer);
    }
  };
  return {
    all: async () => {
      const list = await waited(PATIENCE.first, () => entries<IDBValidKey, unknown>(at()));
      return list.map(([key, value]) => [String(key), value] as const);
    },
    put: (key, value) => waited(PATIENCE.later, () => set(key, value, at())),
    remove: (key) => waited(PATIENCE.later, () => del(key, at())),
  };
};

export const faultOf = (error: unknown): ShelfFault =>
  error instanceof Error && error.name === 'QuotaExceededError' ? 'full' : 'shut';
