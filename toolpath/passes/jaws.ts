import { intersection } from '../../sketch/shape/boolean.ts';
import { NOTHING, type Region, rectangle, regionBox, segmentsOf } from '../../sketch/shape/region.ts';
import { JAW_CLEARANCE } from '../route/clearances.ts';
import type { Frame } from '../route/frame.ts';
import type { Hold, ViceHold } from '../route/route.ts';
import { stockBetween, stockBox, type Workpiece } from './workpiece.ts';

/** The jaws as the cutter meets them, in program coordinates, mm. */
export interface Jaws {
  /** Height of their tops. */
  readonly top: number;
  /** Where they stand, seen from above: two blocks, one either side of the work. */
  readonly footprint: Region;
  /** Where the work bears on each: length of flat contact, mm; null where the jaws hold nothing. */
  readonly contact: { readonly near: number; readonly far: number } | null;
  /** Y of the two faces that grip. */
  readonly faces: { readonly near: number; readonly far: number } | null;
}

/** How far a jaw reaches away from the work, mm: farther than any path goes. */
const JAW_DEPTH = 80;

/** A face within this of the jaw bears on it, mm. */
const BEARS = 0.02;

/** The jaws of a setup; null where the work is held in no vice. */
export const jawsOf = (hold: Hold, frame: Frame, work: Workpiece): Jaws | null =>
  hold.kind === 'vice' ? closedOn(hold, frame, work) : null;

/** The jaws of a vice closed on what stands between the work's underside and the grip. */
const closedOn = (hold: ViceHold, frame: Frame, work: Workpiece): Jaws => {
  const underside = stockBox(work.stock).min.z;
  const top = underside + hold.grip;
  const from = hold.jaws.from - frame.zero.x;
  const to = hold.jaws.to - frame.zero.x;
  const strip = rectangle({ x: from, y: -1e4 }, { x: to, y: 1e4 });
  const held = intersection(stockBetween(work, underside, top), strip);
  const box = regionBox(held);
  if (box === null) return { top, footprint: NOTHING, contact: null, faces: null };
  const footprint: Region = {
    contours: [
      ...rectangle({ x: from, y: box.max.y }, { x: to, y: box.max.y + JAW_DEPTH }).contours,
      ...rectangle({ x: from, y: box.min.y - JAW_DEPTH }, { x: to, y: box.min.y }).contours,
    ],
  };
  return {
    top,
    footprint,
    contact: { near: flatLength(held, box.min.y), far: flatLength(held, box.max.y) },
    faces: { near: box.min.y, far: box.max.y },
  };
};

const flatLength = (held: Region, y: number): number =>
  segmentsOf(held).reduce(
    (sum, s) =>
      s.kind === 'line' && Math.abs(s.from.y - y) < BEARS && Math.abs(s.to.y - y) < BEARS
        ? sum + Math.abs(s.to.x - s.from.x)
        : sum,
    0,
  );

/** The footprint with the clearance the cutter must keep, for tips below the jaws' top; nothing above it. */
export const jawsInTheWay = (jaws: Jaws | null, z: number): Region => {
  if (jaws === null || z >= jaws.top + JAW_CLEARANCE - 1e-9) return NOTHING;
  return {
    contours: jaws.footprint.contours.flatMap((contour) => {
      const box = regionBox({ contours: [contour] })!;
      // Only sideways along X: in Y the gripped face itself is the limit, and the work is there.
      return rectangle(
        { x: box.min.x - JAW_CLEARANCE, y: box.min.y },
        { x: box.max.x + JAW_CLEARANCE, y: box.max.y },
      ).contours;
    }),
  };
};
