import type { IntPoint } from 'clipper-lib';
import { isSameCurve, meetingPoint } from './curve.ts';
import { type Chord, fromImage } from './image.ts';
import { angleOf, distance, midpoint, type Point, subtract } from './point.ts';
import type { Contour } from './region.ts';
import { radiusOf, type Segment } from './segment.ts';
import { RECOVERY_TOLERANCE } from './tolerance.ts';

/** An edge of the image lies on a chord when both its ends are this near, in units: rounding moves each by one or two. */
const NEAR = 3;
/** Corners of the image nearer than this, in units, are one. */
const SPECK = 1.5;

/** A run of image edges on one curve. */
interface Run {
  /** The exact segment whose line or circle the run lies on; null where none was found. */
  readonly source: Segment | null;
  /** Whether the run travels with its source or against it. */
  readonly forward: boolean;
  readonly points: IntPoint[];
  /** The sources of its first and last edge, whose ends may be the exact corners. */
  readonly first: Segment | null;
  last: Segment | null;
}

/** Puts closed integer polygons back on the exact segments whose chords they are made of. */
export const recoverContours = (polygons: readonly IntPoint[][], chords: readonly Chord[]): Contour[] => {
  const finder = chordFinder(chords);
  return polygons.flatMap((polygon) => {
    const segments = recover(withoutSpecks(polygon), finder);
    return segments.length > 0 ? [{ segments }] : [];
  });
};

const recover = (polygon: readonly IntPoint[], finder: ChordFinder): Segment[] => {
  if (polygon.length < 3) return [];
  const runs = withoutSlivers(runsOf(polygon, finder));
  if (runs.length === 1) return wholeCircle(runs[0]!);
  const corners = runs.map((run, i) => cornerBetween(run, runs[(i + 1) % runs.length]!));
  const segments = runs.flatMap((run, i) =>
    segmentOf(run, corners[(i + runs.length - 1) % runs.length]!, corners[i]!),
  );
  return closeUp(segments);
};

/** Without corners that lie on top of the one before. */
const withoutSpecks = (polygon: readonly IntPoint[]): readonly IntPoint[] => {
  const kept: IntPoint[] = [];
  for (const p of polygon) {
    const last = kept[kept.length - 1];
    if (!last || Math.hypot(p.X - last.X, p.Y - last.Y) >= SPECK) kept.push(p);
  }
  while (kept.length > 1) {
    const first = kept[0]!;
    const last = kept[kept.length - 1]!;
    if (Math.hypot(first.X - last.X, first.Y - last.Y) >= SPECK) break;
    kept.pop();
  }
  return kept;
};

const runsOf = (polygon: readonly IntPoint[], finder: ChordFinder): Run[] => {
  const runs: Run[] = [];
  for (let i = 0; i < polygon.length; i++) {
    const a = polygon[i]!;
    const b = polygon[(i + 1) % polygon.length]!;
    const before = runs[runs.length - 1];
    const chord = finder(a, b, before?.source ?? null);
    const source = chord?.source ?? null;
    const forward = chord
      ? (b.X - a.X) * (chord.bx - chord.ax) + (b.Y - a.Y) * (chord.by - chord.ay) > 0
      : true;
    if (before && source && continues(before, source, forward)) {
      before.points.push(b);
      before.last = source;
    } else runs.push({ source, forward, points: [a, b], first: source, last: source });
  }
  return joinSeam(runs);
};

/**
 * Where a line touches an arc, the arc's chords lie a hair inside it, and an edge of a hair's length is left between
 * the two in the image. Such a run is dropped where its neighbours meet within the tolerance without it.
 */
const withoutSlivers = (runs: readonly Run[]): Run[] => {
  let kept = [...runs];
  for (const run of runs) {
    if (kept.length < 3 || runLength(run) > RECOVERY_TOLERANCE) continue;
    const i = kept.indexOf(run);
    const before = kept[(i + kept.length - 1) % kept.length]!;
    const after = kept[(i + 1) % kept.length]!;
    const middle = fromImage(run.points[Math.floor(run.points.length / 2)]!);
    if (!before.source || !after.source) continue;
    if (isSameCurve(before.source, after.source)) {
      if (!continues(before, after.source, after.forward)) continue;
      const merged: Run = { ...before, points: [...before.points, ...after.points], last: after.last };
      kept = kept.flatMap((r) => (r === before ? [merged] : r === run || r === after ? [] : [r]));
      continue;
    }
    const met = exactCorner(before, after, middle);
    if (met === null || distance(met, middle) > RECOVERY_TOLERANCE) continue;
    kept = kept.filter((r) => r !== run);
  }
  return kept;
};

const runLength = (run: Run): number => {
  let sum = 0;
  for (let i = 0; i + 1 < run.points.length; i++)
    sum += distance(fromImage(run.points[i]!), fromImage(run.points[i + 1]!));
  return sum;
};

const continues = (run: Run, source: Segment, forward: boolean): boolean => {
  if (run.source === null || run.source.kind !== source.kind || !isSameCurve(run.source, source))
    return false;
  if (source === run.source) return forward === run.forward;
  return turnsWith(run.source, run.forward, source, forward);
};

