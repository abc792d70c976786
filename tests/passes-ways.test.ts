import { describe, expect, it } from 'vitest';
import { difference } from '../sketch/shape/boolean.ts';
import type { Point } from '../sketch/shape/point.ts';
import { NOTHING, type Path, polygon, type Region, rectangle, regionArea } from '../sketch/shape/region.ts';
import { arc, line } from '../sketch/shape/segment.ts';
import { bitesAlong } from '../toolpath/passes/bites.ts';
import { lowCrossing } from '../toolpath/passes/crossing.ts';
import { sweptBy, withoutOverrun } from '../toolpath/passes/overrun.ts';
import { takePen } from '../toolpath/passes/pen.ts';
import { withShortRunUp } from '../toolpath/passes/run-up.ts';
import { EVERYWHERE } from '../toolpath/passes/scene.ts';
import { edgeOf, withoutTail } from '../toolpath/passes/tail.ts';
import { feedThrough, followThrough } from '../toolpath/passes/through.ts';
import { stockBetween, type Workpiece } from '../toolpath/passes/workpiece.ts';
import { clearingOf, walledBy } from './passes-samples.ts';

// Ways to a cut, through it and away from it, about one block from X 0 to 20: where a cutter of 6 mm begins to bite, how
// it steps in, where it may end, and how fast it goes where nothing stands.

const at = (x: number, y: number): Point => ({ x, y });
const way = (...places: readonly (readonly [number, number])[]): Path => ({
  segments: places.slice(1).map(([x, y], k) => line(at(...places[k]!), at(x, y))),
});
const BLOCK = rectangle(at(0, -10), at(20, 10));
const two = (other: Region): Region => ({ contours: [...BLOCK.contours, ...other.contours] });

describe('a cutter bites', () => {
  const bites = (path: Path, standing: Region = BLOCK, radius = 3) =>
    bitesAlong(path, { radius, standing }).map(({ from, to }) => [from, to]);

  it('from where its rim comes to the work until its sides are out of it, to a tenth', () => {
    // At X −2.994 its rim is there, at X 20 the foremost half has left.
    expect(bites(way([-10, 0], [40, 0]))).toEqual([[7, 30.1]]);
    expect(bites(way([-10, 0], [10, 0]))).toEqual([[7, 20]]);
    expect(bites(way([10, 0], [40, 0]))).toEqual([[0, 10.1]]);
    expect(bites(way([-10, 0], [110, 0]), rectangle(at(0, -50), at(100, 50)))).toEqual([[7, 110.1]]);
    expect(bites(way([-10, 0], [80, 0]), two(rectangle(at(40, -10), at(50, 10))))).toEqual([
      [7, 30.1],
      [47, 60.1],
    ]);
  });

  it('beside a wall where that is thicker than a film', () => {
    // 2.9 from the wall’s corner it is 0.77 before it.
    expect(bites(way([-10, 12.9], [40, 12.9]))).toEqual([[9, 30.1]]);
    expect(bites(way([-10, 12.995], [40, 12.995]))).toEqual([]);
    expect(bites(way([-10, 30], [40, 30]))).toEqual([]);
    expect(bites(way([-10, 0], [40, 0]), NOTHING)).toEqual([]);
  });

  it('not into what its own way has taken, and into what that has left', () => {
    expect(bites(way([-10, 0], [30, 0], [-10, 0]))).toEqual([[7, 30.1]]);
    // Back 2 and 6 mm beside the way there, whose turn is as long.
    expect(bites(way([-10, 0], [30, 0], [30, 2], [-10, 2]))).toEqual([
      [7, 30.1],
      [49, 72.1],
    ]);
    expect(bites(way([-10, 0], [30, 0], [30, 6.02], [-10, 6.02]))).toEqual([
      [7, 30.1],
      [53, 76.1],
    ]);
  });

  it('all round where it goes down', () => {
    expect(bites(way([22, 0], [40, 0]))).toEqual([[0, 0.2]]);
    expect(bites(way([24, 0], [40, 0]))).toEqual([]);
  });

  it('on a round as on a straight way', () => {
    // Over the top of a round of 6 mm stands a post 2 wide: 1 and 2 mm to either side of 9.42 along it.
    const round = { segments: [arc(at(-6, 0), at(6, 0), at(0, 0), false)] };
    expect(bites(round, rectangle(at(-1, 5), at(1, 20)), 2)).toEqual([[6.1, 10.4]]);
  });
});

