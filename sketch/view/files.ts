import { saveAs } from 'file-saver';
import type { PickerType } from './file-access.ts';

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
    return {
      ok: false,
      message: `“${file.name}” has ${megabytes(file.size)}: far too long for a part file.`,
    };
  }
  try {
    return { ok: true, text: await file.text() };
  } catch {
    return { ok: false, message: `“${file.name}” could not be read from the disk.` };
  }
};

export const megabytes = (bytes: number): string =>
  `${(bytes / 1e6).toFixed(bytes < 1e7 ? 1 : 0)} MB`.replace('.0 ', ' ');

/** What a file may be to us. */
export type FileKind = 'part' | 'dxf' | 'svg' | 'picture';

const ENDINGS: readonly (readonly [FileKind, RegExp])[] = [
  ['part', /\.json$/i],
  ['dxf', /\.dxf$/i],
  ['svg', /\.svg$/i],
  ['picture', /\.(png|jpe?g|webp)$/i],
];
const TYPES: Readonly<Record<string, FileKind>> = {
  'application/json': 'part',
  'image/vnd.dxf': 'dxf',
  'image/svg+xml': 'svg',
  'image/png': 'picture',
  'image/jpeg': 'picture',
  'image/webp': 'picture',
};

/** What a file is by the ending of its name or, where that says nothing, by its type; null for anything else. */
export const kindOf = (file: { readonly name: string; readonly type: string }): FileKind | null =>
  ENDINGS.find(([, ending]) => ending.test(file.name))?.[0] ?? TYPES[file.type] ?? null;

export const PART_FILES: PickerType = {
  description: 'Part files',
  accept: { 'application/json': ['.json'] },
};
export const DRAWINGS: PickerType = {
  description: 'Drawings in plan',
  accept: { 'image/vnd.dxf': ['.dxf'], 'image/svg+xml': ['.svg'] },
};
export const PICTURES: PickerType = {
  description: 'Pictures',
  accept: { 'image/png': ['.png'], 'image/jpeg': ['.jpg', '.jpeg'], 'image/webp': ['.webp'] },
};

/** A picker's types as the `accept` of a file field. */
export const acceptOf = (types: readonly PickerType[]): string =>
  types.flatMap((t) => Object.entries(t.accept).flatMap(([type, endings]) => [type, ...endings])).join(',');
