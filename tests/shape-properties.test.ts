import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { difference, intersection, union } from '../sketch/shape/boolean.ts';
import { offset } from '../sketch/shape/offset.ts';
import type { Point } from '../sketch/shape/point.ts';
import {
  contains,
  isEmpty,
  nearestBoundary,
  perimeter,
  type Region,
  regionArea,
  regionBox,
  signedDistance,
} from '../sketch/shape/region.ts';
import { directionAlong, pointAlong, segmentLength } from '../sketch/shape/segment.ts';
import { RECOVERY_TOLERANCE } from '../sketch/shape/tolerance.ts';
import { boundaryPoints, forks, simpleShapes, untidyIn } from './shape-samples.ts';

/** Nothing is said of places nearer than this to a boundary, mm. */
const BAND = RECOVERY_TOLERANCE;

const clearOf = (p: Point, ...regions: readonly Region[]): boolean =>
  regions.every((r) => (nearestBoundary(r, p)?.distance ?? 1) > BAND);

/** Places spread over all the regions, a little beyond them too. */
const gridOver = (regions: readonly Region[], count: number): readonly Point[] => {
  const boxes = regions.flatMap((r) => regionBox(r) ?? []);
  const x0 = Math.min(...boxes.map((b) => b.min.x)) - 0.5;
  const y0 = Math.min(...boxes.map((b) => b.min.y)) - 0.5;
  const x1 = Math.max(...boxes.map((b) => b.max.x)) + 0.5;
  const y1 = Math.max(...boxes.map((b) => b.max.y)) + 0.5;
  return Array.from({ length: count * count }, (_, k) => ({
    x: x0 + ((x1 - x0) * ((k % count) + 0.37)) / count,
    y: y0 + ((y1 - y0) * (Math.floor(k / count) + 0.61)) / count,
  }));
};

/** Places on the boundary behind which there is something: not on whiskers, of which the image may see all or nothing. */
const thickPoints = (region: Region): readonly Point[] =>
  region.contours.flatMap((c) =>
    c.segments.flatMap((s) => {
      const count = Math.max(2, Math.ceil(segmentLength(s) / 0.5));
      return Array.from({ length: count }, (_, k) => pointAlong(s, (k + 0.5) / count)).filter((p, k) => {
        const d = directionAlong(s, (k + 0.5) / count);
        return signedDistance(region, { x: p.x - d.y * BAND, y: p.y + d.x * BAND }) < -BAND / 2;
      });
    }),
  );

const pairs = fc.tuple(simpleShapes, simpleShapes);
const anyShape = fc.oneof(
  simpleShapes,
  forks,
  pairs.map(([a, b]) => union([a, b])),
  pairs.map(([a, b]) => difference(a, b)),
  fc.array(simpleShapes, { minLength: 3, maxLength: 6 }).map((shapes) => union(shapes)),
);

describe('unions, differences and intersections of random shapes', () => {
  test('are sound, and their areas include and exclude one another', () => {
    fc.assert(
      fc.property(pairs, ([a, b]) => {
        const [both, either, only] = [intersection(a, b), union([a, b]), difference(a, b)];
        for (const made of [both, either, only]) expect(untidyIn(made)).toEqual([]);
        const slack = 1e-3 * (perimeter(a) + perimeter(b));
        expect(Math.abs(regionArea(either) + regionArea(both) - regionArea(a) - regionArea(b))).toBeLessThan(
          slack,
        );
        expect(Math.abs(regionArea(only) + regionArea(both) - regionArea(a))).toBeLessThan(slack);
      }),
      { numRuns: 400 },
    );
  });

  test('hold just the places that they should', () => {
    fc.assert(
      fc.property(pairs, ([a, b]) => {
        const [both, either, only] = [intersection(a, b), union([a, b]), difference(a, b)];
        for (const p of gridOver([a, b], 12)) {
          if (!clearOf(p, a, b)) continue;
          const [inA, inB] = [contains(a, p), contains(b, p)];
          expect(contains(either, p)).toBe(inA || inB);
          expect(contains(both, p)).toBe(inA && inB);
          expect(contains(only, p)).toBe(inA && !inB);
        }
      }),
      { numRuns: 150 },
    );
  });

  test('have every boundary on a boundary they were made from', () => {
    fc.assert(
      fc.property(pairs, ([a, b]) => {
        for (const made of [intersection(a, b), union([a, b]), difference(a, b)]) {
          for (const p of boundaryPoints(made, 0.7)) {
            const near = Math.min(nearestBoundary(a, p)!.distance, nearestBoundary(b, p)!.distance);
            expect(near).toBeLessThan(BAND);
          }
        }
      }),
      { numRuns: 150 },
    );
  });
});

const distances = fc.oneof(
  fc.double({ min: -6, max: 6, noNaN: true }),
  fc.constantFrom(-3, -2.5, -1, -0.2, 0.2, 1, 2.5, 3, 8),
);

describe('a random shape moved outward or inward', () => {
  test('is sound, and its every boundary lies at the distance from the first', () => {
    fc.assert(
      fc.property(anyShape, distances, (shape, d) => {
        const made = offset(shape, d);
        expect(Math.abs(d) < 1e-9 ? [] : untidyIn(made)).toEqual([]);
        if (isEmpty(shape)) return;
        for (const p of boundaryPoints(made, 0.5))
          expect(Math.abs(signedDistance(shape, p) - d)).toBeLessThan(BAND);
      }),
      { numRuns: 400 },
    );
  });

  test('holds just the places nearer than the distance', () => {
    fc.assert(
      fc.property(anyShape, distances, (shape, d) => {
        if (isEmpty(shape)) return;
        const made = offset(shape, d);
        for (const p of gridOver([shape, made], 14)) {
          const away = signedDistance(shape, p);
          if (Math.abs(away - d) > BAND) expect(contains(made, p)).toBe(away < d);
        }
      }),
      { numRuns: 200 },
    );
  });

  test('holds the first shape again when it is moved out and back in', () => {
    fc.assert(
      fc.property(anyShape, fc.double({ min: 0.1, max: 5, noNaN: true }), (shape, d) => {
        const closed = offset(offset(shape, d), -d);
        const opened = offset(offset(shape, -d), d);
        expect(regionArea(difference(shape, closed))).toBeLessThan(2e-3 * perimeter(shape) + 1e-9);
        expect(regionArea(difference(opened, shape))).toBeLessThan(2e-3 * perimeter(shape) + 1e-9);
        for (const p of thickPoints(shape)) expect(signedDistance(closed, p)).toBeLessThan(2 * BAND);
        for (const p of thickPoints(opened)) expect(signedDistance(shape, p)).toBeLessThan(2 * BAND);
      }),
      { numRuns: 200 },
    );
  });
});
