import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { difference, intersection } from '../sketch/shape/boolean.ts';
import { distance, type Point } from '../sketch/shape/point.ts';
import { type Path, pathLength, rectangle, regionArea } from '../sketch/shape/region.ts';
import { directionAlong, line, pointAlong, segmentLength } from '../sketch/shape/segment.ts';
import { thicken } from '../sketch/shape/thicken.ts';
import { cutCentreLine } from '../toolpath/passes/centre-line.ts';
import { rampDown } from '../toolpath/passes/entry.ts';
import { leadIn, leadOut, takePen } from '../toolpath/passes/pen.ts';
import {
  endOf,
  firstOf,
  isClosed,
  reversePath,
  startAt,
  startNear,
  startOf,
} from '../toolpath/passes/track.ts';
import { ceilingUnder, stockBetween, take, type Workpiece } from '../toolpath/passes/workpiece.ts';
import { endmill, sweptAt, tracksOf, tracksOfPasses } from './passes-samples.ts';
import { levers, places } from './shape-samples.ts';

const closedPaths: fc.Arbitrary<Path> = levers.map((lever) => ({ segments: lever.contours[0]!.segments }));
const shares = fc.double({ min: 0, max: 1, noNaN: true });

const isUnbroken = (path: Path): boolean =>
  path.segments.every((s, i) => i === 0 || distance(path.segments[i - 1]!.to, s.from) < 1e-9);

describe('tracks', () => {
  test('begun elsewhere are as long, closed and unbroken, and begin there', () => {
    fc.assert(
      fc.property(closedPaths, shares, fc.nat(3), places, (path, share, index, place) => {
        for (const begun of [startAt(path, index, share), startNear(path, place)]) {
          expect(pathLength(begun)).toBeCloseTo(pathLength(path), 6);
          expect(isUnbroken(begun)).toBe(true);
          expect(isClosed(begun)).toBe(true);
        }
        expect(
          distance(startOf(startAt(path, index, share)), pointAlong(path.segments[index]!, share)),
        ).toBeLessThan(2e-5);
        const nearest = Math.min(
          ...path.segments.flatMap((s) =>
            Array.from({ length: 200 }, (_, k) => distance(place, pointAlong(s, k / 199))),
          ),
        );
        expect(distance(startOf(startNear(path, place)), place)).toBeLessThan(nearest + 1e-5);
      }),
    );
  });

  test('cut short have the length asked for, and reversed end where they began', () => {
    fc.assert(
      fc.property(closedPaths, shares, (path, share) => {
        const length = share * pathLength(path);
        const first = firstOf(path, length);
        expect(first.reduce((sum, s) => sum + segmentLength(s), 0)).toBeCloseTo(length, 6);
        const back = reversePath(path);
        expect(startOf(back)).toEqual(endOf(path));
        expect(endOf(back)).toEqual(startOf(path));
        expect(isUnbroken(back)).toBe(true);
      }),
    );
  });
});

describe('a ramp', () => {
  const terms = fc.record({
    feed: fc.double({ min: 50, max: 500, noNaN: true }),
    plungeFeed: fc.double({ min: 10, max: 100, noNaN: true }),
    ramp: fc.double({ min: 0.005, max: 1.5, noNaN: true }),
  });

  test('down a closed or an open path is never steeper than the cutter or three degrees, nor faster down than a plunge', () => {
    fc.assert(
      fc.property(
        closedPaths,
        fc.boolean(),
        fc.double({ min: 0.05, max: 6, noNaN: true }),
        terms,
        (closed, open, drop, entry) => {
          const path: Path = open ? { segments: closed.segments.slice(0, 2) } : closed;
          const pen = takePen(10);
          pen.goTo(startOf(path), 0, -drop);
          pen.feedTo({ ...startOf(path), z: 0 }, entry.plungeFeed);
          const before = pen.moves().length;
          const rest = rampDown(pen, path, -drop, entry);
          const tracks = tracksOf(pen.moves().slice(before), { ...startOf(path), z: 0 });
          for (const t of tracks) {
            const way = segmentLength(t.segment);
            const down = t.from.z - t.to.z;
            expect(down).toBeGreaterThan(-1e-9);
            expect(down / way).toBeLessThanOrEqual(
              Math.tan(Math.min(entry.ramp, (3 * Math.PI) / 180)) + 1e-9,
            );
            // Speed downward: the share of the feed that goes down.
            expect((t.feed * down) / Math.hypot(way, down)).toBeLessThanOrEqual(entry.plungeFeed + 1e-6);
            expect(t.feed).toBeLessThanOrEqual(entry.feed + 1e-9);
          }
          expect(pen.at()!.z).toBeCloseTo(-drop, 9);
          expect(distance(pen.at()!, startOf(rest))).toBeLessThan(1e-4);
          expect(pathLength(rest)).toBeCloseTo(pathLength(path), 4);
        },
      ),
    );
  });
});

