import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { difference, intersection, union } from '../sketch/shape/boolean.ts';
import { clipPath } from '../sketch/shape/clip-path.ts';
import { components } from '../sketch/shape/components.ts';
import { intersections } from '../sketch/shape/intersections.ts';
import { offset } from '../sketch/shape/offset.ts';
import { distance, type Point } from '../sketch/shape/point.ts';
import {
  disc,
  nearestBoundary,
  type Path,
  pathLength,
  perimeter,
  type Region,
  rectangle,
  regionArea,
  segmentsOf,
  signedDistance,
} from '../sketch/shape/region.ts';
import { arc, circle, line, pointAlong, radiusOf, segmentLength } from '../sketch/shape/segment.ts';
import { thicken } from '../sketch/shape/thicken.ts';
import { faultsOf, forks, roundedRectangle, simpleShapes, twoEnded } from './shape-samples.ts';

/** The largest difference between the radii of an arc's two ends, mm. */
const worstRadii = (region: Region): number =>
  segmentsOf(region).reduce(
    (worst, s) =>
      s.kind === 'arc' ? Math.max(worst, Math.abs(radiusOf(s) - distance(s.to, s.centre))) : worst,
    0,
  );

/** Shapes with whole and half sizes on a grid, so that they touch, and lie on one another, as often as not. */
const half = (min: number, max: number) => fc.integer({ min: 2 * min, max: 2 * max }).map((n) => n / 2);
const gridPlace: fc.Arbitrary<Point> = fc.record({ x: half(-10, 10), y: half(-6, 6) });
const gridShapes: fc.Arbitrary<Region> = fc.oneof(
  fc.record({ centre: gridPlace, radius: half(1, 5) }).map(({ centre, radius }) => disc(centre, radius)),
  fc
    .record({ centre: gridPlace, width: half(2, 12), height: half(2, 8), radius: half(0, 1) })
    .map(({ centre, width, height, radius }) => roundedRectangle(centre, width, height, radius)),
  fc
    .record({ a: gridPlace, b: gridPlace, ra: half(1, 4), rb: half(1, 4) })
    .filter(({ a, b, ra, rb }) => distance(a, b) > Math.abs(ra - rb) + 0.1)
    .map(({ a, b, ra, rb }) => twoEnded(a, ra, b, rb)),
);

describe('corners put back', () => {
  test('lie on both curves: every arc has one radius at both ends, also where shapes touch and coincide', () => {
    fc.assert(
      fc.property(
        fc.array(fc.oneof(gridShapes, simpleShapes), { minLength: 2, maxLength: 5 }),
        fc.oneof(gridShapes, forks),
        half(-2, 4),
        (shapes, other, d) => {
          const whole = union(shapes);
          for (const made of [
            whole,
            difference(whole, other),
            intersection(whole, other),
            offset(whole, d),
          ]) {
            expect(faultsOf(made)).toEqual([]);
            expect(worstRadii(made)).toBeLessThan(1e-6);
          }
        },
      ),
      { numRuns: 250 },
    );
  });

  test('lie where a line cuts a disc, however shallow', () => {
    for (const depth of [0.003, 0.01, 0.05, 0.3, 2]) {
      const r = 20;
      const cap = intersection(
        disc({ x: 1, y: 2 }, r),
        rectangle({ x: -40, y: 2 + r - depth }, { x: 40, y: 40 }),
      );
      expect(
        segmentsOf(cap)
          .map((s) => s.kind)
          .sort(),
      ).toEqual(['arc', 'line']);
      const chord = segmentsOf(cap).find((s) => s.kind === 'line')!;
      expect(segmentLength(chord)).toBeCloseTo(2 * Math.sqrt(2 * r * depth - depth * depth), 8);
      const angle = 2 * Math.acos(1 - depth / r);
      expect(regionArea(cap)).toBeCloseTo((r * r * (angle - Math.sin(angle))) / 2, 6);
    }
  });

  test('stay where three boundaries meet within a hair', () => {
    // A square's corner on the place where a line crosses an arc at a small angle.
    const pad: Region = {
      contours: [
        {
          segments: [
            {
              kind: 'arc',
              from: { x: 0.5507083918483051, y: -1.6106611295846998 },
              to: { x: 1.2723341412368154, y: 0.9387043373944612 },
              centre: { x: 4.543091863972975, y: -1.3639341316583273 },
              sweep: -0.6751315329370318,
            },
            line(
              { x: 1.2723341412368154, y: 0.9387043373944612 },
              { x: -0.771889435473284, y: 2.377853380552454 },
            ),
            line(
              { x: -0.771889435473284, y: 2.377853380552454 },
              { x: -2.211038478631277, y: 0.3336298038423544 },
            ),
            line(
              { x: -2.211038478631277, y: 0.3336298038423544 },
              { x: 0.5507083918483051, y: -1.6106611295846998 },
            ),
          ],
        },
      ],
    };
    const corners = [
      { x: 0.018545294393086387, y: -0.8422263682327715 },
      { x: 3, y: -3 },
      { x: 8, y: 4 },
      { x: 5.014121653447597, y: 6.2536856368407205 },
    ];
    const blade: Region = {
      contours: [{ segments: corners.map((p, i) => line(p, corners[(i + 1) % 4]!)) }],
    };
    const left = difference(pad, blade);
    expect(regionArea(left) + regionArea(intersection(pad, blade))).toBeCloseTo(regionArea(pad), 5);
    for (const s of segmentsOf(left)) {
      for (const t of [0, 0.1, 0.5]) {
        const p = pointAlong(s, t);
        expect(Math.min(nearestBoundary(pad, p)!.distance, nearestBoundary(blade, p)!.distance)).toBeLessThan(
          2e-6,
        );
      }
    }
  });

  test('do not let a cusp run on to its tip where an end face of a hair closes it', () => {
    // Shrunk by 1.5 the wall's left side becomes a tangent of the circle round the corner that the disc leaves.
    const wall = union([roundedRectangle({ x: -9, y: 1 }, 3, 6, 1), disc({ x: -3.5, y: 0.5 }, 4.5)]);
    const shrunk = offset(wall, -1.5);
    for (const s of segmentsOf(shrunk))
      for (const t of [0, 0.25, 0.5, 0.75])
        expect(Math.abs(signedDistance(wall, pointAlong(s, t)) + 1.5)).toBeLessThan(0.003);
  });

  test('between arcs that swing from one side to the other are the swept path’s own', () => {
    const path: Path = {
      segments: [
        arc({ x: 0, y: 0 }, { x: 3.3, y: 3.3 }, { x: 0, y: 3.3 }, true),
        arc({ x: 3.3, y: 3.3 }, { x: 6.6, y: 6.6 }, { x: 6.6, y: 3.3 }, false),
      ],
    };
    const swept = thicken(path, 0.7);
    expect(segmentsOf(swept)).toHaveLength(6);
    expect(worstRadii(swept)).toBeLessThan(1e-9);
    expect(regionArea(swept)).toBeCloseTo(1.4 * pathLength(path) + Math.PI * 0.49, 8);
    expect(perimeter(swept)).toBeCloseTo(2 * pathLength(path) + 2 * Math.PI * 0.7, 8);
  });
});

