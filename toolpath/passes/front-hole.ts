import type { Point } from '../../sketch/shape/point.ts';
import { type Region, regionBox, signedDistance } from '../../sketch/shape/region.ts';

/** Where a closed place is begun: the middle goes down on a helix of this radius about it, mm. */
export interface Hole {
  readonly at: Point;
  readonly radius: number;
}

/** The hole that a closed place is begun by has this share of the cutter's radius about its middle, at most and at least. */
export const HOLE_SHARE = 0.6;
const LEAST_HOLE = 0.1;
/** Places for a hole are looked for this far apart, in radii. */
const LOOK_SHARE = 0.35;

/** The roomiest place for a hole among where the middle has not been, near what is left; null where none has room. */
export const holeIn = (free: Region, left: Region, radius: number): Hole | null => {
  const box = regionBox(left);
  if (box === null) return null;
  const step = LOOK_SHARE * radius;
  let best: Hole | null = null;
  const look = (at: Point): void => {
    const room = -signedDistance(free, at);
    if (best === null || room > best.radius) best = { at, radius: room };
  };
  for (let x = box.min.x; x <= box.max.x; x += step)
    for (let y = box.min.y; y <= box.max.y; y += step) look({ x, y });
  // Nearer and nearer to the very middle.
  for (let fine = step / 2; fine > 0.01 && best !== null; fine /= 2) {
    const { at }: Hole = best;
    for (const [dx, dy] of [
      [1, 0],
      [-1, 0],
      [0, 1],
      [0, -1],
    ] as const)
      look({ x: at.x + dx * fine, y: at.y + dy * fine });
  }
  const found = best as Hole | null;
  if (found === null || found.radius < LEAST_HOLE * radius) return null;
  return { at: found.at, radius: Math.min(HOLE_SHARE * radius, 0.98 * found.radius) };
};
