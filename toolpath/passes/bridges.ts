import { intersections } from '../../sketch/shape/intersections.ts';
import { add, leftOf, type Point, scale } from '../../sketch/shape/point.ts';
import {
  contains,
  contourArea,
  type Path,
  pathLength,
  polygon,
  type Region,
  segmentsOf,
} from '../../sketch/shape/region.ts';
import {
  directionAlong,
  piece,
  pointAlong,
  type Segment,
  segmentLength,
} from '../../sketch/shape/segment.ts';
import { type EntryTerms, rampDown } from './entry.ts';
import type { Pen } from './pen.ts';
import { MOST_FACTOR } from './tooth-load.ts';
import { startAt } from './track.ts';

/** Where the cutter must be lifted so that a holding bridge stays. Program coordinates, mm. */
export interface BridgeLift {
  /** Middle of the bridge on the outline, and the direction away from the part. */
  readonly at: Point;
  readonly outward: Point;
  /** Along the outline. */
  readonly length: number;
  /** Top of the bridge. */
  readonly z: number;
  /** The cutter's centre must be at the bridge's top or above within this strip. */
  readonly strip: Region;
}

/**
 * Bridges spread along the outer contour of an outline, each moved to the nearest straight piece long enough for it
 * where there is one, so that it is easily sawn and filed. None is put where its strip would run over another limb of
 * the part, nor beside an inner corner, where the cutter could not clear what is left of it.
 */
export const spreadBridges = (
  outline: Region,
  wanted: { readonly count: number; readonly length: number; readonly top: number },
  radius: number,
): readonly BridgeLift[] => {
  const outer = outline.contours.reduce((a, b) => (contourArea(b) > contourArea(a) ? b : a));
  const pitch = pathLength(outer) / wanted.count;
  const places = placesAlong(outer.segments, wanted.length / 2 + radius / 2);
  return Array.from({ length: wanted.count }, (_, i) => {
    const { point, direction } = choosePlace(outer.segments, places, (i + 0.5) * pitch, {
      pitch,
      half: wanted.length / 2 + radius,
      radius,
    });
    const outward = scale(leftOf(direction), -1);
    const half = scale(direction, wanted.length / 2 + radius);
    const near = add(point, scale(outward, -radius));
    const far = add(point, scale(outward, STRIP * radius));
    const strip: Region = {
      contours: [
        polygon(
          [add(near, half), add(near, scale(half, -1)), add(far, scale(half, -1)), add(far, half)].reverse(),
        ),
      ],
    };
    return { at: point, outward, length: wanted.length, z: wanted.top, strip: anticlockwise(strip) };
  });
};

/** How far out of the part a bridge's strip reaches, in radii of the cutter. */
const STRIP = 6;
/** Places for a bridge are tried this far apart along the outline, mm. */
const TRY_EVERY = 0.5;

interface Place {
  /** Along the outline, mm. */
  readonly along: number;
  readonly point: Point;
  readonly direction: Point;
  /** Whether a straight piece has room for a bridge here. */
  readonly straight: boolean;
}

const placesAlong = (segments: readonly Segment[], room: number): readonly Place[] => {
  let start = 0;
  return segments.flatMap((segment) => {
    const length = segmentLength(segment);
    const from = start;
    start += length;
    const count = Math.max(1, Math.ceil(length / TRY_EVERY));
    return Array.from({ length: count }, (_, k): Place => {
      const share = (k + 0.5) / count;
      return {
        along: from + share * length,
        point: pointAlong(segment, share),
        direction: directionAlong(segment, share),
        straight: segment.kind === 'line' && Math.min(share, 1 - share) * length >= room,
      };
    });
  });
};

interface Room {
  readonly pitch: number;
  /** Half the length in which the cutter's centre is lifted. */
  readonly half: number;
  readonly radius: number;
}

/** The best place near an even share of the outline: free and straight, else free, else the even share itself. */
const choosePlace = (
  segments: readonly Segment[],
  places: readonly Place[],
  even: number,
  room: Room,
): { readonly point: Point; readonly direction: Point } => {
  const corners = innerCorners(segments);
  const total = pathLength({ segments });
  const near = places
    .filter((p) => Math.abs(p.along - even) < 0.45 * room.pitch)
    .sort((a, b) => Math.abs(a.along - even) - Math.abs(b.along - even));
  const free = near.filter(
    (p) =>
      corners.every(
        (c) => apart(c.along, p.along, total) > room.half + room.radius * Math.min(4, Math.max(1, c.spread)),
      ) && places.every((other) => !inTheWay(p, other, total, room)),
  );
  return free.find((p) => p.straight) ?? free[0] ?? along(segments, even);
};

/** Distance of two places along a closed outline. */
const apart = (a: number, b: number, total: number): number => {
  const d = Math.abs(a - b) % total;
  return Math.min(d, total - d);
};

/** Whether another limb of the part lies in or beside the strip of a bridge. */
const inTheWay = (bridge: Place, other: Place, total: number, room: Room): boolean => {
  if (apart(bridge.along, other.along, total) < 2 * room.half) return false;
  const d = { x: other.point.x - bridge.point.x, y: other.point.y - bridge.point.y };
  const beside = Math.abs(d.x * bridge.direction.x + d.y * bridge.direction.y);
  const out = d.x * bridge.direction.y - d.y * bridge.direction.x;
  return beside < room.half + room.radius && out > 0 && out < (STRIP + 1) * room.radius;
};

