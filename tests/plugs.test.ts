import { describe, expect, it } from 'vitest';
import type { Slab } from '../sketch/part/solid.ts';
import { difference, union } from '../sketch/shape/boolean.ts';
import { disc, type Region, rectangle, regionArea } from '../sketch/shape/region.ts';
import { standardProfile } from '../toolpath/machine/default-profile.ts';
import type { Plan } from '../toolpath/passes/pass.ts';
import { planRoute } from '../toolpath/passes/plan.ts';
import { type Plugged, plugged } from '../toolpath/passes/plugs.ts';
import type { Scene, Task } from '../toolpath/passes/scene.ts';
import { take } from '../toolpath/passes/workpiece.ts';
import { frameOf } from '../toolpath/route/frame.ts';
import { proposeRoute } from '../toolpath/route/propose.ts';
import { samplePart } from './samples.ts';

const part = samplePart('damper-yoke');
const { route } = proposeRoute(part, standardProfile);
const steps = new Map(route.setups.flatMap((s) => s.steps.map((step) => [step.name, step] as const)));
const scene = { part, steps, frame: frameOf(part.bar, 'front', 'left-near') } as Pick<
  Scene,
  'part' | 'steps' | 'frame'
> as Scene;
const seenBy = (name: string, stock: readonly Slab[], change: Record<string, unknown> = {}): Plugged => {
  const step = { ...steps.get(name)!, ...change } as Task['step'];
  const cutter = standardProfile.cutters.find((c) => c.name === step.cutter)!;
  return plugged(scene, { stock, wanted: [] }, { step, cutter } as Task);
};

const bar = rectangle({ x: 0, y: 0 }, { x: 70, y: 20 });
const holed = (...holes: readonly Region[]): Region => difference(bar, union(holes));
const slabsOf = (region: Region): readonly Slab[] => [
  { bottom: -10, top: -4, region },
  { bottom: -4, top: 0, region },
];
const areas = (stock: readonly Slab[]): readonly number[] =>
  stock.map(({ bottom, top, region }) => Math.round(1e6 * (top - bottom) * regionArea(region)));
const small = disc({ x: 64, y: 10 }, 2);

describe('holes that a job step need not know of', () => {
  it('are filled where the cutter always stands on their rim, and there again afterwards', () => {
    const stock = slabsOf(holed(small));
    for (const name of ['outline', 'thin body from the back', 'square ends']) {
      const { work, opened } = seenBy(name, stock);
      expect(areas(work.stock)).toEqual(areas(slabsOf(bar)));
      expect(areas(opened(work).stock)).toEqual(areas(stock));
      // A step that splits slabs and takes half a hole with what it clears.
      const half = rectangle({ x: 30, y: -5 }, { x: 64, y: 25 });
      const whole = take({ stock, wanted: [] }, half, -2, 0).stock;
      expect(areas(opened(take(work, half, -2, 0)).stock)).toEqual(areas(whole));
    }
  });

  it('are seen where the cutter may dip into them, where something stands in them, and by who begins in them', () => {
    const untouched = (name: string, region: Region, change: Record<string, unknown> = {}): void => {
      const stock = slabsOf(region);
      expect(seenBy(name, stock, change).work.stock).toBe(stock);
    };
    untouched('outline', holed(disc({ x: 50, y: 10 }, 6)));
    const ring = union([holed(disc({ x: 50, y: 10 }, 4)), disc({ x: 50, y: 10 }, 2)]);
    untouched('outline', ring);
    untouched('outline', holed(small), { engagement: 1 });
    untouched('drill 4.0', holed(small));
    untouched('counterbore toe bush', holed(small));
  });

  it('are filled beyond the reach of an opening, and seen within', () => {
    const stock = slabsOf(holed(small, disc({ x: 20, y: 10 }, 2)));
    for (const name of ['fork yoke', 'release fork yoke']) {
      const { work, opened } = seenBy(name, stock);
      expect(areas(work.stock)).toEqual(areas(slabsOf(holed(disc({ x: 20, y: 10 }, 2)))));
      expect(areas(opened(work).stock)).toEqual(areas(stock));
    }
  });

  it('stand in the stock that setups and job steps after are given', () => {
    const plan: Plan = planRoute(part, route, standardProfile);
    const standing = plan.setups[1]!.standing;
    // Through the toe in every slab that is left there: drilled before it is turned over.
    const at = { x: 64, y: 10 };
    const over = standing.filter(({ region }) => regionArea(difference(region, disc(at, 1.9))) > 0);
    expect(over.length).toBeGreaterThan(0);
    for (const { region } of over)
      expect(regionArea(difference(region, disc(at, 1.9)))).toBeCloseTo(regionArea(region), 6);
    expect(plan.findings.filter((f) => f.severity === 'error')).toEqual([]);
  });
});
