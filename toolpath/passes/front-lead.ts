import type { Point } from '../../sketch/shape/point.ts';
import { nearestBoundary, type Path, pathLength, type Region } from '../../sketch/shape/region.ts';
import { line, pointAlong, type Segment, segmentLength } from '../../sketch/shape/segment.ts';
import { beginAfter, startAt } from './track.ts';

/** A way in turns towards the material by no more than this share of the limit, nor by more than this, radians. */
const TURN_SHARE = 0.08;
const MOST_TURN = 0.07;
/** Pieces of the way in, mm. */
const PIECE = 0.4;

/**
 * A closed cut with a way into it: from the edge of what is swept it comes nearer and nearer to the cut while it goes
 * along it, and when it has come to it, it goes once all the way round.
 */
export const leadRound = (closed: Path, swept: Region, engagement: number): Path => {
  const path = beginOnLongest(closed);
  const deepest = deepestFrom(path, swept);
  const length = Math.min(
    0.9 * pathLength(path),
    deepest / Math.tan(Math.min(MOST_TURN, TURN_SHARE * engagement)),
  );
  const points = alongAt(path, length);
  const lead: Segment[] = [];
  let at: Point | null = null;
  points.forEach((p, i) => {
    const near = nearestBoundary(swept, p);
    const share = 1 - i / (points.length - 1);
    const away = near === null ? p : near.point;
    const q = { x: p.x + (away.x - p.x) * share, y: p.y + (away.y - p.y) * share };
    if (at !== null) lead.push(line(at, q));
    at = q;
  });
  return { segments: [...lead, ...beginAfter(path, length).segments] };
};

/** The places of a path's first stretch, evenly. */
const alongAt = (path: Path, length: number): readonly Point[] => {
  const count = Math.max(8, Math.ceil(length / PIECE));
  return Array.from({ length: count + 1 }, (_, i) => placeAt(path, (length * i) / count));
};

const placeAt = (path: Path, length: number): Point => {
  let left = length;
  for (const s of path.segments) {
    const l = segmentLength(s);
    if (left <= l) return pointAlong(s, left / l);
    left -= l;
  }
  return path.segments.at(-1)!.to;
};

const deepestFrom = (path: Path, swept: Region): number =>
  path.segments.reduce(
    (most, s) => Math.max(most, nearestBoundary(swept, pointAlong(s, 0.5))?.distance ?? 0),
    0,
  );

const beginOnLongest = (path: Path): Path => {
  let best = 0;
  path.segments.forEach((s, i) => {
    if (segmentLength(s) > segmentLength(path.segments[best]!)) best = i;
  });
  return startAt(path, best, 0);
};
