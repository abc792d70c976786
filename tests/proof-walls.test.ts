import { describe, expect, it } from 'vitest';
import { indexRegion } from '../gcode/proof/distance.ts';
import type { Holding } from '../gcode/proof/hold.ts';
import { levelGatherer } from '../gcode/proof/levels.ts';
import type { ProofSetup } from '../gcode/proof/proof.ts';
import { holdFindings } from '../gcode/proof/report-hold.ts';
import { wallsOf } from '../gcode/proof/wall-faces.ts';
import { type WallExcess, watchWalls } from '../gcode/proof/walls.ts';
import type { Motion } from '../gcode/reading/motion.ts';
import type { Bar, Face } from '../sketch/part/part.ts';
import type { Solid } from '../sketch/part/solid.ts';
import type { Point3 } from '../sketch/shape/point.ts';
import { rectangle } from '../sketch/shape/region.ts';
import type { Cutter } from '../toolpath/machine/cutter.ts';
import { type CutPath, cutPath } from '../toolpath/removal/cut-path.ts';
import { cutters, frontHold, POINT, smallBar } from './proof-plate.ts';

// How far cutters of 6 mm stop short of the near side of a block 20 × 10 × 5, along Y 0.

const bar = smallBar(5, { x: -10, y: -10 });
const block: Solid = { slabs: [{ bottom: 0, top: 5, region: rectangle({ x: 0, y: 0 }, { x: 20, y: 10 }) }] };
const [mill, drill] = [cutters[0]!, cutters[2]!];
const p = (x: number, y: number, z: number): Point3 => ({ x, y, z });
const path = (
  from: Point3,
  to: Point3,
  more: { cutter?: Cutter; kind?: 'feed' | 'rapid'; face?: Face; setup?: number } = {},
): CutPath => {
  const cutter = more.cutter ?? mill;
  const motion = { kind: more.kind ?? 'feed', from, to, line: 7 } as const;
  const frame = { face: more.face ?? 'front', zero: p(0, 0, 0) } as const;
  return cutPath(motion, cutter, frame, { setup: more.setup ?? 0, pass: 0 });
};
/** All along the near side, so far from it, at the height of a tip. */
const along = (short: number, z = 0): readonly [Point3, Point3] => [
  p(-9, -3 - short, z),
  p(29, -3 - short, z),
];

const excesses = (
  paths: readonly CutPath[],
  levels: readonly number[] = [],
  tolerance = 0.05,
  stock = bar,
) => {
  const walls = wallsOf(block);
  const watch = watchWalls(stock, block, walls, new Map([[walls.walls[0]!, levels]]), null);
  for (const one of paths) watch.meet(one);
  const onNearSide = ({ place, outward }: WallExcess): boolean =>
    place.y === 0 && outward.y === -1 && place.x > 5 && place.x < 5.1;
  const told = ({ amount, bottom, top, setup }: WallExcess) => [
    Math.round(amount * 1e6) / 1e6,
    bottom,
    top,
    setup,
  ];
  const { over, within } = watch.excesses(tolerance, () => false);
  return { over: over.filter(onNearSide).map(told), within: within.filter(onNearSide).map(told) };
};

