import { intersection } from '../../sketch/shape/boolean.ts';
import { type Region, regionArea } from '../../sketch/shape/region.ts';
import type { MillingTerms } from '../route/route.ts';
import type { BridgeLift } from './bridges.ts';
import type { Scene, Task } from './scene.ts';
import type { Workpiece } from './workpiece.ts';

/** What every clearing of a job step has in common. */
export const base = (scene: Scene, task: Task, terms: MillingTerms) => ({
  cutter: task.cutter,
  terms,
  entry: task.entry,
  clearHeight: scene.clearHeight,
  bridges: [] as readonly BridgeLift[],
});

/** Laps round the walls. */
export const laps = { kind: 'laps' } as const;

/** Height in program coordinates of a height of the part. */
export const heightOf = (scene: Scene, z: number): number =>
  (scene.frame.face === 'front' ? 1 : -1) * (z - scene.frame.zero.z);

/** Lowest material in an area, program coordinates, mm; zero where there is none. */
export const lowestIn = (work: Workpiece, area: Region): number => {
  const bottoms = work.stock
    .filter((slab) => regionArea(intersection(slab.region, area)) > 0.005)
    .map((slab) => slab.bottom);
  return bottoms.length > 0 ? Math.min(...bottoms) : 0;
};

/** The feature of a name. Throws a RangeError when the part has none. */
export const named = <T extends { readonly name: string }>(
  features: readonly T[],
  name: string,
  kind: string,
): T => {
  const found = features.find((f) => f.name === name);
  if (!found) throw new RangeError(`the part has no ${kind} "${name}"`);
  return found;
};
