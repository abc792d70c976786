import { isSameCurve } from './curve.ts';
import { boxGap, keepApart } from './gap.ts';
import type { Box } from './point.ts';
import {
  type Contour,
  contains,
  contourArea,
  type Region,
  regionBox,
  reverseContour,
  windingNumber,
} from './region.ts';
import { type Segment, segmentBox } from './segment.ts';
import { RECOVERY_TOLERANCE } from './tolerance.ts';

/** Boundaries this far from each other are told apart by the image too, mm. */
const CLEAR = 4 * RECOVERY_TOLERANCE;

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
  for (const cut of cuts) {
    const { contour } = cut;
    const others = cuts.filter((c) => c !== cut);
    const isFree =
      contourArea(contour) > 0 &&
      isLean(contour) &&
      [...walls, ...others].every((o) => standsFree(cut, o)) &&
      !others.some((o) => goesRound(o, cut));
    if (!isFree) rest.push(contour);
    else if (contains(a, contour.segments[0]!.from)) holes.push(reverseContour(contour));
  }
  return { holes, rest };
};

/** Whether no curve runs on in the next segment: what the image would have joined is left to it. */
const isLean = ({ segments }: Contour): boolean =>
  segments.length === 1 || segments.every((s, i) => !isSameCurve(s, segments[(i + 1) % segments.length]!));

interface Framed {
  readonly contour: Contour;
  readonly box: Box;
  readonly sides: readonly { readonly segment: Segment; readonly box: Box }[];
}

const framed = (contour: Contour): Framed => ({
  contour,
  box: regionBox({ contours: [contour] })!,
  sides: contour.segments.map((segment) => ({ segment, box: segmentBox(segment) })),
});

/** Whether another contour keeps clear of this one and does not lie inside it. */
const standsFree = (one: Framed, other: Framed): boolean => {
  if (boxGap(one.box, other.box) >= CLEAR) return true;
  for (const s of one.sides) {
    if (boxGap(s.box, other.box) >= CLEAR) continue;
    for (const o of other.sides) {
      if (boxGap(s.box, o.box) < CLEAR && !keepApart(s.segment, o.segment, CLEAR)) return false;
    }
  }
  return !goesRound(one, other);
};

const boxWithin = (inner: Box, outer: Box): boolean =>
  inner.min.x >= outer.min.x &&
  inner.min.y >= outer.min.y &&
  inner.max.x <= outer.max.x &&
  inner.max.y <= outer.max.y;

/** Whether one contour, which crosses no other, goes round another: whichever way round either runs. */
const goesRound = (outer: Framed, inner: Framed): boolean =>
  boxWithin(inner.box, outer.box) &&
  windingNumber({ contours: [outer.contour] }, inner.contour.segments[0]!.from) !== 0;
