import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Point } from '../sketch/shape/point.ts';
import { EXACT, visitingOrder, wayLength } from '../toolpath/passes/visiting-order.ts';

const places = (least: number, most: number): fc.Arbitrary<Point[]> =>
  fc.array(
    fc.record({ x: fc.integer({ min: 0, max: 900 }), y: fc.integer({ min: 0, max: 300 }) }).map((p) => ({
      x: p.x / 10,
      y: p.y / 10,
    })),
    { minLength: least, maxLength: most },
  );

const ordered = (all: readonly Point[]): readonly Point[] => visitingOrder(all).map((i) => all[i]!);

/** Every order there is. */
const leastOfAll = (all: readonly Point[]): number => {
  const go = (way: readonly Point[], left: readonly Point[], so: number, best: number): number => {
    if (left.length === 0) return Math.min(so, best);
    let least = best;
    for (const p of left) {
      const last = way.at(-1);
      const length = so + (last ? Math.hypot(p.x - last.x, p.y - last.y) : 0);
      if (length < least) {
        least = go(
          [...way, p],
          left.filter((q) => q !== p),
          length,
          least,
        );
      }
    }
    return least;
  };
  return go([], all, 0, Number.POSITIVE_INFINITY);
};

test('every place is visited once', () => {
  fc.assert(
    fc.property(places(0, 40), (all) => {
      expect([...visitingOrder(all)].sort((a, b) => a - b)).toEqual(all.map((_, i) => i));
    }),
    { numRuns: 60 },
  );
});

test('up to eight places no order is shorter: every one is tried', () => {
  fc.assert(
    fc.property(places(2, 8), (all) => {
      expect(wayLength(ordered(all))).toBeCloseTo(leastOfAll(all), 9);
    }),
    { numRuns: 60 },
  );
});

test('where the shortest way is not looked for, what is found is within 3 % of it', () => {
  fc.assert(
    fc.property(places(9, EXACT), (all) => {
      const found = wayLength(visitingOrder(all, 0).map((i) => all[i]!));
      expect(found).toBeLessThanOrEqual(wayLength(ordered(all)) * 1.03);
    }),
    { numRuns: 60 },
  );
  // A square of 6 × 6 cannot be walked in less than 35 steps.
  const grid = Array.from({ length: 36 }, (_, i) => ({ x: (i % 6) * 10, y: Math.floor(i / 6) * 10 }));
  expect(wayLength(ordered(grid))).toBeLessThanOrEqual(350 * 1.03);
});

test('of a way that is not looked for no stretch is better turned round, nor up to three places moved elsewhere', () => {
  fc.assert(
    fc.property(places(9, 16), (all) => {
      const order = visitingOrder(all, 0);
      const lengthOf = (way: readonly number[]): number => wayLength(way.map((i) => all[i]!));
      const found = lengthOf(order) - 1e-6;
      for (let i = 0; i < order.length; i++)
        for (let j = i + 1; j <= order.length; j++) {
          const [stretch, rest] = [order.slice(i, j), [...order.slice(0, i), ...order.slice(j)]];
          const turned = [...stretch].reverse();
          expect(lengthOf([...order.slice(0, i), ...turned, ...order.slice(j)])).toBeGreaterThan(found);
          if (j - i > 3) continue;
          for (let k = 0; k <= rest.length; k++)
            for (const put of [stretch, turned])
              expect(lengthOf([...rest.slice(0, k), ...put, ...rest.slice(k)])).toBeGreaterThan(found);
        }
    }),
    { numRuns: 50 },
  );
});

test('of two ways alike in length the one is taken that ends with the place named first, the shortest; begins with it any other', () => {
  const row = [30, 0, 20, 10].map((x) => ({ x, y: 0 }));
  expect(visitingOrder(row)).toEqual([1, 3, 2, 0]);
  expect(visitingOrder(row, 0)).toEqual([0, 2, 3, 1]);
  expect(
    visitingOrder([
      { x: 9, y: 0 },
      { x: 0, y: 0 },
    ]),
  ).toEqual([0, 1]);
  expect(visitingOrder([])).toEqual([]);
});
