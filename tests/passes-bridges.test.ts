import { describe, expect, test } from 'vitest';
import type { Point } from '../sketch/shape/point.ts';
import {
  contains,
  type Path,
  pathLength,
  polygon,
  type Region,
  rectangle,
  regionArea,
  signedDistance,
} from '../sketch/shape/region.ts';
import { arc, line, pointAlong, segmentLength } from '../sketch/shape/segment.ts';
import {
  type BridgeLift,
  beginBetweenBridges,
  firstStretch,
  followOverBridges,
  liftsAt,
  spreadBridges,
} from '../toolpath/passes/bridges.ts';
import { takePen } from '../toolpath/passes/pen.ts';

const outlineOf = (...corners: readonly (readonly [number, number])[]): Region => ({
  contours: [polygon(corners.map(([x, y]) => ({ x, y })))],
});
/** The place so far along an outline, from where it begins. */
const placeAt = (outline: Region, length: number): Point => {
  let left = length;
  for (const s of outline.contours[0]!.segments) {
    if (left <= segmentLength(s)) return pointAlong(s, left / segmentLength(s));
    left -= segmentLength(s);
  }
  throw new Error('beyond the end');
};
const close = (a: Point, b: Point, by: number): void => {
  expect(Math.hypot(a.x - b.x, a.y - b.y)).toBeLessThan(by);
};

describe('bridges are spread', () => {
  const wanted = { count: 4, length: 4, top: -3 };

  test('evenly along a plain outline, in the middle of each side of a square', () => {
    // 80 mm round, from a corner: at 10, 30, 50, 70, each the middle of a side.
    const square = outlineOf([0, 0], [20, 0], [20, 20], [0, 20]);
    const bridges = spreadBridges(square, wanted, 2);
    const middles = [
      [10, 0, 0, -1],
      [20, 10, 1, 0],
      [10, 20, 0, 1],
      [0, 10, -1, 0],
    ] as const;
    for (const [i, [x, y, outX, outY]] of middles.entries()) {
      const bridge = bridges[i]!;
      // Places are tried every half a millimetre.
      close(bridge.at, { x, y }, 0.26);
      close(bridge.outward, { x: outX, y: outY }, 1e-9);
      expect(bridge).toMatchObject({ length: 4, z: -3 });
      // Half its length and the cutter's radius to either side; a radius into the part and six out of it.
      expect(regionArea(bridge.strip)).toBeCloseTo((4 + 2 * 2) * (1 + 6) * 2, 3);
      const at = (out: number, along: number): Point => ({
        x: bridge.at.x + out * outX - along * outY,
        y: bridge.at.y + out * outY + along * outX,
      });
      for (const along of [-3.99, 0, 3.99])
        for (const out of [-1.99, 11.99]) expect(contains(bridge.strip, at(out, along))).toBe(true);
      for (const [out, along] of [
        [0, 4.01],
        [0, -4.01],
        [-2.01, 0],
        [12.01, 0],
      ] as const)
        expect(contains(bridge.strip, at(out, along))).toBe(false);
    }
  });

  test('off a round piece to the nearest straight one with room for half a bridge and half a radius', () => {
    // An even share falls on the corner of this one: 2 bridges of 100 mm round lie at 25 and 75, the corners at 30 and 80.
    const bar = outlineOf([0, 0], [30, 0], [30, 20], [0, 20]);
    const [one, two] = spreadBridges(bar, { ...wanted, count: 2, length: 10 }, 4);
    // Straight for 5 + 2 mm to either side: 23 at most on the first side, 73 on the third.
    close(one!.at, { x: 22.75, y: 0 }, 0.3);
    close(two!.at, { x: 7.25, y: 20 }, 0.3);
    expect(one!.at.x).toBeLessThanOrEqual(23);
  });

  test('nearest to the even share where that is straight, on either side of a corner', () => {
    // 2 of 112 mm round lie at 28 and 84: 2 mm before the far corner of the first side, where 1 + 0.5 mm are enough.
    const bar = outlineOf([0, 0], [30, 0], [30, 26], [0, 26]);
    const [one] = spreadBridges(bar, { ...wanted, count: 2, length: 2 }, 1);
    close(one!.at, { x: 28, y: 0 }, 0.3);
  });

  test('never where another limb lies in the way out, as far as the strip reaches', () => {
    // Two limbs with 9 mm between: strips of a 2 mm cutter’s radius reach 12 mm.
    const fork = outlineOf([0, 0], [40, 0], [40, 8], [8, 8], [8, 17], [40, 17], [40, 25], [0, 25]);
    for (const count of [1, 2, 3])
      for (const { at } of spreadBridges(fork, { ...wanted, count }, 2)) {
        const between = at.x > 8.01 && at.x < 39.9 && at.y > 7.9 && at.y < 17.1;
        expect(between, `${count}: ${at.x}, ${at.y}`).toBe(false);
      }
    // With 20 mm between there is room.
    const wide = outlineOf([0, 0], [40, 0], [40, 8], [8, 8], [8, 28], [40, 28], [40, 36], [0, 36]);
    const inside = spreadBridges(wide, { ...wanted, count: 6 }, 2).filter(
      ({ at }) => at.x > 8.01 && at.x < 39.9 && at.y > 7.9 && at.y < 28.1,
    );
    expect(inside.length).toBeGreaterThan(0);
  });

  test('away from inner corners by half the lift and the cutter that stops before them', () => {
    // A right-angled inner corner keeps a cutter of radius 2 off by 2 mm, and the lift is 2 + 2 to either side.
    const angle = outlineOf([0, 0], [50, 0], [50, 10], [10, 10], [10, 50], [0, 50]);
    for (const count of [1, 2, 3, 4, 5, 7])
      for (const { at } of spreadBridges(angle, { ...wanted, count }, 2))
        expect(Math.hypot(at.x - 10, at.y - 10)).toBeGreaterThan(4 + 2 - 1e-9);
  });

  test('farther from a sharp inner corner: by how far the cutter stops before it', () => {
    // An edge 2 mm high leans over by half a right angle, so that a cutter of radius 3 stops 3 · tan 67.5° = 7.24 before
    // its foot at X 30; the lift is 1 + 3 to either side. The even share of two lies 8.3 mm from there.
    const barb = outlineOf([0, 0], [60, 0], [60, 22], [28, 22], [30, 20], [0, 20]);
    const [, bridge] = spreadBridges(barb, { ...wanted, count: 2, length: 2 }, 3);
    expect(bridge!.at.y).toBeCloseTo(20, 9);
    expect(bridge!.at.x).toBeLessThan(30 - 4 - 7.24);
    expect(bridge!.at.x).toBeGreaterThan(30 - 4 - 7.24 - 0.6);
  });

  test('at the even share itself where no place is free', () => {
    // A cross with arms 6 wide and 4 long, 56 mm round: no place is 9 mm from all four inner corners.
    const cross = outlineOf(
      [4, 0],
      [10, 0],
      [10, 4],
      [14, 4],
      [14, 10],
      [10, 10],
      [10, 14],
      [4, 14],
      [4, 10],
      [0, 10],
      [0, 4],
      [4, 4],
    );
    const bridges = spreadBridges(cross, { ...wanted, count: 3, length: 6 }, 3);
    expect(pathLength(cross.contours[0]!)).toBeCloseTo(56, 9);
    close(bridges[0]!.at, placeAt(cross, 56 / 6), 1e-9);
    close(bridges[2]!.at, placeAt(cross, (5 * 56) / 6), 1e-9);
  });

  test('along the largest contour, whatever holes there are', () => {
    const square = outlineOf([0, 0], [30, 0], [30, 30], [0, 30]);
    const hole = rectangle({ x: 5, y: 5 }, { x: 25, y: 25 }).contours[0]!;
    const clockwise = polygon(hole.segments.map((s) => s.from).reverse());
    for (const contours of [
      [square.contours[0]!, clockwise],
      [clockwise, square.contours[0]!],
    ])
      for (const { at } of spreadBridges({ contours }, wanted, 1))
        expect(Math.abs(signedDistance(square, at))).toBeLessThan(1e-6);
  });
});

