import fc from 'fast-check';
import { expect, test } from 'vitest';
import { onSheet, type Placement, scaledByTwo } from '../sketch/draft/tracing.ts';
import type { Point } from '../sketch/shape/point.ts';

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const point = (reach: number): fc.Arbitrary<Point> =>
  fc.record({ x: number(-reach, reach), y: number(-reach, reach) });
const placements: fc.Arbitrary<Placement> = fc.record({
  middle: point(200),
  scale: number(0.01, 2),
  turn: number(-4, 4),
  strength: number(0, 1),
});

test('two places of a picture come to lie at their true distance, the first where it was', () => {
  fc.assert(
    fc.property(
      placements,
      point(1000),
      point(1000),
      number(0.5, 500),
      fc.boolean(),
      (placement, p, q, distance, level) => {
        fc.pre(Math.hypot(p.x - q.x, p.y - q.y) > 5);
        const [first, second] = [onSheet(placement, p), onSheet(placement, q)];
        const next = scaledByTwo(placement, first, second, distance, level);
        if (!next) throw new Error('not scaled');
        const [a, b] = [onSheet(next, p), onSheet(next, q)];
        expect(Math.hypot(a.x - first.x, a.y - first.y)).toBeLessThan(1e-6);
        expect(Math.hypot(b.x - a.x, b.y - a.y)).toBeCloseTo(distance, 6);
        if (level) {
          expect(b.y).toBeCloseTo(a.y, 6);
          expect(b.x).toBeGreaterThan(a.x);
        } else expect(next.turn).toBe(placement.turn);
        expect(next.strength).toBe(placement.strength);
      },
    ),
  );
});

test.each([
  ['places that fall together', { x: 1, y: 1 }, 10],
  ['no distance', { x: 5, y: 1 }, 0],
  ['a distance less than none', { x: 5, y: 1 }, -3],
  ['a distance that is no number', { x: 5, y: 1 }, Number.NaN],
  ['a distance without end', { x: 5, y: 1 }, Number.POSITIVE_INFINITY],
])('%s give no scale', (_, second, distance) => {
  const placement = { middle: { x: 0, y: 0 }, scale: 1, turn: 0, strength: 1 };
  expect(scaledByTwo(placement, { x: 1, y: 1 }, second, distance, false)).toBe(null);
});