describe('a wall', () => {
  it('that no cutter came near stands by 2 mm, of no setup', () => {
    expect(excesses([])).toEqual({ over: [[2, 0, 5, -1]], within: [] });
    expect(excesses([path(...along(2.01))]).over).toEqual([[2, 0, 5, -1]]);
    expect(excesses([path(...along(1.99), { setup: 3 })]).over).toEqual([[1.99, 0, 5, 3]]);
  });

  it('cut to size is nothing, short of it within the tolerance or over it', () => {
    expect(excesses([path(...along(0))])).toEqual({ over: [], within: [] });
    expect(excesses([path(...along(0.00005))])).toEqual({ over: [], within: [] });
    expect(excesses([path(...along(0.0002))])).toEqual({ over: [], within: [[0.0002, 0, 5, 0]] });
    expect(excesses([path(...along(0.0499))])).toEqual({ over: [], within: [[0.0499, 0, 5, 0]] });
    expect(excesses([path(...along(0.0501))])).toEqual({ over: [[0.0501, 0, 5, 0]], within: [] });
  });

  it('is met by the nearest of all cutters, and not by rapids, taps nor what passes over it', () => {
    const far = path(...along(0.3), { setup: 1 });
    expect(excesses([far, path(...along(0.1), { setup: 2 })]).over).toEqual([[0.1, 0, 5, 2]]);
    expect(excesses([path(...along(0.1), { setup: 2 }), far]).over).toEqual([[0.1, 0, 5, 2]]);
    expect(excesses([far, path(...along(0.1), { kind: 'rapid' })]).over).toEqual([[0.3, 0, 5, 1]]);
    const tap: Cutter = { ...mill, kind: 'tap' };
    expect(excesses([far, path(...along(0.1), { cutter: tap })]).over).toEqual([[0.3, 0, 5, 1]]);
    expect(excesses([far, path(...along(0.1, 5.1))]).over).toEqual([[0.3, 0, 5, 1]]);
  });

  it('is told by its heights: what lies under a tip is not met by it, whichever face is up', () => {
    const low = path(...along(0.3), { setup: 1 });
    expect(excesses([low, path(...along(0, 2))], [0, 2])).toEqual({ over: [[0.3, 0, 2, 1]], within: [] });
    const turned = path(p(-9, 3.3, -5), p(29, 3.3, -5), { face: 'back', setup: 1 });
    const short = path(p(-9, 3, -2), p(29, 3, -2), { face: 'back' });
    expect(excesses([turned, short], [2, 5]).over).toEqual([[0.3, 2, 5, 1]]);
    // What is cut to size from the back too ends the run there.
    const both = [
      path(...along(0.3, 0)),
      path(...along(0.2, 3), { setup: 2 }),
      path(p(-9, 3, -1), p(29, 3, -1), { face: 'back' }),
    ];
    expect(excesses(both, [0, 1, 3]).over).toEqual([[0.3, 1, 5, 0]]);
    const ends = [
      path(p(-9, 3.3, -5), p(29, 3.3, -5), { face: 'back' }),
      path(...along(0.2, 3), { setup: 2 }),
    ];
    const tip = path(p(-9, 3, -1), p(29, 3, -1), { face: 'back' });
    expect(excesses([...ends, tip], [1, 3, 5]).over).toEqual([[0.3, 1, 5, 0]]);
    expect(excesses([...ends, tip, path(...along(0, 3))], [1, 3, 5]).over).toEqual([[0.3, 1, 3, 0]]);
  });

  it('no higher than the tolerance is a floor’s matter', () => {
    const low = path(...along(0.3));
    expect(excesses([low, path(...along(0, 0.05))], [0.05])).toEqual({ over: [], within: [] });
    expect(excesses([low, path(...along(0, 0.06))], [0.06])).toEqual({
      over: [[0.3, 0, 0.06, 0]],
      within: [],
    });
  });

  it('has no more before it than the bar had', () => {
    const tight = { ...bar, corner: { x: -10, y: -0.2 } };
    expect(excesses([], [], 0.05, tight).over).toEqual([[0.2, 0, 5, -1]]);
    expect(excesses([], [], 0.3, tight)).toEqual({ over: [], within: [[0.2, 0, 5, -1]] });
    expect(excesses([], [], 0.05, { ...bar, corner: { x: -10, y: 0 } })).toEqual({ over: [], within: [] });
  });

  it('met by a cone is cut as wide as the cone is at the lower end of each slice', () => {
    // From the back a mill takes all below 2, so that what is over is the slice above it.
    const wide = Math.tan(POINT / 2);
    const below = path(p(-9, 3, -2), p(29, 3, -2), { face: 'back' });
    const beside = path(p(5.05, -3, 1), p(5.05, -3, 1), { cutter: drill, setup: 1 });
    const short = Math.round((3 - wide) * 1e6) / 1e6;
    expect(excesses([below, beside], [1, 2]).over).toEqual([[short, 2, 5, 1]]);
    // Above its shoulder it cuts all of its diameter.
    const full = 1 + 3 / wide;
    const upTo = path(p(-9, 3, -full), p(29, 3, -full), { face: 'back' });
    expect(excesses([upTo, beside], [1, full])).toEqual({ over: [], within: [] });
  });

  it('along a ramp is met where the ramp is low', () => {
    // From 2.5 at X 1 to 0 at X 11: at the middle of the lower half, 1.25, from X 6 on.
    const ramp = path(p(1, -3, 2.5), p(11, -3, 0));
    const short = Math.round((Math.hypot(6 - 5.05, 3) - 3) * 1e6) / 1e6;
    expect(excesses([ramp], [0, 2.5]).over).toEqual([[short, 0, 2.5, 0]]);
    expect(excesses([path(p(11, -3, 0), p(1, -3, 2.5))], [0, 2.5]).over).toEqual([[short, 0, 2.5, 0]]);
  });
});

