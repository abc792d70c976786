import { isSameCurve } from './curve.ts';
import { boxGap, boxWithin, keepApart } from './gap.ts';
import { knownBy } from './known.ts';
import type { Box } from './point.ts';
import { type Contour, contourBox, windingOfContour } from './region.ts';
import { type Segment, segmentBox } from './segment.ts';
import { RECOVERY_TOLERANCE } from './tolerance.ts';

/** Boundaries this far from each other are told apart by the image too, mm. */
export const CLEAR = 4 * RECOVERY_TOLERANCE;

/** A contour and each of its segments with the upright boxes that hold them. */
export interface Framed {
  readonly contour: Contour;
  readonly box: Box;
  readonly sides: readonly { readonly segment: Segment; readonly box: Box }[];
}

export const framed = (contour: Contour): Framed => {
  const found = frames.get(contour);
  if (found !== undefined) return found;
  const sides = contour.segments.map((segment) => ({ segment, box: segmentBox(segment) }));
  const made = { contour, box: contourBox(contour), sides };
  frames.set(contour, made);
  return made;
};

/** Contours are held against one another again and again. */
const frames = new WeakMap<Contour, Framed>();

/** Whether no curve runs on in the next segment: what the image would have joined is left to it. */
export const isLean = ({ segments }: Contour): boolean =>
  segments.length === 1 || segments.every((s, i) => !isSameCurve(s, segments[(i + 1) % segments.length]!));

/**
 * Whether two contours come nowhere nearer to each other than a distance, mm; where none is said, nowhere so near that
 * the image might join them.
 */
export const keepClear = (one: Framed, other: Framed, least = CLEAR): boolean =>
  boxGap(one.box, other.box) >= least ||
  (one.contour !== other.contour &&
    clearances.of([one.contour, other.contour], String(least), () => sidesKeepClear(one, other, least)));

const clearances = knownBy<Contour, boolean>();

const sidesKeepClear = (one: Framed, other: Framed, least: number): boolean => {
  for (const s of one.sides) {
    if (boxGap(s.box, other.box) >= least) continue;
    for (const o of other.sides) {
      if (boxGap(s.box, o.box) < least && !keepApart(s.segment, o.segment, least)) return false;
    }
  }
  return true;
};

/** Whether one contour, which crosses no other, goes round another: whichever way round either runs. */
export const goesRound = (outer: Framed, inner: Framed): boolean =>
  boxWithin(inner.box, outer.box) && windingOfContour(outer.contour, inner.contour.segments[0]!.from) !== 0;
