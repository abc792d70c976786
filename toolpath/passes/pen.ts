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

/** A quarter circle that meets `segment` at its start without a corner, coming from the side named. */
export const leadIn = (segment: Segment, radius: number, side: 'left' | 'right'): Arc => {
  const d = directionAlong(segment, 0);
  const k = side === 'left' ? 1 : -1;
  const centre = { x: segment.from.x - d.y * k * radius, y: segment.from.y + d.x * k * radius };
  const from = { x: centre.x - d.x * radius, y: centre.y - d.y * radius };
  return { kind: 'arc', from, to: segment.from, centre, sweep: (k * Math.PI) / 2 };
};

/** A quarter circle that leaves `segment` at its end without a corner, towards the side named. */
export const leadOut = (segment: Segment, radius: number, side: 'left' | 'right'): Arc => {
  const d = directionAlong(segment, 1);
  const k = side === 'left' ? 1 : -1;
  const centre = { x: segment.to.x - d.y * k * radius, y: segment.to.y + d.x * k * radius };
  const to = { x: centre.x + d.x * radius, y: centre.y + d.y * radius };
  return { kind: 'arc', from: segment.to, to, centre, sweep: (k * Math.PI) / 2 };
};