describe('through what is gone', () => {
  const run = (bites: readonly (readonly [number, number])[], terms: { feed: number; through?: number }) => {
    const pen = takePen(5);
    pen.feedTo({ x: 0, y: 0, z: 0 }, 1);
    const stretches = bites.map(([from, to]) => ({ from, to }));
    followThrough(pen, way([0, 0], [50, 0]), stretches, { ...terms, plungeFeed: 1, ramp: 1 });
    return pen
      .moves()
      .slice(1)
      .map((m) => (m.kind === 'feed' ? [Number(m.to.x.toFixed(6)), m.feed] : []));
  };

  it('it goes fast from a tenth behind a bite to half a millimetre before the next, where that is over 2 mm', () => {
    const fast = { feed: 100, through: 800 };
    expect(run([[10, 20]], fast)).toEqual([
      [9.5, 800],
      [20.1, 100],
      [50, 800],
    ]);
    expect(run([], fast)).toEqual([[50, 800]]);
    expect(run([[0, 50]], fast)).toEqual([[50, 100]]);
    expect(run([[2.5, 47.9]], fast)).toEqual([[50, 100]]);
    expect(run([[2.6, 47.9]], fast)).toEqual([
      [2.1, 800],
      [50, 100],
    ]);
    expect(run([[0, 47.8]], fast)).toEqual([
      [47.9, 100],
      [50, 800],
    ]);
    expect(
      run(
        [
          [5, 9],
          [11.5, 20],
          [22.7, 49],
        ],
        fast,
      ),
    ).toEqual([
      [4.5, 800],
      [20.1, 100],
      [22.2, 800],
      [50, 100],
    ]);
  });

  it('a hand turns on evenly, and so does a machine that goes no faster', () => {
    expect(run([[10, 20]], { feed: 100 })).toEqual([[50, 100]]);
    expect(run([[10, 20]], { feed: 100, through: 100 })).toEqual([[50, 100]]);
    const feeds = [{}, { through: 800 }, { through: 80 }].map((t) =>
      feedThrough({ feed: 100, plungeFeed: 1, ramp: 1, ...t }),
    );
    expect(feeds).toEqual([100, 800, 100]);
  });
});

describe('to the work', () => {
  const stepped = (path: Path, keepOut: Region = NOTHING): string =>
    withShortRunUp(path, { radius: 3, standing: BLOCK, keepOut })
      .segments.flatMap((s, k) => (k === 0 ? [s.from, s.to] : [s.to]))
      .map((p) => `${p.x.toFixed(2)},${p.y.toFixed(2)}`)
      .join(' ');
  const beside = way([-30, 12], [30, 12]);

  it('it steps in from straight beside, a tenth before its first bite', () => {
    // 2 mm over the corner it bites from 2.2 before that; from there away from the corner by 0.6.
    expect(stepped(beside)).toBe('-2.75,12.39 -2.30,12.00 30.00,12.00');
    expect(stepped(way([-30, 0], [30, 0]))).toBe('-3.60,0.00 -3.00,0.00 30.00,0.00');
  });

  it('it steps in from an eighth of a turn to the left or to the right where something is in the way', () => {
    const [ahead, left, right] = [
      rectangle(at(-20, 15.36), at(30, 30)),
      rectangle(at(-20, 15.1), at(-2.3, 30)),
      rectangle(at(-30, -2), at(-5, 10)),
    ];
    expect(stepped(beside, ahead)).toBe('-2.90,11.96 -2.30,12.00 30.00,12.00');
    expect(stepped(beside, { contours: [...ahead.contours, ...right.contours] })).toBe(
      '-30.00,12.00 30.00,12.00',
    );
    const post = rectangle(at(-6, 14.3), at(-4.95, 16));
    expect(stepped(beside, { contours: [...post.contours, ...right.contours] })).toBe(
      '-2.34,12.60 -2.30,12.00 30.00,12.00',
    );
    expect(stepped(beside, left)).toBe('-2.90,11.96 -2.30,12.00 30.00,12.00');
    expect(stepped(beside, right)).toBe('-2.75,12.39 -2.30,12.00 30.00,12.00');
    expect(stepped(way([-30, 0], [30, 0]), rectangle(at(-40, 3.2), at(-3, 9)))).toBe(
      '-3.60,0.00 -3.00,0.00 30.00,0.00',
    );
    const behind = rectangle(at(-40, -9), at(-6.5, 9));
    expect(stepped(way([-30, 0], [30, 0]), behind)).toBe('-3.42,-0.42 -3.00,0.00 30.00,0.00');
    const low = rectangle(at(-40, -9), at(-6.4, -0.2));
    expect(stepped(way([-30, 0], [30, 0]), { contours: [...behind.contours, ...low.contours] })).toBe(
      '-3.42,0.42 -3.00,0.00 30.00,0.00',
    );
  });

  it('it stays where it bites within 0.8 mm, or not before its end, or begins in the work', () => {
    for (const path of [way([-3.6, 0], [30, 0]), way([-30, 0], [-2.9, 0]), way([-2, 0], [30, 0])])
      expect(withShortRunUp(path, { radius: 3, standing: BLOCK, keepOut: NOTHING })).toBe(path);
    expect(stepped(way([-3.88, 0], [30, 0]))).toBe('-3.58,0.00 -2.98,0.00 30.00,0.00');
    expect(stepped(way([-30, 0], [-2.8, 0]))).toBe('-3.60,0.00 -3.00,0.00 -2.80,0.00');
    const round = { segments: rectangle(at(-40, -40), at(60, 12)).contours[0]!.segments };
    expect(withShortRunUp(round, { radius: 3, standing: BLOCK, keepOut: NOTHING })).toBe(round);
  });
});

