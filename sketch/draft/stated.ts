import { type Quantity, workOut } from '../part/dimensions.ts';
import type { Unit } from '../part/part.ts';
import { mmPer, plain } from '../part/units.ts';
import { getIn, type JsonObject, type JsonPath } from './json.ts';
import { isQuantity, tidy } from './quantity.ts';

/** A place as a document states it: each coordinate a number in the document's unit, or a formula. */
export type Stated = readonly [Quantity, Quantity];

/** A length in mm as a plain number of the document's unit, without the noise of arithmetic. */
export const inUnit = (mm: number, unit: Unit): number => tidy(mm / mmPer(unit));

/** A length of the document's unit in mm. */
export const inMm = (value: number, unit: Unit): number => value * mmPer(unit);

/** A worked-out figure as it is read on the drawing: no more decimals than can be set, and no more of an angle. */
export const lettered = (value: number, of: Unit | 'degrees'): string => plain(value, of === 'inch' ? 4 : 2);

/** The two quantities of a place in a document, or null when there is none. */
export const statedAt = (document: JsonObject, path: JsonPath): Stated | null => {
  const j = getIn(document, path);
  return Array.isArray(j) && isQuantity(j[0]) && isQuantity(j[1]) ? [j[0], j[1]] : null;
};

/** A quantity's value in the document's unit, or null when it cannot be worked out. */
export const valueOfQuantity = (q: Quantity, values: ReadonlyMap<string, number>): number | null => {
  const worked = workOut(q, values);
  return worked.ok ? worked.value : null;
};