describe('leads', () => {
  test('meet the path without a corner and lie on the side away from the wall', () => {
    fc.assert(
      fc.property(
        closedPaths,
        fc.nat(3),
        fc.double({ min: 0.2, max: 3, noNaN: true }),
        (path, index, radius) => {
          const segment = path.segments[index]!;
          for (const side of ['left', 'right'] as const) {
            const [come, go] = [leadIn(segment, radius, side), leadOut(segment, radius, side)];
            expect(distance(come.to, segment.from)).toBe(0);
            expect(distance(go.from, segment.to)).toBe(0);
            for (const [a, b] of [
              [directionAlong(come, 1), directionAlong(segment, 0)],
              [directionAlong(segment, 1), directionAlong(go, 0)],
            ] as const)
              expect(Math.hypot(a.x - b.x, a.y - b.y)).toBeLessThan(1e-9);
            const d = directionAlong(segment, 0);
            const out = (come.from.x - segment.from.x) * -d.y + (come.from.y - segment.from.y) * d.x;
            expect(Math.sign(out)).toBe(side === 'left' ? 1 : -1);
            expect(Math.abs(out)).toBeCloseTo(radius, 9);
            expect(segmentLength(go)).toBeCloseTo((Math.PI / 2) * radius, 9);
            // Half the radius off the tangent is a third of the right angle more than half of it: 60 degrees.
            for (const [whole, part] of [
              [come, leadIn(segment, radius, side, radius / 2)],
              [go, leadOut(segment, radius, side, radius / 2)],
            ] as const) {
              expect(distance(part.centre, whole.centre)).toBe(0);
              expect(segmentLength(part)).toBeCloseTo((Math.PI / 3) * radius, 9);
              expect(Math.sign(part.sweep)).toBe(Math.sign(whole.sweep));
            }
          }
        },
      ),
    );
  });
});

