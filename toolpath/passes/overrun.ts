import { difference, intersection, union } from '../../sketch/shape/boolean.ts';
import { offset } from '../../sketch/shape/offset.ts';
import { type Path, type Region, regionArea } from '../../sketch/shape/region.ts';
import { thicken } from '../../sketch/shape/thicken.ts';
import { AIR } from '../route/clearances.ts';
import type { Clearing } from './area.ts';
import { EVERYWHERE } from './scene.ts';
import { stockBetween, take, type Workpiece } from './workpiece.ts';

/** Less than this beyond an area, mm², is not looked after. */
const NO_AREA = 0.005;

/** A way that the cutter has gone. */
export interface Way {
  readonly path: Path;
}

/** What a cutter sweeps along some ways. */
export const sweptBy = (ways: readonly Way[], radius: number): Region =>
  union(ways.map(({ path }) => thicken(path, radius)));

/**
 * The work without what laps at a depth cut beyond the edge of their area, where the bar goes on: the next level need
 * not sink through it again.
 */
export const withoutOverrun = (
  work: Workpiece,
  { area, keepOut, cutter }: Clearing,
  ran: readonly Way[],
  z: number,
): Workpiece => {
  if (area === EVERYWHERE || ran.length === 0) return work;
  const radius = cutter.diameter / 2;
  const barred = keepOut(z).all;
  const about = offset(area, 2 * radius + AIR);
  const beside = difference(difference(intersection(stockBetween(work, z, 1e6), about), barred), area);
  if (regionArea(beside) < NO_AREA) return work;
  return take(work, difference(sweptBy(ran, radius), barred), z, 1e6);
};
