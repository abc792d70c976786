import {
  closeSync,
  mkdirSync,
  openSync,
  readSync,
  renameSync,
  rmdirSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { Failure } from './failure.ts';

/** Longer files than this are not read, bytes. */
const LONGEST = 64 * 1024 * 1024;

/** A whole text file. Throws a Failure that names the file and says why it cannot be read. */
export const readText = (path: string): string => {
  const bytes = guarded(path, () => readBytes(path));
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    throw new Failure(`${path}: this is not UTF-8 text`);
  }
};

const readBytes = (path: string): Uint8Array => {
  // By pieces and not by size, so that pipes can be read and endless ones come to an end.
  const file = openSync(path, 'r');
  try {
    const pieces: Buffer[] = [];
    let total = 0;
    for (;;) {
      const piece = Buffer.alloc(256 * 1024);
      const read = readSync(file, piece);
      if (read === 0) return Buffer.concat(pieces);
      total += read;
      if (total > LONGEST) throw new Failure(`${path}: the file is too long (over ${LONGEST >> 20} MB)`);
      pieces.push(piece.subarray(0, read));
    }
  } finally {
    closeSync(file);
  }
};

export interface OutputFile {
  readonly name: string;
  /** Text, or bytes as they are. */
  readonly text: string | Uint8Array;
}

/**
 * Write files into a folder, all or none: first under temporary names, then renamed. The folder is made when it is
 * not there, and taken away again when writing fails. Throws a Failure that says why.
 */
export const writeAll = (folder: string, files: readonly OutputFile[]): void => {
  const made = makeFolder(folder);
  const waiting: { readonly temporary: string; readonly final: string }[] = [];
  try {
    for (const { name, text } of files) {
      const final = join(folder, name);
      if (isFolder(final)) throw new Failure(`${final}: a folder stands where the file should go`);
      const temporary = join(folder, `.${name}.${process.pid}.part`);
      waiting.push({ temporary, final });
      guarded(final, () => writeFileSync(temporary, text, { flag: 'wx' }));
    }
    for (const { temporary, final } of waiting) guarded(final, () => renameSync(temporary, final));
  } catch (error) {
    for (const { temporary } of waiting) rmSync(temporary, { force: true });
    takeAway(folder, made);
    throw error;
  }
};

/** Makes a folder with those above it; says the topmost one that was new, null when all were there. */
const makeFolder = (folder: string): string | null =>
  guarded(folder, () => {
    // One by one: Node's own recursive way never returns where the system refuses with "no such file".
    const missing: string[] = [];
    for (let at = resolve(folder); !isFolder(at); at = dirname(at)) missing.unshift(at);
    for (const path of missing) mkdirSync(path);
    return missing[0] ?? null;
  });

/** Takes away the folders that were made, as far as they are empty. */
const takeAway = (folder: string, topmost: string | null): void => {
  if (topmost === null) return;
  try {
    for (let at = resolve(folder); ; at = dirname(at)) {
      rmdirSync(at);
      if (at === resolve(topmost)) return;
    }
  } catch {
    // Something else has been put in it meanwhile: it stays.
  }
};

const isFolder = (path: string): boolean => statSync(path, { throwIfNoEntry: false })?.isDirectory() ?? false;

const WHY: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such file',
  ENOTDIR: 'a file stands where a folder should be',
  EEXIST: 'a file stands where a folder should be',
  EISDIR: 'this is a folder, not a file',
  EACCES: 'not allowed',
  EPERM: 'not allowed',
  EROFS: 'the disk cannot be written to',
  ENOSPC: 'the disk is full',
  ENAMETOOLONG: 'the name is too long',
  ELOOP: 'links lead round in a ring',
};

const guarded = <T>(path: string, act: () => T): T => {
  try {
    return act();
  } catch (error) {
    if (error instanceof Failure) throw error;
    const { code, message } = error as NodeJS.ErrnoException;
    throw new Failure(`${path}: ${(code === undefined ? undefined : WHY[code]) ?? message}`);
  }
};
