import { describe, expect, it } from 'vitest';
import type { Hole } from '../sketch/part/part.ts';
import { disc, type Region, rectangle, regionArea } from '../sketch/shape/region.ts';
import type { Cutter } from '../toolpath/machine/cutter.ts';
import { type HoleStep, holeStep } from '../toolpath/passes/holes.ts';
import type { Scene, Task } from '../toolpath/passes/scene.ts';
import { take, type Workpiece } from '../toolpath/passes/workpiece.ts';
import { endmill } from './passes-samples.ts';

// Holes one by one: over which surface a tool comes, how deep its point goes, and what is gone afterwards. All points are
// of 90°, so that a cone is as high as half its diameter.

const at = (x: number, y: number) => ({ x, y });
const BAR = rectangle(at(0, 0), at(60, 30));
const RIGHT = Math.PI / 2;
const tool = (kind: Cutter['kind'], diameter: number, pointAngle = RIGHT): Cutter => ({
  ...endmill(diameter),
  kind,
  pointAngle,
});
const hole = (name: string, x: number, y: number, diameter = 4, depth: number | null = null): Hole => ({
  ...{ name, purpose: 'clearance', centre: at(x, y), diameter, depth, from: 'front' },
});
/** 6 thick, cut down to −2 from X 30 on. */
const stepped = (from = 30): Workpiece => ({
  stock: [
    { bottom: -6, top: -2, region: BAR },
    { bottom: -2, top: 0, region: rectangle(at(0, 0), at(from, 30)) },
  ],
  wanted: [],
});
const made = (
  kind: HoleStep['kind'],
  cutter: Cutter,
  holes: readonly Hole[],
  work = stepped(),
  { names = holes.map((h) => h.name), bare = work.stock } = {},
) => {
  const scene = {
    ...{ part: { holes }, frame: { face: 'front', zero: { x: 0, y: 0, z: 0 } } },
    ...{ bare, clearHeight: 5 },
  } as unknown as Scene;
  const step = { kind, name: 'it', cutter: cutter.name, holes: names, peck: 1.5 } as unknown as HoleStep;
  const task: Task<HoleStep> = { step, cutter, entry: { feed: 90, plungeFeed: 40, ramp: 0.05 } };
  return holeStep(scene, work, task);
};
const depths = (...of: Parameters<typeof made>): number[] =>
  made(...of).passes[0]!.moves.flatMap((m) => (m.kind === 'drill' ? [Math.round(m.depth * 1e6) / 1e6] : []));

