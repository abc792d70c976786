import { distance, type Point } from '../../sketch/shape/point.ts';
import {
  type Arc,
  piece,
  pointAlong,
  radiusOf,
  type Segment,
  segmentLength,
} from '../../sketch/shape/segment.ts';
import type { EntryTerms } from './entry.ts';
import { engagementAt } from './peel.ts';
import type { Pen } from './pen.ts';

/**
 * Feed that keeps the uncut chip as thick as the cutting data mean it. A rim buried by an angle φ under a right angle
 * cuts chips no thicker than fz · sin φ (h = fz sin φ at the angle φ from the far side, as in any text on milling; value
 * from memory, checked against the tooth-by-tooth estimate of force), so the feed may rise by 1 / sin φ.
 */
export const chipFactor = (buried: number): number =>
  buried >= Math.PI / 2 ? 1 : Math.min(MOST_FACTOR, 1 / Math.max(Math.sin(buried), 1e-9));

/** The feed is never raised to more than this many times what the cutting data say, and never lowered under it. */
export const MOST_FACTOR = 2;
/** Buried less than this the factor is at its most, radians. */
const LIGHT = Math.asin(1 / MOST_FACTOR);
/** A piece of a loop shorter than this is no reason for another feed, mm. */
const SHORTEST = 1;
const LOOKS = 24;

export interface Fed {
  readonly segment: Segment;
  /** Most of the rim in the material along it, radians. */
  readonly buried: number;
}

/** Along segments on which the cutter is buried so far, at the feed that holds the tooth load. */
export const followFed = (pen: Pen, fed: readonly Fed[], entry: EntryTerms): void => {
  for (const { segment, buried } of fed) {
    const feed = Math.min(entry.feed * chipFactor(buried), Math.max(entry.feed, entry.most ?? entry.feed));
    pen.follow([segment], Math.round(feed));
  }
};

/**
 * Ways that lie in what is cleared, and arcs that are buried as far as the limit lets them be; on what is so short that
 * no machine comes up to speed the feed stays as it is.
 */
export const evenly = (segments: readonly Segment[], limit: number): readonly Fed[] =>
  segments.map((segment) => {
    const short = segmentLength(segment) < SHORTEST;
    return { segment, buried: short ? Math.PI / 2 : segment.kind === 'line' ? 0 : limit };
  });

/** Loops in pieces: each arc's beginning and end, where little of the rim cuts, apart from its middle. */
export const loopsFed = (loops: readonly Segment[], radius: number, limit: number): readonly Fed[] => {
  let before: Arc | null = null;
  return loops.flatMap((segment): readonly Fed[] => {
    if (segment.kind === 'line') return evenly([segment], limit);
    const last = before;
    before = segment;
    return last === null ? [{ segment, buried: limit }] : arcFed(segment, last, radius);
  });
};

const arcFed = (own: Arc, before: Arc, radius: number): readonly Fed[] => {
  // The closed form goes anticlockwise: a loop the other way round is looked at in a mirror.
  const mirrored = (p: Point): Point => (own.sweep > 0 ? p : { x: p.x, y: -p.y });
  const reach = radiusOf(before) + radius;
  const buried = Array.from({ length: LOOKS + 1 }, (_, i) =>
    engagementAt(
      mirrored(own.centre),
      mirrored(before.centre),
      mirrored(pointAlong(own, i / LOOKS)),
      radius,
      reach,
    ),
  );
  const most = Math.max(...buried);
  const heavy = buried.flatMap((b, i) => (b > LIGHT ? [i] : []));
  const [first, last] = [heavy[0], heavy.at(-1)];
  if (first === undefined || last === undefined) return [{ segment: own, buried: most }];
  const length = segmentLength(own);
  const from = ((first - 1) / LOOKS) * length >= SHORTEST ? (first - 1) / LOOKS : 0;
  const to = (1 - (last + 1) / LOOKS) * length >= SHORTEST ? (last + 1) / LOOKS : 1;
  return [
    ...(from > 0 ? [{ segment: piece(own, 0, from), buried: LIGHT }] : []),
    { segment: piece(own, from, to), buried: most },
    ...(to < 1 ? [{ segment: piece(own, to, 1), buried: LIGHT }] : []),
  ].filter(({ segment }) => distance(segment.from, segment.to) > 1e-9 || segmentLength(segment) > 1e-6);
};
