import ClipperLib, { type IntPoint } from 'clipper-lib';
import { distance } from './point.ts';
import { recoverContours } from './recovery.ts';
import { type Contour, NOTHING, type Region } from './region.ts';
import { pointAlong, radiusOf, type Segment, segmentLength } from './segment.ts';
import { CHORD_TOLERANCE, IMAGE_SCALE, SAME_POINT } from './tolerance.ts';

/** One chord of the integer image, and the exact segment that it stands for. Ends in image units. */
export interface Chord {
  readonly ax: number;
  readonly ay: number;
  readonly bx: number;
  readonly by: number;
  readonly source: Segment;
}

type Image = { readonly paths: IntPoint[][]; readonly chords: Chord[] };

export type Winding = 'nonzero' | 'positive';
export type Operation = 'union' | 'difference' | 'intersection';

const OPERATIONS = {
  union: ClipperLib.ClipType.ctUnion,
  difference: ClipperLib.ClipType.ctDifference,
  intersection: ClipperLib.ClipType.ctIntersection,
} as const;

const FILLS = {
  nonzero: ClipperLib.PolyFillType.pftNonZero,
  positive: ClipperLib.PolyFillType.pftPositive,
} as const;

/**
 * Boolean work on the integer image of the contours, put back on the exact lines and circles they came from.
 * The contours may cross themselves; `winding` says which parts of the plane they mean.
 */
export const clip = (
  subject: readonly Contour[],
  clipping: readonly Contour[],
  operation: Operation,
  winding: Winding = 'nonzero',
): Region => {
  const a = imageOf(subject);
  const b = imageOf(clipping);
  if (a.paths.length === 0 && b.paths.length === 0) return NOTHING;
  const clipper = new ClipperLib.Clipper();
  if (a.paths.length > 0) clipper.AddPaths(a.paths, ClipperLib.PolyType.ptSubject, true);
  if (b.paths.length > 0) clipper.AddPaths(b.paths, ClipperLib.PolyType.ptClip, true);
  const solution: IntPoint[][] = [];
  clipper.Execute(OPERATIONS[operation], solution, FILLS[winding], FILLS[winding]);
  return { contours: recoverContours(solution, [...a.chords, ...b.chords]) };
};

const imageOf = (contours: readonly Contour[]): Image => {
  const paths: IntPoint[][] = [];
  const chords: Chord[] = [];
  for (const contour of contours) {
    const path: IntPoint[] = [];
    for (const segment of contour.segments) chordSegment(segment, path, chords);
    if (path.length > 2) paths.push(path);
  }
  return { paths, chords };
};

const chordSegment = (segment: Segment, path: IntPoint[], chords: Chord[]): void => {
  if (segmentLength(segment) < SAME_POINT && distance(segment.from, segment.to) < SAME_POINT) return;
  const count = segment.kind === 'line' ? 1 : chordCount(radiusOf(segment), segment.sweep);
  let ax = Math.round(segment.from.x * IMAGE_SCALE);
  let ay = Math.round(segment.from.y * IMAGE_SCALE);
  for (let i = 1; i <= count; i++) {
    const p = pointAlong(segment, i / count);
    const bx = Math.round(p.x * IMAGE_SCALE);
    const by = Math.round(p.y * IMAGE_SCALE);
    path.push({ X: ax, Y: ay });
    chords.push({ ax, ay, bx, by, source: segment });
    ax = bx;
    ay = by;
  }
};

/** Chords for an arc, so that none strays farther than the tolerance from it, and none spans more than a sixth of a turn. */
const chordCount = (radius: number, sweep: number): number => {
  const step = radius > CHORD_TOLERANCE ? 2 * Math.acos(1 - CHORD_TOLERANCE / radius) : Math.PI / 3;
  return Math.max(1, Math.ceil(Math.abs(sweep) / Math.min(step, Math.PI / 3)));
};
