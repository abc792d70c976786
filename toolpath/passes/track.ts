import { distance, type Point } from '../../sketch/shape/point.ts';
import type { Path } from '../../sketch/shape/region.ts';
import { nearestOn, piece, reverseSegment, type Segment, segmentLength } from '../../sketch/shape/segment.ts';

/** Ends nearer than this close a path, mm. */
const CLOSED = 1e-5;

export const startOf = (path: Path): Point => path.segments[0]!.from;
export const endOf = (path: Path): Point => path.segments[path.segments.length - 1]!.to;
export const isClosed = (path: Path): boolean => distance(startOf(path), endOf(path)) < CLOSED;

export const reversePath = (path: Path): Path => ({ segments: path.segments.map(reverseSegment).reverse() });

/** The same closed path begun at the place nearest to a point. */
export const startNear = (path: Path, point: Point): Path => {
  let best = { distance: Number.POSITIVE_INFINITY, index: 0, share: 0 };
  path.segments.forEach((segment, index) => {
    const near = nearestOn(segment, point);
    if (near.distance < best.distance - 1e-9) best = { distance: near.distance, index, share: near.share };
  });
  return startAt(path, best.index, best.share);
};

/** The same closed path begun part of the way along one of its segments. */
export const startAt = (path: Path, index: number, share: number): Path => {
  const split = path.segments[index]!;
  const l = segmentLength(split);
  const before = path.segments.slice(0, index);
  const after = path.segments.slice(index + 1);
  if (share * l < CLOSED) return { segments: [split, ...after, ...before] };
  if ((1 - share) * l < CLOSED) return { segments: [...after, ...before, split] };
  return { segments: [piece(split, share, 1), ...after, ...before, piece(split, 0, share)] };
};

/** The same closed path begun `length` mm along it; as it is where it is shorter than that. */
export const beginAfter = (path: Path, length: number): Path => {
  let left = length;
  for (const [index, segment] of path.segments.entries()) {
    const l = segmentLength(segment);
    if (left <= l) return startAt(path, index, left / l);
    left -= l;
  }
  return path;
};

/** The first `length` mm of a path. */
export const firstOf = (path: Path, length: number): readonly Segment[] => {
  const taken: Segment[] = [];
  let left = length;
  for (const segment of path.segments) {
    const l = segmentLength(segment);
    if (l >= left - 1e-9) {
      if (left > 1e-9) taken.push(l - left < 1e-9 ? segment : piece(segment, 0, left / l));
      return taken;
    }
    taken.push(segment);
    left -= l;
  }
  return taken;
};

/** What is left of a path behind its first `length` mm. */
export const afterFirst = (path: Path, length: number): Path => {
  let left = length;
  for (const [index, segment] of path.segments.entries()) {
    const l = segmentLength(segment);
    if (left < l - CLOSED) {
      const rest = path.segments.slice(index + 1);
      return { segments: [left > CLOSED ? piece(segment, left / l, 1) : segment, ...rest] };
    }
    left -= l;
  }
  return path;
};
