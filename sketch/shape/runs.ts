import type { IntPoint } from 'clipper-lib';
import type { ChordFinder } from './chord-finder.ts';
import { isSameCurve, meetingPoint, offCurve } from './curve.ts';
import { fromImage } from './image.ts';
import { distance, type Point, subtract } from './point.ts';
import type { Segment } from './segment.ts';
import { RECOVERY_TOLERANCE } from './tolerance.ts';

/** A run of image edges on one curve. */
export interface Run {
  /** The exact segment whose line or circle the run lies on; null where none was found. */
  readonly source: Segment | null;
  /** Whether the run travels with its source or against it. */
  readonly forward: boolean;
  readonly points: readonly IntPoint[];
  /** The sources of its first and last edge, whose ends may be the exact corners. */
  readonly first: Segment | null;
  readonly last: Segment | null;
}

/** The edges of a polygon gathered into runs, without those that only rounding and chording have put there. */
export const runsOf = (polygon: readonly IntPoint[], finder: ChordFinder): readonly Run[] => {
  const runs: Run[] = [];
  let points: IntPoint[] = [];
  let source: Segment | null = null;
  let forward = true;
  for (let i = 0; i < polygon.length; i++) {
    const a = polygon[i]!;
    const b = polygon[(i + 1) % polygon.length]!;
    const chord = finder(a, b, source);
    const onward = chord
      ? (b.X - a.X) * (chord.bx - chord.ax) + (b.Y - a.Y) * (chord.by - chord.ay) > 0
      : true;
    if (i > 0 && chord && chord.source === source && onward === forward) {
      points.push(b);
      continue;
    }
    points = [a, b];
    source = chord?.source ?? null;
    forward = onward;
    runs.push({ source, forward, points, first: source, last: source });
  }
  return tidied(runs);
};

/** Joins what goes on along one curve, cancels what turns back along it, and drops slivers, until nothing changes. */
const tidied = (runs: readonly Run[]): readonly Run[] => {
  let kept = runs;
  for (let i = 0; i < kept.length && kept.length > 1; ) {
    const before = kept[(i + kept.length - 1) % kept.length]!;
    const run = kept[i]!;
    const meeting = meetingOf(before, run);
    if (meeting !== 'differs') {
      kept = replaced(kept, i, [meeting === 'goes on' ? joined(before, run) : cancelled(before, run)]);
      i = Math.max(0, i - 2);
    } else if (isSliver(run, before, kept[(i + 1) % kept.length]!)) {
      kept = kept.filter((r) => r !== run);
      i = Math.max(0, i - 1);
    } else i++;
  }
  return kept;
};

/** The list with the run at `i` and the one before it (round the seam) replaced. */
const replaced = (runs: readonly Run[], i: number, by: readonly Run[]): readonly Run[] =>
  i === 0 ? [...by, ...runs.slice(1, -1)] : [...runs.slice(0, i - 1), ...by, ...runs.slice(i + 1)];

const joined = (a: Run, b: Run): Run => ({ ...a, points: [...a.points, ...b.points], last: b.last });

/** Two runs of which the second goes back over the first: what is left of the longer. */
const cancelled = (a: Run, b: Run): Run => {
  const longer = runLength(a) >= runLength(b) ? a : b;
  return { ...longer, points: [...a.points, ...b.points], first: a.first, last: b.last };
};

/** How one run follows another: along the same curve, back along it, or on a curve of its own. */
const meetingOf = (a: Run, b: Run): 'goes on' | 'turns back' | 'differs' => {
  if (a.source === null || b.source === null || !isSameCurve(a.source, b.source)) return 'differs';
  const onward =
    a.source === b.source ? a.forward === b.forward : turnsWith(a.source, a.forward, b.source, b.forward);
  return onward ? 'goes on' : 'turns back';
};

/** Whether two travels on one curve go the same way along it. */
const turnsWith = (a: Segment, aForward: boolean, b: Segment, bForward: boolean): boolean => {
  if (a.kind === 'arc' && b.kind === 'arc') return (a.sweep > 0 === aForward) === (b.sweep > 0 === bForward);
  const u = subtract(a.to, a.from);
  const v = subtract(b.to, b.from);
  return u.x * v.x + u.y * v.y > 0 === (aForward === bForward);
};

/**
 * Where a line touches an arc, the arc's chords lie a hair inside it, and an edge of a hair's length is left between
 * the two in the image. Such a run is a sliver when its neighbours meet within the tolerance without it.
 */
const isSliver = (run: Run, before: Run, after: Run): boolean => {
  if (!before.source || !after.source || runLength(run) > RECOVERY_TOLERANCE) return false;
  if (isSameCurve(before.source, after.source)) return true;
  const middle = fromImage(run.points[Math.floor(run.points.length / 2)]!);
  const met = exactCorner(before, after, middle);
  if (met === null) return false;
  // Round the tip of a thin wedge the sliver is the tip, and the wedge's far point no place of the image.
  return distance(met, middle) <= RECOVERY_TOLERANCE || !isTip(before, after);
};

/** Whether the travel turns by more than a quarter from one run to the next. */
const isTip = (a: Run, b: Run): boolean => {
  const u = stepOf(a, a.points.length - 2);
  const v = stepOf(b, 0);
  return u.x * v.x + u.y * v.y < 0;
};

const stepOf = (run: Run, i: number): Point =>
  subtract(fromImage(run.points[i + 1]!), fromImage(run.points[i]!));

const runLength = (run: Run): number => {
  let sum = 0;
  for (let i = 0; i + 1 < run.points.length; i++)
    sum += distance(fromImage(run.points[i]!), fromImage(run.points[i + 1]!));
  return sum;
};

/** An end that both sources share, else where their curves meet; null when neither is near enough. */
export const exactCorner = (a: Run, b: Run, corner: Point): Point | null => {
  if (!a.source || !b.source) return null;
  for (const end of [a.last!.to, a.last!.from, b.first!.from, b.first!.to]) {
    if (distance(end, corner) < RECOVERY_TOLERANCE && liesOn(a.source, end) && liesOn(b.source, end))
      return end;
  }
  const met = meetingPoint(a.source, b.source, corner);
  return met && isWithinReach(a, b, corner, met) ? met : null;
};

/**
 * Whether a corner of the image stands for the meeting of two curves. Where these cross or touch at a small angle the
 * image's corner may lie far along from the meeting; it is still the same one when both curves stay within the
 * tolerance of each other all the way between, and neither run is used up by it.
 */
const isWithinReach = (a: Run, b: Run, corner: Point, met: Point): boolean => {
  const shift = distance(corner, met);
  if (shift <= RECOVERY_TOLERANCE) return true;
  if (shift > Math.min(runLength(a), runLength(b)) / 2) return false;
  return [0, 0.25, 0.5, 0.75].every((t) => {
    const p = { x: corner.x + (met.x - corner.x) * t, y: corner.y + (met.y - corner.y) * t };
    return offCurve(a.source!, p) <= RECOVERY_TOLERANCE && offCurve(b.source!, p) <= RECOVERY_TOLERANCE;
  });
};

const liesOn = (curve: Segment, p: Point): boolean => offCurve(curve, p) < 1e-7;
