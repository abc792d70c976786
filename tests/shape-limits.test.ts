import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { difference, intersection } from '../sketch/shape/boolean.ts';
import { offset } from '../sketch/shape/offset.ts';
import { type Point, polar } from '../sketch/shape/point.ts';
import {
  type Contour,
  contourArea,
  disc,
  isEmpty,
  perimeter,
  type Region,
  rectangle,
  regionArea,
  reverseContour,
  segmentsOf,
  signedDistance,
} from '../sketch/shape/region.ts';
import { arc, line } from '../sketch/shape/segment.ts';
import { thicken } from '../sketch/shape/thicken.ts';
import { faultsOf, forked, kindsOf, roundedRectangle, twoEnded } from './shape-samples.ts';

const kinds = (r: Region): string => kindsOf(segmentsOf(r));

describe('tiny things', () => {
  test('tiny arcs between lines move outward to larger ones and inward to corners', () => {
    const shape = roundedRectangle({ x: 0, y: 0 }, 20, 10, 1e-3, 0.2);
    const grown = offset(shape, 2);
    expect(faultsOf(grown)).toEqual([]);
    expect(regionArea(grown)).toBeCloseTo(regionArea(shape) + 2 * perimeter(shape) + 4 * Math.PI, 4);
    const shrunk = offset(shape, -2);
    expect(kinds(shrunk)).toBe('line line line line');
    expect(regionArea(shrunk)).toBeCloseTo(16 * 6, 4);
  });

  test('lines of less than a micrometre between arcs do no harm', () => {
    const step = 4e-4;
    const shape: Region = {
      contours: [
        {
          segments: [
            line({ x: 0, y: -5 }, { x: step, y: -5 }),
            arc({ x: step, y: -5 }, { x: step, y: 5 }, { x: step, y: 0 }, true),
            line({ x: step, y: 5 }, { x: 0, y: 5 }),
            arc({ x: 0, y: 5 }, { x: 0, y: -5 }, { x: 0, y: 0 }, true),
          ],
        },
      ],
    };
    for (const d of [-6, -4, -1, 1, 6]) {
      const made = offset(shape, d);
      expect(faultsOf(made)).toEqual([]);
      expect(Math.abs(regionArea(made) - Math.PI * Math.max(0, 5 + d) ** 2)).toBeLessThan(0.02);
    }
  });

  test('offsets by less than the tolerance are sound', () => {
    const lever = forked(7, 4, 40, 2.5, 8, 0.3);
    for (const d of [1e-8, -1e-8, 1e-5, -1e-5, 1e-3, -1e-3]) {
      const made = offset(lever, d);
      expect(faultsOf(made)).toEqual([]);
      expect(Math.abs(regionArea(made) - regionArea(lever) - d * perimeter(lever))).toBeLessThan(2e-3);
    }
  });

  test('a path of one point, and one that doubles back, are swept without rubble', () => {
    const p = { x: 1, y: 1 };
    const back = thicken({ segments: [line(p, { x: 9, y: 1 }), line({ x: 9, y: 1 }, p)] }, 2);
    expect(kinds(back)).toBe('arc arc line line');
    expect(regionArea(back)).toBeCloseTo(32 + 4 * Math.PI, 6);
    const dwell = thicken({ segments: [line(p, p)] }, 2);
    expect(regionArea(dwell)).toBeCloseTo(4 * Math.PI, 6);
  });
});

