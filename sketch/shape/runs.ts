import type { IntPoint } from 'clipper-lib';
import type { ChordFinder } from './chord-finder.ts';
import { isSameCurve } from './curve.ts';
import { type Chord, fromImage } from './image.ts';
import { distance, subtract } from './point.ts';
import type { Segment } from './segment.ts';

/** A run of image edges that lie on one curve and go one way along it. */
export interface Run {
  /** A segment of the line or circle that the run lies on; null where none was found. */
  readonly source: Segment | null;
  /** Whether the run travels with its source or against it. */
  readonly forward: boolean;
  /** Corners of the image that it goes through, first and last included. */
  readonly points: readonly IntPoint[];
  /** The segments that its first and last edges are chords of: their ends may be the exact corners. */
  readonly first: Segment | null;
  readonly last: Segment | null;
}

/** A run that is still being laid. */
type GrowingRun = Run & { readonly points: IntPoint[]; last: Segment | null };

/** Parts the edges of a closed polygon into runs, each as long as the curve under it stays the same. */
export const runsOf = (polygon: readonly IntPoint[], finder: ChordFinder): readonly Run[] => {
  const runs: GrowingRun[] = [];
  for (let i = 0; i < polygon.length; i++)
    layEdge(runs, polygon[i]!, polygon[(i + 1) % polygon.length]!, finder, 0);
  return joined(runs);
};

/** An edge that lies on no one chord may be several in a row, which clipping has made one: so often it is halved. */
const MOST_HALVINGS = 6;

const layEdge = (
  runs: GrowingRun[],
  a: IntPoint,
  b: IntPoint,
  finder: ChordFinder,
  halvings: number,
): void => {
  const before = runs[runs.length - 1];
  const chord = finder.under(
    a,
    b,
    (c) => before !== undefined && continues(before, c.source, isForward(c, a, b)),
  );
  if (chord === null && halvings < MOST_HALVINGS) {
    const corner = finder.cornerUnder(a, b);
    if (corner !== null) {
      layEdge(runs, a, corner, finder, halvings + 1);
      layEdge(runs, corner, b, finder, halvings + 1);
      return;
    }
  }
  const source = chord?.source ?? null;
  const forward = chord === null || isForward(chord, a, b);
  if (before && source && continues(before, source, forward)) {
    before.points.push(b);
    before.last = source;
  } else runs.push({ source, forward, points: [a, b], first: source, last: source });
};

const isForward = (chord: Chord, a: IntPoint, b: IntPoint): boolean =>
  (b.X - a.X) * (chord.bx - chord.ax) + (b.Y - a.Y) * (chord.by - chord.ay) > 0;

const continues = (run: Run, source: Segment, forward: boolean): boolean =>
  run.source !== null &&
  isSameCurve(run.source, source) &&
  isSameWay(run.source, source) === (run.forward === forward);

/** Whether two segments of one curve go the same way along it. */
const isSameWay = (a: Segment, b: Segment): boolean => {
  if (a === b) return true;
  if (a.kind === 'arc' && b.kind === 'arc') return a.sweep > 0 === b.sweep > 0;
  const u = subtract(a.to, a.from);
  const v = subtract(b.to, b.from);
  return u.x * v.x + u.y * v.y > 0;
};

/**
 * Runs that follow one another on one curve made one, all the way round. Where the second goes back over the first,
 * the polygon has a spike there of no width, and what is left of the two is their difference.
 */
export const joined = (runs: readonly Run[]): readonly Run[] => {
  const kept: Run[] = [];
  for (const run of runs) {
    const before = kept[kept.length - 1];
    const one = before ? joinedPair(before, run) : null;
    if (one) kept[kept.length - 1] = one;
    else kept.push(run);
  }
  while (kept.length > 1) {
    const one = joinedPair(kept[kept.length - 1]!, kept[0]!);
    if (one === null) break;
    kept[0] = one;
    kept.pop();
  }
  return kept;
};

const joinedPair = (a: Run, b: Run): Run | null => {
  if (a.source === null || b.source === null || !isSameCurve(a.source, b.source)) return null;
  const longer = continues(a, b.source, b.forward) || runLength(a) >= runLength(b) ? a : b;
  return { ...longer, points: [...a.points, ...b.points.slice(1)], first: a.first, last: b.last };
};

/** Length of the image along a run, mm; ways gone over twice count twice. */
export const runLength = (run: Run): number => {
  let sum = 0;
  for (let i = 0; i + 1 < run.points.length; i++)
    sum += distance(fromImage(run.points[i]!), fromImage(run.points[i + 1]!));
  return sum;
};
