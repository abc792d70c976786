import { describe, expect, it } from 'vitest';
import { type HeardPass, levelGatherer, levelsOfPasses } from '../gcode/proof/levels.ts';
import type { ProofSetup } from '../gcode/proof/proof.ts';
import { reachOf } from '../gcode/proof/reach.ts';
import { wallsOf } from '../gcode/proof/wall-faces.ts';
import { type WallExcess, watchWalls } from '../gcode/proof/walls.ts';
import type { Motion } from '../gcode/reading/motion.ts';
import type { Face } from '../sketch/part/part.ts';
import type { Solid } from '../sketch/part/solid.ts';
import type { Point3 } from '../sketch/shape/point.ts';
import { rectangle, reverseContour } from '../sketch/shape/region.ts';
import { circle } from '../sketch/shape/segment.ts';
import type { Cutter } from '../toolpath/machine/cutter.ts';
import { type CutPath, cutPath } from '../toolpath/removal/cut-path.ts';
import { cutters, frontHold, POINT, smallBar } from './proof-plate.ts';

// Walls judged by their heights, beside cutters of 6 mm: the near side of a block 20 × 10 × 5, along Y 0.

const bar = smallBar(5, { x: -10, y: -10 });
const region = rectangle({ x: 0, y: 0 }, { x: 20, y: 10 });
const block: Solid = { slabs: [{ bottom: 0, top: 5, region }] };
const [mill, drill] = [cutters[0]!, cutters[2]!];
const p = (x: number, y: number, z: number): Point3 => ({ x, y, z });
interface How {
  readonly cutter?: Cutter;
  readonly face?: Face;
  readonly setup?: number;
}
/** In the drawing's places and heights, whichever face is up. */
const path = (from: Point3, to: Point3, { cutter = mill, face = 'front', setup = 0 }: How = {}): CutPath => {
  const up = ({ x, y, z }: Point3): Point3 => (face === 'front' ? p(x, y, z) : p(x, -y, -z));
  const motion = { kind: 'feed', from: up(from), to: up(to), line: 7 } as const;
  return cutPath(motion, cutter, { face, zero: p(0, 0, 0) }, { setup, pass: 0 });
};
const along = (short: number, z: number, how: How = {}): CutPath =>
  path(p(-9, -3 - short, z), p(29, -3 - short, z), how);

/** What stands proud at X 5.05 of the near side: amount, heights, slab, setup. */
const excesses = (
  paths: readonly CutPath[],
  levels: readonly number[] = [],
  wanted = block,
  kind: 'over' | 'within' = 'over',
) => {
  const walls = wallsOf(wanted);
  const watch = watchWalls(bar, wanted, walls, new Map(walls.walls.map((wall) => [wall, levels])), null);
  for (const one of paths) watch.meet(one);
  const there = ({ place }: WallExcess): boolean => place.y === 0 && place.x > 5 && place.x < 5.1;
  return watch
    .excesses(0.05, () => false)
    [kind].filter(there)
    .map(({ amount, bottom, top, slab, setup }) => [
      Math.round(amount * 1e6) / 1e6,
      ...[bottom, top].map((z) => Math.round(z * 1e6) / 1e6),
      slab,
      setup,
    ]);
};

describe('a wall of two slabs', () => {
  const two: Solid = {
    slabs: [
      { bottom: 0, top: 2, region },
      { bottom: 2, top: 5, region },
    ],
  };
  it('is told slab by slab, each with the setup that came nearest', () => {
    const cut = [along(0.3, 0, { setup: 1 }), along(0.1, 2, { setup: 2 })];
    expect(excesses(cut, [0, 2], two)).toEqual([
      [0.3, 0, 2, 0, 1],
      [0.1, 2, 5, 1, 2],
    ]);
    expect(excesses([...cut, along(0.2, 1, { setup: 3 })], [0, 1, 2], two)).toEqual([
      [0.3, 0, 2, 0, 1],
      [0.1, 2, 5, 1, 2],
    ]);
    expect(excesses([along(0, 2), along(0.3, 0, { setup: 1 })], [0, 2], two)).toEqual([[0.3, 0, 2, 0, 1]]);
    expect(excesses([along(0, 0, { face: 'back' }), along(0.3, 0), along(0, 2)], [0, 2], two)).toEqual([
      [0.3, 0, 2, 0, 0],
    ]);
    expect(excesses([along(0.1, 0, { setup: 1 }), along(0.05, 0, { setup: 4 })], [], two)).toEqual([]);
  });
});

