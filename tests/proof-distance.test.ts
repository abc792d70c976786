import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import {
  type Approach,
  indexRegion,
  nearestApproach,
  signedWallDistance,
  wallDistance,
} from '../gcode/proof/distance.ts';
import type { Point } from '../sketch/shape/point.ts';
import { type Region, rectangle, signedDistance } from '../sketch/shape/region.ts';
import { arc, circle, line, nearestOn, pointAlong, type Segment } from '../sketch/shape/segment.ts';

// How near a path comes to a wall, worked by hand on triangles of 3, 4 and 5, and against densely laid places.

const at = (x: number, y: number): Point => ({ x, y });
const wallOf = (...segments: Segment[]) => indexRegion({ contours: [{ segments }] });
const nearest = (path: Segment, ...walls: Segment[]): Approach =>
  nearestApproach(path, wallOf(...walls), 100)!;
/** Radius 5 about the origin, the right half from below to above. */
const rightHalf = arc(at(0, -5), at(0, 5), at(0, 0), true);

const expectNear = (found: Approach, distance: number, onPath: Point, onWall: Point): void => {
  expect(found.distance).toBeCloseTo(distance, 9);
  for (const [place, wanted] of [
    [found.onPath, onPath],
    [found.onWall, onWall],
  ] as const) {
    expect(place.x).toBeCloseTo(wanted.x, 9);
    expect(place.y).toBeCloseTo(wanted.y, 9);
  }
};

/** The same asked the other way round: what lay on the wall lies on the path. */
const expectBoth = (a: Segment, b: Segment, distance: number, onA: Point, onB: Point): void => {
  expectNear(nearest(a, b), distance, onA, onB);
  expectNear(nearest(b, a), distance, onB, onA);
};

describe('what crosses has no distance, and the place is where it crosses', () => {
  test('two lines, each whichever way it runs', () => {
    const rising = line(at(0, 0), at(6, 8));
    const falling = line(at(0, 8), at(6, 0));
    expectBoth(rising, falling, 0, at(3, 4), at(3, 4));
    expectBoth(line(rising.to, rising.from), falling, 0, at(3, 4), at(3, 4));
  });

  test('a line and the end of a round wall that it meets first', () => {
    // At y = 3 the circle of radius 5 is met at x = 4 and at x = −4.
    expectBoth(line(at(-9, 3), at(9, 3)), rightHalf, 0, at(4, 3), at(4, 3));
    expectBoth(line(at(9, 3), at(-9, 3)), rightHalf, 0, at(4, 3), at(4, 3));
    expectBoth(line(at(3, 9), at(3, 0)), rightHalf, 0, at(3, 4), at(3, 4));
    // Seen from the outside the nearer of two is met first.
    const whole = circle(at(0, 0), 5);
    expectBoth(line(at(-9, 3), at(9, 3)), whole, 0, at(-4, 3), at(-4, 3));
  });

  test('two round walls, wherever one of both crossings lies on them', () => {
    // Radius 5 about (0, 0) and (6, 0) cross at (3, 4) and (3, −4).
    const upper = arc(at(11, 0), at(1, 0), at(6, 0), true);
    const lower = arc(at(1, 0), at(11, 0), at(6, 0), true);
    expectBoth(rightHalf, upper, 0, at(3, 4), at(3, 4));
    expectBoth(rightHalf, lower, 0, at(3, -4), at(3, -4));
    // Radii 13 and 15 about points 14 apart cross 5 from the first middle and 12 beside it.
    const small = circle(at(2, 1), 13);
    const upright = arc(at(2 + 14, 1 + 15), at(2 + 14 - 15, 1), at(16, 1), true);
    expectBoth(small, upright, 0, at(7, 13), at(7, 13));
    // Radius 5 about (1, 2) and (9, 6): middles askew, crossings at (4, 6) and (6, 2).
    const askew = arc(at(1, -3), at(1, 7), at(1, 2), true);
    expectBoth(askew, arc(at(9, 11), at(5, 3), at(9, 6), true), 0, at(4, 6), at(4, 6));
    expectBoth(askew, arc(at(5, 3), at(9, 1), at(9, 6), true), 0, at(6, 2), at(6, 2));
    // The same stood on its head: middles above each other.
    const turned = arc(at(1 - 15, 16), at(1, 16 - 15), at(1, 16), true);
    expectBoth(circle(at(1, 2), 13), turned, 0, at(-11, 7), at(-11, 7));
  });
});

