import { describe, expect, it, test } from 'vitest';
import { type Point, polar } from '../sketch/shape/point.ts';
import { disc, NOTHING, type Path, type Region, rectangle } from '../sketch/shape/region.ts';
import { arc, line, nearestOn, type Segment } from '../sketch/shape/segment.ts';
import { boxed, nearTo, within } from '../toolpath/passes/near-segments.ts';
import { buriedAlong, type Ground } from '../toolpath/passes/rim.ts';

// How deep a rim is buried on its way, against closed forms. The rim is seen to about half a degree.

const R = 3;
const SEEN = (0.7 * Math.PI) / 180;
/** Next to what is swept so much counts as gone, mm. */
const FILM = 0.006;
const at = (x: number, y: number): Point => ({ x, y });
const path = (...places: Point[]): Path => ({
  segments: places.slice(1).map((to, k) => line(places[k]!, to)),
});
const everywhere = rectangle(at(-100, -100), at(100, 100));
const buried = (
  way: Path,
  standing: Region,
  more: Partial<Ground> = {},
  enough?: number,
): readonly number[] => buriedAlong(way, { standing, swept: NOTHING, radius: R, ...more }, enough);
/** `ends` is the number of places where the rim goes into the material or out of it. */
const near = (found: number | undefined, angle: number, ends = 1): void => {
  expect(found).toBeDefined();
  expect(Math.abs(found! - angle)).toBeLessThan(ends * SEEN);
};

describe('the rim is buried', () => {
  test('by half in the full material, and not at all in the air or over what is swept', () => {
    near(buried(path(at(-20, 0), at(20, 0)), everywhere)[0], Math.PI);
    expect(buried(path(at(-20, 3.1), at(20, 3.1)), rectangle(at(-50, -50), at(50, 0)))).toEqual([0]);
    // On the edge of where its middle has been all is gone that it comes by.
    const swept = rectangle(at(-50, 0), at(50, 10));
    expect(buried(path(at(-20, 0), at(20, 0)), everywhere, { swept })).toEqual([0]);
  });

  test.each([0.3, 1.2, 2.7])('by arccos (1 − e / r) beside a channel, %s mm at once, on either side', (e) => {
    const swept = rectangle(at(-60, 0), at(60, 8));
    const angle = Math.acos(1 - (e - FILM) / R);
    near(buried(path(at(-20, -e), at(20, -e)), everywhere, { swept })[0], angle);
    near(buried(path(at(20, 8 + e), at(-20, 8 + e)), everywhere, { swept })[0], angle);
    near(buried(path(at(-20, 8 + e), at(20, 8 + e)), everywhere, { swept })[0], angle);
  });

  test.each([0.5, 1.5])('by the closed form of two circles round a boss, %s mm at once', (e) => {
    const boss = 10;
    const far = boss + R - e;
    const half = Math.acos((far ** 2 + R ** 2 - boss ** 2) / (2 * far * R));
    for (const anticlockwise of [true, false]) {
      const round = arc(at(far, 0), at(-far, 0), at(0, 0), anticlockwise);
      near(buried({ segments: [round] }, disc(at(0, 0), boss))[0], half);
    }
  });

  test('by 2 arccos (1 − d / r) where it first bites into an edge, whichever way it goes', () => {
    for (const [depth, way] of [0, 1, 2.5, 4].entries()) {
      const d = 0.4 + 0.5 * depth;
      const [from, to] = [polar(at(0, 0), R + 5, way), polar(at(0, 0), R - d, way)];
      // Material on the other side of a line square to the way, through the origin.
      const [a, b] = [polar(at(0, 0), 50, way + Math.PI / 2), polar(at(0, 0), 50, way - Math.PI / 2)];
      const [c, e] = [polar(b, 50, way + Math.PI), polar(a, 50, way + Math.PI)];
      const standing: Region = { contours: [{ segments: path(a, e, c, b, a).segments }] };
      near(buried(path(from, to), standing)[0], 2 * Math.acos(1 - d / R), 2);
    }
  });

  test('by each segment of its own; the first that is over what is enough is the last that is looked at', () => {
    const standing = rectangle(at(0, -100), at(100, 100));
    const way = path(at(-20, 0), at(-10, 0), at(-2, 0), at(30, 0), at(40, 0));
    const all = buried(way, standing);
    expect(all).toHaveLength(4);
    expect(all[0]).toBe(0);
    near(all[1], 2 * Math.acos(2 / 3), 2);
    near(all[2], Math.PI);
    const cut = buried(way, standing, {}, 2);
    expect(cut).toHaveLength(3);
    expect(cut[2]).toBeGreaterThan(2);
    expect(buried(way, standing, {}, 4)).toEqual(all);
  });

  /** In along X, over by `over`, and back beside the way in, with idle ends far off on both sides. */
  const turning = (over: number, steps: number): Path =>
    path(
      at(0, 0),
      at(20, 0),
      ...Array.from({ length: steps }, (_, k) => at(20, (over * (k + 1)) / steps)),
      at(3, over),
      ...Array.from({ length: 8 }, (_, k) => at(200 + k, over)),
    );

  test('beside its own way in by what is left there, as long as no more than six segments lie between', () => {
    const over = 2;
    for (const steps of [1, 4, 5]) {
      const back = buried(turning(over, steps), everywhere)[1 + steps];
      // At the turn it still stands in what it has cut itself.
      near(back, Math.acos(1 - (over - FILM) / R));
    }
    // Farther back than that is not looked, so that more seems to stand than does.
    expect(buried(turning(over, 7), everywhere)[8]).toBeGreaterThan(3);
  });
});

