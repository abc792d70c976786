import { add, type Point } from '../shape/point.ts';
import type { JsonObject } from './json.ts';
import { type Relaid, type RelayOptions, relay } from './relay.ts';
import { mirrorAbout } from './rigid.ts';

/** A line through two points, mm. */
export type MirrorLine = readonly [Point, Point];

export const levelThrough = (p: Point): MirrorLine => [p, add(p, { x: 1, y: 0 })];
export const uprightThrough = (p: Point): MirrorLine => [p, add(p, { x: 0, y: 1 })];

/** Features mirrored about a line, in place or as copies. */
export const mirrorFeatures = (
  document: JsonObject,
  names: readonly string[],
  [from, to]: MirrorLine,
  options: RelayOptions = {},
): Relaid => {
  const t = mirrorAbout(from, to);
  return t === null
    ? { ok: false, message: 'A mirror line needs two points apart from each other.' }
    : relay(document, names, t, options);
};
