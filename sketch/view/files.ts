import { saveAs } from 'file-saver';

/** Hands a text to the browser to be saved under a name. */
export const saveText = (name: string, text: string, type: string): void =>
  saveAs(new Blob([text], { type: `${type};charset=utf-8` }), name);

/** A part's name as a file's: letters, digits and dashes only. */
export const fileStem = (name: string): string =>
  name
    .normalize('NFKD')
    .replace(/[^\w]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .toLowerCase()
    .slice(0, 60) || 'part';

/** Longest file that is read as a part, bytes. */
const LONGEST = 5_000_000;

/** The text of a file that was picked, or why it cannot be one. */
export const readFile = async (
  file: File,
): Promise<{ ok: true; text: string } | { ok: false; message: string }> => {
  if (file.size > LONGEST) {
    const size = (file.size / 1e6).toFixed(0);
    return { ok: false, message: `“${file.name}” has ${size} MB: far too long for a part file.` };
  }
  try {
    return { ok: true, text: await file.text() };
  } catch {
    return { ok: false, message: `“${file.name}” could not be read from the disk.` };
  }
};
