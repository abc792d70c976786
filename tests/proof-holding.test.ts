import { describe, expect, it, test } from 'vitest';
import { indexRegion } from '../gcode/proof/distance.ts';
import { gougeOf, indexSolid } from '../gcode/proof/gouge.ts';
import { clearOf, hitOn, holdingOf } from '../gcode/proof/hold.ts';
import { levelGatherer } from '../gcode/proof/levels.ts';
import type { ProofSetup } from '../gcode/proof/proof.ts';
import { watchShanks } from '../gcode/proof/shank.ts';
import { stockBox } from '../gcode/proof/stock-box.ts';
import { wallsOf } from '../gcode/proof/wall-faces.ts';
import { samplesOn } from '../gcode/proof/wall-places.ts';
import type { Motion } from '../gcode/reading/motion.ts';
import type { Bar, Face } from '../sketch/part/part.ts';
import type { Solid } from '../sketch/part/solid.ts';
import type { Point3 } from '../sketch/shape/point.ts';
import { rectangle } from '../sketch/shape/region.ts';
import { line } from '../sketch/shape/segment.ts';
import type { Cutter } from '../toolpath/machine/cutter.ts';
import { type CutPath, cutPath } from '../toolpath/removal/cut-path.ts';
import { barMap, type HeightMap } from '../toolpath/removal/height-map.ts';
import { extentOf } from '../toolpath/removal/map-extent.ts';
import { frameOf } from '../toolpath/route/frame.ts';
import type { Hold, ViceHold } from '../toolpath/route/route.ts';
import { cutters, POINT } from './proof-plate.ts';

// How a small bar stands in the vice, what one motion hits, cuts into and rubs on, and at which heights walls hear of it.

const bar: Bar = {
  length: 20,
  width: 10,
  thickness: 5,
  material: 'brass',
  corner: { x: 2, y: 3 },
  sawn: 1,
};
const frames = { front: frameOf(bar, 'front', 'left-near'), back: frameOf(bar, 'back', 'left-near') };
const vice: ViceHold = {
  kind: 'vice',
  jaws: { from: 5, to: 15 },
  grip: 2,
  parallels: { height: 8, thickness: 2, offset: 3 },
  gripped: 'sides',
};
const held = (face: Face, map: HeightMap, hold: Hold = vice) =>
  holdingOf(bar, hold, frames[face], map, extentOf(map));
/** The cells of the bar over a rectangle of the drawing get other heights, from and to. */
const cut = (map: HeightMap, x: number, y: number, x1: number, y1: number, to: readonly [number, number]) => {
  for (let i = 0; i < map.top.length; i++) {
    const px = map.x0 + ((i % map.columns) + 0.5) * map.cell;
    const py = map.y0 + (Math.floor(i / map.columns) + 0.5) * map.cell;
    if (px > x && px < x1 && py > y && py < y1) [map.bottom[i], map.top[i]] = to;
  }
  return map;
};
const whole = (): HeightMap => barMap(bar, 0.5);
const all = (map: HeightMap, to: readonly [number, number]): HeightMap => cut(map, -99, -99, 99, 99, to);

