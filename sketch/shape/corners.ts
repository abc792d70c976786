import { meetingPoint, offCurve, ontoCurve } from './curve.ts';
import { fromImage } from './image.ts';
import { distance, midpoint, type Point } from './point.ts';
import { type Run, runLength } from './runs.ts';
import { shareOf } from './segment.ts';
import { RECOVERY_TOLERANCE, SAME_POINT } from './tolerance.ts';

/** An exact point is on a curve when it is this near, mm. */
const ON_CURVE = 1e-7;

export const startOf = (run: Run): Point => fromImage(run.points[0]!);
export const endOf = (run: Run): Point => fromImage(run.points[run.points.length - 1]!);

/** The exact point where one run ends and the next begins; where their curves miss each other, as near both as may be. */
export const cornerBetween = (a: Run, b: Run): Point => {
  const corner = midpoint(endOf(a), startOf(b));
  // Where a false run was dropped between them, the two may be a way apart in the image, and meet at either's end.
  const exact = exactCorner(a, b, corner) ?? exactCorner(a, b, endOf(a)) ?? exactCorner(a, b, startOf(b));
  if (exact) return exact;
  // Onto one curve and the other in turn: settles where they come nearest, on a circle if either is one.
  const [first, second] = b.source?.kind === 'arc' ? [a.source, b.source] : [b.source, a.source];
  let p = corner;
  for (let i = 0; i < 4; i++) for (const curve of [first, second]) if (curve) p = ontoCurve(curve, p);
  return distance(p, corner) <= RECOVERY_TOLERANCE ? p : corner;
};

/** An end that the sources of both runs share, else where their curves meet; null when neither is near the image's corner. */
export const exactCorner = (a: Run, b: Run, corner: Point): Point | null => {
  const { source: curveA } = a;
  const { source: curveB } = b;
  if (!curveA || !curveB) return null;
  for (const end of [a.last!.to, a.last!.from, b.first!.from, b.first!.to]) {
    if (
      distance(end, corner) < RECOVERY_TOLERANCE &&
      offCurve(curveA, end) < ON_CURVE &&
      offCurve(curveB, end) < ON_CURVE
    )
      return end;
  }
  const met = meetingPoint(curveA, curveB, corner);
  const isMet = met !== null && offCurve(curveA, met) < SAME_POINT && offCurve(curveB, met) < SAME_POINT;
  return isMet && isWithinReach(a, b, corner, met) ? met : null;
};

/**
 * Whether a corner of the image stands for the meeting of two curves. Where one goes over into the other at a small
 * angle the image's corner may lie far along from the meeting; it is still the same one when both curves stay within
 * the tolerance of each other all the way between, neither run is used up by it, and both segments get there: at the
 * tip of a slim wedge, say, what lies beyond the ends of its sides is out of the shape.
 */
const isWithinReach = (a: Run, b: Run, corner: Point, met: Point): boolean => {
  const shift = distance(corner, met);
  if (shift <= RECOVERY_TOLERANCE) return true;
  if (shift > Math.min(runLength(a), runLength(b)) / 2) return false;
  if (shareOf(a.last!, met) === null || shareOf(b.first!, met) === null) return false;
  return [0, 0.25, 0.5, 0.75].every((t) => {
    const p = { x: corner.x + (met.x - corner.x) * t, y: corner.y + (met.y - corner.y) * t };
    return offCurve(a.source!, p) <= RECOVERY_TOLERANCE && offCurve(b.source!, p) <= RECOVERY_TOLERANCE;
  });
};