describe('segments about a place', () => {
  const pieces: readonly Segment[] = [
    line(at(0, 0), at(10, 0)),
    line(at(10, 0), at(10, 10)),
    line(at(-7, 3), at(-2, -9)),
    arc(at(5, 20), at(-5, 20), at(0, 20), true),
    arc(at(25, 0), at(20, 5), at(20, 0), false),
    arc(at(30, 20), at(20, 10), at(20, 20), true),
    arc(at(-20, 15), at(-25, 20), at(-20, 20), false),
    arc(at(-20, -15), at(-15, -20), at(-20, -20), false),
  ];

  it('are within reach where their nearest place is, and no farther', () => {
    for (const one of pieces) {
      for (let x = -34; x <= 34; x += 3.4) {
        for (let y = -34; y <= 34; y += 3.4) {
          const d = nearestOn(one, at(x, y)).distance;
          if (d < 1e-6) continue;
          expect(within([one], x, y, d * (1 + 1e-9))).toBe(true);
          expect(within([one], x, y, d * (1 - 1e-9))).toBe(false);
        }
      }
    }
    expect(within([], 0, 0, 1e9)).toBe(false);
    expect(within(pieces, 5, 0.5, 0.6)).toBe(true);
    expect(within(pieces, 20, -30, 3)).toBe(false);
  });

  it('are all those whose boxes come near enough, on every side, edges included', () => {
    const square = boxed(rectangle(at(0, 0), at(10, 4)));
    const ofLine = (x: number, y: number, reach: number): string[] =>
      nearTo(square, at(x, y), reach).map(({ from, to }) => `${from.x},${from.y} ${to.x},${to.y}`);
    const [low, right, high, left] = ['0,0 10,0', '10,0 10,4', '10,4 0,4', '0,4 0,0'];
    expect(ofLine(5, 2, 2)).toEqual([low, high]);
    expect(ofLine(5, 2, 1.99)).toEqual([]);
    expect(ofLine(5, 2, 5)).toEqual([low, right, high, left]);
    expect(ofLine(5, -1, 1)).toEqual([low]);
    expect(ofLine(5, 5, 1)).toEqual([high]);
    expect(ofLine(5, 5.01, 1)).toEqual([]);
    expect(ofLine(12, 2, 2)).toEqual([low, right, high]);
    expect(ofLine(-2, 2, 2)).toEqual([low, high, left]);
    expect(ofLine(-2, 2, 1.99)).toEqual([]);
  });
});
