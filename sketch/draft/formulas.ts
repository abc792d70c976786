import { isObject, type Json, type JsonObject } from './json.ts';
import { FEATURE_KINDS } from './new-feature.ts';

/** Keys whose texts are words, wherever they stand; every other text in a feature is a formula. */
const WORDS: ReadonlySet<string> = new Set(['name', 'purpose', 'thread', 'root', 'face', 'material', 'area']);

/** Every formula of a document passed through `to`: in its dimensions, its bar and its features. The rest is shared. */
export const mapFormulas = (document: JsonObject, to: (formula: string) => string): JsonObject => {
  const walk = (value: Json, words: ReadonlySet<string>): Json => {
    if (typeof value === 'string') return to(value);
    if (Array.isArray(value))
      return shared(
        value,
        (value as readonly Json[]).map((v) => walk(v, words)),
      );
    if (!isObject(value)) return value;
    const next = Object.fromEntries(
      Object.entries(value).map(([key, v]) => [
        key,
        typeof v === 'string' && words.has(key) ? v : walk(v, words),
      ]),
    );
    return Object.keys(next).every((key) => next[key] === value[key]) ? value : next;
  };
  // In arms `from` and `to` name ends, and in holes `from` names a face; in slots they are places, never a bare text.
  const features = new Set([...WORDS, 'from', 'to']);
  const wordsIn = new Map<string, ReadonlySet<string>>([
    ['dimensions', new Set()],
    ['bar', WORDS],
    ['insideRadius', WORDS],
    ['leastWall', WORDS],
    ...FEATURE_KINDS.map((kind) => [kind, features] as const),
  ]);
  const next = Object.fromEntries(
    Object.entries(document).map(([key, value]) => {
      const words = wordsIn.get(key);
      return [key, words === undefined ? value : walk(value, words)];
    }),
  );
  return Object.keys(next).every((key) => next[key] === document[key]) ? document : next;
};

const shared = (before: readonly Json[], after: readonly Json[]): readonly Json[] =>
  after.every((v, i) => v === before[i]) ? before : after;

/** Numbers first, so that the e of 1e3 is not taken for a name; then names, whole. Signs beyond ASCII end a name. */
const TOKEN = /(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?|[A-Za-z_\u00aa-\uffff][A-Za-z0-9_\u00aa-\uffff]*/g;
const SIGNS = /([−–×·÷π])/;

/** A formula with one name replaced by another wherever it stands whole; everything else is kept to the letter. */
export const renameInFormula = (formula: string, from: string, to: string): string =>
  formula
    .split(SIGNS)
    .map((piece, i) => (i % 2 === 1 ? piece : piece.replace(TOKEN, (word) => (word === from ? to : word))))
    .join('');