describe('from the work', () => {
  const target = rectangle(at(0, -20), at(40, 20));
  const end = (path: Path, of: Region = target, radius = 4): string => {
    const { x, y } = withoutTail(path, edgeOf(of), radius).segments.at(-1)!.to;
    return `${x.toFixed(1)},${y.toFixed(1)}`;
  };

  it('it ends two tenths behind where its middle is over the edge', () => {
    expect(end(way([-4, 0], [44.6, 0]))).toMatch(/^40\.[12],0\.0$/);
    expect(end(way([-4, 0], [44, 0]))).toBe('40.2,0.0');
    expect(end(way([10, 0], [30, 0], [30, 10], [44.6, 10]))).toMatch(/^40\.[12],10\.0$/);
    // Where it ends in the work it stays.
    expect(end(way([-4, 0], [43.99, 0]))).toBe('44.0,0.0');
  });

  it('it goes on as far as its sides have something to sweep', () => {
    // A notch whose edges run out to either side by half as much as they are off its middle: 4 mm off, 2 mm farther.
    const notch = { contours: [polygon([at(0, -20), at(40, -20), at(30, 0), at(40, 20), at(0, 20)])] };
    const [x] = end(way([-4, 0], [36.6, 0]), notch)
      .split(',')
      .map(Number);
    expect(x).toBeGreaterThan(31.4);
    expect(x).toBeLessThan(32.2);
  });

  it('it looks no farther back than two radii and two millimetres', () => {
    expect(end(way([-4, 0], [90, 0]))).toBe('80.2,0.0');
  });

  it('it is no shorter than a tenth, nor by less', () => {
    expect(end(way([39.95, 0], [44.2, 0]))).toMatch(/^40\.[12]/);
    expect(end(way([-4, 0], [0.27, 0]), rectangle(at(-9, -1), at(0, 1)), 0.25)).toBe('0.3,0.0');
    expect(edgeOf(rectangle(at(0, 0), at(1, 0.5))).places).toHaveLength(2 * 10 + 2 * 5);
  });
});

describe('between cuts', () => {
  const bar = rectangle(at(0, 0), at(60, 20));
  const pocket = { target: rectangle(at(0, 8), at(20, 12)), keep: NOTHING, plate: bar };
  const terms = { radius: 2, allowance: 0, stepover: 1, direction: 'climb' as const };
  const low = { x: 5, y: 10, z: -4 };
  const floor: Workpiece = { stock: [{ bottom: -10, top: -4, region: bar }], wanted: [] };

  it('it crosses half a millimetre over the floor, below the clear height, with no bridge and no wall beside', () => {
    const cross = (more: object = {}, from = low, ceiling: number | null = -4) =>
      lowCrossing(floor, clearingOf(pocket, terms, more), from, at(50, 10), ceiling);
    expect(cross()).toBe(-3.5);
    expect(cross({}, low, null)).toBe(-3.5);
    expect(cross({ clearHeight: -3.5 })).toBeUndefined();
    expect(cross({ clearHeight: -3.49 })).toBe(-3.5);
    expect(cross({}, { ...low, z: 5 })).toBeUndefined();
    const strip = rectangle(at(0, 0), at(1, 1));
    const bridge = (z: number) => ({ at: at(0, 0), outward: at(0, 1), length: 1, z, strip });
    expect(cross({ bridges: [bridge(-3)] })).toBeUndefined();
    expect(cross({ bridges: [bridge(-4)] })).toBe(-3.5);
    // A wall 2.6 off the way leaves what is usual, 2.5 does not; at its ends it may lie at the cutter's side.
    const wall = (x: number, y: number) => ({
      keepOut: () => walledBy(rectangle(at(x, y), at(x + 4, y + 5))),
    });
    expect(cross(wall(20, 12.6))).toBe(-3.5);
    expect(cross(wall(20, 12.5))).toBeUndefined();
    expect(cross(wall(1, 10))).toBeUndefined();
    expect(cross(wall(-1, 10))).toBe(-3.5);
  });

  it('it knows what a lap has cut beyond its area, but not where the part stands', () => {
    const ran = [{ path: way([-3, 10], [23, 10]) }];
    const work: Workpiece = { stock: [{ bottom: -10, top: 0, region: bar }], wanted: [] };
    const gone = (more: object): number => {
      const after = withoutOverrun(work, clearingOf(pocket, terms, more), ran, -4);
      return regionArea(difference(bar, stockBetween(after, -4, 1e6)));
    };
    const half = 23 * 4 + 2 * Math.PI;
    expect(gone({ area: pocket.target })).toBeCloseTo(half, 4);
    const keep = rectangle(at(22, 0), at(60, 20));
    expect(gone({ area: pocket.target, keepOut: () => walledBy(keep) })).toBeCloseTo(22 * 4, 2);
    expect(gone({ area: EVERYWHERE })).toBeCloseTo(0, 9);
    expect(withoutOverrun(work, clearingOf(pocket, terms, { area: pocket.target }), [], -4)).toBe(work);
    expect(sweptBy([], 2)).toBe(NOTHING);
    expect(regionArea(sweptBy(ran, 2))).toBeCloseTo(26 * 4 + 4 * Math.PI, 4);
  });
});
