import { intersections } from '../../sketch/shape/intersections.ts';
import type { Point } from '../../sketch/shape/point.ts';
import { contains, type Path, type Region, signedDistance } from '../../sketch/shape/region.ts';
import {
  type Arc,
  directionAlong,
  pointAlong,
  type Segment,
  segmentBox,
  segmentLength,
} from '../../sketch/shape/segment.ts';
import { type Boxed, boxed, nearTo, within } from './near-segments.ts';

/** Looks along a way are this far apart where something is near, mm. */
const LOOK = 0.2;
/** Looks along the rim, mm. */
const RIM = 0.3;
/** Thinner than this nothing is said to stand, mm: walls that were cut to size touch the rim no deeper. */
const FILM = 0.006;

/** What a cutter meets on its way at one depth. */
export interface Met {
  readonly radius: number;
  /** What stands above the tip. */
  readonly standing: Region;
}

/** Part of a path, mm along it. */
export interface Stretch {
  readonly from: number;
  readonly to: number;
}

/**
 * Where along a path the cutter takes something, in order: where the half of its rim that goes ahead lies in what stands
 * and what its own way has not taken before. What is found begins and ends within a look of the truth.
 */
export const bitesAlong = (path: Path, met: Met): readonly Stretch[] => {
  const reach = met.radius - FILM;
  const edges = boxed(met.standing);
  const all = path.segments.map((segment): Boxed => ({ segment, box: segmentBox(segment) }));
  const bites: Stretch[] = [];
  let from: number | null = null;
  let last: number | null = null;
  let done = 0;
  for (const [index, segment] of path.segments.entries()) {
    const length = segmentLength(segment);
    const earlier = all.slice(0, index);
    let along = 0;
    while (along < length) {
      const share = along / length;
      const at = pointAlong(segment, share);
      const near = signedDistance(met.standing, at) - reach;
      const gone = near < 0 ? nearTo(earlier, at, 2 * met.radius) : [];
      // All of it in the material, where its own way has not been; else its rim is looked at.
      const buried = near < -2 * reach && gone.length === 0;
      const way = directionAlong(segment, share);
      // Where it goes down all of it cuts.
      const cuts = near < 0 && (last === null || buried || takes(rimAhead(at, way, reach), met, edges, gone));
      if (cuts) from ??= last ?? 0;
      else if (from !== null) {
        bites.push({ from, to: done + along });
        from = null;
      }
      last = done + along;
      // The distance changes by no more than the way that is gone.
      along += Math.max(LOOK, near, buried ? -near - 2 * reach : 0);
    }
    done += length;
  }
  if (from !== null) bites.push({ from, to: done });
  return bites.map((b) => ({
    from: onGrid(b.from, Math.floor),
    to: Math.min(done, onGrid(b.to, Math.ceil)),
  }));
};

/** Tenths of a millimetre, so that levels that are alike are cut alike to the last digit. */
const onGrid = (length: number, round: (n: number) => number): number =>
  round(length * 10 - (round === Math.floor ? -SLIP : SLIP)) / 10;

/** What rounding may do to a length, in tenths of a millimetre. */
const SLIP = 0.005;

/** Whether a rim lies anywhere in what stands and is not within the radius of ways that the cutter has gone. */
const takes = (
  rim: Arc,
  { radius, standing }: Met,
  edges: readonly Boxed[],
  gone: readonly Segment[],
): boolean => {
  const shares = nearTo(edges, rim.centre, radius).flatMap((edge) =>
    intersections(rim, edge).map((c) => c.shareA),
  );
  const stops = [0, ...shares.sort((a, b) => a - b), 1];
  return stops.slice(1).some((to, i) => {
    const from = stops[i]!;
    if (to - from < 1e-6 || !contains(standing, pointAlong(rim, (from + to) / 2))) return false;
    const count = Math.max(2, Math.ceil(((to - from) * Math.PI * radius) / RIM));
    return Array.from({ length: count + 1 }, (_, k) =>
      pointAlong(rim, from + ((to - from) * k) / count),
    ).some((p) => !within(gone, p.x, p.y, radius + FILM));
  });
};

/** The half of the rim that goes ahead, from the right of the way to its left. */
const rimAhead = (at: Point, way: Point, radius: number): Arc => ({
  kind: 'arc',
  from: { x: at.x + way.y * radius, y: at.y - way.x * radius },
  to: { x: at.x - way.y * radius, y: at.y + way.x * radius },
  centre: at,
  sweep: Math.PI,
});
