import type { Point } from '../shape/point.ts';
import {
  type Contour,
  contourArea,
  type Region,
  regionBox,
  reverseContour,
  windingNumber,
} from '../shape/region.ts';
import { pointAlong } from '../shape/segment.ts';

/** A closed contour, anticlockwise, and how many others lie round it. */
export interface Nested {
  readonly contour: Contour;
  readonly area: number;
  readonly depth: number;
  /** The smallest contour round it: an index, or null. */
  readonly within: number | null;
}

/** Contours by how they lie in one another, largest first. They are supposed not to cross. */
export const nest = (contours: readonly Contour[]): readonly Nested[] => {
  const sorted = contours
    .map((c) => ({ contour: contourArea(c) < 0 ? reverseContour(c) : c, area: Math.abs(contourArea(c)) }))
    .filter(({ area }) => area > 1e-6)
    .sort((a, b) => b.area - a.area)
    .map((c) => ({ ...c, box: regionBox({ contours: [c.contour] })! }));
  const nested: Nested[] = [];
  sorted.forEach(({ contour, area, box }, i) => {
    const p = inner(contour);
    let within: number | null = null;
    for (let j = i - 1; j >= 0 && within === null; j--) {
      const other = sorted[j]!;
      if (p.x < other.box.min.x || p.x > other.box.max.x || p.y < other.box.min.y || p.y > other.box.max.y)
        continue;
      if (box.min.x < other.box.min.x - 1e-3 || box.max.x > other.box.max.x + 1e-3) continue;
      if (windingNumber({ contours: [other.contour] }, p) !== 0) within = j;
    }
    nested.push({ contour, area, depth: within === null ? 0 : nested[within]!.depth + 1, within });
  });
  return nested;
};

/** A place on a contour, away from its corners. */
const inner = (contour: Contour): Point => pointAlong(contour.segments[0]!, 0.37);

/** The region that closed contours mean by the even-odd rule. */
export const evenOdd = (contours: readonly Contour[]): Region => ({
  contours: nest(contours).map(({ contour, depth }) => (depth % 2 === 0 ? contour : reverseContour(contour))),
});
