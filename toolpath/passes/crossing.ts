import { distance, type Point, type Point3 } from '../../sketch/shape/point.ts';
import { signedDistance } from '../../sketch/shape/region.ts';
import { AIR, FEED_FROM } from '../route/clearances.ts';
import type { Clearing } from './area.ts';
import { liftsAt } from './bridges.ts';
import type { Workpiece } from './workpiece.ts';

/** Places on the way are looked at this far apart, mm. */
const WAY = 0.5;

/**
 * Height at which the cutter may cross by rapid just over the floor that it stands on, where nothing stands higher
 * within the usual clearance of the straight way; undefined where it must be lifted clear. At its ends the way may come
 * as near to a wall as the cutter does there anyway, if it leads away from it.
 */
export const lowCrossing = (
  work: Workpiece,
  clearing: Clearing,
  at: Point3 | null,
  to: Point,
  ceiling: number | null,
): number | undefined => {
  if (at === null || at.z >= clearing.clearHeight || (ceiling ?? at.z) > at.z + 1e-6) return undefined;
  const height = at.z + FEED_FROM;
  if (height >= clearing.clearHeight || liftsAt(clearing.bridges, at.z).length > 0) return undefined;
  const radius = clearing.cutter.diameter / 2;
  const walls = [
    clearing.keepOut(at.z).all,
    ...work.stock.filter((slab) => slab.top > at.z + 1e-6).map((slab) => slab.region),
  ];
  const length = distance(at, to);
  const count = Math.max(1, Math.ceil(length / WAY));
  for (let k = 0; k <= count; k++) {
    const p = { x: at.x + ((to.x - at.x) * k) / count, y: at.y + ((to.y - at.y) * k) / count };
    const away = Math.min(AIR, (length * Math.min(k, count - k)) / count / 2);
    if (walls.some((region) => signedDistance(region, p) < radius + away - 1e-3)) return undefined;
  }
  return height;
};