describe('the vice', () => {
  it('closes on the bar, with its parallels either side of the middle and its bed under them', () => {
    const front = held('front', whole());
    expect([front.underside, front.jawTop, front.faces]).toEqual([0, 2, { low: 3, high: 13 }]);
    expect(front.jaws!.box).toEqual([5, 3 - 60, 15, 13 + 60]);
    expect(front.jaws!.segments).toHaveLength(8);
    expect(front.parallels.map((p) => p.box)).toEqual([
      [5, 8 - 3 - 1, 15, 8 - 3 + 1],
      [5, 8 + 3 - 1, 15, 8 + 3 + 1],
    ]);
    expect([front.bed!.height, front.bed!.plan.box]).toEqual([-8, [5, 8 - 120, 15, 8 + 120]]);
    expect(front.plate).toBeNull();
  });

  it('takes the work turned over by its top', () => {
    const back = held('back', whole());
    expect([back.underside, back.jawTop, back.bed!.height]).toEqual([-5, -3, -13]);
    const relieved = all(whole(), [1, 4]);
    expect(held('front', relieved).underside).toBe(1);
    expect(held('back', relieved).underside).toBe(-4);
    expect(held('front', all(whole(), [0, 0])).underside).toBe(0);
    expect(held('back', all(whole(), [0, 0])).underside).toBe(-5);
  });

  it('has one parallel in the middle, or none and then no bed', () => {
    const one = held('front', whole(), { ...vice, parallels: { height: 8, thickness: 2, offset: 0 } });
    expect(one.parallels.map((p) => p.box)).toEqual([[5, 7, 15, 9]]);
    const none = held('front', whole(), { ...vice, parallels: null });
    expect([none.parallels, none.bed]).toEqual([[], null]);
  });

  it('closes on what stands between its jaws, in their length and height alone', () => {
    const faces = (map: HeightMap, face: Face = 'front', grip = 2) =>
      held(face, map, { ...vice, grip }).faces;
    expect(faces(cut(whole(), 5, 3, 15, 5, [0, 0]))).toEqual({ low: 5, high: 13 });
    expect(faces(cut(whole(), 5, 11, 15, 14, [0, 0]))).toEqual({ low: 3, high: 11 });
    // Half a millimetre more of the bar stands where a jaw is: it touches there.
    expect(faces(cut(whole(), 5.5, 3, 15, 5, [0, 0]))).toEqual({ low: 3, high: 13 });
    expect(faces(cut(whole(), 5, 3, 14.5, 5, [0, 0]))).toEqual({ low: 3, high: 13 });
    // What ends under 0.01 above the underside, or begins under 0.01 below the jaws' tops, is not gripped.
    expect(faces(cut(whole(), 5, 3, 15, 5, [0, 0.005]))).toEqual({ low: 5, high: 13 });
    expect(faces(cut(whole(), 5, 3, 15, 5, [0, 0.02]))).toEqual({ low: 3, high: 13 });
    expect(faces(cut(whole(), 5, 3, 15, 5, [1.995, 5]))).toEqual({ low: 5, high: 13 });
    expect(faces(cut(whole(), 5, 3, 15, 5, [1.98, 5]))).toEqual({ low: 3, high: 13 });
    expect(faces(cut(whole(), 5, 3, 15, 5, [0, 3.005]), 'back')).toEqual({ low: 5, high: 13 });
    expect(faces(cut(whole(), 5, 3, 15, 5, [0, 3.02]), 'back')).toEqual({ low: 3, high: 13 });
    expect(faces(whole(), 'front', 0)).toBeNull();
    expect(held('front', cut(whole(), 5, 0, 15, 20, [0, 0])).jaws).toBeNull();
  });

  it('takes the bar by its own sides, whatever the cells', () => {
    // Cells of 0.7 end 0.5 beyond the bar.
    expect(held('front', barMap(bar, 0.7)).faces).toEqual({ low: 3, high: 13 });
  });
});

it('feet of a plate stand as high over the top of the work, whichever face it is', () => {
  const fastening = { kind: 'screws', thread: 'M4', places: [{ x: 6, y: 8, hole: null }] } as const;
  const screws: Hold = { kind: 'plate', fastening };
  const front = held('front', all(whole(), [1, 4]), screws);
  expect([front.underside, front.jawTop, front.plate!.up, front.plate!.glued]).toEqual([1, 1, 1, false]);
  // Heads of M4: 7 mm wide, 4 high (ISO 4762, from memory).
  expect(front.plate!.feet.map((f) => [f.top, f.pad])).toEqual([[8, 3.5]]);
  const back = held('back', all(whole(), [1, 4]), screws);
  expect([back.underside, back.plate!.up, back.plate!.feet[0]!.top]).toEqual([-4, -1, -1 + 4]);
  const tape = held('front', whole(), { kind: 'plate', fastening: { kind: 'tape', shear: 1, peel: 1 } });
  expect([tape.plate!.glued, tape.plate!.feet]).toEqual([true, []]);
  expect([clearOf(front), clearOf(back), clearOf(tape), clearOf(held('front', whole()))]).toEqual([
    8, 3, 0, 2,
  ]);
});

