import type { Path } from '../../sketch/shape/region.ts';
import { pathLength } from '../../sketch/shape/region.ts';
import type { Segment } from '../../sketch/shape/segment.ts';
import type { Pen } from './pen.ts';
import { beginAfter, firstOf, isClosed, reversePath } from './track.ts';

/** Feeds while entering, mm/min, and the steepest slope the cutter bears, radians. */
export interface EntryTerms {
  readonly feed: number;
  readonly plungeFeed: number;
  readonly ramp: number;
  /** The machine's fastest feed, mm/min, where the tooth load is held by the feed; `feed` where left out. */
  readonly most?: number;
  /** Feed through what is cut already, mm/min; left out where a hand turns the wheels. */
  readonly through?: number;
}

/** No ramp is steeper than this; a centre-cutting endmill given leave to plunge still ramps. Common practice, no source. */
const STEEPEST = (3 * Math.PI) / 180;

/** A path so short that the cutter would go along it more often than this to sink is no place to sink at. */
const MOST_TRIPS = 250;

/**
 * Sinks from the pen's height to `z` along a path that starts under the pen, then leaves the pen at the start of the
 * path that is returned: a closed path is followed round and round and comes back begun where the ramp ended; an
 * open one is followed forth and back and ends at its start. Throws a RangeError where the path is too short for that.
 */
export const rampDown = (pen: Pen, path: Path, z: number, terms: EntryTerms): Path => {
  const at = pen.at();
  if (at === null) throw new Error('a ramp needs a place to start from');
  const drop = at.z - z;
  if (drop <= 1e-9) return path;
  const slope = Math.min(terms.ramp, STEEPEST);
  const feed = Math.min(terms.feed, terms.plungeFeed / Math.sin(slope));
  const way = drop / Math.tan(slope);
  const along = pathLength(path);
  if (way > MOST_TRIPS * along) {
    throw new RangeError(
      `there is no room to sink: a path ${Math.ceil(way / (MOST_TRIPS * along))} times as long is wanted for it; make it longer, or a hole`,
    );
  }
  return isClosed(path) ? spiralDown(pen, path, z, way, feed) : zigzagDown(pen, path, z, way, feed);
};

/**
 * Sinks on a round and goes at least once about it on the way, so that nothing of it is left for the rim to meet at the
 * full depth; comes back with the round begun where the pen then is.
 */
export const sinkRound = (pen: Pen, round: Path, z: number, terms: EntryTerms): Path => {
  const at = pen.at();
  const drop = at === null ? 0 : at.z - z;
  if (drop > pathLength(round) * Math.tan(Math.min(terms.ramp, STEEPEST)))
    return rampDown(pen, round, z, terms);
  pen.follow(round.segments, terms.feed, z);
  return round;
};

const spiralDown = (pen: Pen, path: Path, z: number, way: number, feed: number): Path => {
  const lap = pathLength(path);
  const start = pen.at()!.z;
  let left = way;
  let depth = start;
  while (left > lap + 1e-9) {
    depth -= ((start - z) * lap) / way;
    pen.follow(path.segments, feed, depth);
    left -= lap;
  }
  pen.follow(firstOf(path, left), feed, z);
  return beginAfter(path, left);
};

const zigzagDown = (pen: Pen, path: Path, z: number, way: number, feed: number): Path => {
  const start = pen.at()!.z;
  const run = Math.min(pathLength(path), Math.max(way / 2, 1e-3));
  const forth: readonly Segment[] = firstOf(path, run);
  const back = reversePath({ segments: forth }).segments;
  const trips = Math.max(1, Math.ceil(way / (2 * run) - 1e-9));
  for (let i = 1; i <= trips; i++) {
    const level = start + ((z - start) * i) / trips;
    pen.follow(forth, feed, (pen.at()!.z + level) / 2);
    pen.follow(back, feed, level);
  }
  return path;
};
