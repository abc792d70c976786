import type { IntPoint } from 'clipper-lib';
import { chordFinder } from './chord-finder.ts';
import { ontoCurve } from './curve.ts';
import { type Chord, fromImage } from './image.ts';
import { withoutNoise } from './noise.ts';
import { angleOf, distance, midpoint, type Point, subtract } from './point.ts';
import type { Contour } from './region.ts';
import { exactCorner, type Run, runsOf } from './runs.ts';
import { radiusOf, type Segment } from './segment.ts';
import { RECOVERY_TOLERANCE } from './tolerance.ts';

/** Puts closed integer polygons back on the exact segments whose chords they are made of. */
export const recoverContours = (polygons: readonly IntPoint[][], chords: readonly Chord[]): Contour[] => {
  const finder = chordFinder(chords);
  return polygons.flatMap((polygon) => {
    const clean = withoutNoise(polygon);
    const segments = clean === null ? [] : contourOf(runsOf(clean, finder));
    return segments.length > 0 ? [{ segments }] : [];
  });
};

const contourOf = (runs: readonly Run[]): Segment[] => {
  if (runs.length === 1) return wholeCircle(runs[0]!);
  const corners = runs.map((run, i) => cornerBetween(run, runs[(i + 1) % runs.length]!));
  const segments = runs.flatMap((run, i) =>
    segmentOf(run, corners[(i + runs.length - 1) % runs.length]!, corners[i]!),
  );
  return closeUp(segments);
};

/** The exact point where one run ends and the next begins; where their curves miss each other, the middle between. */
const cornerBetween = (a: Run, b: Run): Point => {
  const end = fromImage(a.points[a.points.length - 1]!);
  const start = fromImage(b.points[0]!);
  const corner = midpoint(end, start);
  const exact = exactCorner(a, b, corner);
  if (exact) return exact;
  // Onto one curve and the other in turn: settles where they come nearest, on a circle if either is one.
  const [first, second] = b.source?.kind === 'arc' ? [a.source, b.source] : [b.source, a.source];
  let p = corner;
  for (let i = 0; i < 4; i++) for (const curve of [first, second]) if (curve) p = ontoCurve(curve, p);
  return distance(p, corner) <= RECOVERY_TOLERANCE ? p : corner;
};

const segmentOf = (run: Run, from: Point, to: Point): Segment[] => {
  if (run.source?.kind !== 'arc') {
    return distance(from, to) < 1e-7 ? [] : [{ kind: 'line', from, to }];
  }
  const { centre } = run.source;
  const anticlockwise = run.source.sweep > 0 === run.forward;
  const travelled = imageSweep(run, centre);
  let sweep = angleOf(subtract(to, centre)) - angleOf(subtract(from, centre));
  // The image says roughly how far round the run goes; the exact ends say how far exactly.
  sweep += 2 * Math.PI * Math.round((travelled - sweep) / (2 * Math.PI));
  if (sweep > 0 !== anticlockwise || Math.abs(sweep) * radiusOf(run.source) < 1e-7) return [];
  return [{ kind: 'arc', from, to, centre, sweep }];
};

const imageSweep = (run: Run, centre: Point): number => {
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
  const anticlockwise = run.source.sweep > 0 === run.forward;
  return [{ kind: 'arc', from, to: from, centre, sweep: anticlockwise ? 2 * Math.PI : -2 * Math.PI }];
};

/** Where a dropped sliver left two ends apart, a hair's breadth, the later segment is begun where the earlier ended. */
const closeUp = (segments: readonly Segment[]): Segment[] => {
  if (segments.length < 2) return [...segments];
  return segments.map((segment, i) => {
    const before = segments[(i + segments.length - 1) % segments.length]!;
    return distance(before.to, segment.from) > 0 ? { ...segment, from: before.to } : segment;
  });
};
