import type { Solid } from '../../sketch/part/solid.ts';
import type { Point, Point3 } from '../../sketch/shape/point.ts';
import { contains } from '../../sketch/shape/region.ts';
import { nearestOn, pointAlong, radiusOf } from '../../sketch/shape/segment.ts';
import {
  type CutPath,
  lowestTip,
  radiusAbove,
  sharesBelow,
  stretch,
  tipAlong,
  upOf,
} from '../../toolpath/removal/cut-path.ts';
import { type IndexedRegion, indexRegion, nearestApproach, signedWallDistance } from './distance.ts';

/** How far one motion's cutter enters the wanted part. */
export interface Gouge {
  readonly amount: number;
  readonly at: Point3;
  /** Whether it is the side or the end of the cutter that could least retreat from the part. */
  readonly by: 'side' | 'end';
  readonly path: CutPath;
}

/** A slab as seen from the cutter's side: up heights, and its region with boxes. */
export interface WantedSlab {
  readonly bottom: number;
  readonly top: number;
  readonly wall: IndexedRegion;
}

export const indexSolid = (wanted: Solid): readonly WantedSlab[] => {
  const known = new Map<unknown, IndexedRegion>();
  return wanted.slabs.map((slab) => {
    const wall = known.get(slab.region) ?? indexRegion(slab.region);
    known.set(slab.region, wall);
    return { bottom: slab.bottom, top: slab.top, wall };
  });
};

/** Below this, mm, nothing is called a gouge: rounding of programs and floats. */
const NOTICED = 0.0002;
/** Search error on ramps, mm. On level motions the distance is closed-form. */
const SEARCH_ERROR = 0.0005;
const MOST_STEPS = 4000;
/** How much wider than the drill a hole may be for the drill's cone under it to be meant: reaming allowance, mm. */
const REAM_ALLOWANCE = 0.1;
/** Drills up to this share smaller than the hole count as its pilot. */
const PILOT_SHARE = 0.15;
/** Share of the drill's radius by which it may miss the hole's axis and still be taken to be meant for it. */
const ON_AXIS = 0.25;
/** Distances that differ by less are alike, mm. */
const ALIKE = 1e-6;

/**
 * Largest entry of a motion's cutter into the wanted part, mm, exact to 0.0005 mm; null when it stays out.
 *
 * For each slab that the tip gets below: in the plane, radius less distance to the wall (radius plus depth when the
 * path runs inside); in height, how far the tip is beyond the slab. The entry is the lesser at each place (the
 * shorter way out), the largest over places and slabs. The cone of a drill under the flat bottom of a blind hole of
 * its own diameter is meant, and only what the full diameter is too deep counts there.
 */
export const gougeOf = (path: CutPath, slabs: readonly WantedSlab[]): Gouge | null => {
  if (path.cutter.kind === 'tap') return null;
  const up = upOf(path.face);
  const lowest = lowestTip(path);
  const hole = path.point > 0 && path.length < 1e-6 ? blindHoleUnder(path, slabs) : null;
  let worst: Gouge | null = null;
  for (const slab of slabs) {
    const top = up > 0 ? slab.top : -slab.bottom;
    if (top - lowest <= NOTICED) continue;
    const found =
      hole !== null && contains(slab.wall.region, path.segment.from)
        ? overrun(path, top, hole)
        : entryInto(path, slab.wall, top);
    if (found === null || (worst !== null && found.amount <= worst.amount)) continue;
    const height = Math.max(up > 0 ? slab.bottom : -slab.top, Math.min(top, found.u));
    worst = {
      amount: found.amount,
      by: found.by,
      at: { ...found.at, z: up * height },
      path,
    };
  }
  return worst;
};

interface Entry {
  readonly amount: number;
  readonly at: Point;
  readonly u: number;
  readonly by: 'side' | 'end';
}

