import { describe, expect, it, test } from 'vitest';
import type { Point } from '../sketch/shape/point.ts';
import { NOTHING, type Path, type Region, rectangle } from '../sketch/shape/region.ts';
import { type Arc, arc, line, radiusOf, type Segment } from '../sketch/shape/segment.ts';
import { orderCuts } from '../toolpath/passes/front-order.ts';
import type { Cut } from '../toolpath/passes/fronts.ts';
import { farFromOpening, ofStep } from '../toolpath/passes/opening-reach.ts';
import type { Scene } from '../toolpath/passes/scene.ts';
import { evenly, loopsFed } from '../toolpath/passes/tooth-load.ts';
import type { JobStep } from '../toolpath/route/route.ts';

// What is cut before what, what lies too far off to be asked, and how fast each piece of a loop goes.

const at = (x: number, y: number): Point => ({ x, y });
const R = 3;

describe('cuts of fronts', () => {
  const cut = (front: number, from: Point, to: Point, before: Region = NOTHING): Cut => ({
    path: { segments: [line(from, to)] } satisfies Path,
    front,
    buried: [1],
    before,
  });
  const order = (cuts: readonly Cut[], start: Point | null): number[] =>
    orderCuts(cuts, R, start).map(({ cut: c }) => cuts.indexOf(c));

  it('begin with the nearest, and go on to the nearest from where each ends', () => {
    const cuts = [
      cut(1, at(50, 0), at(60, 0)),
      cut(1, at(0, 0), at(30, 0)),
      cut(1, at(5, 40), at(0, 40)),
      cut(1, at(32, 20), at(10, 36)),
    ];
    expect(order(cuts, at(1, 1))).toEqual([1, 0, 3, 2]);
    expect(order(cuts, at(31, 20))).toEqual([3, 2, 1, 0]);
    // Of two as near the one that comes first among them.
    const alike = [cut(1, at(10, 0), at(20, 0)), cut(1, at(-10, 0), at(-20, 0))];
    expect(order(alike, at(0, 0))).toEqual([0, 1]);
  });

  it('begin with the earliest front where the cutter is nowhere yet', () => {
    const cuts = [cut(3, at(0, 0), at(5, 0)), cut(1, at(90, 0), at(95, 0)), cut(2, at(40, 0), at(45, 0))];
    expect(order(cuts, null)[0]).toBe(1);
  });

  it('wait for earlier fronts that a rim could meet, on every side, and for no others', () => {
    const beside: readonly Point[] = [at(0, 5.9), at(0, -5.9), at(15.9, 0), at(-15.9, 0), at(14, 4)];
    for (const d of beside) {
      const early = cut(1, at(d.x, d.y), at(d.x + 10, d.y));
      const late = cut(2, at(0, 0), at(10, 0));
      expect(order([late, early], at(0, 0)), `${d.x} ${d.y}`).toEqual([1, 0]);
      // The order in which they are named makes no odds, and one front waits for itself least of all.
      expect(order([early, late], at(0, 0))).toEqual([0, 1]);
      expect(order([cut(1, at(0, 0), at(10, 0)), early], at(0, 0))).toEqual([0, 1]);
    }
    const apart: readonly Point[] = [at(0, 6.1), at(0, -6.1), at(16.1, 0), at(-16.1, 0), at(14.5, 4.5)];
    for (const d of apart) {
      const early = cut(1, at(d.x, d.y), at(d.x + 10, d.y));
      expect(order([cut(2, at(0, 0), at(10, 0)), early], at(0, 0)), `${d.x} ${d.y}`).toEqual([0, 1]);
    }
  });

  it('are gone to straight over what is swept, and over nothing else', () => {
    const stays = (swept: Region, start: Point | null, more: readonly Cut[] = []): boolean =>
      orderCuts([cut(2, at(20, 0), at(30, 0), swept), ...more], R, start)[0]!.stay;
    const strip = rectangle(at(-1, -1), at(21, 1));
    expect(stays(strip, at(0, 0))).toBe(true);
    expect(stays(strip, null)).toBe(false);
    expect(stays(NOTHING, at(0, 0))).toBe(false);
    expect(stays(strip, at(0, 5))).toBe(false);
    // Its edge counts, up to a few thousandths beyond.
    expect(stays(rectangle(at(0, 0), at(20, 4)), at(0, 0))).toBe(true);
    expect(stays(rectangle(at(-1, 0.005), at(21, 4)), at(0, 0))).toBe(true);
    expect(stays(rectangle(at(-1, 0.02), at(21, 4)), at(0, 0))).toBe(false);
    // A gap of half a millimetre in the middle is seen, and one at either end.
    const gap: Region = {
      contours: [
        ...rectangle(at(-1, -1), at(9.75, 1)).contours,
        ...rectangle(at(10.25, -1), at(21, 1)).contours,
      ],
    };
    expect(stays(gap, at(0, 0))).toBe(false);
    expect(stays(rectangle(at(0.1, -1), at(21, 1)), at(0, 0))).toBe(false);
    expect(stays(rectangle(at(-1, -1), at(19.9, 1)), at(0, 0))).toBe(false);
  });

  it('are not gone to past an earlier one that is still to come, if it is nearer to the way than two radii', () => {
    const everywhere = rectangle(at(-300, -300), at(300, 300));
    for (const turn of [0, 1, 2, 3]) {
      const turned = (x: number, y: number): Point => [at(x, y), at(-y, x), at(-x, -y), at(y, -x)][turn]!;
      // On the way from 21 to 40 along the turned X; the other begins far off and ends beside the way.
      const stays = (front: number, end: Point): boolean => {
        const other = cut(front, turned(-100, end.y), turned(end.x, end.y));
        const to = cut(2, turned(40, 0), turned(50, 0), everywhere);
        const [first] = orderCuts([other, to], R, turned(21, 0));
        expect(first!.cut).toBe(to);
        return first!.stay;
      };
      for (const side of [1, -1]) {
        expect(stays(1, at(25, side * 5.9)), `${turn}`).toBe(false);
        expect(stays(1, at(25, side * 6.1)), `${turn}`).toBe(true);
        expect(stays(1, at(16, side * 3)), `${turn}`).toBe(false);
        expect(stays(1, at(14.5, side * 3)), `${turn}`).toBe(true);
        // One that is no earlier may wait.
        expect(stays(2, at(25, side * 5.9))).toBe(true);
        expect(stays(3, at(25, side * 5.9))).toBe(true);
      }
    }
  });

  it('are gone to straight by a slanted way as by any other', () => {
    const lane: Region = {
      contours: [
        {
          segments: [
            line(at(-1, -2), at(31, 14)),
            line(at(31, 14), at(31, 16)),
            line(at(31, 16), at(-1, 0)),
            line(at(-1, 0), at(-1, -2)),
          ],
        },
      ],
    };
    const stays = (start: Point): boolean =>
      orderCuts([cut(1, at(30, 14.6), at(40, 20), lane)], R, start)[0]!.stay;
    expect(stays(at(0, -0.6))).toBe(true);
    expect(stays(at(0, -2.6))).toBe(false);
  });
});

