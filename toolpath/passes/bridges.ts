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
 * Bridges spread along the outer contour of an outline, each moved to the middle of the nearest straight piece long
 * enough for it where there is one, so that it is easily sawn and filed.
 */
export const spreadBridges = (
  outline: Region,
  wanted: { readonly count: number; readonly length: number; readonly top: number },
  radius: number,
): readonly BridgeLift[] => {
  const outer = outline.contours.reduce((a, b) => (contourArea(b) > contourArea(a) ? b : a));
  const total = pathLength(outer);
  const pitch = total / wanted.count;
  return Array.from({ length: wanted.count }, (_, i) => {
    const even = (i + 0.5) * pitch;
    const straight = ontoStraight(outer.segments, even, wanted.length / 2 + radius / 2);
    const place = straight !== null && Math.abs(straight - even) < 0.45 * pitch ? straight : even;
    const { point, direction } = along(outer.segments, place);
    const outward = scale(leftOf(direction), -1);
    const half = scale(direction, wanted.length / 2 + radius);
    const near = add(point, scale(outward, -radius));
    const far = add(point, scale(outward, 6 * radius));
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

/** The place nearest to `length` along a contour where a straight piece has `room` to either side; null for none. */
const ontoStraight = (segments: readonly Segment[], length: number, room: number): number | null => {
  let best: number | null = null;
  let start = 0;
  for (const s of segments) {
    const end = start + segmentLength(s);
    if (s.kind === 'line' && end - start >= 2 * room) {
      const place = Math.min(end - room, Math.max(start + room, length));
      if (best === null || Math.abs(place - length) < Math.abs(best - length)) best = place;
    }
    start = end;
  }
  return best;
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
 * Follows a path at the pen's height, rising over every bridge in the way. Behind a bridge the cutter comes down on a
 * ramp where it meets solid work, or straight where only a finishing cut is left beside it.
 */
export const followOverBridges = (
  pen: Pen,
  path: Path,
  terms: EntryTerms,
  lifts: readonly BridgeLift[],
  down: 'ramp' | 'straight',
): void => {
  const z = pen.at()!.z;
  if (lifts.length === 0) {
    pen.follow(path.segments, terms.feed);
    return;
  }
  for (const stretch of stretchesOf(path, lifts)) {
    const at = pen.at()!;
    const height = stretch.lift?.z ?? z;
    if (height > at.z + 1e-9) pen.feedTo({ ...at, z: height }, terms.feed);
    else if (height < at.z - 1e-9 && down === 'straight') pen.feedTo({ ...at, z: height }, terms.plungeFeed);
    else rampDown(pen, stretch.path, height, terms);
    pen.follow(stretch.path.segments, terms.feed);
  }
  const at = pen.at()!;
  if (Math.abs(at.z - z) > 1e-9) pen.feedTo({ ...at, z }, terms.plungeFeed);
};

/** The beginning of a path as far as the first bridge: where a ramp may go down. */
export const beforeBridges = (path: Path, lifts: readonly BridgeLift[]): Path => {
  if (lifts.length === 0) return path;
  const first = stretchesOf(path, lifts)[0];
  return first && first.lift === null ? first.path : path;
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
