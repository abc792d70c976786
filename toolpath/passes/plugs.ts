import type { Slab } from '../../sketch/part/solid.ts';
import { difference } from '../../sketch/shape/boolean.ts';
import { boxWithin } from '../../sketch/shape/gap.ts';
import type { Box } from '../../sketch/shape/point.ts';
import {
  type Contour,
  contourArea,
  isEmpty,
  type Region,
  regionBox,
  reverseContour,
} from '../../sketch/shape/region.ts';
import { AIR } from '../route/clearances.ts';
import type { JobStep } from '../route/route.ts';
import { farFromOpening, ofStep } from './opening-reach.ts';
import type { Scene, Task } from './scene.ts';
import type { Workpiece } from './workpiece.ts';

/** Work with holes filled, and the way back: the same holes in what a job step has left of it. */
export interface Plugged {
  readonly work: Workpiece;
  readonly opened: (after: Workpiece) => Workpiece;
}

/**
 * The work with those holes of its stock filled that make no difference to a milling job step, so that such a hole may
 * change without the step being planned anew: holes out of reach of the opening that it cuts, and for steps that clear
 * round the part, holes so narrow that the cutter with its middle anywhere over one still stands on its rim. Where a
 * hole is drilled it is a way in, so that other steps, and those that peel from holes outward, see all.
 */
export const plugged = (scene: Scene, work: Workpiece, task: Task): Plugged => {
  const idle = idleHoles(scene, task);
  if (idle === null) return { work, opened: (after) => after };
  const filled = new Map<Region, Region>();
  const plugs = new Map<Region, readonly Contour[]>();
  const stock = work.stock.map((slab) => {
    const region = filled.get(slab.region) ?? withoutHoles(slab.region, idle, plugs);
    filled.set(slab.region, region);
    return region === slab.region ? slab : { ...slab, region };
  });
  if (plugs.size === 0) return { work, opened: (after) => after };
  return {
    work: { ...work, stock },
    opened: (after) => ({ ...after, stock: open(after.stock, stock, plugs) }),
  };
};

const withoutHoles = (
  region: Region,
  idle: (hole: Box) => boolean,
  plugs: Map<Region, readonly Contour[]>,
): Region => {
  const boxes = new Map(region.contours.map((c) => [c, regionBox({ contours: [c] })!]));
  const holes = region.contours.filter((hole) => {
    const box = boxes.get(hole)!;
    // What stands within a hole would be filled with it.
    return (
      contourArea(hole) < 0 &&
      idle(box) &&
      region.contours.every((c) => c === hole || !boxWithin(boxes.get(c)!, box))
    );
  });
  if (holes.length === 0) return region;
  const kept = { contours: region.contours.filter((c) => !holes.includes(c)) };
  plugs.set(kept, holes.map(reverseContour));
  return kept;
};

/** A job step splits slabs and takes from them, so that each of those after it lies within one of those before. */
const open = (
  after: readonly Slab[],
  before: readonly Slab[],
  plugs: ReadonlyMap<Region, readonly Contour[]>,
): readonly Slab[] => {
  const known = new Map<Region, Map<Region, Region>>();
  return after.flatMap((slab): readonly Slab[] => {
    const middle = (slab.bottom + slab.top) / 2;
    const from = before.find((s) => s.bottom <= middle && middle <= s.top);
    const holes = from && plugs.get(from.region);
    if (!from || !holes) return [slab];
    const same = known.get(from.region) ?? new Map<Region, Region>();
    known.set(from.region, same);
    const region = same.get(slab.region) ?? difference(slab.region, { contours: holes });
    same.set(slab.region, region);
    return isEmpty(region) ? [] : [{ ...slab, region }];
  });
};

/** Which holes, by their boxes, a job step need not know of; null where it is to see them all. */
const idleHoles = (scene: Scene, task: Task): ((hole: Box) => boolean) | null => {
  const step = ofStep(scene, task.step);
  const { diameter } = task.cutter;
  switch (step.kind) {
    case 'fork':
    case 'slot':
    case 'pocket':
      return farFromOpening(scene, step, diameter);
    case 'outline':
    case 'thin':
    case 'square':
      return peels(step)
        ? null
        : ({ min, max }) => Math.max(max.x - min.x, max.y - min.y) <= diameter - 4 * AIR;
    default:
      return null;
  }
};

const peels = (step: JobStep): boolean => 'engagement' in step && step.engagement !== null;