describe('the box of what stands', () => {
  const setup = (face: Face) => ({ frame: frames[face] }) as ProofSetup;
  const box = (map: HeightMap, face: Face = 'front') => {
    const { min, max } = stockBox(bar, map, extentOf(map), setup(face));
    return [...min, ...max].map((v) => Math.round(v * 1e6) / 1e6 + 0);
  };
  test('is told from program zero, the bar with its sawn ends', () => {
    expect(box(whole())).toEqual([-1, 0, -5, 21, 10, 0]);
    expect(box(whole(), 'back')).toEqual([-1, 0, -5, 21, 10, 0]);
    expect(box(barMap(bar, 0.7))).toEqual([-1, 0, -5, 21, 10, 0]);
  });
  test('is that of what is left, turned over too', () => {
    const map = whole();
    all(map, [0, 0]);
    cut(map, 4, 5, 7, 9, [1, 4]);
    expect(box(map)).toEqual([2, 2, -4, 5, 6, -1]);
    expect(box(map, 'back')).toEqual([2, 4, -4, 5, 8, -1]);
  });
  test('of nothing is nothing', () => {
    expect(box(all(whole(), [2, 2]))).toEqual([0, 0, 0, 0, 0, 0]);
  });
});

const mill: Cutter = cutters[0]!;
const drill: Cutter = cutters[2]!;
const tap: Cutter = { ...drill, kind: 'tap', number: 9 };
const p = (x: number, y: number, z: number): Point3 => ({ x, y, z });
const motion = (from: Point3, to: Point3, tool: number, kind: 'feed' | 'rapid' = 'feed'): Motion => ({
  kind,
  from,
  to,
  feed: 100,
  tool,
  speed: 1000,
  line: 7,
  label: -1,
});
/** A motion in the drawing's own X and Y and up from z 0, with a cutter of 6 mm. */
const flat = { face: 'front', zero: p(0, 0, 0) } as const;
const path = (from: Point3, to: Point3, cutter = mill, kind: 'feed' | 'rapid' = 'feed'): CutPath =>
  cutPath(motion(from, to, cutter.number, kind), cutter, flat, { setup: 0, pass: 0 });

describe('a hit', () => {
  const jaw = indexRegion(rectangle({ x: 0, y: 0 }, { x: 20, y: 10 }));
  const hit = (from: Point3, to: Point3, cutter = mill, top = 2) => {
    const found = hitOn(path(from, to, cutter), jaw, top);
    return found && { ...found, amount: Math.round(found.amount * 1e6) / 1e6 };
  };
  it('is the lesser of sideways and down, at the place on the obstacle that is nearest', () => {
    expect(hit(p(5, -2.5, 1), p(9, -2.5, 1))).toMatchObject({ amount: 0.5, at: { y: 0, z: 1 } });
    expect(hit(p(5, -2.5, 1.8), p(9, -2.5, 1.8))).toMatchObject({ amount: 0.2, at: { y: 0, z: 1.8 } });
    expect(hit(p(5, 5, -9), p(9, 5, -9))).toEqual({ amount: 3, at: p(5, 5, -9) });
  });
  it('is none that only rubs, by 0.01 sideways or down', () => {
    expect(hit(p(5, -2.995, 1), p(9, -2.995, 1))).toBeNull();
    expect(hit(p(5, -2.98, 1), p(9, -2.98, 1))?.amount).toBe(0.02);
    expect(hit(p(5, 5, 1.995), p(9, 5, 1.995))).toBeNull();
    expect(hit(p(5, 5, 1.98), p(9, 5, 1.98))?.amount).toBe(0.02);
    expect(hit(p(5, 5, 3), p(9, 5, 3))).toBeNull();
  });
  it('is looked for where the tip is below the obstacle, and no wider than the cone is there', () => {
    // It comes under the top at the half of its way, 2 mm before the wall.
    expect(hit(p(-13, 5, 12), p(-3, 5, -8))).toBeNull();
    expect(hit(p(-13, 5, 12), p(-2, 5, -8))?.amount).toBe(1);
    expect(hit(p(-2, 5, -8), p(-13, 5, 12))?.amount).toBe(1);
    // A drill of 118° is 1 mm tan 59° wide 1 mm above its tip.
    const wide = Math.tan(POINT / 2);
    expect(hit(p(-wide - 0.1, 5, 1), p(-wide - 0.1, 5, 1), drill)).toBeNull();
    expect(hit(p(-wide + 0.1, 5, 1), p(-wide + 0.1, 5, 1), drill)?.amount).toBeCloseTo(0.1, 6);
  });
});