describe('what does not cross', () => {
  test('has its least distance at an end of a line', () => {
    const wall = line(at(0, 0), at(10, 0));
    expectBoth(line(at(4, 3), at(5, 9)), wall, 3, at(4, 3), at(4, 0));
    expectBoth(line(at(5, 9), at(4, 3)), wall, 3, at(4, 3), at(4, 0));
    expectBoth(line(at(13, 4), at(20, 9)), wall, 5, at(13, 4), at(10, 0));
    // Its line would be crossed beyond either end.
    expectBoth(line(at(-3, -4), at(-3, -9)), wall, 5, at(-3, -4), at(0, 0));
    expectBoth(line(at(14, -9), at(14, 9)), wall, 4, at(14, 0), at(10, 0));
    expectBoth(line(at(-4, -9), at(-4, 9)), wall, 4, at(-4, 0), at(0, 0));
    expectBoth(line(at(12, 0), at(20, 0)), wall, 2, at(12, 0), at(10, 0));
    const beside = nearest(line(at(2, 3), at(8, 3)), wall);
    expect(beside.distance).toBe(3);
  });

  test('has it on the common normal of a line and a round wall', () => {
    expectBoth(line(at(7, -9), at(7, 9)), rightHalf, 2, at(7, 0), at(5, 0));
    // The normal of this line points at (4, 3) on the circle; 8 times 4/5, 3/5 lies on the line.
    expectBoth(line(at(6.4 - 6, 4.8 + 8), at(6.4 + 6, 4.8 - 8)), rightHalf, 3, at(6.4, 4.8), at(4, 3));
    // A line through the inside of a ring that never gets out of it.
    expectBoth(line(at(-1, 2), at(1, 2)), circle(at(0, 0), 5), 5 - Math.hypot(1, 2), at(-1, 2), {
      x: -5 / Math.hypot(1, 2),
      y: 10 / Math.hypot(1, 2),
    });
  });

  test('has it at the end of a round wall where the normal misses it', () => {
    expectBoth(line(at(-3, 9), at(-3, 20)), rightHalf, 5, at(-3, 9), at(0, 5));
    expectBoth(line(at(-4, -8), at(-9, -8)), rightHalf, 5, at(-4, -8), at(0, -5));
  });

  test('has it on the line of middles of two round walls, outside each other or one in the other', () => {
    const far = circle(at(9, 12), 6);
    // Middles 15 apart, less 5, less 6.
    expectBoth(rightHalf, far, 4, at(3, 4), at(9 - 3.6, 12 - 4.8));
    // The same 1 farther right and 2 farther back.
    expectBoth(circle(at(1, 2), 5), circle(at(10, 14), 6), 4, at(4, 6), at(6.4, 9.2));
    // A ring of 10 about (3, 4) holds that of 5 about (0, 0) or touches it; one of 13 clears it by 3.
    expectBoth(circle(at(0, 0), 5), circle(at(3, 4), 13), 3, at(-3, -4), at(-4.8, -6.4));
    // Only a half of the outer one: its nearest place is not on it, and an end is.
    const half = arc(at(3, 17), at(3, -9), at(3, 4), false);
    const found = nearest(rightHalf, half);
    expect(found.distance).toBeCloseTo(Math.hypot(3, 9) - 5, 9);
    expect(found.onWall).toEqual(at(3, -9));
    // About the same middle they are as far apart everywhere.
    expect(nearest(circle(at(0, 0), 7), rightHalf).distance).toBeCloseTo(2, 9);
  });
});

