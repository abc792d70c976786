import type { Quantity } from '../part/dimensions.ts';
import { isObject, type Json, type JsonObject, type JsonPath } from './json.ts';
import { FEATURE_KINDS } from './new-feature.ts';

/** Keys whose texts are words, wherever they stand; every other text in a feature is a formula. */
const WORDS: ReadonlySet<string> = new Set(['name', 'purpose', 'thread', 'root', 'face', 'material', 'area']);

// In arms `from` and `to` name ends, and in holes `from` names a face; in slots they are places, never a bare text.
const FEATURE_WORDS: ReadonlySet<string> = new Set([...WORDS, 'from', 'to']);
const WORDS_IN: ReadonlyMap<string, ReadonlySet<string>> = new Map([
  ['dimensions', new Set<string>()],
  ['bar', WORDS],
  ['insideRadius', WORDS],
  ['leastWall', WORDS],
  ...FEATURE_KINDS.map((kind) => [kind, FEATURE_WORDS] as const),
]);

/**
 * Every number and formula of a document passed through `to`, with the way to it: in its dimensions, its bar and its
 * features. What `to` leaves alone is shared.
 */
export const mapQuantities = (
  document: JsonObject,
  to: (quantity: Quantity, path: JsonPath) => Quantity,
): JsonObject => {
  const walk = (value: Json, path: JsonPath, words: ReadonlySet<string>): Json => {
    if (typeof value === 'string' || typeof value === 'number') return to(value, path);
    if (Array.isArray(value)) {
      const list: readonly Json[] = value;
      const next = list.map((v, i) => walk(v, [...path, i], words));
      return next.every((v, i) => v === list[i]) ? list : next;
    }
    if (!isObject(value)) return value;
    return mapped(value, (v, key) =>
      typeof v === 'string' && words.has(key) ? v : walk(v, [...path, key], words),
    );
  };
  return mapped(document, (value, key) => {
    const words = WORDS_IN.get(key);
    return words === undefined ? value : walk(value, [key], words);
  });
};

const mapped = (object: JsonObject, to: (value: Json, key: string) => Json): JsonObject => {
  const next = Object.fromEntries(Object.entries(object).map(([key, value]) => [key, to(value, key)]));
  return Object.keys(next).every((key) => next[key] === object[key]) ? object : next;
};

/** Numbers first, so that the e of 1e3 is not taken for a name; then names, whole. Signs beyond ASCII end a name. */
const TOKEN = /(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?|[A-Za-z_\u00aa-\uffff][A-Za-z0-9_\u00aa-\uffff]*/g;
const SIGNS = /([−–×·÷π])/;

/** A formula with one name replaced by another wherever it stands whole; everything else is kept to the letter. */
export const renameInFormula = (formula: string, from: string, to: string): string =>
  formula
    .split(SIGNS)
    .map((piece, i) => (i % 2 === 1 ? piece : piece.replace(TOKEN, (word) => (word === from ? to : word))))
    .join('');