describe('a gouge', () => {
  const block: Solid = {
    slabs: [{ bottom: 0, top: 5, region: rectangle({ x: 0, y: 0 }, { x: 20, y: 10 }) }],
  };
  const slabs = indexSolid(block);
  const gouge = (from: Point3, to: Point3, cutter = mill) => gougeOf(path(from, to, cutter), slabs);
  it('is made by every cutter but a tap', () => {
    expect(gouge(p(5, 5, 9), p(5, 5, 4), drill)?.amount).toBeCloseTo(1, 3);
    expect(gouge(p(5, 5, 9), p(5, 5, 4), tap)).toBeNull();
    expect(gouge(p(5, 5, 4), p(9, 5, 4))).toMatchObject({ amount: 1, by: 'end', at: p(5, 5, 4) });
  });
  it('sideways or down, whichever is less, at a height of the part', () => {
    expect(gouge(p(5, -2.9, 1), p(9, -2.9, 1))).toMatchObject({ by: 'side', at: { y: 0, z: 5 } });
    expect(gouge(p(5, -2.9, 1), p(9, -2.9, 1))!.amount).toBeCloseTo(0.1, 9);
    expect(gouge(p(5, -2.9, 4.95), p(9, -2.9, 4.95))).toMatchObject({ by: 'end', at: { y: -2.9, z: 4.95 } });
    expect(gouge(p(5, 5, -20), p(9, 5, -20))!.at.z).toBeGreaterThanOrEqual(0);
  });
  it('begins over 0.0002 mm', () => {
    expect(gouge(p(5, -2.9999, 1), p(9, -2.9999, 1))).toBeNull();
    expect(gouge(p(5, -2.9997, 1), p(9, -2.9997, 1))?.amount).toBeCloseTo(0.0003, 6);
    expect(gouge(p(5, 5, 4.9999), p(9, 5, 4.9999))).toBeNull();
    expect(gouge(p(5, 5, 4.9997), p(9, 5, 4.9997))?.amount).toBeCloseTo(0.0003, 6);
  });
  it('of nothing wanted there is none', () => {
    expect(gougeOf(path(p(5, 5, 1), p(9, 5, 1)), indexSolid({ slabs: [] }))).toBeNull();
    const empty: Solid = { slabs: [{ bottom: 0, top: 5, region: { contours: [] } }] };
    expect(gougeOf(path(p(5, 5, 1), p(9, 5, 1)), indexSolid(empty))).toBeNull();
  });
});

describe('a shank', () => {
  const block: Solid = {
    slabs: [{ bottom: 0, top: 5, region: rectangle({ x: 0, y: 0 }, { x: 20, y: 10 }) }],
  };
  const setup = { number: 3 } as ProofSetup;
  const rubs = (fluteLength: number, y: number, more: { kind?: 'feed' | 'rapid'; cutter?: Cutter } = {}) => {
    const watch = watchShanks(indexSolid(block), setup);
    const cutter = { ...(more.cutter ?? mill), fluteLength };
    watch.meet(path(p(5, y, 1), p(9, y, 1), cutter, more.kind));
    return watch
      .findings([{ step: 'edge', label: '', kind: 'rough' }])
      .map((f) => [f.message, f.at, f.feature]);
  };
  it('rubs where a wall within 0.03 mm stands over 0.05 mm above the flutes', () => {
    const [[message, at, feature]] = rubs(3, -3) as [[string, Point3, string]];
    expect(message).toMatch(
      /^The wall beside the 6\.00 mm endmill at X \d+\.00, Y 0\.00 .* stands 1\.00 mm above its 3\.00 mm flutes on line 7/,
    );
    expect([at.y, at.z, feature]).toEqual([0, 4, 'edge']);
    expect(rubs(3, -3.029)).toHaveLength(1);
    expect(rubs(3, -3.031)).toEqual([]);
    expect(rubs(3.94, -3)).toHaveLength(1);
    expect(rubs(3.96, -3)).toEqual([]);
    expect(rubs(3, -3, { kind: 'rapid' })).toEqual([]);
    expect(rubs(3, -3, { cutter: drill })).toEqual([]);
  });
});