describe('out of reach of an opening', () => {
  const scene = {
    part: {
      forks: [
        { name: 'other fork', mouth: at(-90, 95), depth: 1, width: 1, direction: 0 },
        { name: 'fork', mouth: at(10, 5), depth: 8, width: 4, direction: 0 },
      ],
      slots: [
        { name: 'other slot', from: at(-80, 0), to: at(-70, 0), width: 1 },
        { name: 'slot', from: at(30, 5), to: at(40, 9), width: 4 },
      ],
      holes: [
        { name: 'other hole', centre: at(-60, 0), diameter: 1 },
        { name: 'bore', centre: at(60, 5), diameter: 10 },
      ],
    },
    frame: { face: 'front', zero: { x: 0, y: 0, z: 0 } },
  } as unknown as Scene;
  const far = (step: object, min: Point, max: Point): boolean | undefined =>
    farFromOpening(scene, step as JobStep, 6)?.({ min, max });
  /** The box of all that is within reach, mm. */
  const edges = (step: object, x0: number, x1: number, y0: number, y1: number): void => {
    const [x, y] = [(x0 + x1) / 2, (y0 + y1) / 2];
    for (const [beyond, answer] of [
      [1e-6, true],
      [-1e-6, false],
    ] as const) {
      expect(far(step, at(x1 + beyond, y), at(x1 + 50, y))).toBe(answer);
      expect(far(step, at(x0 - 50, y), at(x0 - beyond, y))).toBe(answer);
      expect(far(step, at(x, y1 + beyond), at(x, y1 + 50))).toBe(answer);
      expect(far(step, at(x, y0 - 50), at(x, y0 - beyond))).toBe(answer);
    }
  };

  it('lies what is farther than its size and one and a half cutters from its places', () => {
    edges({ kind: 'fork', fork: 'fork' }, 10 - 21, 10 + 21, 5 - 21, 5 + 21);
    edges({ kind: 'slot', slot: 'slot' }, 30 - 11, 40 + 11, 5 - 11, 9 + 11);
    edges({ kind: 'pocket', hole: 'bore' }, 60 - 39, 60 + 39, 5 - 39, 5 + 39);
  });

  it('is not asked of steps that cut none', () => {
    expect(far({ kind: 'outline' }, at(0, 0), at(1, 1))).toBeUndefined();
  });

  it('is asked of the step that a release releases, and of any other by itself', () => {
    const [outline, release] = [
      { name: 'o', kind: 'outline' },
      { name: 'r', kind: 'release', of: 'o' },
    ];
    const steps = new Map([['o', outline]]) as unknown as Scene['steps'];
    expect(ofStep({ ...scene, steps }, release as JobStep)).toBe(outline);
    expect(ofStep({ ...scene, steps }, outline as JobStep)).toBe(outline);
    expect(ofStep({ ...scene, steps: new Map() }, release as JobStep)).toBe(release);
  });
});

