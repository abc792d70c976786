import type { Part } from '../part/part.ts';
import { angleOf, type Point, polar, subtract } from '../shape/point.ts';
import type { JsonObject } from './json.ts';
import { type Moved, moveFeatures } from './move.ts';
import { placedFeatures } from './under.ts';

/** Where one feature stands as seen from another: mm, and radians anticlockwise from the level. */
export interface Reference {
  readonly across: number;
  readonly up: number;
  readonly distance: number;
  readonly angle: number;
}
export type ReferenceKey = keyof Reference;

/** What is measured from: the other features that have a place, and the drawing's own nought. */
export const referencesFor = (part: Part, name: string): readonly string[] =>
  placedFeatures(part)
    .filter((f) => f.name !== name && f.kind !== 'arm')
    .map((f) => f.name);

const placeOf = (part: Part, name: string | null): Point | null =>
  name === null ? { x: 0, y: 0 } : (placedFeatures(part).find((f) => f.name === name)?.at ?? null);

/** A feature's place from another's (`from` null: from the drawing's nought); null where one of them has none. */
export const referenceOf = (part: Part, name: string, from: string | null): Reference | null => {
  const [a, b] = [placeOf(part, from), placeOf(part, name)];
  if (!a || !b) return null;
  const d = subtract(b, a);
  return { across: d.x, up: d.y, distance: Math.hypot(d.x, d.y), angle: angleOf(d) };
};

/** The feature moved so that one of its figures from another feature becomes `value`; the other of the pair stays. */
export const moveByReference = (
  document: JsonObject,
  part: Part,
  name: string,
  from: string | null,
  key: ReferenceKey,
  value: number,
): Moved => {
  const now = referenceOf(part, name, from);
  if (!now) return { document, held: [] };
  const then = { ...now, [key]: value };
  const wish =
    key === 'across' || key === 'up'
      ? { x: then.across, y: then.up }
      : polar({ x: 0, y: 0 }, then.distance, then.angle);
  return moveFeatures(document, [name], subtract(wish, { x: now.across, y: now.up }));
};
