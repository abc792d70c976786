import type { Box, Point } from '../../sketch/shape/point.ts';
import { distance } from '../../sketch/shape/point.ts';
import { contains, type Path, type Region, regionBox, signedDistance } from '../../sketch/shape/region.ts';
import type { Cut } from './fronts.ts';
import { endOf, startOf } from './track.ts';

/** Looks along a straight way over what is cleared, mm. */
const LOOK = 0.3;
/** The edge of what is swept counts as swept, mm. */
const EDGE = 0.006;

interface Waiting {
  readonly cut: Cut;
  readonly box: Box;
}

/** A cut, and whether the cutter can go straight to it over what is cleared. */
export interface Ordered {
  readonly cut: Cut;
  readonly stay: boolean;
}

/**
 * The cuts one after another: none before those of earlier fronts beside it, and of the others the nearest first, so that
 * one front is followed to its end before the next.
 */
export const orderCuts = (cuts: readonly Cut[], radius: number, start: Point | null): readonly Ordered[] => {
  const waiting = cuts.map((cut): Waiting => ({ cut, box: boxOf(cut.path) }));
  // What a cut waits for: everything of an earlier front that its rim could meet.
  const before = waiting.map((w) =>
    waiting.filter((o) => o.cut.front < w.cut.front && apart(o.box, w.box) < 2 * radius),
  );
  const blocked = new Map(waiting.map((w, i) => [w, new Set(before[i])]));
  const ordered: Ordered[] = [];
  let at = start;
  while (blocked.size > 0) {
    let next: Waiting | null = null;
    let gap = Number.POSITIVE_INFINITY;
    for (const [w, by] of blocked) {
      if (by.size > 0) continue;
      const d = at === null ? w.cut.front : distance(at, startOf(w.cut.path));
      if (d < gap) [next, gap] = [w, d];
    }
    // Earlier fronts wait for none, so there is always one.
    const chosen = next!;
    blocked.delete(chosen);
    for (const by of blocked.values()) by.delete(chosen);
    const to = startOf(chosen.cut.path);
    const undone = [...blocked.keys()].filter((o) => o.cut.front < chosen.cut.front);
    const stay = at !== null && isSwept(at, to, chosen.cut.before, undone, radius);
    ordered.push({ cut: chosen.cut, stay });
    at = endOf(chosen.cut.path);
  }
  return ordered;
};

/** Whether a straight way lies where the cutter's middle has been, and no cut that is still to come is near it. */
const isSwept = (
  from: Point,
  to: Point,
  swept: Region,
  undone: readonly Waiting[],
  radius: number,
): boolean => {
  const box: Box = {
    min: { x: Math.min(from.x, to.x), y: Math.min(from.y, to.y) },
    max: { x: Math.max(from.x, to.x), y: Math.max(from.y, to.y) },
  };
  if (undone.some((o) => apart(o.box, box) < 2 * radius)) return false;
  const count = Math.max(1, Math.ceil(distance(from, to) / LOOK));
  for (let i = 0; i <= count; i++) {
    const t = i / count;
    const p = { x: from.x + (to.x - from.x) * t, y: from.y + (to.y - from.y) * t };
    if (!contains(swept, p) && signedDistance(swept, p) > EDGE) return false;
  }
  return true;
};

const boxOf = (path: Path): Box => regionBox({ contours: [path] })!;

/** Distance of two boxes; 0 where they meet. */
const apart = (a: Box, b: Box): number =>
  Math.hypot(
    Math.max(0, a.min.x - b.max.x, b.min.x - a.max.x),
    Math.max(0, a.min.y - b.max.y, b.min.y - a.max.y),
  );