describe('shapes moved inward by more than all they have', () => {
  test('crescents of both hands are gone, and stay gone', () => {
    // Their arcs pass their own centres, and the raw offset gets into a tangle that rounds off to slivers.
    const crescent = (kx: number, ky: number): Contour => {
      const at = (x: number, y: number): Point => ({ x: x * kx, y: y * ky });
      const [a, b] = [at(-3.905932361203642, 1.0651862932443694), at(-1.6007, 3.7178)];
      const [o, c] = [at(0, 0), at(-0.48428241958116125, 0.42024734780601936)];
      return kx * ky > 0
        ? { segments: [arc(a, b, o, false), arc(b, a, c, true)] }
        : { segments: [arc(a, b, o, true), arc(b, a, c, false)] };
    };
    const shape: Region = {
      contours: [crescent(1, 1), crescent(-1, 1), crescent(1, -1), crescent(-1, -1)].map((c) =>
        contourArea(c) > 0 ? c : reverseContour(c),
      ),
    };
    for (let d = 0.6; d < 6; d += 0.013) {
      expect(isEmpty(offset(shape, -d))).toBe(true);
      expect(isEmpty(offset(offset(shape, -d), d))).toBe(true);
    }
  });

  test('segments of a disc are gone at every distance', () => {
    const disc1 = disc({ x: 0.2, y: 0 }, 1);
    for (const cutAt of [-0.5, 0, 0.3, 0.5, 0.9]) {
      const cap = difference(disc1, rectangle({ x: -9, y: -9 }, { x: cutAt, y: 9 }));
      for (let d = 1.01; d < 4; d += 0.0237) expect(isEmpty(offset(cap, -d))).toBe(true);
    }
  });
});

describe('cusps and wedges', () => {
  test('a cusp where a tangent line leaves an arc is gone round in full when the shape grows', () => {
    // The line arrives at T and the arc leaves it straight back, but for noise to either side.
    const t = polar({ x: 0, y: 0 }, 1, 2.2465);
    for (const noise of [-1e-6, -1e-8, 0, 1e-8, 1e-6]) {
      const from = { x: t.x + Math.sin(2.2465 + noise) * 1.8, y: t.y - Math.cos(2.2465 + noise) * 1.8 };
      const to = polar({ x: 0, y: 0 }, 1, 2.0265);
      const horn: Region = {
        contours: [{ segments: [line(from, t), arc(t, to, { x: 0, y: 0 }, false), line(to, from)] }],
      };
      for (const d of [0.1, 0.5, 2]) {
        const grown = offset(horn, d);
        expect(faultsOf(grown)).toEqual([]);
        for (let k = 0; k < 24; k++) {
          const on = polar(t, d, (k * Math.PI) / 12);
          expect(signedDistance(grown, on)).toBeLessThan(1e-3);
        }
      }
    }
  });

  test('a slim end shrunk to nothing ends where it ends, and not at the far point of its sides', () => {
    const slim = twoEnded({ x: 0, y: 0 }, 1.3757460323, { x: 30.37563416438501, y: 0 }, 1.000111865);
    for (const d of [-0.99, -0.9999, -1, -1.0001, -1.0002]) {
      const made = offset(slim, d);
      expect(faultsOf(made)).toEqual([]);
      for (const p of segmentsOf(made).flatMap((s) => [s.from, s.to]))
        expect(Math.abs(signedDistance(slim, p) - d)).toBeLessThan(1e-3);
    }
  });
});

describe('large things', () => {
  test('a bar of ten metres round a lever loses nothing of the lever', () => {
    const far = rectangle({ x: -1e4, y: -1e4 }, { x: 1e4, y: 1e4 });
    const lever = twoEnded({ x: 0, y: 0 }, 7, { x: 43, y: 17 }, 4);
    const around = difference(far, lever);
    expect(regionArea(far) - regionArea(around)).toBeCloseTo(regionArea(lever), 6);
    expect(kinds(difference(far, around))).toBe('arc arc line line');
    expect(regionArea(difference(far, around))).toBeCloseTo(regionArea(lever), 6);
  });

  test('arcs of a flat radius stay arcs', () => {
    fc.assert(
      fc.property(fc.double({ min: 200, max: 3000, noNaN: true }), (r) => {
        const lens = intersection(disc({ x: 0, y: r - 4 }, r), disc({ x: 0, y: 4 - r }, r));
        expect(faultsOf(lens)).toEqual([]);
        expect(kinds(lens)).toBe('arc arc');
        expect(kinds(offset(lens, -1))).toBe('arc arc');
        expect(kinds(offset(lens, 1))).toBe('arc arc arc arc');
      }),
      { numRuns: 25 },
    );
  });
});
