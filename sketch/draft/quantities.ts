import { type Quantity, workOut } from '../part/dimensions.ts';
import type { Unit } from '../part/part.ts';
import { MM_PER_INCH } from '../part/units.ts';
import type { Point } from '../shape/point.ts';
import { getIn, type Json, type JsonObject } from './json.ts';

/** A place as a document holds it: each coordinate a number in the document's unit, or a formula. */
export type Place = readonly [Quantity, Quantity];

/** A length in mm as a plain number of the document's unit, without the noise of arithmetic. */
export const inUnit = (mm: number, unit: Unit): number => tidy(unit === 'mm' ? mm : mm / MM_PER_INCH);

/** A length of the document's unit in mm. */
export const inMm = (value: number, unit: Unit): number => (unit === 'mm' ? value : value * MM_PER_INCH);

/** Six decimals: a nanometre, or a fortieth of a micrometre in inches. */
export const tidy = (value: number): number => {
  const r = Math.round(value * 1e6) / 1e6;
  return Object.is(r, -0) ? 0 : r;
};

export const placeOf = (p: Point, unit: Unit): readonly [number, number] => [
  inUnit(p.x, unit),
  inUnit(p.y, unit),
];

export const isQuantity = (j: Json | undefined): j is Quantity =>
  typeof j === 'number' || typeof j === 'string';

/** The two quantities of a place in a document, or null when there is none. */
export const placeAt = (document: JsonObject, path: readonly (string | number)[]): Place | null => {
  const j = getIn(document, path);
  return Array.isArray(j) && isQuantity(j[0]) && isQuantity(j[1]) ? [j[0], j[1]] : null;
};

/** A quantity's value in the document's unit, or null when it cannot be worked out. */
export const valueOfQuantity = (q: Quantity, values: ReadonlyMap<string, number>): number | null => {
  const worked = workOut(q, values);
  return worked.ok ? worked.value : null;
};
