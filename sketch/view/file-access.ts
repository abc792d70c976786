/**
 * The File System Access API (WICG draft), as far as it is used here. Where a browser has it, a part is saved to the
 * very file it came from; elsewhere it is handed over as a download.
 */
export interface PickerType {
  readonly description: string;
  readonly accept: Readonly<Record<string, readonly string[]>>;
}

/** A file on the disk that the browser lets the page read and, when asked, write. */
export type FileHandle = FileSystemFileHandle & {
  queryPermission?(way: { mode: 'readwrite' }): Promise<PermissionState>;
  requestPermission?(way: { mode: 'readwrite' }): Promise<PermissionState>;
};

interface Pickers {
  showOpenFilePicker?(options: {
    types: readonly PickerType[];
    multiple: false;
  }): Promise<readonly FileHandle[]>;
  showSaveFilePicker?(options: { suggestedName: string; types: readonly PickerType[] }): Promise<FileHandle>;
}

const pickers = (): Pickers => window as unknown as Pickers;

export const canPickToOpen = (): boolean => typeof pickers().showOpenFilePicker === 'function';
export const canPickToSave = (): boolean => typeof pickers().showSaveFilePicker === 'function';

/** Whether an error only says that a person closed the dialog. */
const isTurnedDown = (error: unknown): boolean =>
  error instanceof DOMException && error.name === 'AbortError';

/** The file that was picked, or null when the dialog was closed. Throws where the browser does not allow dialogs. */
export const pickToOpen = async (types: readonly PickerType[]): Promise<FileHandle | null> => {
  try {
    return (await pickers().showOpenFilePicker?.({ types, multiple: false }))?.[0] ?? null;
  } catch (error) {
    if (isTurnedDown(error)) return null;
    throw error;
  }
};

/** The place that was picked, or null when the dialog was closed. Throws where the browser does not allow dialogs. */
export const pickToSave = async (
  suggestedName: string,
  types: readonly PickerType[],
): Promise<FileHandle | null> => {
  try {
    return (await pickers().showSaveFilePicker?.({ suggestedName, types })) ?? null;
  } catch (error) {
    if (isTurnedDown(error)) return null;
    throw error;
  }
};

export type Writing = { readonly ok: true } | { readonly ok: false; readonly message: string };

/** Writes a text over a file: all of it or, when something goes wrong, nothing. */
export const writeTo = async (handle: FileHandle, text: string): Promise<Writing> => {
  try {
    const way = { mode: 'readwrite' } as const;
    const allowed = (await handle.queryPermission?.(way)) ?? 'granted';
    if (allowed !== 'granted' && (await handle.requestPermission?.(way)) !== 'granted') {
      return { ok: false, message: `The browser was not allowed to write to “${handle.name}”.` };
    }
    const stream = await handle.createWritable();
    try {
      await stream.write(text);
      await stream.close();
    } catch (error) {
      await stream.abort().catch(() => undefined);
      throw error;
    }
    return { ok: true };
  } catch (error) {
    return { ok: false, message: `“${handle.name}” was not written: ${whyNot(error)}` };
  }
};

const whyNot = (error: unknown): string => {
  switch (error instanceof DOMException ? error.name : '') {
    case 'NotFoundError':
      return 'it, or its folder, is no longer where it was.';
    case 'NotAllowedError':
    case 'SecurityError':
      return 'the browser does not allow it.';
    case 'QuotaExceededError':
      return 'there is no room left on the disk.';
    case 'NoModificationAllowedError':
    case 'InvalidStateError':
      return 'another program holds it open or it is write-protected.';
    default:
      return 'the disk did not take it.';
  }
};
