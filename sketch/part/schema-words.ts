import type * as v from 'valibot';
import { nearestName, quoted, sentence } from './names.ts';
import type { Finding } from './part.ts';
import { KNOWN_KEYS } from './schema.ts';

type Issue = v.BaseIssue<unknown>;

/** Words for the lists of a part file, one thing of each. */
const ONE_OF: Readonly<Record<string, string>> = {
  ends: 'end',
  arms: 'arm',
  plates: 'plate',
  holes: 'hole',
  slots: 'slot',
  forks: 'fork',
  lands: 'land',
};

/** A fault of form in a part file, as a sentence that names the thing and the key. `root` is the whole document. */
export const issueFinding = (issue: Issue, root: unknown): Finding => {
  const { issue: nearest, path } = mostTelling(issue);
  const keys = path.map((step) => step.key);
  const last = keys.at(-1);
  const { place, feature } = placeOf(keys, root);
  const from = (code: string, message: string): Finding => ({
    code,
    message: sentence(message),
    severity: 'error',
    ...(feature === undefined ? {} : { feature }),
  });
  if (nearest.kind === 'schema' && nearest.expected === 'never' && typeof last === 'string') {
    const near = nearestName(last, knownKeys(keys));
    const hint = near === null ? '' : `; did you mean ${quoted(near)}?`;
    return from(
      'file-unknown-key',
      `${capital(placeOf(keys.slice(0, -1), root).place)} has a key ${quoted(last)} that is not known${hint}`,
    );
  }
  if (nearest.kind === 'schema' && nearest.received === 'undefined' && typeof last === 'string') {
    return from(
      'file-missing-key',
      `${capital(placeOf(keys.slice(0, -1), root).place)} lacks ${quoted(last)}`,
    );
  }
  if (nearest.kind === 'validation') return from('file-value', `${capital(place)}: ${nearest.message}`);
  return from('file-value', `${capital(place)} should be ${wanted(nearest)}, not ${got(nearest.input)}`);
};

/** Of the faults under a choice, the one that lies deepest: the choice that was nearest to being right. */
const mostTelling = (issue: Issue): { issue: Issue; path: readonly Step[] } => {
  const path = (issue.path ?? []) as readonly Step[];
  let best = { issue, path };
  for (const sub of issue.issues ?? []) {
    if ((sub.path ?? []).length === 0) continue;
    const inner = mostTelling(sub);
    const whole = [...path, ...inner.path];
    if (whole.length > best.path.length) best = { issue: inner.issue, path: whole };
  }
  return best;
};

interface Step {
  readonly key: unknown;
}

/** Where in the document a path leads, in words, and the name of the feature it lies in. */
const placeOf = (keys: readonly unknown[], root: unknown): { place: string; feature?: string } => {
  const [list, index, ...rest] = keys;
  if (list === undefined) return { place: 'the file' };
  const one = typeof list === 'string' ? ONE_OF[list] : undefined;
  if (one === undefined || typeof index !== 'number') return { place: quoted(keys.map(String).join(' ')) };
  const item = ((root as Record<string, unknown>)[list as string] as unknown[])[index];
  const name = (item as { name?: unknown } | null)?.name;
  const known = typeof name === 'string' && /\S/.test(name);
  const thing = known ? `${one} ${quoted(name)}` : `${one} ${index + 1}`;
  const place = rest.length === 0 ? thing : `${quoted(rest.map(worded).join(' '))} of ${thing}`;
  return known ? { place, feature: name } : { place };
};

const worded = (key: unknown): string => (typeof key === 'number' ? String(key + 1) : String(key));

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

const got = (value: unknown): string => {
  if (value === undefined) return 'left out';
  if (value === null) return 'nothing (null)';
  if (Array.isArray(value)) return `a list of ${value.length}`;
  if (typeof value === 'string') return `the text ${quoted(value)}`;
  if (typeof value === 'object') return 'an object';
  return String(value);
};

const wanted = (issue: Issue): string => {
  switch (issue.type) {
    case 'union':
      return /number/.test(issue.expected ?? '') ? 'a number or a formula' : '“whole” or an object in braces';
    case 'array':
    case 'strict_tuple':
      return issue.expected === 'never' ? 'a shorter list' : 'a list in square brackets';
    case 'strict_object':
    case 'record':
      return 'an object in braces';
    case 'string':
      return 'a text in quotes';
    case 'picklist':
    case 'variant':
      return `one of ${(issue.expected ?? '').replace(/ \| /g, ', ').replace(/[()]/g, '')}`;
    default:
      return (issue.expected ?? 'something else').replace(/ \| /g, ', ').replace(/[()]/g, '');
  }
};

/** Keys that the schema knows at the place of an unknown one. */
const knownKeys = (keys: readonly unknown[]): readonly string[] =>
  KNOWN_KEYS[keys.length === 1 ? '' : String(keys[0])] ?? [];
