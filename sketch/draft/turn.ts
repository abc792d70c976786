import type { Point } from '../shape/point.ts';
import type { JsonObject } from './json.ts';
import { type Relaid, type RelayOptions, relay } from './relay.ts';
import { turnAbout } from './rigid.ts';

/** Features turned about a point, mm, by an angle, radians anticlockwise; in place or as copies. */
export const turnFeatures = (
  document: JsonObject,
  names: readonly string[],
  centre: Point,
  angle: number,
  options: RelayOptions = {},
): Relaid =>
  Number.isFinite(angle)
    ? relay(document, names, turnAbout(centre, angle), options)
    : { ok: false, message: 'An angle to turn by is wanted.' };
