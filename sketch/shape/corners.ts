import { meetingPoint, offCurve, ontoCurve } from './curve.ts';
import { fromImage } from './image.ts';
import { distance, midpoint, type Point } from './point.ts';
import type { Run } from './runs.ts';
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
  return isMet && distance(met, corner) <= RECOVERY_TOLERANCE ? met : null;
};
