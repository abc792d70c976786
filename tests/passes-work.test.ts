import { describe, expect, it } from 'vitest';
import { disc, NOTHING, type Region, rectangle, regionArea, regionBox } from '../sketch/shape/region.ts';
import { base, heightOf, lowestIn, named } from '../toolpath/passes/milling-terms.ts';
import { sawnBar } from '../toolpath/passes/plan.ts';
import {
  keepOutOf,
  placeOf,
  type Scene,
  surfaceAt,
  type Task,
  undersideAt,
} from '../toolpath/passes/scene.ts';
import {
  ceilingUnder,
  protectedAbove,
  slabsInPart,
  slabsInProgram,
  stockBetween,
  stockBox,
  take,
  type Workpiece,
} from '../toolpath/passes/workpiece.ts';
import type { Frame } from '../toolpath/route/frame.ts';
import { PLATE, TERMS } from './passes-programs.ts';
import { endmill } from './passes-samples.ts';

// The work as slabs: turned over, looked up and cut into, in figures that can be checked on a sketch.

const at = (x: number, y: number) => ({ x, y });
const box = (x0: number, y0: number, x1: number, y1: number): Region => rectangle(at(x0, y0), at(x1, y1));
const slab = (bottom: number, top: number, region: Region) => ({ bottom, top, region });
const work = (...stock: Workpiece['stock'][number][]): Workpiece => ({ stock, wanted: [] });
const extent = (region: Region) => {
  const b = regionBox(region)!;
  return [b.min.x, b.min.y, b.max.x, b.max.y].map((v) => Math.round(v * 1e6) / 1e6);
};
const inShort = (stock: Workpiece['stock']) => stock.map((s) => [s.bottom, s.top, ...extent(s.region)]);

describe('slabs as they lie in a setup', () => {
  const front: Frame = { face: 'front', zero: { x: 10, y: 3, z: 6 } };
  const back: Frame = { face: 'back', zero: { x: 10, y: 30, z: 0 } };
  const slabs = [slab(1, 6, box(12, 4, 20, 9))];

  it('are shifted to its zero, and with the back up turned over in Y and Z', () => {
    expect(inShort(slabsInProgram(front, slabs))).toEqual([[-5, 0, 2, 1, 10, 6]]);
    expect(inShort(slabsInProgram(back, slabs))).toEqual([[-6, -1, 2, 21, 10, 26]]);
    // Area keeps its sign.
    for (const frame of [front, back])
      expect(regionArea(slabsInProgram(frame, slabs)[0]!.region)).toBeCloseTo(40, 6);
  });

  it('come back as they were', () => {
    for (const frame of [front, back]) {
      expect(inShort(slabsInPart(frame, slabsInProgram(frame, slabs)))).toEqual(inShort(slabs));
      expect(regionArea(slabsInPart(frame, slabsInProgram(frame, slabs))[0]!.region)).toBeCloseTo(40, 6);
    }
    expect(inShort(slabsInPart({ face: 'back', zero: { x: 1, y: 2, z: 3 } }, slabs))).toEqual([
      [-3, 2, 13, -7, 21, -2],
    ]);
  });

  it('and so do places and heights', () => {
    expect([placeOf(front, at(12, 4)), placeOf(back, at(12, 4))]).toEqual([at(2, 1), at(2, 26)]);
    const scene = (frame: Frame) => ({ frame }) as Scene;
    expect([heightOf(scene(front), 4), heightOf(scene(back), 4)]).toEqual([-2, -4]);
  });

  it('begin as the bar with its sawn ends', () => {
    const part = { ...PLATE, bar: { ...PLATE.bar, corner: at(-4, 2), sawn: 1.5 } };
    expect(inShort(sawnBar(part))).toEqual([[0, 6, -5.5, 2, 57.5, 32]]);
  });
});