describe('the feed of loops', () => {
  const loop = (x: number, turn: 1 | -1): Arc => arc(at(x, -4 * turn), at(x, 4 * turn), at(x, 0), turn > 0);
  const LIMIT = 1.2;

  test('is that of the limit in the first, and elsewhere by how deep each piece is buried, either way round alike', () => {
    const fed = [1, -1].map((turn) =>
      loopsFed(
        [loop(0, turn as 1 | -1), line(at(0, 4 * turn), at(1, -4 * turn)), loop(1, turn as 1 | -1)],
        R,
        LIMIT,
      ),
    );
    const [climb, conventional] = fed;
    expect(climb![0]).toEqual({ segment: loop(0, 1), buried: LIMIT });
    expect(climb![1]!.buried).toBe(0);
    expect(conventional!.map((f) => f.buried)).toEqual(climb!.map((f) => f.buried));
    // In front the cutter is a millimetre deep between two rounds of one size; nowhere much deeper.
    const reach = 7;
    const front = Math.acos((reach ** 2 - 5 ** 2 - R ** 2) / (2 * 5 * R));
    const most = Math.max(...climb!.slice(2).map((f) => f.buried));
    expect(most).toBeGreaterThanOrEqual(front - 1e-9);
    expect(most).toBeLessThan(front + 0.35);
    // The pieces make up the whole loop, one after another.
    const pieces = climb!.slice(2).map((f) => f.segment) as Arc[];
    expect(pieces.reduce((sum, p) => sum + p.sweep, 0)).toBeCloseTo(Math.PI, 9);
    pieces.forEach((p, k) => {
      expect(radiusOf(p)).toBeCloseTo(4, 9);
      if (k > 0)
        expect(Math.hypot(p.from.x - pieces[k - 1]!.to.x, p.from.y - pieces[k - 1]!.to.y)).toBeLessThan(1e-9);
    });
  });

  test('over what is cleared is that of no chip, on rounds that of the limit, and stays on what is very short', () => {
    const ways: readonly Segment[] = [line(at(0, 0), at(30, 0)), loop(0, 1), line(at(0, 0), at(0.01, 0))];
    expect(evenly(ways, LIMIT).map((f) => f.buried)).toEqual([0, LIMIT, Math.PI / 2]);
  });
});