describe('a hole', () => {
  it('is come to by rapid, half a millimetre over what stands there, and left at the clear height', () => {
    const { passes } = made('drill', tool('drill', 4), [hole('a', 10, 5), hole('b', 40, 5)]);
    expect(passes).toEqual([
      {
        ...{ kind: 'rough', z: -8.5, web: null },
        moves: [
          { kind: 'rapid', to: { x: 10, y: 5, z: 5 } },
          { kind: 'rapid', to: { x: 10, y: 5, z: 0.5 } },
          { ...{ kind: 'drill', at: at(10, 5), clear: 0.5, depth: -8.5, peck: 1.5, dwell: 0, feed: 40 } },
          { kind: 'rapid', to: { x: 10, y: 5, z: 5 } },
          { kind: 'rapid', to: { x: 40, y: 5, z: 5 } },
          { kind: 'rapid', to: { x: 40, y: 5, z: -1.5 } },
          { ...{ kind: 'drill', at: at(40, 5), clear: -1.5, depth: -8.5, peck: 1.5, dwell: 0, feed: 40 } },
          { kind: 'rapid', to: { x: 40, y: 5, z: 5 } },
        ],
      },
    ]);
  });

  it('is spotted and reamed without pecks, with a stay at the bottom', () => {
    for (const kind of ['spot', 'ream'] as const) {
      const [drilled] = made(kind, tool('spot', 6), [hole('a', 10, 5)]).passes[0]!.moves.filter(
        (m) => m.kind === 'drill',
      );
      expect(drilled).toMatchObject({ peck: 0, dwell: 0.3 });
    }
  });

  it('is spotted to 85 % of its width from the highest that a rim half a millimetre wider meets, no wider than the tool', () => {
    const spot = (x: number, diameter: number) =>
      depths('spot', tool('spot', 6), [hole('a', x, 15, diameter)]);
    expect(spot(10, 4)).toEqual([-1.7]);
    expect(spot(50, 4)).toEqual([-3.7]);
    expect(spot(10, 12)).toEqual([-3]);
    // 2 and a half millimetre from a place at 32.5 the step begins.
    expect(spot(32.4, 4)).toEqual([-1.7]);
    expect(spot(32.6, 4)).toEqual([-3.7]);
    // Off the bar the part’s own surface, or none, stands for it.
    const off = hole('a', 90, 15);
    expect(depths('spot', tool('spot', 6), [off])).toEqual([-1.7]);
    const bare = [{ bottom: -6, top: -1, region: rectangle(at(80, 0), at(99, 30)) }];
    expect(depths('spot', tool('spot', 6), [off], stepped(), { bare })).toEqual([-2.7]);
  });

  it('that is blind is measured from its own land, a drill’s point below it', () => {
    const blind = [hole('a', 50, 15, 4, 2)];
    expect(depths('drill', tool('drill', 4), blind)).toEqual([-6]);
    expect(depths('ream', tool('reamer', 4), blind)).toEqual([-4]);
    // The part's land lies lower than what stands there still.
    const bare = [{ bottom: -6, top: -3, region: BAR }];
    expect(depths('drill', tool('drill', 4), blind, stepped(), { bare })).toEqual([-7]);
    expect(depths('drill', tool('drill', 4), blind, stepped(), { bare: [] })).toEqual([-6]);
  });

  it('that goes through ends half a millimetre and a point below what lies lowest there, or beside it', () => {
    const through = [hole('a', 50, 15, 4)];
    expect(depths('drill', tool('drill', 3), through)).toEqual([-8]);
    expect(depths('ream', tool('reamer', 4, Math.PI), through)).toEqual([-6.5]);
    const drilled = (diameter: number) => take(stepped(), disc(at(50, 15), diameter / 2), -9, 9);
    expect(depths('ream', tool('reamer', 4, Math.PI), through, drilled(3.8))).toEqual([-6.5]);
    expect(depths('ream', tool('reamer', 4, Math.PI), through, drilled(4.08))).toEqual([-6.5]);
    // With nothing beside it either, from the surface that there is.
    expect(depths('ream', tool('reamer', 4, Math.PI), through, drilled(4.2))).toEqual([-2.5]);
    // Lowest of all where a web lies under it.
    const web: Workpiece = {
      stock: [...stepped().stock, { bottom: -7, top: -6.5, region: BAR }],
      wanted: [],
    };
    expect(depths('drill', tool('drill', 3), through, web)).toEqual([-9]);
  });

  it('is gone from the work as wide as its tool and as deep as that is full, and not where it was spotted', () => {
    const holes = [hole('a', 10, 5, 4, 3)];
    const { work } = made('drill', tool('drill', 4), holes);
    const round = (v: number): number => Math.round(v * 1e3) / 1e3;
    const lost = (bottom: number, region: Region) => 1800 - regionArea(region) - (bottom === -2 ? 900 : 0);
    expect(work.stock.map((s) => [s.bottom, s.top, lost(s.bottom, s.region)].map(round))).toEqual([
      [-6, -3, 0],
      [-3, -2, 12.566],
      [-2, 0, 12.566],
    ]);
    expect(made('spot', tool('spot', 6), holes).work).toEqual(stepped());
  });
});

describe('holes', () => {
  const order = (...places: readonly (readonly [number, number])[]): string => {
    const holes = places.map(([x, y]) => hole(`${x},${y}`, x, y, 2));
    const { passes } = made('spot', tool('spot', 6), holes);
    return passes[0]!.moves.flatMap((m) => (m.kind === 'drill' ? [`${m.at.x},${m.at.y}`] : [])).join(' ');
  };

  it('are visited by a short way from its left end, of two above each other from the lower', () => {
    expect(order([40, 5], [10, 5])).toBe('10,5 40,5');
    expect(order([10, 5], [40, 5])).toBe('10,5 40,5');
    expect(order([10, 20], [10, 5])).toBe('10,5 10,20');
    expect(order([10, 5], [10, 20])).toBe('10,5 10,20');
    expect(order([40, 2], [10, 20])).toBe('10,20 40,2');
    expect(order([40, 5], [10, 5], [25, 9])).toBe('10,5 25,9 40,5');
  });

  it('are those of the step by their names; one that the part has not is missed', () => {
    const holes = [hole('a', 10, 5), hole('b', 40, 5)];
    expect(depths('drill', tool('drill', 4), holes, stepped(), { names: ['b'] })).toHaveLength(1);
    expect(() => made('drill', tool('drill', 4), holes, stepped(), { names: ['c'] })).toThrow(
      new RangeError('the part has no hole "c"'),
    );
  });

  it('are tapped by hand: one stop over the first, that names them all', () => {
    const tapped = { ...hole('m', 10, 5), purpose: 'tapped', designation: 'M4' } as Hole;
    const { passes, work } = made('tap', tool('tap', 4), [tapped, hole('plain', 40, 5)]);
    expect(passes).toEqual([
      {
        ...{ kind: 'rough', z: 5, web: null },
        moves: [
          { kind: 'rapid', to: { x: 10, y: 5, z: 5 } },
          { kind: 'stop', message: 'it: tap by hand m M4, plain, oil, back off to break the chip' },
        ],
      },
    ]);
    expect(work).toEqual(stepped());
  });
});