describe('of the work', () => {
  const two = work(slab(-6, -3, box(0, 0, 40, 10)), slab(-3, 0, box(0, 0, 10, 10)));

  it('stands between two heights what reaches in between them', () => {
    const area = (low: number, high: number) => regionArea(stockBetween(two, low, high));
    expect([area(-6, -3), area(-3, 0), area(-4, -2), area(-9, 9)].map(Math.round)).toEqual([
      400, 100, 400, 400,
    ]);
    expect([area(0, 9), area(-9, -6)]).toEqual([0, 0]);
    expect(stockBetween(two, 0, 9)).toBe(NOTHING);
    // One slab’s region is not made anew.
    expect(stockBetween(two, -3, 0)).toBe(two.stock[1]!.region);
    const wanted = { stock: [], wanted: two.stock };
    expect([-7, -4, -3, -1, 0].map((z) => Math.round(regionArea(protectedAbove(wanted, z))))).toEqual([
      400, 400, 100, 100, 0,
    ]);
  });

  it('the tallest and the lowest is known under a cutter and at a place', () => {
    expect(ceilingUnder(two, at(5, 5), 2)).toBe(0);
    expect(ceilingUnder(two, at(11.9, 5), 2)).toBe(0);
    expect(ceilingUnder(two, at(12.1, 5), 2)).toBe(-3);
    // In whatever order they lie.
    expect(ceilingUnder(work(...[...two.stock].reverse()), at(5, 5), 2)).toBe(0);
    // Touching is not standing under it.
    expect(ceilingUnder(two, at(42, 5), 2)).toBeNull();
    expect(ceilingUnder(two, at(41.999, 5), 2)).toBe(-3);
    for (const stock of [two.stock, [...two.stock].reverse()]) {
      expect(undersideAt({ stock, wanted: [] }, at(5, 5))).toBe(-6);
      expect(undersideAt({ stock, wanted: [] }, at(50, 5))).toBeNull();
      const scene = { bare: stock } as unknown as Scene;
      expect([5, 20, 50].map((x) => surfaceAt(scene, at(x, 5)))).toEqual([0, -3, null]);
    }
    expect(undersideAt(work(two.stock[1]!), at(5, 5))).toBe(-3);
    expect([lowestIn(two, box(5, 0, 50, 10)), lowestIn(two, box(40, 0, 50, 10))]).toEqual([-6, 0]);
    // Seven thousandths of a square millimetre count, four do not.
    expect(lowestIn(two, box(39.9, 0, 50, 0.07))).toBe(-6);
    expect(lowestIn(two, box(39.9, 0, 50, 0.04))).toBe(0);
    expect(lowestIn(work(slab(-3, 0, box(0, 0, 9, 9)), slab(-6, -3, box(0, 0, 9, 9))), box(0, 0, 9, 9))).toBe(
      -6,
    );
  });

  it('the box is known in which all of it lies', () => {
    const apart = [slab(-6, -3, box(0, 4, 40, 10)), slab(-3, 2, box(-5, 0, 10, 8)), slab(-7, 5, NOTHING)];
    expect(stockBox(apart)).toEqual({ min: { x: -5, y: 0, z: -6 }, max: { x: 40, y: 10, z: 2 } });
    expect(stockBox([...apart].reverse())).toEqual(stockBox(apart));
    expect(() => stockBox([slab(0, 1, NOTHING)])).toThrow(/no stock is left/);
  });
});