describe('a wall hears of', () => {
  const block: Solid = {
    slabs: [{ bottom: 0, top: 5, region: rectangle({ x: 0, y: 0 }, { x: 20, y: 10 }) }],
  };
  const { walls } = wallsOf(block);
  const tools = new Map([mill, drill, tap].map((c) => [c.number, c]));
  const heard = (face: Face, ...motions: Motion[]): number[] => {
    const gatherer = levelGatherer(walls);
    const frame = { face, zero: p(0, 0, 5) };
    gatherer.take(motions, { number: 1, frame, hold: vice, tools: [], text: '' }, tools);
    return [...gatherer.levels().get(walls[0]!)!].map((z) => Math.round(z * 1e6) / 1e6).sort((a, b) => a - b);
  };
  const beside = (y: number, z0: number, z1 = z0) => [p(3, y, z0), p(9, y, z1)] as const;
  it('the tips of endmills at both ends of their ways, of level ones once', () => {
    expect(heard('front', motion(...beside(-3, -1), 1))).toEqual([4]);
    expect(heard('front', motion(...beside(-3, -1, -2), 1))).toEqual([3, 4]);
    expect(heard('front', motion(...beside(-3, -2, -1), 1), motion(...beside(-3, -1), 1))).toEqual([3, 4]);
    expect(heard('front', motion(...beside(-3, -1), 1), motion(...beside(-3, -1, -3), 1))).toEqual([2, 4]);
  });
  it('the shoulders of drills too, above their tips whichever face is up', () => {
    const point = 3 / Math.tan(POINT / 2);
    const rounded = (z: number): number => Math.round(z * 1e6) / 1e6;
    expect(heard('front', motion(p(3, -3, -4), p(3, -3, -4), 3))).toEqual([1, rounded(1 + point)]);
    expect(heard('back', motion(p(3, 3, -4), p(3, 3, -4), 3))).toEqual([rounded(9 - point), 9]);
    // The same height by another cutter is another shoulder.
    expect(heard('front', motion(...beside(-3, -4), 1), motion(...beside(-3, -4), 3))).toHaveLength(2);
  });
  it('nothing of rapids, taps and cutters that are not there', () => {
    expect(heard('front', motion(...beside(-3, -1), 1, 'rapid'))).toEqual([]);
    expect(heard('front', motion(...beside(-3, -1), 9))).toEqual([]);
    expect(heard('front', motion(...beside(-3, -1), 5))).toEqual([]);
  });
  it('what comes within 2 mm of it, on every side', () => {
    for (const [near, far] of [
      [beside(-4.99, -1), beside(-5.01, -1)],
      [beside(14.99, -1), beside(15.01, -1)],
      [
        [p(-4.99, 3, -1), p(-4.99, 5, -1)],
        [p(-5.01, 3, -1), p(-5.01, 5, -1)],
      ],
      [
        [p(24.99, 3, -1), p(24.99, 5, -1)],
        [p(25.01, 3, -1), p(25.01, 5, -1)],
      ],
      // In its box, and too far from all its sides, as in the middle of a wide part.
      [
        [p(24, 3, -1), p(25, 3, -1)],
        [p(24, 14, -1), p(25, 14, -1)],
      ],
    ] as const) {
      expect(heard('front', motion(near[0], near[1], 1))).toEqual([4]);
      expect(heard('front', motion(far[0], far[1], 1))).toEqual([]);
    }
  });
});

describe('places on a wall', () => {
  it('are its corner, looking half way between both walls, and one in each tenth of a millimetre', () => {
    const places = samplesOn(line({ x: 4, y: 0 }, { x: 4, y: 0.3 }), line({ x: 0, y: 0 }, { x: 4, y: 0 }));
    const half = Math.SQRT1_2;
    expect(
      places.map(({ place, outward }) =>
        [place.x, place.y, outward.x, outward.y].map((v) => Math.round(v * 1e9) / 1e9 + 0),
      ),
    ).toEqual([
      [4, 0, half, -half].map((v) => Math.round(v * 1e9) / 1e9),
      [4, 0.05, 1, 0],
      [4, 0.15, 1, 0],
      [4, 0.25, 1, 0],
    ]);
  });
  it('at the tip of a slit look as the wall after it does', () => {
    const [corner] = samplesOn(line({ x: 4, y: 0 }, { x: 0, y: 0 }), line({ x: 0, y: 0 }, { x: 4, y: 0 }));
    expect([corner!.outward.x + 0, corner!.outward.y]).toEqual([0, 1]);
  });
});
