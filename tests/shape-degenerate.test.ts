import { describe, expect, test } from 'vitest';
import { difference, intersection, union } from '../sketch/shape/boolean.ts';
import { offset } from '../sketch/shape/offset.ts';
import { type Point, polar } from '../sketch/shape/point.ts';
import {
  type Contour,
  disc,
  isEmpty,
  perimeter,
  polygon,
  type Region,
  rectangle,
  regionArea,
  segmentsOf,
  signedDistance,
} from '../sketch/shape/region.ts';
import { arc, line, type Segment } from '../sketch/shape/segment.ts';
import { thicken } from '../sketch/shape/thicken.ts';
import { faultsOf, forked, kindsOf, roundedRectangle, twoEnded } from './shape-samples.ts';

const kinds = (r: Region): string => kindsOf(segmentsOf(r));

/** The contour with every end shaken by up to `by` mm, as a file written with few decimals would have it. */
const shaken = (region: Region, by: number, seed: number): Region => {
  let state = seed;
  const noise = (): number => {
    state = (state * 1103515245 + 12345) % 2147483648;
    return (state / 1073741824 - 1) * by;
  };
  const contours = region.contours.map(({ segments }): Contour => {
    const starts: Point[] = segments.map((s) => ({ x: s.from.x + noise(), y: s.from.y + noise() }));
    return {
      segments: segments.map((s, i): Segment => {
        const from = starts[i]!;
        const to = starts[(i + 1) % starts.length]!;
        return s.kind === 'line' ? line(from, to) : arc(from, to, s.centre, s.sweep > 0);
      }),
    };
  });
  return { contours };
};

describe('joints that are tangent but for noise', () => {
  test.each([1e-12, 1e-9, 1e-7])('of %f mm: a lever offset either way is two lines and two arcs', (by) => {
    const lever = twoEnded({ x: 0, y: 0 }, 7, { x: 43, y: 17 }, 4);
    for (let seed = 1; seed <= 20; seed++) {
      for (const d of [-2.5, -0.3, 0.3, 2.5, 5]) {
        const moved = offset(shaken(lever, by, seed), d);
        expect(faultsOf(moved)).toEqual([]);
        expect(kinds(moved)).toBe('arc arc line line');
        expect(Math.abs(regionArea(moved) - regionArea(offset(lever, d)))).toBeLessThan(1e-3);
      }
    }
  });

  test('rounded rectangles and forked levers too keep their count of segments', () => {
    const shapes = [roundedRectangle({ x: 0, y: 0 }, 30, 16, 4, 0.7), forked(7, 4, 40, 2.5, 8, 0.3)];
    for (const shape of shapes) {
      for (const d of [-0.4, 0.4, 1.5]) {
        const count = segmentsOf(offset(shape, d)).length;
        for (let seed = 1; seed <= 10; seed++) {
          const moved = offset(shaken(shape, 1e-9, seed), d);
          expect(faultsOf(moved)).toEqual([]);
          expect(segmentsOf(moved)).toHaveLength(count);
        }
      }
    }
  });
});

