import { distance, type Point, type Point3 } from '../../sketch/shape/point.ts';
import { type Arc, directionAlong, type Segment, segmentLength } from '../../sketch/shape/segment.ts';
import { FEED_FROM } from '../route/clearances.ts';
import type { Move } from './pass.ts';

/** Writes moves one after another and knows where the cutter is. Heights and places in program coordinates, mm. */
export interface Pen {
  readonly moves: () => readonly Move[];
  readonly at: () => Point3 | null;
  /**
   * Up to the clear height or to `across`, over, and down by rapid to just above `ceiling` (what stands there; null for
   * nothing).
   */
  readonly goTo: (place: Point, ceiling: number | null, floor: number, across?: number) => void;
  readonly feedTo: (place: Point3, feed: number) => void;
  /** Along segments at the present depth, or sinking evenly to `z` over their length. */
  readonly follow: (segments: readonly Segment[], feed: number, z?: number) => void;
  readonly lift: () => void;
  readonly add: (move: Move) => void;
}

/** A pen that has not touched the work yet. */
export const takePen = (clearHeight: number): Pen => {
  const moves: Move[] = [];
  let at: Point3 | null = null;

  const rapid = (to: Point3): void => {
    if (at !== null && at.x === to.x && at.y === to.y && at.z === to.z) return;
    moves.push({ kind: 'rapid', to });
    at = to;
  };

  const rise = (z: number): void => {
    if (at !== null && at.z < z) rapid({ ...at, z });
  };

  const goTo: Pen['goTo'] = (place, ceiling, floor, across = clearHeight) => {
    rise(across);
    rapid({ x: place.x, y: place.y, z: across });
    rapid({ x: place.x, y: place.y, z: Math.min(across, Math.max(ceiling ?? floor, floor) + FEED_FROM) });
  };

  const feedTo: Pen['feedTo'] = (place, feed) => {
    if (at !== null && Math.hypot(at.x - place.x, at.y - place.y, at.z - place.z) < 1e-9) return;
    moves.push({ kind: 'feed', to: place, feed });
    at = place;
  };

  const followOne = (segment: Segment, feed: number, z: number): void => {
    const to: Point3 = { x: segment.to.x, y: segment.to.y, z };
    if (segment.kind === 'line') {
      if (distance(segment.from, segment.to) > 0) feedTo(to, feed);
      return;
    }
    moves.push({ kind: 'arc', to, centre: segment.centre, clockwise: segment.sweep < 0, feed });
    at = to;
  };

  const follow: Pen['follow'] = (segments, feed, z) => {
    if (at === null) throw new Error('the pen has no place to follow from');
    const start = at.z;
    const end = z ?? start;
    const total = segments.reduce((sum, s) => sum + segmentLength(s), 0);
    let done = 0;
    for (const segment of segments) {
      done += segmentLength(segment);
      followOne(segment, feed, total > 0 ? start + ((end - start) * done) / total : end);
    }
  };

  return {
    moves: () => moves,
    at: () => at,
    goTo,
    feedTo,
    follow,
    lift: () => rise(clearHeight),
    add: (move) => {
      moves.push(move);
      if (move.kind === 'drill') at = { x: move.at.x, y: move.at.y, z: move.clear };
    },
  };
};

/**
 * An arc that meets `segment` at its start without a corner, coming from the side named, from `off` beside it: a quarter
 * circle at most. mm.
 */
export const leadIn = (segment: Segment, radius: number, side: 'left' | 'right', off = radius): Arc => {
  const sweep = leadSweep(radius, side, off);
  const centre = leadCentre(segment.from, directionAlong(segment, 0), radius, side);
  return { kind: 'arc', from: turned(segment.from, centre, -sweep), to: segment.from, centre, sweep };
};

/**
 * An arc that leaves `segment` at its end without a corner, towards the side named, until it is `off` beside it: a
 * quarter circle at most. mm.
 */
export const leadOut = (segment: Segment, radius: number, side: 'left' | 'right', off = radius): Arc => {
  const sweep = leadSweep(radius, side, off);
  const centre = leadCentre(segment.to, directionAlong(segment, 1), radius, side);
  return { kind: 'arc', from: segment.to, to: turned(segment.to, centre, sweep), centre, sweep };
};

/** The angle on which an arc of this radius comes `off` from its tangent, radians; positive to the left. */
const leadSweep = (radius: number, side: 'left' | 'right', off: number): number =>
  (side === 'left' ? 1 : -1) * Math.acos(1 - Math.min(1, off / radius));

const leadCentre = (at: Point, d: Point, radius: number, side: 'left' | 'right'): Point => {
  const k = side === 'left' ? radius : -radius;
  return { x: at.x - d.y * k, y: at.y + d.x * k };
};

const turned = (p: Point, centre: Point, angle: number): Point => {
  const [x, y, c, s] = [p.x - centre.x, p.y - centre.y, Math.cos(angle), Math.sin(angle)];
  return { x: centre.x + x * c - y * s, y: centre.y + x * s + y * c };
};
