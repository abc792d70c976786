import { Clipper, EndType, FillRule, JoinType } from 'clipper2-ts';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { difference, intersection, union } from '../../sketch/shape/boolean.ts';
import { offset } from '../../sketch/shape/offset.ts';
import { disc, isEmpty, perimeter, type Region, regionArea } from '../../sketch/shape/region.ts';
import { line } from '../../sketch/shape/segment.ts';
import { thicken } from '../../sketch/shape/thicken.ts';
import {
  chorded,
  forks,
  levers,
  rectangles,
  roundedRectangle,
  simpleShapes,
  twoEnded,
} from '../shape-samples.ts';

describe("Steiner's formula for the parallel body of a convex shape: A + P r + π r², P + 2 π r", () => {
  test('holds for random levers, rectangles and discs moved outward', () => {
    fc.assert(
      fc.property(simpleShapes, fc.double({ min: 0.01, max: 15, noNaN: true }), (shape, r) => {
        const moved = offset(shape, r);
        expect(perimeter(moved)).toBeCloseTo(perimeter(shape) + 2 * Math.PI * r, 5);
        expect(regionArea(moved)).toBeCloseTo(regionArea(shape) + perimeter(shape) * r + Math.PI * r * r, 4);
      }),
    );
  });

  test('holds inward too, with the signs turned, while every arc is larger than the distance', () => {
    fc.assert(
      fc.property(
        fc.record({
          width: fc.double({ min: 8, max: 40, noNaN: true }),
          height: fc.double({ min: 8, max: 40, noNaN: true }),
          radius: fc.double({ min: 1, max: 3.9, noNaN: true }),
          turn: fc.double({ min: -3, max: 3, noNaN: true }),
          share: fc.double({ min: 0.01, max: 0.98, noNaN: true }),
        }),
        ({ width, height, radius, turn, share }) => {
          const shape = roundedRectangle({ x: 1, y: 2 }, width, height, radius, turn);
          const r = share * radius;
          const moved = offset(shape, -r);
          expect(perimeter(moved)).toBeCloseTo(perimeter(shape) - 2 * Math.PI * r, 5);
          expect(regionArea(moved)).toBeCloseTo(
            regionArea(shape) - perimeter(shape) * r + Math.PI * r * r,
            4,
          );
        },
      ),
    );
  });

  test('gives the stadium that a cutter sweeps along a line of length L: 2 r L + π r²', () => {
    for (const [l, r] of [
      [20, 2.5],
      [3, 6],
      [0.5, 0.25],
    ] as const) {
      const swept = thicken({ segments: [line({ x: 1, y: 1 }, { x: 1 + l * 0.6, y: 1 + l * 0.8 })] }, r);
      expect(regionArea(swept)).toBeCloseTo(2 * r * l + Math.PI * r * r, 6);
      expect(perimeter(swept)).toBeCloseTo(2 * l + 2 * Math.PI * r, 6);
    }
  });
});

describe('convex hull of two discs: R² (π/2 + β) + r² (π/2 − β) + (R + r) d cos β with sin β = (R − r)/d', () => {
  const area = (R: number, r: number, d: number): number => {
    const b = Math.asin((R - r) / d);
    return R * R * (Math.PI / 2 + b) + r * r * (Math.PI / 2 - b) + (R + r) * d * Math.cos(b);
  };
  const length = (R: number, r: number, d: number): number => {
    const b = Math.asin((R - r) / d);
    return R * (Math.PI + 2 * b) + r * (Math.PI - 2 * b) + 2 * d * Math.cos(b);
  };

  test.each([
    [7, 5, 46],
    [12, 3, 9.5],
    [4, 4, 0.3],
    [25, 1, 180],
  ])(
    'radii %f and %f, %f mm apart: area and perimeter, as they are and moved by −0.7 and +2.5',
    (R, r, d) => {
      const lever = twoEnded({ x: -3, y: 8 }, R, { x: -3 + d * 0.28, y: 8 + d * 0.96 }, r);
      expect(regionArea(lever)).toBeCloseTo(area(R, r, d), 8);
      expect(perimeter(lever)).toBeCloseTo(length(R, r, d), 8);
      for (const by of [-0.7, 2.5]) {
        expect(regionArea(offset(lever, by))).toBeCloseTo(area(R + by, r + by, d), 6);
        expect(perimeter(offset(lever, by))).toBeCloseTo(length(R + by, r + by, d), 6);
      }
    },
  );

  test('a union of disc and lever that share an end gives the hull again', () => {
    const lever = twoEnded({ x: 0, y: 0 }, 7, { x: 46, y: 0 }, 5);
    expect(regionArea(union([lever, disc({ x: 0, y: 0 }, 7), disc({ x: 46, y: 0 }, 5)]))).toBeCloseTo(
      area(7, 5, 46),
      8,
    );
  });
});

describe('against clipper2-ts (npm), on chorded images of the same shapes', () => {
  /** Units per mm, and the greatest distance of a chord from its arc, mm, that the other library is given. */
  const UNIT = 1e6;
  const CHORD = 2e-5;
  const image = (r: Region) => chorded(r, UNIT, CHORD);
  const areaOf = (paths: { x: number; y: number }[][]): number =>
    paths.reduce((sum, path) => sum + Clipper.area(path), 0) / (UNIT * UNIT);
  /** Area on which two answers disagree, mm². */
  const disagreement = (ours: Region, theirs: { x: number; y: number }[][]): number =>
    Math.abs(areaOf(Clipper.xor(image(ours), theirs, FillRule.NonZero)));

  /** Our tolerance is 0.003 mm; 0.0005 mm all along the boundary is what is asked here, and a speck besides. */
  const allowed = (...regions: readonly Region[]): number =>
    regions.reduce((sum, r) => sum + 5e-4 * perimeter(r), 1e-3);

  test('union, difference and intersection of random pairs cover the same area', () => {
    fc.assert(
      fc.property(fc.oneof(forks, simpleShapes), simpleShapes, (a, b) => {
        const [ia, ib] = [image(a), image(b)];
        expect(disagreement(union([a, b]), Clipper.union(ia, ib, FillRule.NonZero))).toBeLessThan(
          allowed(a, b),
        );
        expect(disagreement(difference(a, b), Clipper.difference(ia, ib, FillRule.NonZero))).toBeLessThan(
          allowed(a, b),
        );
        expect(disagreement(intersection(a, b), Clipper.intersect(ia, ib, FillRule.NonZero))).toBeLessThan(
          allowed(a, b),
        );
      }),
      { numRuns: 60 },
    );
  });

  test('offsets outward and inward of levers, forked levers, rectangles and unions cover the same area', () => {
    const shapes = fc.oneof(
      levers,
      forks,
      rectangles,
      fc.tuple(levers, simpleShapes, simpleShapes).map(([a, b, c]) => difference(union([a, b]), c)),
    );
    fc.assert(
      fc.property(shapes, fc.double({ min: -4, max: 6, noNaN: true }), (shape, d) => {
        if (isEmpty(shape) || Math.abs(d) < 1e-3) return;
        const theirs = Clipper.inflatePaths(
          image(shape),
          d * UNIT,
          JoinType.Round,
          EndType.Polygon,
          2,
          CHORD * UNIT,
        );
        const ours = offset(shape, d);
        expect(disagreement(ours, theirs)).toBeLessThan(allowed(shape, ours));
      }),
      { numRuns: 60 },
    );
  });
});