describe('what is taken', () => {
  const whole = work(slab(-6, 0, box(0, 0, 40, 10)));

  it('leaves what lies under it and over it, and what lies beside it', () => {
    expect(inShort(take(whole, box(20, 0, 40, 10), -4, -1).stock)).toEqual([
      [-6, -4, 0, 0, 40, 10],
      [-4, -1, 0, 0, 20, 10],
      [-1, 0, 0, 0, 40, 10],
    ]);
    expect(inShort(take(whole, box(20, 0, 50, 10), -9, 9).stock)).toEqual([[-6, 0, 0, 0, 20, 10]]);
    expect(take(whole, box(-1, -1, 41, 11), -9, 9).stock).toEqual([]);
    expect(inShort(take(whole, box(-1, -1, 41, 11), -2, 0).stock)).toEqual([[-6, -2, 0, 0, 40, 10]]);
  });

  it('is nothing where nothing is meant, or where only slabs beyond its heights lie', () => {
    expect(take(whole, NOTHING, -9, 9)).toBe(whole);
    expect(take(whole, box(0, 0, 1, 1), -2, -2)).toBe(whole);
    expect(take(whole, box(0, 0, 1, 1), -2, -3)).toBe(whole);
    for (const [low, high] of [
      [0, 5],
      [-9, -6],
      [2, 5],
    ] as const)
      expect(take(whole, box(0, 0, 9, 9), low, high).stock).toEqual(whole.stock);
    const { wanted } = take({ ...whole, wanted: whole.stock }, box(0, 0, 9, 9), -2, 0);
    expect(wanted).toBe(whole.stock);
  });
});

describe('a job step keeps out', () => {
  const jaws = {
    ...{ top: -4, footprint: { contours: [...box(0, 20, 40, 30).contours, ...box(0, -10, 40, 0).contours] } },
    ...{ contact: null, faces: null },
  };
  const feet = { feet: [], keepOut: disc(at(50, 5), 4), top: 0 };
  const none = { feet: [], keepOut: NOTHING, top: 0 };
  const scene = (more: Partial<Scene>) => ({ jaws: null, feet: none, ...more }) as Scene;
  const wanted = [slab(-6, -2, box(0, 0, 40, 10)), slab(-2, 0, box(0, 0, 10, 10))];
  const area = (region: Region) => Math.round(regionArea(region) * 10) / 10;

  it('of the part over its floor at every depth', () => {
    const low = keepOutOf(scene({}), wanted, -6);
    expect([low(0), low(-3)].map((k) => [area(k.walls), area(k.barred), area(k.all)])).toEqual([
      [400, 0, 400],
      [400, 0, 400],
    ]);
    expect(area(keepOutOf(scene({}), wanted, -2)(-2).all)).toBe(100);
    expect(keepOutOf(scene({}), wanted, 0)(0).all).toEqual(NOTHING);
  });

  it('of the jaws where its tip is lower than half a millimetre over them', () => {
    const keep = keepOutOf(scene({ jaws }), wanted, -6);
    expect(keep(-3.5).barred).toEqual(NOTHING);
    const { walls, barred, all } = keep(-3.6);
    // Half a millimetre is kept beyond their ends.
    expect([area(walls), area(barred), area(all)]).toEqual([400, 820, 1220]);
    expect(keep(-5)).toBe(keep(-3.6));
  });

  it('of what stands on the work and of what else it is told, as of walls', () => {
    const keep = keepOutOf(scene({ feet }), wanted, -6, box(60, 0, 70, 5))(0);
    expect(area(keep.walls)).toBe(Math.round((400 + 16 * Math.PI + 50) * 10) / 10);
    expect(keep.all).toBe(keep.walls);
  });
});

describe('a feature is looked up', () => {
  it('by its name, and missed by it', () => {
    const lands = [{ name: 'a' }, { name: 'b' }];
    expect(named(lands, 'b', 'land')).toBe(lands[1]);
    expect(() => named(lands, 'c', 'land')).toThrow(new RangeError('the part has no land "c"'));
  });

  it('and what a clearing has of its job step is taken over', () => {
    const task = { cutter: endmill(6), entry: { feed: 1, plungeFeed: 2, ramp: 3 } } as unknown as Task;
    expect(base({ clearHeight: 7 } as Scene, task, TERMS)).toEqual({
      ...{ cutter: task.cutter, terms: TERMS, entry: task.entry, clearHeight: 7, bridges: [] },
    });
  });
});
