import * as v from 'valibot';
import { workOutDimensions } from './dimensions.ts';
import { jsonFault } from './json.ts';
import { quoted } from './names.ts';
import type { Finding, Part } from './part.ts';
import { resolvePart } from './resolve.ts';
import { FORMAT, type PartDocument, PartDocumentSchema, VERSION } from './schema.ts';
import { issueFinding } from './schema-words.ts';
import { sizeFindings } from './sizes.ts';

export type { PartDocument } from './schema.ts';

/** What came of reading a part file. `findings` of a good one are notes and warnings; of a bad one, at least one error. */
export type PartReading =
  | {
      readonly ok: true;
      /** The file as it was, formulas and all; overrides are not written into it. */
      readonly document: PartDocument;
      readonly part: Part;
      /** The named dimensions worked out, in the file's unit. */
      readonly dimensions: Readonly<Record<string, number>>;
      readonly findings: readonly Finding[];
    }
  | { readonly ok: false; readonly findings: readonly Finding[] };

/** Longer texts than this are no part file. */
const LONGEST_TEXT = 2_000_000;

/**
 * Read a part file, given as its text or as the value already parsed from it.
 *
 * Lengths become mm and angles radians here and nowhere else. `overrides` set named dimensions in the file's unit.
 * Never throws. A part that is read may still be impossible to make: that is for `checkPart` to say.
 */
export const readPart = (
  source: string | unknown,
  overrides: Readonly<Record<string, number>> = {},
): PartReading => {
  try {
    return read(source, overrides);
  } catch (error) {
    // Nothing below is meant to throw; a hostile value (a getter that throws, a ring) may still make it.
    const why = error instanceof Error ? error.message : String(error);
    return refused('file-unreadable', `The part file cannot be read: ${why}`);
  }
};

const refused = (code: string, message: string): PartReading => ({
  ok: false,
  findings: [{ code, message, severity: 'error' }],
});

const read = (source: string | unknown, overrides: Readonly<Record<string, number>>): PartReading => {
  let value = source;
  if (typeof source === 'string') {
    if (source.length > LONGEST_TEXT)
      return refused('file-too-long', 'The file is far too long for a part file.');
    const text = source.replace(/^\ufeff/, '');
    const fault = jsonFault(text);
    if (fault !== null) {
      return refused('file-not-json', `Line ${fault.line}, column ${fault.column}: ${fault.message}.`);
    }
    value = JSON.parse(text);
  }
  const heading = headingFault(value);
  if (heading !== null) return { ok: false, findings: [heading] };

  const checked = v.safeParse(PartDocumentSchema, value);
  if (!checked.success) {
    return { ok: false, findings: checked.issues.map((issue) => issueFinding(issue, value)) };
  }
  const document = checked.output;
  const lost = Object.keys((value as { dimensions?: object }).dimensions ?? {}).filter(
    (name) => !Object.hasOwn(document.dimensions ?? {}, name),
  );
  if (lost.length > 0) {
    return refused('dimension-name', `A dimension cannot be named ${lost.map(quoted).join(', ')}.`);
  }

  const worked = workOutDimensions(
    new Map(Object.entries(document.dimensions ?? {})),
    new Map(Object.entries(overrides)),
  );
  if (worked.findings.length > 0) return { ok: false, findings: worked.findings };
  const { part, findings } = resolvePart(document, worked.values);
  const all = findings.length > 0 ? findings : sizeFindings(part);
  if (all.length > 0) return { ok: false, findings: all };
  return { ok: true, document, part, dimensions: Object.fromEntries(worked.values), findings: [] };
};

/** Whether the value is a part file of a version that is read here, said before anything else. */
const headingFault = (value: unknown): Finding | null => {
  const error = (code: string, message: string): Finding => ({ code, message, severity: 'error' });
  if (typeof value !== 'object' || value === null || Array.isArray(value)) {
    return error('file-not-a-part', 'This is not a part file: it should be an object in braces.');
  }
  const { format, version } = value as { format?: unknown; version?: unknown };
  if (format !== FORMAT) {
    return error('file-not-a-part', `This is not a part file: it should say "format": "${FORMAT}".`);
  }
  if (typeof version === 'number' && Number.isInteger(version) && version > VERSION) {
    return error(
      'file-newer',
      `The file is of version ${version}; this program reads version ${VERSION}. Open it with a newer Leverwright.`,
    );
  }
  if (version !== VERSION) {
    return error('file-version', `The file should say "version": ${VERSION}.`);
  }
  return null;
};

/** A part file's text: keys in the schema's order, short things on one line, a line break at the end. */
export const writePart = (document: PartDocument): string => {
  // The schema gives its output in its own order of keys.
  const checked = v.safeParse(PartDocumentSchema, document);
  return `${laid(checked.success ? checked.output : document, [])}\n`;
};

const WIDTH = 110;

/**
 * Whether a value stands open, one line for each thing in it: the document, its lists of features, its dimensions (so
 * that a change to one is a change to one line), and whatever is too wide for a line.
 */
const standsOpen = (value: object, path: readonly string[], flat: string): boolean =>
  Object.keys(value).length > 0 &&
  (path.length === 0 ||
    (path.length === 1 && (Array.isArray(value) || path[0] === 'dimensions')) ||
    flat.length + 2 * path.length > WIDTH);

const laid = (value: unknown, path: readonly string[]): string => {
  const flat = onOneLine(value);
  if (typeof value !== 'object' || value === null || !standsOpen(value, path, flat)) return flat;
  const margin = '  '.repeat(path.length);
  const lines = Object.entries(value).map(([key, item]) => {
    const label = Array.isArray(value) ? '' : `${JSON.stringify(key)}: `;
    return `${margin}  ${label}${laid(item, [...path, key])}`;
  });
  const [open, close] = Array.isArray(value) ? ['[', ']'] : ['{', '}'];
  return `${open}\n${lines.join(',\n')}\n${margin}${close}`;
};

const onOneLine = (value: unknown): string => {
  if (Array.isArray(value)) return `[${value.map(onOneLine).join(', ')}]`;
  if (typeof value !== 'object' || value === null) return JSON.stringify(value) ?? 'null';
  const pairs = Object.entries(value)
    .filter(([, item]) => item !== undefined)
    .map(([key, item]) => `${JSON.stringify(key)}: ${onOneLine(item)}`);
  return pairs.length === 0 ? '{}' : `{ ${pairs.join(', ')} }`;
};
