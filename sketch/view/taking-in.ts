import { bringIn } from './bring-in.ts';
import { canPickToOpen, type FileHandle, type PickerType, pickToOpen } from './file-access.ts';
import { kindOf, readFile } from './files.ts';
import { ask, refuse } from './opening.ts';
import type { Store } from './store.ts';
import { layUnder } from './underlay.ts';

/** Takes any file that was picked or dropped by what it is: a part is opened, a drawing read, a picture laid under. */
export const takeFile = async (store: Store, file: File, handle?: FileHandle): Promise<void> => {
  switch (kindOf(file)) {
    case 'part': {
      const read = await readFile(file);
      if (!read.ok) refuse(store, read.message);
      else {
        const from = handle ? { file: handle, written: file.lastModified } : {};
        ask(store, { name: file.name, text: read.text, ...from });
      }
      return;
    }
    case 'dxf':
      bringIn(file, 'dxf');
      return;
    case 'svg':
      bringIn(file, 'svg');
      return;
    case 'picture': {
      const laid = await layUnder(file, store.opened.peek()?.part.bar ?? null);
      if (!laid.ok) refuse(store, laid.message);
      return;
    }
    case null:
      refuse(
        store,
        `“${file.name}” is neither a part (.json), a drawing (.dxf, .svg) nor a picture (.png, .jpg, .webp).`,
      );
  }
};

/** Asks for a file with the browser's own dialog; false where it has none that could be written to later. */
export const pickAndTake = async (store: Store, types: readonly PickerType[]): Promise<boolean> => {
  if (!canPickToOpen()) return false;
  try {
    const handle = await pickToOpen(types);
    if (handle) await takeFile(store, await handle.getFile(), handle);
  } catch {
    refuse(store, 'The file could not be read from the disk.');
  }
  return true;
};