describe('coincident boundaries', () => {
  const square = rectangle({ x: 0, y: 0 }, { x: 10, y: 10 });

  test('a region united with, cut by and crossed with itself', () => {
    for (const shape of [square, disc({ x: 1, y: 1 }, 4), forked(6, 4, 30, 2, 7, 0.2)]) {
      expect(regionArea(union([shape, shape]))).toBeCloseTo(regionArea(shape), 9);
      expect(kinds(union([shape, shape]))).toBe(kinds(shape));
      expect(regionArea(intersection(shape, shape))).toBeCloseTo(regionArea(shape), 9);
      expect(isEmpty(difference(shape, shape))).toBe(true);
    }
  });

  test('squares that share an edge become one rectangle of four lines', () => {
    const both = union([square, rectangle({ x: 10, y: 0 }, { x: 17, y: 10 })]);
    expect(kinds(both)).toBe('line line line line');
    expect(regionArea(both)).toBe(170);
  });

  test('squares that share part of an edge become one of eight lines', () => {
    const both = union([square, rectangle({ x: 10, y: 2 }, { x: 17, y: 7 })]);
    expect(segmentsOf(both)).toHaveLength(8);
    expect(regionArea(both)).toBeCloseTo(135, 9);
  });

  test('a square whose edge is in many collinear pieces comes back with four lines', () => {
    const steps = Array.from({ length: 40 }, (_, i) => ({ x: i / 4, y: 0 }));
    const pieced = polygon([...steps, { x: 10, y: 0 }, { x: 10, y: 10 }, { x: 0, y: 10 }]);
    expect(kinds(union([{ contours: [pieced] }, disc({ x: 5, y: 5 }, 1)]))).toBe('line line line line');
    expect(kinds(offset({ contours: [pieced] }, -1))).toBe('line line line line');
  });

  test('cutting along an edge takes a strip and leaves nothing thin behind', () => {
    const left = difference(square, rectangle({ x: -5, y: 0 }, { x: 4, y: 10 }));
    expect(kinds(left)).toBe('line line line line');
    expect(regionArea(left)).toBeCloseTo(60, 9);
  });

  test('a lever cut out of its own grown shape leaves a band, and none when grown again by nothing', () => {
    const lever = twoEnded({ x: 0, y: 0 }, 7, { x: 43, y: 17 }, 4);
    const band = difference(offset(lever, 2), lever);
    expect(regionArea(band)).toBeCloseTo(2 * perimeter(lever) + 4 * Math.PI, 5);
    expect(isEmpty(difference(offset(offset(lever, 2), -2), lever))).toBe(true);
    expect(isEmpty(difference(lever, offset(offset(lever, 2), -2)))).toBe(true);
  });

  test('one circle drawn from two starting points cancels to nothing', () => {
    const turned: Region = {
      contours: [
        {
          segments: [
            arc({ x: 0, y: 5 }, { x: 0, y: -5 }, { x: 0, y: 0 }, true),
            arc({ x: 0, y: -5 }, { x: 0, y: 5 }, { x: 0, y: 0 }, true),
          ],
        },
      ],
    };
    expect(isEmpty(difference(disc({ x: 0, y: 0 }, 5), turned))).toBe(true);
    expect(segmentsOf(union([disc({ x: 0, y: 0 }, 5), turned]))).toHaveLength(1);
    // Another phase of chords altogether.
    const third: Region = {
      contours: [
        {
          segments: [0.123, 2.3, 4.1].map((t, i, all) => {
            const on = (a: number): Point => ({ x: 5 * Math.cos(a), y: 5 * Math.sin(a) });
            return arc(on(t), on(all[(i + 1) % 3]!), { x: 0, y: 0 }, true);
          }),
        },
      ],
    };
    expect(isEmpty(difference(disc({ x: 0, y: 0 }, 5), third))).toBe(true);
    expect(isEmpty(difference(third, disc({ x: 0, y: 0 }, 5)))).toBe(true);
    const whole = union([disc({ x: 0, y: 0 }, 5), third]);
    expect(faultsOf(whole)).toEqual([]);
    expect(segmentsOf(whole)).toHaveLength(1);
  });

  test('circles that differ by a tenth of a micrometre give no rubble', () => {
    for (const shift of [1e-4, 3e-4, 1e-6]) {
      const [a, b] = [disc({ x: 0, y: 0 }, 8), disc({ x: shift, y: 0 }, 8 + shift / 3)];
      for (const made of [union([a, b]), intersection(a, b)]) {
        expect(faultsOf(made)).toEqual([]);
        expect(made.contours).toHaveLength(1);
        expect(Math.abs(regionArea(made) - Math.PI * 64)).toBeLessThan(0.02);
      }
      expect(isEmpty(difference(a, b))).toBe(true);
      expect(isEmpty(difference(b, a))).toBe(true);
    }
  });
});

