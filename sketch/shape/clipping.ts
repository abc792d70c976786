import ClipperLib, { type IntPoint } from 'clipper-lib';
import { imageOf } from './image.ts';
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
