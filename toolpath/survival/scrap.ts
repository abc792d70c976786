import type { Point3 } from '../../sketch/shape/point.ts';
import { cellAt, type HeightMap } from '../removal/height-map.ts';
import type { WantedColumns } from '../removal/raster.ts';

/** What lies farther than this outside the part is scrap, mm: roughing leaves less on its walls. */
const BESIDE = 1;

/**
 * Where the part is to be judged when a cutter presses at a place (part coordinates): null at the part itself, and for scrap
 * the nearest place of the part, at the height of the push as far as anything stands there; null too where there is no
 * part at all. The map is read when it is asked, as it then is.
 */
export type PartBeside = (map: HeightMap, at: Point3) => Point3 | null;

export const partBeside = (shape: HeightMap, columns: WantedColumns): PartBeside => {
  const nearest = nearestWanted(shape, columns);
  return (map, at) => {
    const i = cellAt(shape, at.x, at.y);
    // Beyond the bar's end nothing stands that could be scrap.
    const near = i < 0 ? -1 : nearest[i]!;
    if (near < 0) return null;
    const x = shape.x0 + ((near % shape.columns) + 0.5) * shape.cell;
    const y = shape.y0 + (Math.floor(near / shape.columns) + 0.5) * shape.cell;
    if (Math.hypot(x - at.x, y - at.y) <= BESIDE) return null;
    const [low, high] = [map.bottom[near]!, map.top[near]!];
    return { x, y, z: Math.min(Math.max(at.z, low), Math.max(low, high)) };
  };
};

/** For each cell the wanted cell that is fewest steps away, −1 where nothing is wanted at all. */
const nearestWanted = ({ columns: wide, rows }: HeightMap, { top, bottom }: WantedColumns): Int32Array => {
  const nearest = new Int32Array(wide * rows).fill(-1);
  const queue = new Int32Array(wide * rows);
  let end = 0;
  const reach = (i: number, from: number): void => {
    if (nearest[i]! >= 0) return;
    nearest[i] = from;
    queue[end++] = i;
  };
  for (let i = 0; i < nearest.length; i++) if (top[i]! > bottom[i]!) reach(i, i);
  for (let next = 0; next < end; next++) {
    const i = queue[next]!;
    const [column, from] = [i % wide, nearest[i]!];
    if (column > 0) reach(i - 1, from);
    if (column < wide - 1) reach(i + 1, from);
    if (i >= wide) reach(i - wide, from);
    if (i + wide < nearest.length) reach(i + wide, from);
  }
  return nearest;
};
