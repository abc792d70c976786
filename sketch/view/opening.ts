import { signal } from '@preact/signals';
import type { FileHandle } from './file-access.ts';
import { drawerOpen } from './stage.ts';
import type { Store } from './store.ts';

/** A part on its way to the sheet. */
export interface Incoming {
  /** What it is called in messages: a file, a sample, a drawing. */
  readonly name: string;
  readonly text: string;
  /** The file on the disk it came from, which it is saved to again. */
  readonly file?: FileHandle;
  /** When that file was last written. */
  readonly written?: number;
  /** Whether it lies in no file yet. */
  readonly unsaved?: boolean;
  /** Done once it is open. */
  readonly once?: () => void;
}

/** The file on the disk that the open part is saved to, and when it was last written; null while there is none. */
export const partFile = signal<{ readonly handle: FileHandle; readonly written: number } | null>(null);

/** Why the last thing that was asked for was not done. */
export const trouble = signal<string | null>(null);

/** A part that waits while the present one is not saved. */
export const waiting = signal<Incoming | null>(null);

/** Opens a part, or says why not and leaves the present one alone. */
export const take = (store: Store, incoming: Incoming): void => {
  waiting.value = null;
  const edit = store.open(incoming.text, incoming.unsaved);
  if (!edit.ok) {
    refuse(store, `“${incoming.name}” was not opened. ${edit.message}`);
    return;
  }
  trouble.value = null;
  partFile.value = incoming.file ? { handle: incoming.file, written: incoming.written ?? 0 } : null;
  incoming.once?.();
};

/** Opens a part; where the present one would lose unsaved work by it, that is asked first. */
export const ask = (store: Store, incoming: Incoming): void => {
  if (!store.unsaved.peek()) {
    take(store, incoming);
    return;
  }
  waiting.value = incoming;
  drawerOpen.value = true;
};

/** Says why something was not done, where a drawer on a phone would hide it too. */
export const refuse = (store: Store, message: string): void => {
  trouble.value = `${message}${store.opened.peek() ? ' The present part is untouched.' : ''}`;
  drawerOpen.value = true;
};
