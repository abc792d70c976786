import { type Contour, contains, contourArea, type Region, regionBox } from './region.ts';
import { pointAlong } from './segment.ts';

/** The separate pieces of a region, each with its own holes. */
export const components = (region: Region): readonly Region[] => {
  const outers = region.contours.filter((c) => contourArea(c) > 0);
  const holes = region.contours.filter((c) => contourArea(c) <= 0);
  if (outers.length === 1) return [region];
  const owned = new Map<Contour, Contour[]>(outers.map((outer) => [outer, [outer]]));
  for (const hole of holes) {
    const p = pointAlong(hole.segments[0]!, 0.5);
    const around = outers.filter((outer) => contains({ contours: [outer] }, p));
    // Of outers that lie in one another the smallest is the hole's own.
    const own = around.sort((a, b) => contourArea(a) - contourArea(b))[0];
    if (own) owned.get(own)!.push(hole);
  }
  return [...owned.values()]
    .filter((c) => regionBox({ contours: c }) !== null)
    .map((contours) => ({ contours }));
};