describe('slices', () => {
  it('together are told by the worst of them, wherever it is', () => {
    const fromBack = [
      along(0.3, 5, { face: 'back', setup: 1 }),
      along(0.1, 3, { face: 'back', setup: 2 }),
      along(0.2, 4, { face: 'back', setup: 3 }),
    ];
    expect(excesses(fromBack, [3, 4])).toEqual([[0.3, 0, 5, 0, 1]]);
  });

  it('go from level to level, in whichever order these come, none thinner than 0.004 mm', () => {
    const cut = [along(0.3, 0), along(0.1, 1), along(0, 3)];
    expect(excesses(cut, [3, 1])).toEqual([[0.3, 0, 3, 0, 0]]);
    expect(excesses([along(0.3, 0)], [4.998])).toEqual([[0.3, 0, 4.998, 0, 0]]);
    expect(excesses([along(0.3, 0)], [6, -1])).toEqual([[0.3, 0, 5, 0, 0]]);
    expect(excesses([along(0.3, 0)], [4.99])).toEqual([[0.3, 0, 5, 0, 0]]);
    expect(excesses([along(0.3, 0), along(0, 1.003)], [1, 1.003, 1.01])).toEqual([[0.3, 0, 1, 0, 0]]);
    expect(excesses([along(0.3, 0), along(0, 0), along(0.3, -1)], [5, 0, -1, 6])).toEqual([]);
  });

  it('of a slab thinner than that are one, and no level makes two of it', () => {
    const thin: Solid = { slabs: [{ bottom: 0, top: 0.003, region }] };
    expect(excesses([along(0.03, 0)], [], thin, 'within')).toEqual([[0.03, 0, 0.003, 0, 0]]);
    expect(excesses([along(0.03, 0)], [0.001], thin, 'within')).toEqual([[0.03, 0, 0.003, 0, 0]]);
    expect(excesses([along(0.03, 0), along(0, 0.003)], [0.003], block, 'within')).toEqual([]);
    expect(excesses([along(0.03, 0), along(0, 0.005)], [0.005], block, 'within')).toEqual([
      [0.03, 0, 0.005, 0, 0],
    ]);
  });
});

describe('a tip in the middle of a slice', () => {
  it('cuts all of it', () => {
    expect(excesses([along(0.3, 2.5, { setup: 1 })])).toEqual([[0.3, 0, 5, 0, 1]]);
    expect(excesses([along(0.3, 2.51, { setup: 1 })])).toEqual([[2, 0, 5, 0, -1]]);
    expect(excesses([along(0.3, 2.5, { face: 'back', setup: 1 })])).toEqual([[0.3, 0, 5, 0, 1]]);
    expect(excesses([along(0.3, 2.49, { face: 'back', setup: 1 })])).toEqual([[2, 0, 5, 0, -1]]);
  });
});

describe('a cone beside a wall', () => {
  const wide = Math.tan(POINT / 2);
  const short = Math.round((3 - wide) * 1e6) / 1e6;
  it('from the back is as wide as at the upper end of each slice', () => {
    // Its tip is at 4: 1 mm under it, at 3, it is 1 mm tan 59° wide. All above 3 is cut to size by a mill.
    const beside = path(p(5.05, -3, 4), p(5.05, -3, 4), { cutter: drill, face: 'back', setup: 1 });
    expect(excesses([along(0, 3), beside], [3, 4])).toEqual([[short, 0, 3, 0, 1]]);
  });

  it('that slopes counts as its higher end', () => {
    // From 1 to 2: at 3 it is as wide as 1 mm over its tip. All below is cut to size from the back.
    const below = along(0, 3, { face: 'back' });
    const sloping = (z0: number, z1: number) =>
      path(p(5.05, -3, z0), p(5.15, -3, z1), { cutter: drill, setup: 1 });
    expect(excesses([below, sloping(1, 2)], [1, 2, 3])).toEqual([[short, 3, 5, 0, 1]]);
    expect(excesses([below, path(p(5.05, -3, 9), p(5.05, -3, 2), { cutter: drill, setup: 1 })], [3])).toEqual(
      [[short, 3, 5, 0, 1]],
    );
  });
});

it('a plunge beside a wall cuts down to its end', () => {
  const down = path(p(5.05, -3.3, 9), p(5.05, -3.3, 2), { setup: 1 });
  expect(excesses([along(0, 2, { face: 'back' }), down], [2])).toEqual([[0.3, 2, 5, 0, 1]]);
});

