import { signal } from '@preact/signals';
import { writePart } from '../part/document.ts';
import type { PartDocument } from '../part/schema.ts';
import { canPickToSave, type FileHandle, pickToSave, writeTo } from './file-access.ts';
import { fileStem, PART_FILES, saveText } from './files.ts';
import { partFile, trouble } from './opening.ts';
import type { Opened, Store } from './store.ts';

/** The file whose text has become another since it was read here: it is asked before it is written over. */
export const overwriting = signal<{ readonly name: string } | null>(null);

export const partText = (opened: Opened): string => writePart(opened.document as unknown as PartDocument);

/** When a file was last written, or null where it cannot be looked at. */
const lastWritten = async (handle: FileHandle): Promise<number | null> => {
  try {
    return (await handle.getFile()).lastModified;
  } catch {
    return null;
  }
};

const write = async (store: Store, opened: Opened, handle: FileHandle): Promise<void> => {
  const generation = store.generation.peek();
  const writing = await writeTo(handle, partText(opened));
  if (!writing.ok) {
    trouble.value = `${writing.message} Nothing was lost: the part is still here. Save it under another name.`;
    return;
  }
  const written = (await lastWritten(handle)) ?? 0;
  // Another part may have been opened meanwhile; its file is another one.
  if (store.generation.peek() !== generation) return;
  trouble.value = null;
  partFile.value = { handle, written };
  if (store.opened.peek()?.document === opened.document) store.saved();
};

const download = (store: Store, opened: Opened): void => {
  saveText(`${fileStem(opened.part.name)}.json`, partText(opened), 'application/json');
  store.saved();
};

/** Saves under a name that is asked for; by a download where the browser has no dialog for that. */
export const saveAnew = async (store: Store): Promise<void> => {
  const opened = store.opened.peek();
  overwriting.value = null;
  if (!opened) return;
  if (!canPickToSave()) {
    download(store, opened);
    return;
  }
  try {
    const handle = await pickToSave(`${fileStem(opened.part.name)}.json`, [PART_FILES]);
    if (handle) await write(store, opened, handle);
  } catch {
    // A browser that has the dialog but does not allow it here.
    download(store, opened);
  }
};

/** Ctrl+S saves the part from anywhere on the page; what is half typed is taken first. */
export const listenForSave = (store: Store): void =>
  window.addEventListener('keydown', (e) => {
    if (!(e.ctrlKey || e.metaKey) || e.shiftKey || e.altKey || e.key.toLowerCase() !== 's') return;
    e.preventDefault();
    const field = document.activeElement;
    if (field instanceof HTMLInputElement) {
      field.blur();
      field.focus();
    }
    void savePart(store);
  });

/** Saves to the file the part came from or was saved to before; asks for one when there is none. */
export const savePart = async (store: Store, anyway = false): Promise<void> => {
  const opened = store.opened.peek();
  const file = partFile.peek();
  overwriting.value = null;
  if (!opened) return;
  if (!file) {
    await saveAnew(store);
    return;
  }
  const now = await lastWritten(file.handle);
  if (!anyway && now !== null && now !== file.written) {
    overwriting.value = { name: file.handle.name };
    return;
  }
  await write(store, opened, file.handle);
};
