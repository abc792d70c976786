import { type Contour, contains, contourArea, type Region, regionBox } from './region.ts';
import { pointAlong } from './segment.ts';

/** The separate pieces of a region, each with its own holes. */
export const components = (region: Region): readonly Region[] => {
  const outers = region.contours.filter((c) => contourArea(c) > 0);
  const holes = region.contours.filter((c) => contourArea(c) <= 0);
  if (outers.length === 1) return [region];
  const owned = new Map<Contour, Contour[]>(outers.map((outer) => [outer, [outer]]));
  for (const hole of holes) {
    const around = outers.filter((outer) => holds(outer, hole));
    // Of outers that lie in one another the smallest is the hole's own.
    const own = around.sort((a, b) => contourArea(a) - contourArea(b))[0];
    if (own) owned.get(own)!.push(hole);
  }
  return [...owned.values()]
    .filter((c) => regionBox({ contours: c }) !== null)
    .map((contours) => ({ contours }));
};

/** Whether a hole lies in an outer contour, which it may touch but not cross: most of its middles do. */
const holds = (outer: Contour, hole: Contour): boolean => {
  const within = hole.segments.filter((s) => contains({ contours: [outer] }, pointAlong(s, 0.5)));
  return 2 * within.length > hole.segments.length;
};