/** Whether two travels on one curve go the same way along it. */
const turnsWith = (a: Segment, aForward: boolean, b: Segment, bForward: boolean): boolean => {
  if (a.kind === 'arc' && b.kind === 'arc') return (a.sweep > 0 === aForward) === (b.sweep > 0 === bForward);
  const u = subtract(a.to, a.from);
  const v = subtract(b.to, b.from);
  return u.x * v.x + u.y * v.y > 0 === (aForward === bForward);
};

const joinSeam = (runs: Run[]): Run[] => {
  const first = runs[0]!;
  const last = runs[runs.length - 1]!;
  if (runs.length < 2 || !last.source || !first.source || !continues(last, first.source, first.forward))
    return runs;
  const joined: Run = { ...last, points: [...last.points, ...first.points.slice(1)], last: first.last };
  return [joined, ...runs.slice(1, -1)];
};

/** The exact point where one run ends and the next begins. */
const cornerBetween = (a: Run, b: Run): Point => {
  const end = fromImage(a.points[a.points.length - 1]!);
  const start = fromImage(b.points[0]!);
  const corner = midpoint(end, start);
  return exactCorner(a, b, corner) ?? corner;
};

/** An end that both sources share, else where their curves meet; null when neither is near enough. */
const exactCorner = (a: Run, b: Run, corner: Point): Point | null => {
  if (!a.source || !b.source) return null;
  for (const end of [a.last!.to, a.last!.from, b.first!.from, b.first!.to]) {
    if (distance(end, corner) < RECOVERY_TOLERANCE && liesOn(a.source, end) && liesOn(b.source, end))
      return end;
  }
  const met = meetingPoint(a.source, b.source, corner);
  return met && distance(met, corner) <= RECOVERY_TOLERANCE ? met : null;
};

const liesOn = (curve: Segment, p: Point): boolean => {
  if (curve.kind === 'arc') return Math.abs(distance(p, curve.centre) - radiusOf(curve)) < 1e-7;
  const d = subtract(curve.to, curve.from);
  const l = Math.hypot(d.x, d.y);
  return Math.abs((p.x - curve.from.x) * d.y - (p.y - curve.from.y) * d.x) / l < 1e-7;
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

type ChordFinder = (a: IntPoint, b: IntPoint, wished: Segment | null) => Chord | null;

/** Finds the chord that an image edge lies on, through a coarse grid over all chords. */
const chordFinder = (chords: readonly Chord[]): ChordFinder => {
  const cell = 4000;
  const grid = new Map<number, Chord[]>();
  const long: Chord[] = [];
  const key = (i: number, j: number): number => i * 1_000_003 + j;
  for (const chord of chords) {
    const i0 = Math.floor((Math.min(chord.ax, chord.bx) - NEAR) / cell);
    const i1 = Math.floor((Math.max(chord.ax, chord.bx) + NEAR) / cell);
    const j0 = Math.floor((Math.min(chord.ay, chord.by) - NEAR) / cell);
    const j1 = Math.floor((Math.max(chord.ay, chord.by) + NEAR) / cell);
    if ((i1 - i0 + 1) * (j1 - j0 + 1) > 40) {
      long.push(chord);
      continue;
    }
    for (let i = i0; i <= i1; i++) {
      for (let j = j0; j <= j1; j++) {
        const k = key(i, j);
        const there = grid.get(k);
        if (there) there.push(chord);
        else grid.set(k, [chord]);
      }
    }
  }
  return (a, b, wished) => {
    const mx = (a.X + b.X) / 2;
    const my = (a.Y + b.Y) / 2;
    let best: Chord | null = null;
    let least = Number.POSITIVE_INFINITY;
    const consider = (chord: Chord): void => {
      const away = strayFrom(chord, a, b);
      if (away === null) return;
      // Of two chords that lie alike, the one whose curve is being followed already wins.
      const rank = away - (wished !== null && isSameCurve(chord.source, wished) ? 2 : 0);
      if (rank < least) {
        least = rank;
        best = chord;
      }
    };
    for (const chord of grid.get(key(Math.floor(mx / cell), Math.floor(my / cell))) ?? []) consider(chord);
    for (const chord of long) consider(chord);
    return best;
  };
};

/** How far the ends of an edge lie from a chord, summed, in units; null when either is not on it. */
const strayFrom = (chord: Chord, a: IntPoint, b: IntPoint): number | null => {
  const dx = chord.bx - chord.ax;
  const dy = chord.by - chord.ay;
  const l = Math.hypot(dx, dy);
  if (l === 0) return null;
  const off = (p: IntPoint): number | null => {
    const along = ((p.X - chord.ax) * dx + (p.Y - chord.ay) * dy) / l;
    if (along < -NEAR || along > l + NEAR) return null;
    const across = Math.abs((p.X - chord.ax) * dy - (p.Y - chord.ay) * dx) / l;
    return across <= NEAR ? across : null;
  };
  const da = off(a);
  if (da === null) return null;
  const db = off(b);
  return db === null ? null : da + db;
};