describe('a reach', () => {
  const box = indexRegion(rectangle(at(10, 10), at(30, 20)));
  const beside: readonly (readonly [string, Segment, Point])[] = [
    ['left of', line(at(7, 14), at(7, 14)), at(10, 14)],
    ['right of', line(at(33, 14), at(33, 14)), at(30, 14)],
    ['before', line(at(17, 7), at(17, 7)), at(17, 10)],
    ['behind', line(at(17, 23), at(17, 23)), at(17, 20)],
  ];
  it.each(beside)(
    'holds what lies exactly as far %s a wall, and nothing that is farther',
    (_, path, foot) => {
      expect(nearestApproach(path, box, 3)).toEqual({ distance: 3, onPath: path.from, onWall: foot });
      expect(nearestApproach(path, box, 2.999)).toBeNull();
      expect(wallDistance(box, path.from, 3)).toBe(3);
      expect(wallDistance(box, path.from, 2.999)).toBe(Number.POSITIVE_INFINITY);
      expect(signedWallDistance(box, path.from)).toBe(3);
    },
  );

  it('passes over what lies far off, and nothing else', () => {
    const far = line(at(90, 80), at(95, 70));
    const near = line(at(3, 0), at(3, 5));
    for (let k = 0; k < 7; k++) {
      const walls = Array.from({ length: 7 }, (_, i) => (i === k ? near : far));
      expect(nearestApproach(line(at(0, 2), at(1, 2)), wallOf(...walls), 4)?.distance).toBe(2);
      expect(wallDistance(wallOf(...walls), at(1, 2), 4)).toBe(2);
    }
  });

  it('is less than nothing inside', () => {
    expect(signedWallDistance(box, at(12, 15))).toBe(-2);
    expect(signedWallDistance(box, at(29, 15))).toBe(-1);
  });

  it('of nothing holds nothing', () => {
    const nothing = indexRegion({ contours: [] });
    expect(nothing.box).toBeNull();
    expect(nearestApproach(line(at(0, 0), at(1, 0)), nothing, 100)).toBeNull();
    expect(wallDistance(nothing, at(0, 0), 100)).toBe(Number.POSITIVE_INFINITY);
  });

  it('knows the box of all its walls', () => {
    const region: Region = {
      contours: [...rectangle(at(2, 3), at(9, 4)).contours, { segments: [line(at(-1, -5), at(5, 5))] }],
    };
    const { box: round, boxes } = indexRegion(region);
    expect(round).toEqual([-1, -5, 9, 5]);
    expect([...boxes]).toEqual([2, 3, 9, 3, 9, 3, 9, 4, 2, 4, 9, 4, 2, 3, 2, 4, -1, -5, 5, 5]);
  });
});

/** To the micrometre, as programs say them. */
const within = (least: number, most: number) =>
  fc.integer({ min: Math.round(least * 1000), max: Math.round(most * 1000) }).map((v) => v / 1000);
const place = fc.record({ x: within(-10, 10), y: within(-10, 10) });
const segment: fc.Arbitrary<Segment> = fc.oneof(
  fc.tuple(place, place).map(([from, to]): Segment => ({ kind: 'line', from, to })),
  fc
    .tuple(place, within(0.2, 8), within(-3.1, 3.1), within(0.1, 2 * Math.PI), fc.boolean())
    .map(([centre, r, start, size, left]): Segment => {
      const sweep = left ? size : -size;
      const on = (t: number): Point => ({ x: centre.x + r * Math.cos(t), y: centre.y + r * Math.sin(t) });
      return { kind: 'arc', from: on(start), to: on(start + sweep), centre, sweep };
    }),
);

it('of many walls the nearest counts, wherever it stands among them', () => {
  fc.assert(
    fc.property(
      segment,
      fc.array(segment, { minLength: 2, maxLength: 7 }),
      within(0.1, 6),
      (path, walls, reach) => {
        const region = wallOf(...walls);
        const each = walls.map((wall) => nearest(path, wall));
        const least = Math.min(...each.map((found) => found.distance));
        const found = nearestApproach(path, region, reach);
        if (least > reach) expect(found).toBeNull();
        else {
          expect(found!.distance).toBeCloseTo(least, 9);
          expect(each).toContainEqual(found);
        }
        const p = path.from;
        const straight = Math.min(...walls.map((wall) => nearestOn(wall, p).distance));
        expect(wallDistance(region, p, reach)).toBe(straight <= reach ? straight : Number.POSITIVE_INFINITY);
      },
    ),
    { numRuns: 400, endOnFailure: true },
  );
});

it('an approach lies on both, and no laid place is nearer', () => {
  fc.assert(
    fc.property(segment, segment, (path, wall) => {
      const { distance, onPath, onWall } = nearest(path, wall);
      expect(Math.hypot(onPath.x - onWall.x, onPath.y - onWall.y)).toBeCloseTo(distance, 7);
      expect(nearestOn(path, onPath).distance).toBeLessThan(1e-7);
      expect(nearestOn(wall, onWall).distance).toBeLessThan(1e-7);
      const laid = Array.from({ length: 61 }, (_, k) => nearestOn(wall, pointAlong(path, k / 60)).distance);
      expect(Math.min(...laid)).toBeGreaterThan(distance - 1e-7);
    }),
    { numRuns: 400, endOnFailure: true },
  );
});

it('inside and outside are told apart as the drawing tells them', () => {
  const ring: Region = {
    contours: [...rectangle(at(0, 0), at(20, 12)).contours, { segments: [circle(at(8, 6), 3, false)] }],
  };
  const wall = indexRegion(ring);
  fc.assert(
    fc.property(within(-4, 24), within(-4, 16), (x, y) => {
      expect(signedWallDistance(wall, { x, y })).toBeCloseTo(signedDistance(ring, { x, y }), 9);
    }),
    { numRuns: 100, endOnFailure: true },
  );
});
