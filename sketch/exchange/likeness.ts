import { difference } from '../shape/boolean.ts';
import { nearestBoundary, type Region, regionArea, segmentsOf } from '../shape/region.ts';
import { pointAlong, segmentLength } from '../shape/segment.ts';

/** Places looked at on every segment. */
const PLACES = 12;

/**
 * Area of the symmetric difference of two regions, mm². Boolean work is blind to slivers thinner than its image; so the
 * distance between the boundaries is summed along each of them as well, and the largest of the three is the answer.
 */
export const areaBetween = (a: Region, b: Region): number =>
  Math.max(regionArea(difference(a, b)) + regionArea(difference(b, a)), sliver(a, b), sliver(b, a));

const sliver = (a: Region, b: Region): number => {
  let area = 0;
  for (const s of segmentsOf(a)) {
    let sum = 0;
    for (let i = 0; i < PLACES; i++) {
      sum += nearestBoundary(b, pointAlong(s, (i + 0.5) / PLACES))?.distance ?? Number.POSITIVE_INFINITY;
    }
    area += (sum / PLACES) * segmentLength(s);
  }
  return area;
};
