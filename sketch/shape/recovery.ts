import type { IntPoint } from 'clipper-lib';
import { chordFinder } from './chord-finder.ts';
import { cornerBetween, endOf, exactCorner, startOf } from './corners.ts';
import { offCurve } from './curve.ts';
import { type Chord, fromImage, toImage } from './image.ts';
import { withoutNoise } from './noise.ts';
import { angleOf, distance, midpoint, type Point, subtract } from './point.ts';
import type { Contour } from './region.ts';
import { joined, type Run, runLength, runsOf } from './runs.ts';
import { radiusOf, type Segment } from './segment.ts';
import { CHORD_TOLERANCE, RECOVERY_TOLERANCE } from './tolerance.ts';

/** Segments shorter than this are none, mm. */
const NO_LENGTH = 1e-7;

/** Puts closed integer polygons back on the exact segments whose chords they are made of. */
export const recoverContours = (polygons: readonly IntPoint[][], chords: readonly Chord[]): Contour[] => {
  const finder = chordFinder(chords);
  return polygons.flatMap((polygon) => {
    const clean = withoutNoise(polygon);
    const segments = clean === null ? [] : contourOf(withoutFalseRuns(runsOf(clean, finder)));
    return segments.length > 0 ? [{ segments }] : [];
  });
};

/**
 * The image has runs that the truth has not. Where a line touches an arc, the arc's chords lie a hair inside it, and
 * an edge of a hair's length is left between the two; where two curves run side by side within a hair, the image may
 * follow now the one and now the other. Such runs are taken into their neighbours where these meet without them.
 */
const withoutFalseRuns = (runs: readonly Run[]): readonly Run[] => {
  let kept = runs;
  for (let i = 0; i < kept.length && kept.length > 1; ) {
    const before = (i + kept.length - 1) % kept.length;
    const after = (i + 1) % kept.length;
    const instead = withoutFalse(kept[i]!, kept[before]!, kept[after]!);
    if (instead === null) i++;
    else {
      const [first, second] = instead;
      kept = joined(
        kept.flatMap((run, j) => (j === before ? [first] : j === after ? [second] : j === i ? [] : [run])),
      );
      i = 0;
    }
  }
  return kept;
};

/** A run that turns this far is all of a circle but for a hair, radians. */
const NEARLY_ROUND = 2 * Math.PI - 0.5;

/** The two neighbours of a false run, lengthened by what is taken from it; null when the run is true. */
const withoutFalse = (run: Run, before: Run, after: Run): readonly [Run, Run] | null => {
  if (before === after) {
    const isFalse = hugs(run, before.source) && Math.abs(sweepOf(before)) > NEARLY_ROUND;
    return isFalse ? [before, before] : null;
  }
  const start = startOf(run);
  const end = endOf(run);
  const one = joined([before, after]).length === 1;
  if (distance(start, end) < RECOVERY_TOLERANCE && runLength(run) < 4 * RECOVERY_TOLERANCE) {
    const middle = midpoint(start, end);
    const met = one ? middle : exactCorner(before, after, middle);
    // Not farther: an end face of a hair's width may close a long cusp, and must not let it run on to its tip.
    if (met !== null && distance(met, middle) <= RECOVERY_TOLERANCE) {
      const corner = toImage(met);
      return [lengthened(before, [], [corner]), lengthened(after, [corner], [])];
    }
  }
  if (exactCorner(before, run, start) !== null && exactCorner(run, after, end) !== null) return null;
  if (hugs(run, after.source) && (one || exactCorner(before, after, start) !== null))
    return [before, lengthened(after, run.points, [])];
  if (hugs(run, before.source) && exactCorner(before, after, end) !== null)
    return [lengthened(before, [], run.points), after];
  return null;
};

const lengthened = (run: Run, before: readonly IntPoint[], after: readonly IntPoint[]): Run => ({
  ...run,
  points: [...before, ...run.points, ...after],
});

/** Whether all of a run, its edges' middles too, lies within a hair of a curve. */
const hugs = (run: Run, curve: Segment | null): boolean =>
  curve !== null &&
  run.points.every((p, i) => {
    const here = fromImage(p);
    const before = fromImage(run.points[Math.max(0, i - 1)]!);
    return [here, midpoint(before, here)].every((q) => offCurve(curve, q) < 1.5 * CHORD_TOLERANCE);
  });

const contourOf = (runs: readonly Run[]): Segment[] => {
  if (runs.length === 0) return [];
  if (runs.length === 1) return wholeCircle(runs[0]!);
  const corners = runs.map((run, i) => cornerBetween(run, runs[(i + 1) % runs.length]!));
  const segments = runs.map((run, i) =>
    segmentOf(run, corners[(i + runs.length - 1) % runs.length]!, corners[i]!),
  );
  const full = segments.filter((s) => s !== null);
  // A run that its exact corners leave nothing of is none: its neighbours meet without it.
  return full.length === runs.length ? full : contourOf(joined(runs.filter((_, i) => segments[i] !== null)));
};

const segmentOf = (run: Run, from: Point, to: Point): Segment | null => {
  if (run.source?.kind !== 'arc') return distance(from, to) < NO_LENGTH ? null : { kind: 'line', from, to };
  const { centre } = run.source;
  let sweep = angleOf(subtract(to, centre)) - angleOf(subtract(from, centre));
  // The image says roughly how far round the run goes; the exact ends say how far exactly.
  sweep += 2 * Math.PI * Math.round((sweepOf(run) - sweep) / (2 * Math.PI));
  const isTurned = sweep > 0 !== isAnticlockwise(run);
  return isTurned || Math.abs(sweep) * radiusOf(run.source) < NO_LENGTH
    ? null
    : { kind: 'arc', from, to, centre, sweep };
};

const isAnticlockwise = (run: Run): boolean =>
  run.source?.kind === 'arc' && run.source.sweep > 0 === run.forward;

/** How far the image turns about the centre of a run's circle, radians; nothing for a line. */
const sweepOf = (run: Run): number => {
  if (run.source?.kind !== 'arc') return 0;
  const { centre } = run.source;
  let sum = 0;
  for (let i = 0; i + 1 < run.points.length; i++) {
    const u = subtract(fromImage(run.points[i]!), centre);
    const v = subtract(fromImage(run.points[i + 1]!), centre);
    sum += Math.atan2(u.x * v.y - u.y * v.x, u.x * v.x + u.y * v.y);
  }
  return sum;
};

const wholeCircle = (run: Run): Segment[] => {
  if (run.source?.kind !== 'arc') return [];
  const { centre } = run.source;
  const from = { x: centre.x + radiusOf(run.source), y: centre.y };
  return [{ kind: 'arc', from, to: from, centre, sweep: isAnticlockwise(run) ? 2 * Math.PI : -2 * Math.PI }];
};