it('a million heights beside a wall are thinned out, evenly over their range', () => {
  const { walls } = wallsOf(block);
  const gatherer = levelGatherer(walls);
  const frame = { face: 'front', zero: p(0, 0, 0) } as const;
  const setup: ProofSetup = { number: 1, frame, hold: frontHold, tools: cutters, text: '' };
  const motions = Array.from({ length: 20_001 }, (_, k): Motion => {
    const at = p(5, -3, k / 2000);
    return { kind: 'feed', from: at, to: at, feed: 1, tool: 1, speed: 1, line: k, label: -1 };
  });
  const tools = new Map([[1, mill]]);
  const heights = (): number[] => [...gatherer.levels().get(walls[0]!)!].sort((a, b) => a - b);
  gatherer.take(motions.slice(0, 20_000), setup, tools);
  expect(heights()).toHaveLength(20_000);
  gatherer.take(motions.slice(20_000), setup, tools);
  // 10 mm over 5000 steps.
  const kept = heights();
  expect(kept[0]).toBe(0);
  expect(kept.length).toBeGreaterThan(3500);
  expect(kept.length).toBeLessThan(5002);
  kept.slice(1).forEach((z, k) => {
    expect(z - kept[k]!).toBeGreaterThan(0.002 - 1e-9);
    expect(z - kept[k]!).toBeLessThan(0.003);
  });
});

describe('what holds the work', () => {
  const parallel = (low: number, high: number) =>
    indexRegion(rectangle({ x: 0, y: low }, { x: 20, y: high }));
  const holding: Holding = {
    underside: 0,
    jawTop: 1,
    jaws: null,
    faces: null,
    parallels: [parallel(2, 4)],
    bed: null,
    plate: null,
  };
  const small: Bar = { ...bar, corner: { x: 0, y: 0 }, width: 20, length: 20 };
  const said = (paths: readonly CutPath[], more: Partial<Holding> = {}) =>
    holdFindings(paths, [], { ...holding, ...more }, { number: 2 } as ProofSetup, small);
  const shift = (y: number, low = 2, high = 4): string =>
    said([path(p(9, y, -1), p(9, y, -1))], { parallels: [parallel(low, high)] }).findings[0]!.message.replace(
      /^.*drawing\. /,
      '',
    );
  it('is shifted clear of a plunge by the shorter way on which it still lies under the bar', () => {
    // A plunge at Y 4 takes 1 to 7: to 7.5 or, outside of the bar, to −1.5. The middle of the bar is at 10.
    expect(shift(4)).toBe("Shift that parallel 5.5 mm in Y, to 1.5 mm from the bar's middle.");
    expect(shift(8, 8, 10)).toBe("Shift that parallel 3.5 mm in Y, to 2.5 mm from the bar's middle.");
    expect(shift(10, 8, 10)).toBe("Shift that parallel 3.5 mm in Y, to 4.5 mm from the bar's middle.");
    expect(shift(8.5, 8, 10)).toBe("Shift that parallel 4.0 mm in Y, to 3.0 mm from the bar's middle.");
    // Neither way is there room for one 14 wide.
    expect(shift(9, 3, 17)).toBe('Move the parallel clear of the cut.');
  });
  it('is moved, nobody says how far, out of a cut that goes along', () => {
    expect(said([path(p(5, 4, -1), p(9, 4, -1))]).findings[0]!.message).toMatch(
      /Move the parallel clear of the cut\.$/,
    );
  });
  it('is told of by the deepest of each pass, with how many there were', () => {
    const at = (z: number): CutPath => path(p(9, 3, z), p(9, 3, z));
    const { findings, jawHits } = said([at(-0.5), at(-1.5), at(-1)], { jaws: parallel(2, 4), parallels: [] });
    expect(jawHits).toBe(3);
    expect(findings.map((f) => f.message)).toEqual([
      "Line 7 takes the cutter 2.50 mm into a vice jaw at X 9.00, Y 3.00 of the drawing (and 2 more in this pass): the tip is 2.50 mm below the jaws' tops.",
    ]);
  });
  it('has 2 mm under the work before a word is said, and a cone does not count', () => {
    const below = (z: number, cutter = mill): number =>
      said([path(p(9, 15, z), p(9, 15, z), { cutter })]).findings.length;
    expect([below(-1.99), below(-2.01)]).toEqual([0, 1]);
    const point = 3 / Math.tan(POINT / 2);
    expect([below(-1.99 - point, drill), below(-2.01 - point, drill)]).toEqual([0, 1]);
  });
});
