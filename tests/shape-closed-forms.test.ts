import { describe, expect, test } from 'vitest';
import { difference, intersection, union } from '../sketch/shape/boolean.ts';
import { components } from '../sketch/shape/components.ts';
import { offset } from '../sketch/shape/offset.ts';
import {
  type Contour,
  contourArea,
  disc,
  isEmpty,
  perimeter,
  type Region,
  rectangle,
  regionArea,
} from '../sketch/shape/region.ts';
import { arc, line, radiusOf } from '../sketch/shape/segment.ts';
import { moveRegion } from '../sketch/shape/transform.ts';
import { faultsOf, forked, kindsOf, roundedRectangle, twoEnded } from './shape-samples.ts';

const kinds = (c: Contour): string => kindsOf(c.segments);
const onlyContour = (r: Region): Contour => {
  expect(r.contours).toHaveLength(1);
  return r.contours[0]!;
};
const radii = (c: Contour): readonly number[] =>
  c.segments.flatMap((s) => (s.kind === 'arc' ? [radiusOf(s)] : [])).sort((a, b) => a - b);

describe('a two-ended lever', () => {
  const lever = twoEnded({ x: 3, y: 2 }, 7, { x: 51, y: 14 }, 4);

  test.each([0.05, 0.5, 2.5, 3, 12.7, -0.05, -1, -3.9])(
    'stays two lines and two arcs round the same centres when moved by %f mm',
    (d) => {
      const moved = onlyContour(offset(lever, d));
      expect(kinds(moved)).toBe('arc arc line line');
      const [small, large] = radii(moved);
      expect(small).toBeCloseTo(4 + d, 9);
      expect(large).toBeCloseTo(7 + d, 9);
      for (const s of moved.segments) {
        if (s.kind !== 'arc') continue;
        const home = radiusOf(s) === large ? { x: 3, y: 2 } : { x: 51, y: 14 };
        expect(Math.hypot(s.centre.x - home.x, s.centre.y - home.y)).toBeLessThan(1e-12);
      }
      // The tangent points of the very lines: area and length are those of the closed form to rounding.
      expect(perimeter({ contours: [moved] })).toBeCloseTo(perimeter(lever) + 2 * Math.PI * d, 8);
      expect(contourArea(moved)).toBeCloseTo(regionArea(lever) + perimeter(lever) * d + Math.PI * d * d, 6);
    },
  );

  test('keeps its very numbers through a union with what lies within it', () => {
    const whole = onlyContour(union([lever, disc({ x: 20, y: 6 }, 2)]));
    expect(kinds(whole)).toBe('arc arc line line');
    expect(contourArea(whole)).toBeCloseTo(regionArea(lever), 9);
  });

  test('made by uniting its discs with its web is the same lever', () => {
    const [a, b] = [
      { x: 0, y: 0 },
      { x: 40, y: 0 },
    ];
    const hull = twoEnded(a, 6, b, 4);
    const corners = hull.contours[0]!.segments.flatMap((s) => (s.kind === 'line' ? [s.from, s.to] : []));
    const web: Region = {
      contours: [{ segments: corners.map((p, i) => line(p, corners[(i + 1) % corners.length]!)) }],
    };
    const made = onlyContour(union([disc(a, 6), disc(b, 4), web]));
    expect(kinds(made)).toBe('arc arc line line');
    expect(contourArea(made)).toBeCloseTo(regionArea(hull), 8);
  });

  test('loses its smaller end when moved inward by more than its radius, and all when by more than both', () => {
    const less = onlyContour(offset(lever, -5));
    expect(kinds(less)).toBe('arc line line');
    expect(radii(less)[0]).toBeCloseTo(2, 9);
    expect(isEmpty(offset(lever, -7.01))).toBe(true);
  });
});

describe('a disc', () => {
  test.each([-4.9, -1, 0.001, 3, 100])('moved by %f mm is a disc about the same centre', (d) => {
    const moved = onlyContour(offset(disc({ x: 1, y: 2 }, 5), d));
    expect(moved.segments).toHaveLength(1);
    expect(contourArea(moved)).toBeCloseTo(Math.PI * (5 + d) ** 2, 7);
  });

  test('moved inward by its radius or more is nothing', () => {
    for (const d of [-5, -5.001, -9.99, -10, -10.01, -50])
      expect(isEmpty(offset(disc({ x: 1, y: 2 }, 5), d))).toBe(true);
  });

  test('cut from a larger one leaves a ring of the closed form, and the ring moves inward on both sides', () => {
    const ring = difference(disc({ x: 0, y: 0 }, 9), disc({ x: 0, y: 0 }, 4));
    expect(regionArea(ring)).toBeCloseTo(Math.PI * (81 - 16), 7);
    expect(regionArea(offset(ring, -1))).toBeCloseTo(Math.PI * (64 - 25), 7);
    expect(regionArea(offset(ring, 1))).toBeCloseTo(Math.PI * (100 - 9), 7);
    expect(offset(ring, 4.001).contours).toHaveLength(1);
    expect(isEmpty(offset(ring, -2.501))).toBe(true);
  });
});

