/**
 * Each window keeps its part in a place of its own, and holds a lock on it (Web Locks API) for as long as it lives. A
 * place whose lock is free belonged to a window that is gone; one that is held is never touched by another window.
 */
const lockOf = (place: string): string => `leverwright-place-${place}`;
const TAB = 'leverwright-place';
/** A window that is loaded anew may find its own lock not yet let go, ms. */
const PATIENCE = 800;

/** The place this tab had before it was loaded anew; null in a fresh tab or where the browser keeps nothing. */
export const placeOfTab = (): string | null => {
  try {
    return sessionStorage.getItem(TAB);
  } catch {
    return null;
  }
};

export const rememberPlace = (place: string): void => {
  try {
    sessionStorage.setItem(TAB, place);
  } catch {
    // The tab then begins with the newest part that is kept, as a fresh one does.
  }
};

export const freshPlace = (): string =>
  `${Date.now().toString(36)}-${Math.random().toString(36).slice(2, 10)}`;

const never = (): Promise<void> => new Promise(() => undefined);

/**
 * Takes a place for the life of this window. False when another window has it. Where there are no locks (a page that
 * came without encryption from another machine) nothing can be known of other windows, and only fresh places are taken.
 */
export const takePlace = (place: string, patient: boolean): Promise<boolean> => {
  if (!navigator.locks) return Promise.resolve(false);
  return new Promise((answer) => {
    const granted = (lock: Lock | null): Promise<void> | undefined => {
      answer(lock !== null);
      return lock ? never() : undefined;
    };
    const options: LockOptions = patient ? { signal: AbortSignal.timeout(PATIENCE) } : { ifAvailable: true };
    navigator.locks.request(lockOf(place), options, granted).catch(() => answer(false));
  });
};

/** Whether a window that lives has the place. */
export const isHeld = async (place: string): Promise<boolean> => {
  const state = await navigator.locks?.query().catch(() => null);
  return state?.held?.some((l) => l.name === lockOf(place)) ?? false;
};

/** Settles when the window that has the place is gone. */
export const untilGone = async (place: string): Promise<void> => {
  if (!navigator.locks) return never();
  await navigator.locks.request(lockOf(place), { mode: 'shared' }, () => undefined);
};