describe('touching boundaries', () => {
  test('discs that just touch, just miss and just cross are sound', () => {
    for (const gap of [-1e-3, -1e-5, -1e-7, 0, 1e-7, 1e-5, 1e-3]) {
      const [a, b] = [disc({ x: 0, y: 0 }, 5), disc({ x: 8 + gap, y: 0 }, 3)];
      const both = union([a, b]);
      expect(faultsOf(both)).toEqual([]);
      expect(Math.abs(regionArea(both) - Math.PI * 34)).toBeLessThan(1e-3);
      expect(regionArea(intersection(a, b))).toBeLessThan(1e-3);
      expect(faultsOf(difference(a, b))).toEqual([]);
      expect(Math.abs(regionArea(difference(a, b)) - Math.PI * 25)).toBeLessThan(1e-3);
    }
  });

  test('a hole that touches its plate from within is sound and of the right area', () => {
    for (const gap of [-1e-3, -1e-6, 0, 1e-6, 1e-3]) {
      const made = difference(disc({ x: 0, y: 0 }, 10), disc({ x: 6 + gap, y: 0 }, 4));
      expect(faultsOf(made)).toEqual([]);
      expect(Math.abs(regionArea(made) - Math.PI * 84)).toBeLessThan(1e-2);
    }
  });

  test('a straight edge laid on a disc as its tangent joins it without a step', () => {
    // The tangent point lies in the middle of the disc's chords, not at the end of an arc.
    for (const turn of [0, 0.1, 0.777, 2.5]) {
      const at = (x: number, y: number): Point => ({
        x: x * Math.cos(turn) - y * Math.sin(turn),
        y: x * Math.sin(turn) + y * Math.cos(turn),
      });
      const bar: Region = { contours: [polygon([at(0, -4), at(30, -4), at(30, 4), at(0, 4)])] };
      const made = union([bar, disc({ x: 0, y: 0 }, 4)]);
      expect(faultsOf(made)).toEqual([]);
      expect(kinds(made)).toBe('arc line line line');
      expect(regionArea(made)).toBeCloseTo(240 + 8 * Math.PI, 5);
    }
  });

  test('arcs that all touch at one corner of the part keep the corner, as do swept laps round it', () => {
    // Laps round a sharp corner T between a disc of radius 3 and a bay of 1.768: swept, all of them touch at T.
    const corner = { x: -2.6933221409570907, y: -1.3213689284338086 };
    const laps: readonly Segment[] = [
      arc({ x: 0.5, y: -4.47213595499958 }, polar({ x: 0, y: 0 }, 4.5, -2.685531), { x: 0, y: 0 }, false),
      arc(
        { x: -4.039983211435636, y: -1.982053392650713 },
        { x: -3.6899523476051224, y: -0.2003300213495351 },
        corner,
        false,
      ),
      arc(
        { x: -3.6899523476051224, y: -0.2003300213495351 },
        { x: -3.6899523476051224, y: 0.20033002134953515 },
        { x: -3.868050493274908, y: 0 },
        true,
      ),
    ];
    const swept = union(laps.map((lap) => thicken({ segments: [lap] }, 1.5)));
    expect(faultsOf(swept)).toEqual([]);
    expect(Math.abs(signedDistance(swept, corner))).toBeLessThan(1e-4);
    // A little way into the disc from the corner nothing is swept.
    const within = { x: corner.x * 0.98, y: corner.y * 0.98 };
    expect(signedDistance(swept, within)).toBeGreaterThan(0.01);
  });

  test('corners that touch corners are sound', () => {
    const both = union([
      rectangle({ x: 0, y: 0 }, { x: 5, y: 5 }),
      rectangle({ x: 5, y: 5 }, { x: 9, y: 9 }),
    ]);
    expect(faultsOf(both)).toEqual([]);
    expect(regionArea(both)).toBeCloseTo(41, 9);
    expect(faultsOf(offset(both, 1))).toEqual([]);
    expect(regionArea(offset(both, -1))).toBeCloseTo(9 + 4, 9);
  });
});