const entryInto = (path: CutPath, wall: IndexedRegion, top: number): Entry | null => {
  const lowest = lowestTip(path);
  const radius = radiusAbove(path, top - lowest);
  const box = wall.box;
  if (
    box === null ||
    box[0] > path.box.x1 + radius ||
    box[2] < path.box.x0 - radius ||
    box[1] > path.box.y1 + radius ||
    box[3] < path.box.y0 - radius
  )
    return null;
  const shares = sharesBelow(path, top)!;
  const part = stretch(path, shares[0], shares[1]);
  const near = nearestApproach(part, wall, radius);
  const beginsInside = contains(wall.region, part.from);
  const level = Math.abs(path.u1 - path.u0) < 1e-9;
  if (!beginsInside && near?.distance !== 0) {
    if (near === null || radius - near.distance <= NOTICED) return null;
    if (level || path.length < 1e-6) {
      const side = radius - near.distance;
      const end = top - lowest;
      return {
        amount: Math.min(side, end),
        at: side <= end ? near.onWall : near.onPath,
        u: side <= end ? top : lowest,
        by: side <= end ? 'side' : 'end',
      };
    }
  } else if (level && top - lowest <= radius) {
    // Inside, the way out sideways is more than the radius; it matters only when the cut is deeper than that.
    const at = beginsInside ? part.from : near!.onPath;
    return { amount: top - lowest, at, u: lowest, by: 'end' };
  }
  return searchDeepest(path, wall, top, shares);
};

/** Branch and bound over the share of the way along: the entry changes no faster than the path is long. */
const searchDeepest = (
  path: CutPath,
  wall: IndexedRegion,
  top: number,
  shares: readonly [number, number],
): Entry | null => {
  const at = (t: number): Point => pointAlong(path.segment, t);
  const value = (t: number): { amount: number; by: 'side' | 'end' } => {
    const end = top - tipAlong(path, t);
    const side = radiusAbove(path, end) - signedWallDistance(wall, at(t));
    return side <= end ? { amount: side, by: 'side' } : { amount: end, by: 'end' };
  };
  const fall = Math.abs(path.u1 - path.u0);
  const widening = path.point > 0 ? Math.max(1, path.radius / path.point) : 1;
  const rate = path.length + fall * widening;
  const ends = [shares[0], shares[1]].map((t) => ({ t, ...value(t) }));
  let best = ends[0]!.amount >= ends[1]!.amount ? ends[0]! : ends[1]!;
  const queue: (readonly [number, number])[] = [[shares[0], shares[1]]];
  for (let steps = 0; queue.length > 0 && steps < MOST_STEPS; steps++) {
    const [a, b] = queue.shift()!;
    const t = (a + b) / 2;
    const here = value(t);
    if (here.amount > best.amount) best = { t, ...here };
    const error = Math.max(SEARCH_ERROR, 0.01 * best.amount);
    if (here.amount + (rate * (b - a)) / 2 <= Math.max(best.amount, 0) + error) continue;
    queue.push([a, t], [t, b]);
  }
  if (best.amount <= NOTICED) return null;
  return { amount: best.amount, at: at(best.t), u: tipAlong(path, best.t), by: best.by };
};

interface BlindHole {
  /** Up height of its wanted flat bottom. */
  readonly floor: number;
}

/** The blind round hole of about the drill's own diameter that a straight plunge goes into, if it is one. */
const blindHoleUnder = (path: CutPath, slabs: readonly WantedSlab[]): BlindHole | null => {
  const up = upOf(path.face);
  const p = path.segment.from;
  const fromTop = up > 0 ? [...slabs].reverse() : slabs;
  const floorIndex = fromTop.findIndex((slab) => contains(slab.wall.region, p));
  const above = fromTop[floorIndex - 1];
  if (above === undefined) return null;
  const near = above.wall.segments.map((s) => ({ s, distance: nearestOn(s, p).distance }));
  const least = near.reduce((a, b) => Math.min(a, b.distance), Number.POSITIVE_INFINITY);
  // Where a straight wall is as near, it is the end of a slot.
  for (const { s, distance } of near) {
    if (distance > least + ALIKE) continue;
    if (s.kind !== 'arc' || Math.hypot(s.centre.x - p.x, s.centre.y - p.y) > ON_AXIS * path.radius)
      return null;
    if (radiusOf(s) < path.radius - 0.02) return null;
    if (radiusOf(s) > path.radius * (1 + PILOT_SHARE) + REAM_ALLOWANCE) return null;
  }
  const floor = fromTop[floorIndex]!;
  return { floor: up > 0 ? floor.top : -floor.bottom };
};

const overrun = (path: CutPath, top: number, hole: BlindHole): Entry | null => {
  const shoulder = lowestTip(path) + path.point;
  const amount = Math.min(hole.floor, top) - shoulder;
  return amount <= NOTICED ? null : { amount, at: path.segment.from, u: shoulder, by: 'end' };
};