describe('a slot as wide as its cutter', () => {
  const bar = rectangle({ x: 0, y: -7.5 }, { x: 60, y: 7.5 });
  const work: Workpiece = { stock: [{ bottom: -9, top: 0, region: bar }], wanted: [] };
  const cut = (path: Path, open: boolean, floor = -9.2) =>
    cutCentreLine(work, {
      path,
      open,
      floor,
      cutter: endmill(5),
      terms: { stepDown: 1.5, levels: { kind: 'equal' } },
      entry: { feed: 150, plungeFeed: 40, ramp: (3 * Math.PI) / 180 },
      clearHeight: 5,
      underside: -9,
      kind: 'rough',
    });
  const fork: Path = { segments: [line({ x: -3.5, y: 0 }, { x: 9.5, y: 0 })] };
  const closed: Path = { segments: [line({ x: 20, y: 0 }, { x: 45, y: 0 })] };

  test("is cut on its centre line: no move strays from it, and the slot has the cutter's width", () => {
    for (const [path, open] of [
      [fork, true],
      [closed, false],
    ] as const) {
      const { passes } = cut(path, open);
      for (const t of tracksOfPasses(passes)) {
        expect(t.from.y).toBe(0);
        expect(t.to.y).toBe(0);
      }
      const swept = sweptAt(tracksOfPasses(passes), -9.2, 2.5);
      expect(regionArea(difference(intersection(thicken(path, 2.5), bar), swept))).toBeLessThan(1e-3);
    }
  });

  test('begins just clear of the bar, however far out its path does', () => {
    const { passes } = cut(fork, true);
    // Its rim comes to the bar at, and to 0.02 mm of it at -2.48; looked at every 0.1 from -3.5 on, 0.6 before -2.4.
    for (const { moves } of passes)
      expect(moves.find((m) => m.kind === 'feed')?.to).toMatchObject({ x: expect.closeTo(-3, 9), y: 0 });
  });

  test('takes passes of no more than the step-down, with the web that is left told at each', () => {
    const { passes } = cut(fork, true, -8);
    expect(passes).toHaveLength(6);
    passes.forEach((pass, i) => {
      const above = i === 0 ? 0 : passes[i - 1]!.z;
      expect(above - pass.z).toBeLessThanOrEqual(1.5 + 1e-9);
      expect(pass.web).toBeCloseTo(pass.z + 9, 9);
    });
    expect(passes.at(-1)!.web).toBeCloseTo(1, 9);
  });

  test('that is open is always cut inward from the open, at depth before it meets the work', () => {
    for (const pass of cut(fork, true).passes) {
      const tracks = tracksOf(pass.moves);
      const cutting = tracks.filter((t) => segmentLength(t.segment) > 0);
      expect(cutting.length).toBeGreaterThan(0);
      for (const t of cutting) {
        expect(t.to.x).toBeGreaterThan(t.from.x);
        expect(t.from.z).toBeCloseTo(pass.z, 9);
      }
    }
  });

  test('that is closed goes down on ramps, the first from above the work', () => {
    const { passes } = cut(closed, false);
    for (const t of tracksOfPasses(passes)) {
      const way = segmentLength(t.segment);
      if (way === 0) expect(t.to.z).toBeGreaterThan(0);
      else expect((t.from.z - t.to.z) / way).toBeLessThanOrEqual(Math.tan((3 * Math.PI) / 180) + 1e-9);
    }
  });

  test('leaves in the work what the moves leave', () => {
    const { work: after } = cut(closed, false, -4);
    expect(regionArea(stockBetween(after, -4, 0))).toBeCloseTo(60 * 15 - 25 * 5 - Math.PI * 6.25, 4);
    expect(regionArea(stockBetween(after, -9, -4))).toBeCloseTo(900, 6);
    expect(ceilingUnder(after, { x: 30, y: 0 }, 2)).toBe(-4);
    expect(ceilingUnder(after, { x: 30, y: 2 }, 2)).toBe(0);
    expect(ceilingUnder(after, { x: 80, y: 2 }, 2)).toBeNull();
  });
});

describe('work taken away', () => {
  test('between two heights splits slabs there and nowhere else', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -9, max: 0, noNaN: true }),
        fc.double({ min: -9, max: 0, noNaN: true }),
        (a, b) => {
          const [low, high] = [Math.min(a, b), Math.max(a, b)];
          const bar = rectangle({ x: 0, y: 0 }, { x: 10, y: 10 });
          const hole = rectangle({ x: 2, y: 2 }, { x: 5, y: 5 });
          const start: Workpiece = { stock: [{ bottom: -9, top: 0, region: bar }], wanted: [] };
          const { stock } = take(start, hole, low, high);
          const volume = stock.reduce((sum, s) => sum + regionArea(s.region) * (s.top - s.bottom), 0);
          expect(volume).toBeCloseTo(900 - 9 * (high - low), 4);
        },
      ),
    );
  });
});

test('a pen makes rapids across at the clear height, and lifts before it crosses', () => {
  const pen = takePen(5);
  const at: Point = { x: 1, y: 2 };
  pen.goTo(at, -1, -3);
  expect(pen.moves()).toEqual([
    { kind: 'rapid', to: { x: 1, y: 2, z: 5 } },
    { kind: 'rapid', to: { x: 1, y: 2, z: -0.5 } },
  ]);
  pen.feedTo({ x: 1, y: 2, z: -3 }, 40);
  pen.goTo({ x: 9, y: 9 }, null, -3);
  expect(
    pen
      .moves()
      .slice(3)
      .map((m) => ('to' in m ? m.to : null)),
  ).toEqual([
    { x: 1, y: 2, z: 5 },
    { x: 9, y: 9, z: 5 },
    { x: 9, y: 9, z: -2.5 },
  ]);
});
