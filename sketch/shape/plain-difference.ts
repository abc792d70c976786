import { framed, goesRound, isLean, keepClear } from './framed.ts';
import { type Contour, contains, contourArea, type Region, reverseContour } from './region.ts';

/** What of a difference is known without an image: holes that stand free, and what must still be clipped away. */
export interface PlainDifference {
  readonly holes: readonly Contour[];
  readonly rest: readonly Contour[];
}

/**
 * Takes from `b` the contours that come near no other boundary and have none inside them, as a hole drilled in the
 * middle of a lever has: within `a` each is a hole as it stands, outside it takes nothing away. Exact, and a small part
 * of the time of the image.
 */
export const plainDifference = (a: Region, b: Region): PlainDifference => {
  if (!a.contours.every(isLean)) return { holes: [], rest: b.contours };
  const [walls, cuts] = [a.contours.map(framed), b.contours.map(framed)];
  const holes: Contour[] = [];
  const rest: Contour[] = [];
  for (const [i, cut] of cuts.entries()) {
    const { contour } = cut;
    const others = cuts.filter((_, j) => j !== i);
    const isFree =
      contourArea(contour) > 0 &&
      isLean(contour) &&
      [...walls, ...others].every((o) => keepClear(cut, o) && !goesRound(cut, o)) &&
      !others.some((o) => goesRound(o, cut));
    if (!isFree) rest.push(contour);
    else if (contains(a, contour.segments[0]!.from)) holes.push(reverseContour(contour));
  }
  return { holes, rest };
};
