import type { Point } from '../shape/point.ts';

/**
 * How a picture lies under the sheet: its middle on the part (mm), the length of one of its pixels (mm), its turn
 * (radians, anticlockwise) and how strongly it is seen, 0 to 1.
 */
export interface Placement {
  readonly middle: Point;
  readonly scale: number;
  readonly turn: number;
  readonly strength: number;
}

/** Two places nearer than this, mm on the sheet, say nothing about a scale. */
const LEAST_APART = 1e-3;
const LEAST_SCALE = 1e-6;
const MOST_SCALE = 1e4;

/**
 * The placement at which two places that are seen on the sheet (mm) are `distance` mm apart: the first stays where it
 * is. `level` turns the picture as well, so that the second place lies straight to the right of the first. Null when
 * the places fall together or the distance is none.
 */
export const scaledByTwo = (
  placement: Placement,
  first: Point,
  second: Point,
  distance: number,
  level: boolean,
): Placement | null => {
  const dx = second.x - first.x;
  const dy = second.y - first.y;
  const apart = Math.hypot(dx, dy);
  if (!(apart > LEAST_APART && distance > 0)) return null;
  const k = distance / apart;
  const scale = placement.scale * k;
  if (!(scale >= LEAST_SCALE && scale <= MOST_SCALE)) return null;
  const by = level ? -Math.atan2(dy, dx) : 0;
  const x = (placement.middle.x - first.x) * k;
  const y = (placement.middle.y - first.y) * k;
  return {
    ...placement,
    scale,
    turn: placement.turn + by,
    middle: {
      x: first.x + x * Math.cos(by) - y * Math.sin(by),
      y: first.y + x * Math.sin(by) + y * Math.cos(by),
    },
  };
};

/** Where a place of the picture, in pixels right and up from its middle, lies on the part, mm. */
export const onSheet = (placement: Placement, at: Point): Point => {
  const c = Math.cos(placement.turn) * placement.scale;
  const s = Math.sin(placement.turn) * placement.scale;
  return {
    x: placement.middle.x + at.x * c - at.y * s,
    y: placement.middle.y + at.x * s + at.y * c,
  };
};
