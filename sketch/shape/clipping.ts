import ClipperLib, { type IntPoint } from 'clipper-lib';
import { type Image, imageOf } from './image.ts';
import { recoverContours } from './recovery.ts';
import { type Contour, NOTHING, type Region } from './region.ts';

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
  const [a, b] = [imageOf(subject), imageOf(clipping)];
  if (a.paths.length === 0 && b.paths.length === 0) return NOTHING;
  return { contours: recovered(clippedImage(a.paths, b.paths, operation, winding), a, b) };
};

/** Boolean work on closed polygons of the image. */
export const clippedImage = (
  subject: IntPoint[][],
  clipping: IntPoint[][],
  operation: Operation,
  winding: Winding,
): IntPoint[][] => {
  const clipper = new ClipperLib.Clipper();
  if (subject.length > 0) clipper.AddPaths(subject, ClipperLib.PolyType.ptSubject, true);
  if (clipping.length > 0) clipper.AddPaths(clipping, ClipperLib.PolyType.ptClip, true);
  const solution: IntPoint[][] = [];
  clipper.Execute(OPERATIONS[operation], solution, FILLS[winding], FILLS[winding]);
  return solution;
};

/** Polygons of the image put back on the segments of the images that they were made from. */
export const recovered = (polygons: IntPoint[][], a: Image, b: Image): readonly Contour[] =>
  recoverContours(polygons, [...a.chords, ...b.chords]);