describe('heights that passes bring to walls', () => {
  const setup: ProofSetup = {
    number: 1,
    frame: { face: 'front', zero: p(0, 0, 5) },
    hold: frontHold,
    tools: cutters,
    text: '',
  };
  const tap: Cutter = { ...mill, number: 5, kind: 'tap' };
  const tools = new Map([...cutters, tap].map((c) => [c.number, c]));
  const motion = (x: number, z0: number, z1 = z0, tool = 1, kind: Motion['kind'] = 'feed'): Motion => ({
    kind,
    from: p(x, -3, z0),
    to: p(x + 5, -3, z1),
    feed: 1,
    tool,
    speed: 1,
    line: 1,
    label: -1,
  });
  const hole = { contours: [...region.contours, { segments: [circle({ x: 15, y: 5 }, 1, false)] }] };
  const { walls } = wallsOf({ slabs: [{ bottom: 0, top: 5, region: hole }] });
  const pass = (...motions: Motion[]): HeardPass => ({
    setup,
    motions,
    paths: motions.map((m) => {
      const cutter = tools.get(m.tool);
      return cutter ? cutPath(m, cutter, setup.frame, { setup: 0, pass: 0 }) : null;
    }),
    heard: new Map(),
  });
  const sorted = (all: ReadonlyMap<(typeof walls)[number], readonly number[]> | null) =>
    walls.map((wall) => [...all!.get(wall)!].map((z) => Math.round(z * 1e6) / 1e6).sort((a, b) => a - b));
  const first = [motion(0, -1), motion(0, -1, -2), motion(0, -3, -3, 1, 'rapid'), motion(0, -4, -4, 9)];
  const second = [motion(0, -2), motion(-90, -3), motion(0, -3.5, -3.5, 5), motion(0, -4, -4, 3)];

  it('are those that are gathered from the text, and are asked for once', () => {
    const point = 3 / Math.tan(POINT / 2);
    const gatherer = levelGatherer(walls);
    for (const motions of [first, second]) gatherer.take(motions, setup, tools);
    const expected = [[1, Math.round((1 + point) * 1e6) / 1e6, 3, 4], []];
    expected[0]!.sort((a, b) => a - b);
    expect(sorted(gatherer.levels())).toEqual(expected);
    const passes = [pass(...first), pass(...second)];
    const counts = { heard: 0 };
    expect(sorted(levelsOfPasses(walls, passes, counts))).toEqual(expected);
    expect(counts.heard).toBe(4);
    expect(sorted(levelsOfPasses(walls, passes, counts))).toEqual(expected);
    expect(counts.heard).toBe(4);
    // What is heard of the hole is forgotten with it.
    expect(levelsOfPasses(walls.slice(0, 1), passes, counts)!.size).toBe(1);
    expect(passes.map(({ heard }) => heard.size)).toEqual([1, 1]);
    expect(sorted(levelsOfPasses(walls, passes, counts))).toEqual(expected);
    expect(counts.heard).toBe(6);
  });

  it('are not told where there are too many', () => {
    const motions = (count: number) => Array.from({ length: count }, (_, k) => motion(0, -k / 10_000));
    const counts = { heard: 0 };
    const few = levelsOfPasses(walls.slice(0, 1), [pass(...motions(20_000))], counts);
    expect(few!.get(walls[0]!)).toHaveLength(20_000);
    expect(levelsOfPasses(walls.slice(0, 1), [pass(...motions(20_001))], counts)).toBeNull();
  });

  it('of which there are too many over 2 mm are thinned out to a thousandth', () => {
    const gatherer = levelGatherer(walls.slice(0, 1));
    gatherer.take(
      Array.from({ length: 20_001 }, (_, k) => motion(0, -k / 10_000)),
      setup,
      tools,
    );
    const kept = [...gatherer.levels().get(walls[0]!)!].sort((a, b) => a - b);
    expect(kept[0]).toBeCloseTo(3, 9);
    expect(kept.length).toBeGreaterThan(1800);
    expect(kept.length).toBeLessThan(2002);
  });

  it('are those of a flat tip for every endmill', () => {
    const odd: Cutter = { ...mill, number: 6, pointAngle: POINT };
    const gatherer = levelGatherer(walls.slice(0, 1));
    gatherer.take([motion(0, -1, -1, 6)], setup, new Map([[6, odd]]));
    expect(gatherer.levels().get(walls[0]!)).toEqual([4]);
  });
});

it('the least cutter comes to all of the wall of a hole that it goes into', () => {
  const hole = reverseContour({ segments: [circle({ x: 50, y: 40 }, 30)] });
  const outline = rectangle({ x: 0, y: 0 }, { x: 100, y: 80 });
  const wanted: Solid = {
    slabs: [{ bottom: 0, top: 5, region: { contours: [...outline.contours, hole] } }],
  };
  const { shortfall } = reachOf(wanted, [mill]);
  for (const [x, y] of [
    [20, 40],
    [80, 40],
    [50, 10],
    [50, 70],
  ] as const) {
    expect(shortfall(0, { x, y })).toBe(0);
  }
});

it('the least cutter does not come under what stands over a place and below it', () => {
  const [wide, narrow] = [
    rectangle({ x: 0, y: 0 }, { x: 40, y: 20 }),
    rectangle({ x: 0, y: 0 }, { x: 30, y: 20 }),
  ];
  const reached = (...regions: (typeof wide)[]) =>
    reachOf({ slabs: regions.map((region, k) => ({ bottom: k, top: k + 1, region })) }, [mill]).shortfall(1, {
      x: 30,
      y: 10,
    });
  expect(reached(wide, narrow, wide)).toBeNull();
  expect(reached(wide, narrow, narrow)).toBe(0);
  expect(reached(narrow, narrow, wide)).toBe(0);
  expect(reached(wide, narrow)).toBe(0);
});
