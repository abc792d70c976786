import { type Quantity, workOut, workOutDimensions } from '../part/dimensions.ts';
import { namesIn, parseFormula } from '../part/formula.ts';
import { mmPer } from '../part/units.ts';
import type { Point } from '../shape/point.ts';
import { getIn, isObject, type Json, type JsonObject, type JsonPath } from './json.ts';

/** Decimals of a number that is written into a document, in the document's own unit. */
const DECIMALS = 6;

/** A number as it is written into a document: six decimals, no noise behind them, and no negative nought. */
export const tidy = (value: number): number => Number(value.toFixed(DECIMALS)) + 0;

/** A place's coordinates by their index in a document's [x, y]. */
export const AXES = ['x', 'y'] as const;
export type Axis = (typeof AXES)[number];

/** Millimetres in one of the document's unit. */
export const mmIn = (document: JsonObject): number => mmPer(document.unit === 'inch' ? 'inch' : 'mm');

/** What a document states for its named dimensions: a number or a formula each. */
export const statedDimensions = (document: JsonObject): ReadonlyMap<string, Quantity> =>
  new Map(
    Object.entries(isObject(document.dimensions) ? document.dimensions : {}).filter(
      (entry): entry is [string, Quantity] => isQuantity(entry[1]),
    ),
  );

/** The named dimensions worked out, in the document's unit; those that cannot be are missing. */
export const valuesOf = (
  document: JsonObject,
  overrides?: ReadonlyMap<string, number>,
): ReadonlyMap<string, number> => workOutDimensions(statedDimensions(document), overrides).values;

export const isQuantity = (value: Json | undefined): value is Quantity =>
  typeof value === 'number' || typeof value === 'string';

/** The names a quantity leans on; none for a number, nor for a formula that cannot be read. */
export const namesUsed = (quantity: Quantity): ReadonlySet<string> => {
  if (typeof quantity === 'number') return new Set();
  const formula = parseFormula(quantity);
  return formula.ok ? namesIn(formula.value) : new Set();
};

/** Whether a quantity leans on named dimensions. `3/16` does not: it is a number, only written as people write it. */
export const isTied = (quantity: Quantity): boolean => namesUsed(quantity).size > 0;

/** A quantity's value in the document's unit (degrees for an angle), or null when it cannot be worked out. */
export const numberAt = (
  document: JsonObject,
  path: JsonPath,
  values: ReadonlyMap<string, number>,
): number | null => {
  const quantity = getIn(document, path);
  if (!isQuantity(quantity)) return null;
  const worked = workOut(quantity, values);
  return worked.ok ? worked.value : null;
};

/** The point that stands at a path as [x, y], in mm, or null when there is none that can be worked out. */
export const pointAt = (
  document: JsonObject,
  path: JsonPath,
  values: ReadonlyMap<string, number>,
): Point | null => {
  const x = numberAt(document, [...path, 0], values);
  const y = numberAt(document, [...path, 1], values);
  const mm = mmIn(document);
  return x === null || y === null ? null : { x: x * mm, y: y * mm };
};
