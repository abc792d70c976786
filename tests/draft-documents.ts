import fc from 'fast-check';
import type { Json, JsonObject } from '../sketch/draft/json.ts';
import { readPart } from '../sketch/part/document.ts';
import type { Part } from '../sketch/part/part.ts';
import { randomLever } from './random-lever.ts';
import { SAMPLES, sampleText } from './samples.ts';

/** A part file as a document, as the page holds it. */
export const sample = (name: (typeof SAMPLES)[number]): JsonObject =>
  JSON.parse(sampleText(name)) as JsonObject;

export const samples = SAMPLES.map((name) => [name, sample(name)] as const);

/** A document's part; the test fails when it cannot be read. */
export const partOf = (document: Json): Part => {
  const reading = readPart(document);
  if (!reading.ok) throw new Error(reading.findings.map((f) => f.message).join(' '));
  return reading.part;
};

/** Every number rounded to six decimals, as people write them. */
const written = (value: unknown): Json => {
  if (typeof value === 'number') return Number(value.toFixed(6)) + 0;
  if (Array.isArray(value)) return value.map(written);
  if (typeof value === 'object' && value !== null) {
    return Object.fromEntries(Object.entries(value).map(([key, v]) => [key, written(v)]));
  }
  return value as Json;
};

/** Samples and random levers. */
export const anyDocument: fc.Arbitrary<JsonObject> = fc.oneof(
  fc.constantFrom(...samples.map(([, document]) => document)),
  randomLever.map((lever) => written(lever) as JsonObject).filter((lever) => readPart(lever).ok),
);

/** A number anywhere in a range: floating-point arbitraries lie near nought nearly always. */
export const within = (least: number, most: number): fc.Arbitrary<number> =>
  fc.integer({ min: 0, max: 1e9 }).map((n) => least + ((most - least) * n) / 1e9);

/** As far as people would drag, mm. */
export const shift: fc.Arbitrary<{ x: number; y: number }> = fc.record({
  x: within(-40, 40),
  y: within(-40, 40),
});

/** The greatest difference between two parts' numbers of one shape, and the paths whose words differ. */
export const differences = (a: unknown, b: unknown, path = ''): readonly (readonly [string, number])[] => {
  if (typeof a === 'number' && typeof b === 'number') return [[path, Math.abs(a - b)]];
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) {
    return a === b ? [] : [[path, Number.POSITIVE_INFINITY]];
  }
  const keys = new Set([...Object.keys(a), ...Object.keys(b)]);
  return [...keys].flatMap((key) =>
    differences((a as Record<string, unknown>)[key], (b as Record<string, unknown>)[key], `${path}/${key}`),
  );
};

export const farthest = (a: unknown, b: unknown): number =>
  Math.max(0, ...differences(a, b).map(([, d]) => d));
