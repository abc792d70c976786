import type { Point } from '../../sketch/shape/point.ts';
import { type Path, pathLength, type Region, segmentsOf, signedDistance } from '../../sketch/shape/region.ts';
import { pointAlong, segmentLength } from '../../sketch/shape/segment.ts';
import { bitesAlong, type Met } from './bites.ts';
import { endOf, firstOf } from './track.ts';

/** Places on the edge of what is to be cut are taken this far apart, and those on the way too, mm. */
const EDGE = 0.1;
const WAY = 0.1;
/** The cutter goes this much farther than it must, mm: more than lies between two such places. */
const MARGIN = 0.2;

/** Places along the edge of a target, by which ways over it are ended. */
export interface Edge {
  readonly target: Region;
  readonly places: readonly Point[];
}

export const edgeOf = (target: Region): Edge => ({
  target,
  places: segmentsOf(target).flatMap((s) => {
    const count = Math.max(1, Math.ceil(segmentLength(s) / EDGE));
    return Array.from({ length: count }, (_, k) => pointAlong(s, k / count));
  }),
});

/**
 * A way that leaves its target, ended as soon as it has swept all of it that it comes to: with the cutter's middle about
 * over the edge, where the cutter would else go on by its own radius through nothing. A way that ends anywhere else
 * than in the open stays as it is.
 */
export const withoutTail = (path: Path, edge: Edge, radius: number): Path => {
  if (signedDistance(edge.target, endOf(path)) < radius - 1e-6) return path;
  const tail = placesFromEnd(path, 2 * radius + 2);
  // Back to where the middle is over the target: what comes before is no tail.
  const inside = tail.findIndex(({ at }) => signedDistance(edge.target, at) < 0);
  const open = inside < 0 ? tail : tail.slice(0, inside + 1);
  if (open.length < 3) return path;
  // Every place has to be met at some time; the latest of those times is when the way may end.
  let needed = open.length - 1;
  for (const q of edge.places) {
    const first = firstWithin(open, q, radius);
    if (first >= 0 && first < needed) needed = first;
  }
  const spare = open[needed]!.left - MARGIN;
  const whole = path.segments.reduce((sum, s) => sum + segmentLength(s), 0);
  if (spare < EDGE || whole - spare < EDGE) return path;
  return { segments: firstOf(path, whole - spare) };
};

/** A way ended a little behind the last place where it takes something; all of it where it takes nothing. */
export const withoutIdleEnd = (path: Path, met: Met): Path => {
  const last = bitesAlong(path, met).at(-1);
  const whole = pathLength(path);
  return last === undefined || whole - last.to < 2 * MARGIN
    ? path
    : { segments: firstOf(path, last.to + MARGIN) };
};

/**
 * Index of the first of the places, as the cutter comes by them (from the last to 0), within a distance of a point; −1
 * where none is. As no two neighbours are farther apart than `WAY`, many need not be looked at.
 */
const firstWithin = (places: readonly { readonly at: Point }[], q: Point, radius: number): number => {
  for (let k = places.length - 1; k >= 0; ) {
    const { at } = places[k]!;
    const over = Math.hypot(at.x - q.x, at.y - q.y) - radius;
    if (over <= 0) return k;
    k -= Math.max(1, Math.floor(over / WAY - 1e-6));
  }
  return -1;
};

/** Places from the end of a path backwards, each with the length of way left from there. */
const placesFromEnd = (
  path: Path,
  most: number,
): readonly { readonly at: Point; readonly left: number }[] => {
  const found: { at: Point; left: number }[] = [{ at: endOf(path), left: 0 }];
  let done = 0;
  for (let i = path.segments.length - 1; i >= 0 && done < most; i--) {
    const segment = path.segments[i]!;
    const length = segmentLength(segment);
    const count = Math.max(1, Math.ceil(length / WAY));
    for (let k = count - 1; k >= 0 && found.at(-1)!.left < most; k--) {
      found.push({ at: pointAlong(segment, k / count), left: done + length * (1 - k / count) });
    }
    done += length;
  }
  return found;
};