describe('a way over bridges', () => {
  const lift = (from: number, to: number, z: number): BridgeLift => ({
    at: { x: (from + to) / 2, y: 0 },
    outward: { x: 0, y: -1 },
    length: to - from,
    z,
    strip: rectangle({ x: from, y: -5 }, { x: to, y: 5 }),
  });
  const way: Path = { segments: [line({ x: 0, y: 0 }, { x: 100, y: 0 })] };
  const terms = { feed: 200, plungeFeed: 50, ramp: Math.PI / 60 };
  const low = lift(20, 30, -3);

  test('knows only those whose tops it would cut into', () => {
    expect(liftsAt([low, lift(40, 50, -4)], -3)).toEqual([]);
    expect(liftsAt([low, lift(40, 50, -4)], -3.5)).toEqual([low]);
    expect(liftsAt([low, lift(40, 50, -4)], -5)).toHaveLength(2);
  });

  test('is gone as it is where there is none: rounds end exactly where they are meant to', () => {
    const pen = takePen(5);
    pen.feedTo({ x: 3, y: 0, z: -4 }, 200);
    const round = arc({ x: 3, y: 0 }, { x: 0, y: 3 }, { x: 0, y: 0 }, true);
    followOverBridges(pen, { segments: [round] }, terms, [], 'ramp', { z: -4, above: 0 });
    expect(pen.at()).toEqual({ x: 0, y: 3, z: -4 });
  });

  test('rises before each to its top and comes straight down behind it', () => {
    const pen = takePen(5);
    pen.feedTo({ x: 0, y: 0, z: -4 }, 200);
    followOverBridges(pen, way, terms, [low, lift(60, 70, -3.5)], 'straight', { z: -4, above: 0 });
    const moves = pen.moves().flatMap((m) => (m.kind === 'feed' ? [[m.to.x, m.to.z, m.feed]] : []));
    expect(moves.slice(1)).toEqual([
      [20, -4, 200],
      [20, -3, 200],
      [30, -3, 200],
      [30, -4, 50],
      [60, -4, 200],
      [60, -3.5, 200],
      [70, -3.5, 200],
      [70, -4, 50],
      [100, -4, 200],
    ]);
  });

  test('passes one that was laid bare, and rises, at up to twice the feed where the machine goes as fast', () => {
    const feeds = (most: number | undefined, above: number) => {
      const pen = takePen(5);
      pen.feedTo({ x: 0, y: 0, z: -4 }, 200);
      const entry = most === undefined ? terms : { ...terms, most };
      followOverBridges(pen, way, entry, [low], 'straight', { z: -4, above });
      return pen
        .moves()
        .flatMap((m) => (m.kind === 'feed' ? [m.feed] : []))
        .slice(1);
    };
    expect(feeds(1000, -3)).toEqual([200, 400, 400, 50, 200]);
    expect(feeds(1000, -2.9)).toEqual([200, 400, 200, 50, 200]);
    expect(feeds(300, -3.5)).toEqual([200, 300, 300, 50, 200]);
    expect(feeds(100, -3.5)).toEqual([200, 200, 200, 50, 200]);
    expect(feeds(undefined, -3.5)).toEqual([200, 200, 200, 50, 200]);
  });

  test('ramps down behind one in solid work, no steeper than the cutter bears, and then goes all the way', () => {
    const pen = takePen(5);
    pen.feedTo({ x: 0, y: 0, z: -4 }, 200);
    followOverBridges(pen, way, terms, [low], 'ramp', { z: -4, above: 0 });
    const places = pen.moves().flatMap((m) => (m.kind === 'feed' ? [m.to] : []));
    for (const [i, p] of places.slice(1).entries()) {
      const fall = places[i]!.z - p.z;
      if (fall > 0)
        expect(fall / Math.hypot(p.x - places[i]!.x)).toBeLessThanOrEqual(Math.tan(Math.PI / 60) + 1e-9);
      if (p.x > 20 + 1e-9 && p.x < 30 - 1e-9) expect(p.z).toBeGreaterThanOrEqual(-3);
    }
    expect(places.at(-1)).toEqual({ x: 100, y: 0, z: -4 });
    // 1 mm at 3° takes 19.08 mm of way, half of it forth.
    expect(Math.max(...places.filter((p) => p.z > -4 + 1e-9 && p.z < -3).map((p) => p.x))).toBeCloseTo(
      30 + 19.081 / 2,
      2,
    );
  });

  test('begins with a stretch that ends where the first comes, and as high as it is where it begins over one', () => {
    expect(firstStretch(way, [], -4)).toEqual({ path: way, height: -4 });
    expect(firstStretch(way, [lift(200, 210, -3)], -4)).toEqual({ path: way, height: -4 });
    const before = firstStretch(way, [low], -4);
    expect(before.height).toBe(-4);
    expect(pathLength(before.path)).toBeCloseTo(20, 9);
    const over = firstStretch(way, [lift(-5, 12, -3)], -4);
    expect(over.height).toBe(-3);
    expect(pathLength(over.path)).toBeCloseTo(12, 9);
    expect(firstStretch(way, [lift(-5, 120, -3)], -4).height).toBe(-3);
  });

  test('begins, closed, where no bridge is', () => {
    const round: Path = rectangle({ x: 0, y: 0 }, { x: 40, y: 20 }).contours[0]!;
    expect(beginBetweenBridges(round, [])).toBe(round);
    const over = { ...low, strip: rectangle({ x: -3, y: -3 }, { x: 3, y: 3 }) };
    const begun = beginBetweenBridges(round, [over]);
    expect(contains(over.strip, begun.segments[0]!.from)).toBe(false);
    expect(pathLength(begun)).toBeCloseTo(120, 9);
    // Bridges over all four corners: it begins in the middle of a side.
    const corners = {
      ...low,
      strip: {
        contours: [0, 40].flatMap((x) =>
          [0, 20].flatMap((y) => rectangle({ x: x - 3, y: y - 3 }, { x: x + 3, y: y + 3 }).contours),
        ),
      },
    };
    const start = beginBetweenBridges(round, [corners]).segments[0]!.from;
    expect([start.x % 20, start.y % 10].map(Math.abs)).toEqual([0, 0]);
    expect(contains(corners.strip, start)).toBe(false);
  });
});