describe('a path along a boundary', () => {
  test('is kept whole as inside and as outside', () => {
    fc.assert(
      fc.property(fc.oneof(simpleShapes, forks), fc.double({ min: 0.2, max: 4, noNaN: true }), (shape, d) => {
        const walls = offset(shape, d);
        for (const contour of walls.contours) {
          for (const keep of ['inside', 'outside'] as const) {
            const kept = clipPath(contour, walls, keep);
            expect(kept).toHaveLength(1);
            expect(pathLength(kept[0]!)).toBeCloseTo(pathLength(contour), 6);
          }
        }
      }),
      { numRuns: 60 },
    );
  });

  test('for part of its way is split where it leaves it', () => {
    const block = rectangle({ x: 0, y: 0 }, { x: 10, y: 10 });
    const along: Path = { segments: [line({ x: -5, y: 10 }, { x: 15, y: 10 })] };
    expect(clipPath(along, block, 'outside').map(pathLength)).toEqual([20]);
    expect(clipPath(along, block, 'inside').map(pathLength)).toEqual([10]);
  });
});

describe('two segments of one curve', () => {
  test('meet at the ends of the stretch that they share', () => {
    const xs = (a: Path['segments'][number], b: Path['segments'][number]) =>
      intersections(a, b)
        .map((c) => c.point.x)
        .sort((p, q) => p - q);
    expect(xs(line({ x: 0, y: 0 }, { x: 9, y: 0 }), line({ x: 12, y: 0 }, { x: 4, y: 0 }))).toEqual([4, 9]);
    expect(xs(line({ x: 0, y: 0 }, { x: 4, y: 0 }), line({ x: 4, y: 0 }, { x: 9, y: 0 }))).toEqual([4]);
    expect(xs(line({ x: 0, y: 0 }, { x: 3, y: 0 }), line({ x: 4, y: 0 }, { x: 9, y: 0 }))).toEqual([]);
    const [right, top, left] = [
      { x: 5, y: 0 },
      { x: 0, y: 5 },
      { x: -5, y: 0 },
    ];
    const halfTurn = arc(right, left, { x: 0, y: 0 }, true);
    expect(xs(halfTurn, arc(left, top, { x: 0, y: 0 }, false))).toEqual([-5, 0]);
    expect(xs(halfTurn, circle({ x: 0, y: 0 }, 5))).toEqual([-5, 5]);
  });
});

test('a hole that touches its outer contour stays its own', () => {
  const ring = difference(disc({ x: 0, y: 0 }, 10), disc({ x: 6, y: 0 }, 4));
  const parts = components(union([ring, disc({ x: 30, y: 0 }, 3)]));
  expect(parts).toHaveLength(2);
  expect(parts.map(regionArea).sort((a, b) => a - b)[1]!).toBeCloseTo(Math.PI * 84, 2);
});
