import type { Quantity } from '../part/dimensions.ts';
import type { Part } from '../part/part.ts';
import { distance, type Point } from '../shape/point.ts';
import type { Json, JsonObject } from './json.ts';
import type { FeatureKind } from './new-feature.ts';
import { tidy } from './quantity.ts';
import type { Caught } from './snap.ts';
import { inMm, inUnit, valueOfQuantity } from './stated.ts';
import type { Ground, Size, Stroke } from './stroke.ts';

export const degrees = (radians: number): number => tidy((radians * 180) / Math.PI);

/** A stroke's sizes as they are asked for: what was typed, or what the pencil says. */
export const sizing = ({ fixed }: Stroke, ground: Ground) => {
  const sizes: Size[] = [];
  const { unit } = ground.part;
  const stated = (key: string, label: string, drawn: Quantity): Quantity => {
    const value = fixed[key] ?? drawn;
    sizes.push({ key, label, value, fixed: fixed[key] !== undefined });
    return value;
  };
  return {
    sizes,
    /** As it goes into the document. */
    stated,
    /** A length in mm, drawn unless it was typed. */
    length: (key: string, label: string, drawn: number): number => {
      const q = stated(key, label, inUnit(drawn, unit));
      return inMm(valueOfQuantity(q, ground.values) ?? inUnit(drawn, unit), unit);
    },
    /** An angle in radians. */
    angle: (key: string, label: string, drawn: number): number => {
      const q = stated(key, label, degrees(drawn));
      return ((valueOfQuantity(q, ground.values) ?? degrees(drawn)) * Math.PI) / 180;
    },
    /** A place: what it caught on says how it is stated, and what was typed goes before. */
    place: (caught: Caught, keys: readonly [string, string] = ['x', 'y']): [Quantity, Quantity] => [
      stated(keys[0], 'across', caught.stated[0] ?? inUnit(caught.point.x, unit)),
      stated(keys[1], 'up', caught.stated[1] ?? inUnit(caught.point.y, unit)),
    ],
  };
};

/** The document with one feature more. */
export const put = (document: JsonObject, kind: FeatureKind, feature: JsonObject): JsonObject => {
  const list = document[kind];
  return { ...document, [kind]: [...(Array.isArray(list) ? (list as readonly Json[]) : []), feature] };
};

/** A stated place in mm; `caught` where it cannot be worked out. */
export const pointOf = (place: readonly [Quantity, Quantity], caught: Point, ground: Ground): Point => {
  const at = (q: Quantity, otherwise: number): number => {
    const value = valueOfQuantity(q, ground.values);
    return value === null ? otherwise : inMm(value, ground.part.unit);
  };
  return { x: at(place[0], caught.x), y: at(place[1], caught.y) };
};

/** The end in which a place lies. */
export const endUnder = (caught: Caught, part: Part): string | null => {
  if (caught.spot?.kind === 'end') return caught.spot.feature;
  const inside = part.ends.filter((e) => distance(e.centre, caught.point) <= e.radius);
  return inside.sort((a, b) => a.radius - b.radius)[0]?.name ?? null;
};