describe('two crossing discs', () => {
  // Lens of two circles of radii r and s a distance d apart (two circular segments).
  const lens = (r: number, s: number, d: number): number => {
    const a = Math.acos((d * d + r * r - s * s) / (2 * d * r));
    const b = Math.acos((d * d + s * s - r * r) / (2 * d * s));
    return r * r * (a - Math.sin(2 * a) / 2) + s * s * (b - Math.sin(2 * b) / 2);
  };

  test.each([
    [5, 3, 6],
    [5, 5, 1],
    [8, 2, 7],
    [8, 2, 9.9],
  ])(
    'of radii %f and %f, %f mm apart, have the lens, the union and the crescent of the closed form',
    (r, s, d) => {
      const [a, b] = [disc({ x: 0, y: 0 }, r), disc({ x: d * Math.cos(1), y: d * Math.sin(1) }, s)];
      const both = lens(r, s, d);
      expect(regionArea(intersection(a, b))).toBeCloseTo(both, 6);
      expect(regionArea(union([a, b]))).toBeCloseTo(Math.PI * (r * r + s * s) - both, 6);
      expect(regionArea(difference(a, b))).toBeCloseTo(Math.PI * r * r - both, 6);
      for (const made of [intersection(a, b), union([a, b]), difference(a, b)])
        expect(kinds(onlyContour(made))).toBe('arc arc');
    },
  );
});

describe('holes', () => {
  const plate = difference(rectangle({ x: 0, y: 0 }, { x: 30, y: 20 }), disc({ x: 10, y: 10 }, 3));

  test('shrink when the plate grows, vanish at their radius, and never come back', () => {
    expect(offset(plate, 2.9).contours).toHaveLength(2);
    for (const d of [3, 3.1, 4, 5.9, 6, 6.1, 7, 20]) expect(offset(plate, d).contours).toHaveLength(1);
  });

  test('grow when the plate shrinks, until they break through its edge', () => {
    expect(offset(plate, -3.4).contours).toHaveLength(2);
    const broken = offset(plate, -3.6);
    expect(broken.contours.every((c) => contourArea(c) > 0)).toBe(true);
    expect(faultsOf(broken)).toEqual([]);
  });

  test('run clockwise, and outer contours anticlockwise', () => {
    const areas = offset(plate, 0.5)
      .contours.map(contourArea)
      .sort((a, b) => a - b);
    expect(areas[0]!).toBeCloseTo(-Math.PI * 2.5 ** 2, 6);
    expect(areas[1]!).toBeCloseTo(30 * 20 + 100 * 0.5 + Math.PI * 0.25, 6);
  });
});

describe('shapes that fall in two', () => {
  test('a dumbbell shrunk by more than half its bar is two discs', () => {
    const dumbbell = union([
      disc({ x: 0, y: 0 }, 6),
      disc({ x: 30, y: 0 }, 5),
      rectangle({ x: 0, y: -1.5 }, { x: 30, y: 1.5 }),
    ]);
    expect(components(offset(dumbbell, -1.49))).toHaveLength(1);
    const parts = components(offset(dumbbell, -1.51));
    expect(parts).toHaveLength(2);
    const areas = parts.map(regionArea).sort((a, b) => a - b);
    // Shrunk by 1.51, each end is its disc but for the stump of the bar that is left where the bar went in.
    expect(areas[0]!).toBeGreaterThan(Math.PI * 3.49 ** 2 - 1e-6);
    expect(areas[1]!).toBeGreaterThan(Math.PI * 4.49 ** 2 - 1e-6);
    expect(areas[0]! + areas[1]!).toBeLessThan(Math.PI * (3.49 ** 2 + 4.49 ** 2) + 1.5);
  });

  test('a forked lever shrunk by more than half a tine keeps its body only', () => {
    const lever = forked(6, 4, 40, 2.5, 9);
    const tine = 6 - 2.5;
    expect(faultsOf(lever)).toEqual([]);
    for (const d of [-0.5, -1, -tine / 2 - 0.05]) expect(faultsOf(offset(lever, d))).toEqual([]);
    expect(components(offset(lever, -1))).toHaveLength(1);
  });

  test('pieces keep their own holes, also a piece that lies in the hole of another', () => {
    const ring = difference(disc({ x: 0, y: 0 }, 20), disc({ x: 0, y: 0 }, 15));
    const inner = difference(disc({ x: 1, y: 0 }, 8), disc({ x: 1, y: 0 }, 3));
    const both = union([ring, inner, disc({ x: 50, y: 0 }, 4)]);
    const parts = components(both)
      .map(regionArea)
      .sort((a, b) => a - b);
    expect(parts).toHaveLength(3);
    expect(parts[0]!).toBeCloseTo(Math.PI * 16, 6);
    expect(parts[1]!).toBeCloseTo(Math.PI * (64 - 9), 6);
    expect(parts[2]!).toBeCloseTo(Math.PI * (400 - 225), 6);
  });
});

