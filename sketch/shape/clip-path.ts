import { isSameCurve } from './curve.ts';
import { intersections } from './intersections.ts';
import { distance } from './point.ts';
import { contains, type Path, type Region, segmentsOf } from './region.ts';
import { nearestOn, piece, pointAlong, type Segment, segmentBox, segmentLength } from './segment.ts';
import { SAME_POINT, SHORTEST_SEGMENT } from './tolerance.ts';

/**
 * The pieces of a path that lie inside or outside a region, in order, each as long as it runs without a break. The
 * boundary counts as inside and as outside: a lap along the very wall that it was made from is kept either way.
 */
export const clipPath = (path: Path, region: Region, keep: 'inside' | 'outside'): readonly Path[] => {
  const edges = segmentsOf(region).map((edge) => ({ edge, box: segmentBox(edge) }));
  const pieces: Segment[][] = [];
  let open = false;
  for (const segment of path.segments) {
    for (const part of splitAt(segment, edges)) {
      const kept = contains(region, pointAlong(part, 0.5)) === (keep === 'inside') || runsAlong(part, edges);
      if (!kept) open = false;
      else if (open) append(pieces[pieces.length - 1]!, part);
      else {
        pieces.push([part]);
        open = true;
      }
    }
  }
  return joinSeam(path, pieces)
    .map((segments) => ({ segments }))
    .filter((p) => p.segments.reduce((sum, s) => sum + segmentLength(s), 0) > SHORTEST_SEGMENT);
};

type Boxed = { readonly edge: Segment; readonly box: ReturnType<typeof segmentBox> };

/** Whether a piece, which crosses no edge, runs along one. */
const runsAlong = (part: Segment, edges: readonly Boxed[]): boolean => {
  const middle = pointAlong(part, 0.5);
  return edges.some(({ edge }) => isSameCurve(part, edge) && nearestOn(edge, middle).distance < SAME_POINT);
};

const splitAt = (segment: Segment, edges: readonly Boxed[]): readonly Segment[] => {
  const own = segmentBox(segment);
  const shares: number[] = [];
  for (const { edge, box } of edges) {
    const apart =
      box.min.x > own.max.x + 1e-6 ||
      box.max.x < own.min.x - 1e-6 ||
      box.min.y > own.max.y + 1e-6 ||
      box.max.y < own.min.y - 1e-6;
    if (!apart) for (const crossing of intersections(segment, edge)) shares.push(crossing.shareA);
  }
  if (shares.length === 0) return [segment];
  const least = 1e-7 / Math.max(segmentLength(segment), 1e-7);
  const stops = [0, ...shares.sort((a, b) => a - b), 1];
  const parts: Segment[] = [];
  let from = 0;
  for (const stop of stops.slice(1)) {
    if (stop - from <= least) continue;
    parts.push(from === 0 && stop === 1 ? segment : piece(segment, from, stop));
    from = stop;
  }
  return parts;
};

/** Adds a piece to a run, making one of it again with the piece before where both were cut from one segment. */
const append = (run: Segment[], part: Segment): void => {
  const last = run[run.length - 1]!;
  if (
    last.kind === 'arc' &&
    part.kind === 'arc' &&
    last.centre === part.centre &&
    last.sweep > 0 === part.sweep > 0
  ) {
    run[run.length - 1] = { ...last, to: part.to, sweep: last.sweep + part.sweep };
  } else if (last.kind === 'line' && part.kind === 'line' && inLine(last, part)) {
    run[run.length - 1] = { ...last, to: part.to };
  } else run.push(part);
};

const inLine = (a: Segment, b: Segment): boolean => {
  const ux = a.to.x - a.from.x;
  const uy = a.to.y - a.from.y;
  const vx = b.to.x - b.from.x;
  const vy = b.to.y - b.from.y;
  return (
    Math.abs(ux * vy - uy * vx) < 1e-9 * Math.hypot(ux, uy) * Math.hypot(vx, vy) && ux * vx + uy * vy > 0
  );
};

/** A closed path that was cut elsewhere than at its seam runs on through the seam. */
const joinSeam = (path: Path, pieces: Segment[][]): readonly Segment[][] => {
  const first = path.segments[0];
  const last = path.segments[path.segments.length - 1];
  if (!first || !last || pieces.length < 2 || distance(first.from, last.to) > 1e-6) return pieces;
  const head = pieces[0]!;
  const tail = pieces[pieces.length - 1]!;
  if (distance(head[0]!.from, first.from) > 1e-9 || distance(tail[tail.length - 1]!.to, last.to) > 1e-9)
    return pieces;
  const joined = [...tail];
  for (const segment of head) append(joined, segment);
  return [...pieces.slice(1, -1), joined];
};
