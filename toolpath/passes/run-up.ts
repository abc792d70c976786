import { distance, type Point } from '../../sketch/shape/point.ts';
import {
  nearestBoundary,
  type Path,
  pathLength,
  type Region,
  signedDistance,
} from '../../sketch/shape/region.ts';
import { line, pointAlong, segmentLength } from '../../sketch/shape/segment.ts';
import { AIR, BITE } from '../route/clearances.ts';
import type { Met } from './bites.ts';
import { afterFirst, isClosed, startOf } from './track.ts';

/** Places on the way are looked at this far apart, mm. */
const WAY = 0.1;

/** What a way to the cut has to keep clear of. */
export interface RunUpRoom extends Met {
  /** Where the cutter's body must not be. */
  readonly keepOut: Region;
}

/** How far along a path that begins in the open the cutter first takes something, mm; null where it never does. */
export const firstBite = (path: Path, { radius, standing }: Met): number | null => {
  let done = 0;
  for (const segment of path.segments) {
    const length = segmentLength(segment);
    const count = Math.max(1, Math.ceil(length / WAY));
    for (let k = 0; k < count; k++) {
      if (signedDistance(standing, pointAlong(segment, k / count)) < radius - BITE)
        return done + (length * k) / count;
    }
    done += length;
  }
  return null;
};

/** A path from just before the place where the cutter first takes something; all of it where it does so at once or never. */
export const fromFirstBite = (path: Path, room: RunUpRoom): Path => {
  const bite = firstBite(path, room);
  return bite === null || bite <= WAY ? path : afterFirst(path, bite - WAY);
};

/** A path that comes straight to the work from the open, begun just clear of the place where it first takes something. */
export const fromClose = (path: Path, room: Met): Path => {
  const bite = firstBite(path, room);
  return bite === null || bite <= AIR + 2 * WAY ? path : afterFirst(path, bite - AIR);
};

/**
 * A path that begins in the open, begun where it comes to the work: a step in from the side takes the place of a long
 * way beside nothing, such as one round a corner or past the end of a wall.
 */
export const withShortRunUp = (path: Path, room: RunUpRoom): Path => {
  const { radius, standing } = room;
  if (isClosed(path) || signedDistance(standing, startOf(path)) < radius - 1e-3) return path;
  const bite = firstBite(path, room);
  if (bite === null || bite < AIR + 2 * WAY || bite > pathLength(path) - WAY) return path;
  const rest = afterFirst(path, bite - WAY);
  const p = startOf(rest);
  const near = nearestBoundary(standing, p);
  if (near === null) return path;
  const gap = distance(near.point, p);
  const u = { x: (p.x - near.point.x) / gap, y: (p.y - near.point.y) / gap };
  for (const turn of [0, Math.PI / 4, -Math.PI / 4]) {
    const from = {
      x: p.x + AIR * (u.x * Math.cos(turn) - u.y * Math.sin(turn)),
      y: p.y + AIR * (u.x * Math.sin(turn) + u.y * Math.cos(turn)),
    };
    if (clear(from, p, room)) return { segments: [line(from, p), ...rest.segments] };
  }
  return path;
};

const clear = (from: Point, to: Point, { radius, standing, keepOut }: RunUpRoom): boolean =>
  signedDistance(standing, from) >= radius + AIR / 2 &&
  [0, 0.5, 1].every((t) => {
    const p = { x: from.x + (to.x - from.x) * t, y: from.y + (to.y - from.y) * t };
    return signedDistance(keepOut, p) >= radius - 1e-4;
  });