/** Corners that point into the part, with how far along the outline a cutter of radius 1 stops before each. */
const innerCorners = (segments: readonly Segment[]): readonly { along: number; spread: number }[] => {
  let start = 0;
  return segments.flatMap((segment, i) => {
    const comes = directionAlong(segments.at(i - 1)!, 1);
    const goes = directionAlong(segment, 0);
    const turn = Math.atan2(comes.x * goes.y - comes.y * goes.x, comes.x * goes.x + comes.y * goes.y);
    const here = start;
    start += segmentLength(segment);
    return turn < -0.02 ? [{ along: here, spread: Math.tan(-turn / 2) }] : [];
  });
};

const anticlockwise = (region: Region): Region =>
  contourArea(region.contours[0]!) > 0
    ? region
    : { contours: [polygon(region.contours[0]!.segments.map((s) => s.from).reverse())] };

const along = (segments: readonly Segment[], length: number): { point: Point; direction: Point } => {
  let left = length;
  for (const s of segments) {
    const l = segmentLength(s);
    if (left <= l) return { point: pointAlong(s, left / l), direction: directionAlong(s, left / l) };
    left -= l;
  }
  const last = segments[segments.length - 1]!;
  return { point: last.to, direction: directionAlong(last, 1) };
};

/** The bridges that a pass at this height has to leave standing. */
export const liftsAt = (bridges: readonly BridgeLift[], z: number): readonly BridgeLift[] =>
  bridges.filter((bridge) => z < bridge.z - 1e-9);

/** A closed path begun at a place where no bridge is. */
export const beginBetweenBridges = (path: Path, lifts: readonly BridgeLift[]): Path => {
  if (lifts.length === 0) return path;
  const free = (p: Point): boolean => lifts.every((lift) => !contains(lift.strip, p));
  for (const share of [0, 0.5, 0.25, 0.75]) {
    for (let index = 0; index < path.segments.length; index++) {
      if (free(pointAlong(path.segments[index]!, share))) return startAt(path, index, share);
    }
  }
  return path;
};

/**
 * Follows a path at a height, rising over every bridge in the way. Behind a bridge the cutter comes down on a ramp where
 * it meets solid work, or straight where only a finishing cut is left beside it. A bridge that was laid bare by a level
 * before, down to `above`, is passed faster: nothing stands on it.
 */
export const followOverBridges = (
  pen: Pen,
  path: Path,
  terms: EntryTerms,
  lifts: readonly BridgeLift[],
  down: 'ramp' | 'straight',
  { z, above }: { readonly z: number; readonly above: number },
): void => {
  const swift = Math.min(MOST_FACTOR * terms.feed, Math.max(terms.feed, terms.most ?? terms.feed));
  for (const stretch of stretchesOf(path, lifts)) {
    const at = pen.at()!;
    const height = stretch.lift?.z ?? z;
    const bare = stretch.lift !== null && above <= stretch.lift.z + 1e-9;
    if (height > at.z + 1e-9) pen.feedTo({ ...at, z: height }, swift);
    else if (height < at.z - 1e-9 && down === 'straight') pen.feedTo({ ...at, z: height }, terms.plungeFeed);
    else rampDown(pen, stretch.path, height, terms);
    pen.follow(stretch.path.segments, bare ? swift : terms.feed);
  }
};

/** The beginning of a path as far as nothing changes: where a ramp may go down, and how far; all of it where no bridge is. */
export const firstStretch = (
  path: Path,
  lifts: readonly BridgeLift[],
  z: number,
): { readonly path: Path; readonly height: number } => {
  const stretches = stretchesOf(path, lifts);
  const first = stretches[0];
  if (first === undefined || (stretches.length === 1 && first.lift === null)) return { path, height: z };
  return { path: first.path, height: first.lift?.z ?? z };
};

interface Stretch {
  readonly path: Path;
  /** The bridge it runs over; null between bridges. */
  readonly lift: BridgeLift | null;
}

/** A path cut up where it comes upon a bridge and where it leaves it. */
const stretchesOf = (path: Path, lifts: readonly BridgeLift[]): readonly Stretch[] => {
  const stretches: { segments: Segment[]; lift: BridgeLift | null }[] = [];
  for (const part of path.segments.flatMap((segment) => splitAtBridges(segment, lifts))) {
    const lift = lifts.find((l) => contains(l.strip, pointAlong(part, 0.5))) ?? null;
    const last = stretches[stretches.length - 1];
    if (last && last.lift === lift) last.segments.push(part);
    else stretches.push({ segments: [part], lift });
  }
  return stretches.map(({ segments, lift }) => ({ path: { segments }, lift }));
};

const splitAtBridges = (segment: Segment, lifts: readonly BridgeLift[]): readonly Segment[] => {
  const shares = lifts
    .flatMap((lift) =>
      segmentsOf(lift.strip).flatMap((edge) => intersections(segment, edge).map((i) => i.shareA)),
    )
    .filter((t) => t > 1e-6 && t < 1 - 1e-6)
    .sort((a, b) => a - b);
  const stops = [0, ...shares, 1];
  return stops.slice(1).flatMap((t, i) => (t - stops[i]! > 1e-6 ? [piece(segment, stops[i]!, t)] : []));
};