describe('inside radii', () => {
  // A bay: a square with a half disc of radius r eaten out of its right side.
  const bay = (r: number): Region =>
    difference(rectangle({ x: 0, y: 0 }, { x: 20, y: 20 }), disc({ x: 20, y: 10 }, r));

  test('grow smaller as the shape grows, and an inside radius smaller than the distance is bridged', () => {
    const grown = onlyContour(offset(bay(5), 2));
    expect(radii(grown).filter((r) => Math.abs(r - 3) < 1e-9)).toHaveLength(1);
    const bridged = offset(bay(5), 5.5);
    expect(onlyContour(bridged).segments.every((s) => s.kind === 'line' || s.sweep > 0)).toBe(true);
    expect(faultsOf(bridged)).toEqual([]);
  });

  test('grow larger as the shape shrinks', () => {
    const shrunk = onlyContour(offset(bay(5), -2));
    expect(radii(shrunk)).toHaveLength(1);
    expect(radii(shrunk)[0]).toBeCloseTo(7, 9);
  });

  test('are filled by growing and shrinking: a sharp inside corner gets the radius', () => {
    const corner = difference(
      rectangle({ x: 0, y: 0 }, { x: 20, y: 20 }),
      rectangle({ x: 10, y: 10 }, { x: 30, y: 30 }),
    );
    const filled = onlyContour(offset(offset(corner, 3), -3));
    expect(kinds(filled)).toBe('arc line line line line line line');
    expect(radii(filled)[0]).toBeCloseTo(3, 9);
    expect(contourArea(filled)).toBeCloseTo(300 + (9 - (Math.PI * 9) / 4), 6);
  });
});

describe('rounded rectangles', () => {
  test('shrunk past their corner radius have sharp corners, and outward again round ones', () => {
    const shape = roundedRectangle({ x: 2, y: 1 }, 30, 12, 2, 0.3);
    const shrunk = onlyContour(offset(shape, -3));
    expect(kinds(shrunk)).toBe('line line line line');
    expect(contourArea(shrunk)).toBeCloseTo(24 * 6, 6);
    const again = onlyContour(offset(offset(shape, -3), 3));
    expect(radii(again)).toHaveLength(4);
    for (const r of radii(again)) expect(r).toBeCloseTo(3, 9);
  });

  test('shrunk to less than nothing are nothing', () => {
    const shape = roundedRectangle({ x: 2, y: 1 }, 30, 12, 2, 0.3);
    expect(isEmpty(offset(shape, -6))).toBe(true);
    expect(isEmpty(offset(shape, -25))).toBe(true);
  });
});

describe('a region seen from below', () => {
  test('is mirrored in Y with the same area, still the right way round', () => {
    const lever = forked(6, 4, 40, 2.5, 9, 0.4);
    const turned = moveRegion(lever, { mirrorY: true });
    expect(faultsOf(turned)).toEqual([]);
    expect(regionArea(turned)).toBeCloseTo(regionArea(lever), 9);
    const back = moveRegion(moveRegion(turned, { mirrorY: true }), { by: { x: 5, y: -3 } });
    expect(regionArea(difference(back, moveRegion(lever, { by: { x: 5, y: -3 } })))).toBe(0);
  });
});

test('an arc and its sweep agree whichever way round it goes', () => {
  const [from, to, centre] = [
    { x: 1, y: 0 },
    { x: 0, y: 1 },
    { x: 0, y: 0 },
  ];
  expect(arc(from, to, centre, true).sweep).toBeCloseTo(Math.PI / 2, 12);
  expect(arc(from, to, centre, false).sweep).toBeCloseTo((-3 * Math.PI) / 2, 12);
});
