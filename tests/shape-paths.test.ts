import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { union } from '../sketch/shape/boolean.ts';
import { clipPath } from '../sketch/shape/clip-path.ts';
import { isSameCurve } from '../sketch/shape/curve.ts';
import { intersections } from '../sketch/shape/intersections.ts';
import { distance, type Point, polar } from '../sketch/shape/point.ts';
import {
  contains,
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
import {
  arc,
  circle,
  directionAlong,
  line,
  nearestOn,
  piece,
  pointAlong,
  reverseSegment,
  type Segment,
  segmentBox,
  segmentLength,
} from '../sketch/shape/segment.ts';
import { thicken } from '../sketch/shape/thicken.ts';
import { boundaryPoints, faultsOf, forks, levers, places, simpleShapes } from './shape-samples.ts';

const lines: fc.Arbitrary<Segment> = fc
  .tuple(places, places)
  .filter(([a, b]) => distance(a, b) > 0.1)
  .map(([a, b]) => line(a, b));
const arcs: fc.Arbitrary<Segment> = fc
  .record({
    centre: places,
    radius: fc.double({ min: 0.5, max: 15, noNaN: true }),
    start: fc.double({ min: -3, max: 3, noNaN: true }),
    sweep: fc.double({ min: 0.05, max: 6.2, noNaN: true }),
    anticlockwise: fc.boolean(),
  })
  .map(({ centre, radius, start, sweep, anticlockwise }) => {
    const s = anticlockwise ? sweep : -sweep;
    return {
      kind: 'arc',
      from: polar(centre, radius, start),
      to: polar(centre, radius, start + s),
      centre,
      sweep: s,
    };
  });
const segments = fc.oneof(lines, arcs);

/** Open chains of lines and arcs, each begun where the last one ended. */
const chains: fc.Arbitrary<Path> = fc.array(segments, { minLength: 1, maxLength: 4 }).map((parts) => {
  const made: Segment[] = [];
  let at: Point = parts[0]!.from;
  for (const s of parts) {
    const move = (p: Point): Point => ({ x: p.x + at.x - s.from.x, y: p.y + at.y - s.from.y });
    made.push(
      s.kind === 'line'
        ? line(at, move(s.to))
        : { kind: 'arc', from: at, to: move(s.to), centre: move(s.centre), sweep: s.sweep },
    );
    at = made[made.length - 1]!.to;
  }
  return { segments: made };
});

const alongPath = (path: Path, step: number): Point[] =>
  path.segments.flatMap((s) => {
    const count = Math.max(1, Math.ceil(segmentLength(s) / step));
    return Array.from({ length: count + 1 }, (_, k) => pointAlong(s, k / count));
  });

const awayFrom = (path: Path, p: Point): number =>
  Math.min(...path.segments.map((s) => nearestOn(s, p).distance));

describe('segments', () => {
  test('the nearest place on a segment is as near as the nearest of many samples', () => {
    fc.assert(
      fc.property(segments, places, (s, p) => {
        const near = nearestOn(s, p);
        const samples = Array.from({ length: 401 }, (_, k) => distance(p, pointAlong(s, k / 400)));
        const least = Math.min(...samples);
        expect(near.distance).toBeLessThanOrEqual(least + 1e-9);
        expect(near.distance).toBeGreaterThan(least - segmentLength(s) / 400);
        expect(distance(near.point, p)).toBeCloseTo(near.distance, 9);
        expect(distance(pointAlong(s, near.share), near.point)).toBeLessThan(1e-6);
      }),
    );
  });

  test('boxes hold every place on the segment and touch it on all four sides', () => {
    fc.assert(
      fc.property(segments, (s) => {
        const box = segmentBox(s);
        const points = Array.from({ length: 2001 }, (_, k) => pointAlong(s, k / 2000));
        const held = points.filter(
          (p) =>
            p.x >= box.min.x - 1e-9 &&
            p.x <= box.max.x + 1e-9 &&
            p.y >= box.min.y - 1e-9 &&
            p.y <= box.max.y + 1e-9,
        );
        expect(held).toHaveLength(points.length);
        expect(Math.min(...points.map((p) => p.x)) - box.min.x).toBeLessThan(1e-3);
        expect(box.max.y - Math.max(...points.map((p) => p.y))).toBeLessThan(1e-3);
        expect(Math.min(...points.map((p) => p.y)) - box.min.y).toBeLessThan(1e-3);
        expect(box.max.x - Math.max(...points.map((p) => p.x))).toBeLessThan(1e-3);
      }),
    );
  });

  test('pieces, turned ends and directions agree with the places along the way', () => {
    fc.assert(
      fc.property(segments, fc.double({ min: 0, max: 0.45, noNaN: true }), (s, t) => {
        const part = piece(s, t, t + 0.5);
        expect(distance(pointAlong(part, 0.5), pointAlong(s, t + 0.25))).toBeLessThan(1e-9);
        expect(segmentLength(part)).toBeCloseTo(segmentLength(s) / 2, 9);
        expect(distance(pointAlong(reverseSegment(s), t), pointAlong(s, 1 - t))).toBeLessThan(1e-9);
        const d = directionAlong(s, t + 0.01);
        const a = pointAlong(s, t + 0.01 - 1e-6);
        const b = pointAlong(s, t + 0.01 + 1e-6);
        const l = distance(a, b);
        expect(Math.hypot(d.x - (b.x - a.x) / l, d.y - (b.y - a.y) / l)).toBeLessThan(1e-4);
      }),
    );
  });
});

describe('crossings of two segments', () => {
  test('are on both, at the shares they say', () => {
    fc.assert(
      fc.property(segments, segments, (a, b) => {
        for (const { point, shareA, shareB } of intersections(a, b)) {
          expect(distance(point, pointAlong(a, shareA))).toBeLessThan(1e-6);
          expect(distance(point, pointAlong(b, shareB))).toBeLessThan(1e-6);
        }
      }),
      { numRuns: 1000 },
    );
  });

  test('are as many as a search by brute force finds', () => {
    // The side of b's whole curve on which points of a lie changes at a crossing; counted where b reaches.
    const side = (b: Segment, p: Point): number =>
      b.kind === 'line'
        ? (b.to.x - b.from.x) * (p.y - b.from.y) - (b.to.y - b.from.y) * (p.x - b.from.x)
        : distance(p, b.centre) - distance(b.from, b.centre);
    const steps = 4000;
    fc.assert(
      fc.property(segments, segments, (a, b) => {
        // A shared stretch is not reported.
        fc.pre(!isSameCurve(a, b));
        const found: Point[] = [];
        let before = side(b, a.from);
        for (let k = 1; k <= steps; k++) {
          const now = side(b, pointAlong(a, k / steps));
          if (before > 0 !== now > 0) found.push(pointAlong(a, (k - 0.5) / steps));
          before = now;
        }
        const step = segmentLength(a) / steps;
        const met = intersections(a, b);
        // A meeting within a few steps of an end of either, or of a touch, is left to the other tests.
        const doubtful = (p: Point): boolean =>
          [a.from, a.to, b.from, b.to].some((end) => distance(end, p) < 20 * step + 1e-3);
        for (const p of found) {
          if (doubtful(p) || nearestOn(b, p).distance > 20 * step) continue;
          expect(Math.min(...met.map((m) => distance(m.point, p)))).toBeLessThan(20 * step);
        }
        for (const m of met) {
          if (doubtful(m.point)) continue;
          const near = found.some((p) => distance(p, m.point) < 20 * step);
          const d = directionAlong(a, m.shareA);
          const e = directionAlong(b, m.shareB);
          const isTouch = Math.abs(d.x * e.y - d.y * e.x) < 0.02;
          expect(near || isTouch).toBe(true);
        }
      }),
      { numRuns: 300 },
    );
  });

  test('a tangent line and touching circles meet once', () => {
    const c = circle({ x: 0, y: 0 }, 5);
    expect(intersections(line({ x: -9, y: 5 }, { x: 9, y: 5 }), c)).toHaveLength(1);
    expect(intersections(c, circle({ x: 8, y: 0 }, 3))).toHaveLength(1);
    expect(intersections(c, circle({ x: 2, y: 0 }, 3))).toHaveLength(1);
    expect(intersections(c, circle({ x: 0, y: 0 }, 3))).toHaveLength(0);
    expect(intersections(c, circle({ x: 4, y: 0 }, 3))).toHaveLength(2);
  });

  test('an end that lies on the other counts', () => {
    expect(intersections(line({ x: 0, y: 0 }, { x: 5, y: 0 }), circle({ x: 0, y: 0 }, 5))).toHaveLength(1);
    expect(
      intersections(line({ x: 0, y: 0 }, { x: 5, y: 5 }), line({ x: 5, y: 5 }, { x: 5, y: 9 })),
    ).toHaveLength(1);
    expect(
      intersections(
        line({ x: 0, y: 2 }, { x: 9, y: 2 }),
        arc({ x: 4, y: 0 }, { x: 4, y: 2 }, { x: 4, y: 1 }, true),
      ),
    ).toHaveLength(1);
  });
});

describe('a path clipped by a region', () => {
  const shapes: fc.Arbitrary<Region> = fc.oneof(
    simpleShapes,
    forks,
    fc.tuple(simpleShapes, simpleShapes).map(([a, b]) => union([a, b])),
  );

  test('falls into an inside and an outside that together are as long as it was', () => {
    fc.assert(
      fc.property(chains, shapes, (path, region) => {
        const inside = clipPath(path, region, 'inside');
        const outside = clipPath(path, region, 'outside');
        const total = [...inside, ...outside].reduce((sum, p) => sum + pathLength(p), 0);
        expect(Math.abs(total - pathLength(path))).toBeLessThan(0.02);
      }),
      { numRuns: 300 },
    );
  });

  test('keeps just what dense sampling keeps, in order and without a break', () => {
    fc.assert(
      fc.property(
        chains,
        shapes,
        fc.constantFrom('inside' as const, 'outside' as const),
        (path, region, keep) => {
          const kept = clipPath(path, region, keep);
          for (const part of kept) {
            for (let i = 1; i < part.segments.length; i++)
              expect(distance(part.segments[i - 1]!.to, part.segments[i]!.from)).toBeLessThan(1e-6);
            for (const p of alongPath(part, 0.3)) {
              const away = signedDistance(region, p);
              expect(keep === 'inside' ? away : -away).toBeLessThan(1e-5);
            }
          }
          for (const p of alongPath(path, 0.3)) {
            const away = signedDistance(region, p);
            if (Math.abs(away) < 2e-3) continue;
            const wanted = away < 0 === (keep === 'inside');
            const near = Math.min(1e9, ...kept.map((part) => awayFrom(part, p)));
            // A path may cross itself, so that a lost place can lie near a kept one, but never the other way.
            if (wanted) expect(near).toBeLessThan(1e-6);
          }
        },
      ),
      { numRuns: 300 },
    );
  });

  test('that is closed runs on through its seam', () => {
    const ring: Path = { segments: [circle({ x: 0, y: 0 }, 10)] };
    const half = rectangle({ x: 0, y: -20 }, { x: 20, y: 20 });
    const inside = clipPath(ring, half, 'inside');
    expect(inside).toHaveLength(1);
    expect(inside[0]!.segments).toHaveLength(1);
    expect(pathLength(inside[0]!)).toBeCloseTo(10 * Math.PI, 9);
    expect(clipPath(ring, half, 'outside')).toHaveLength(1);
  });

  test('that only touches the region is kept whole or lost whole', () => {
    const touching: Path = { segments: [line({ x: -10, y: 5 }, { x: 10, y: 5 })] };
    const outside = clipPath(touching, disc({ x: 0, y: 0 }, 5), 'outside');
    expect(outside).toHaveLength(1);
    expect(outside[0]!.segments).toHaveLength(1);
    expect(clipPath(touching, disc({ x: 0, y: 0 }, 5), 'inside')).toHaveLength(0);
  });
});

describe('a thickened path', () => {
  test('holds just the places within its radius', () => {
    fc.assert(
      fc.property(chains, fc.double({ min: 0.3, max: 6, noNaN: true }), (path, radius) => {
        const swept = thicken(path, radius);
        expect(faultsOf(swept)).toEqual([]);
        for (const p of boundaryPoints(swept, 0.7))
          expect(Math.abs(awayFrom(path, p) - radius)).toBeLessThan(0.003);
        for (const place of alongPath(path, 1.1)) {
          for (const share of [0, 0.5, 0.98, 1.02, 1.3, 2.1]) {
            const p = polar(place, radius * share, place.x * 7 + share * 11);
            const away = awayFrom(path, p);
            if (Math.abs(away - radius) > 0.004) expect(contains(swept, p)).toBe(away < radius);
          }
        }
      }),
      { numRuns: 250 },
    );
  });

  test('along a closed convex path is a band of 2 r P on the outside and inside together', () => {
    fc.assert(
      fc.property(levers, (lever) => {
        // Inward by less than every radius of the lever the band is as wide inside as out (Steiner both ways).
        const r = 0.9;
        const swept = thicken(lever.contours[0]!, r);
        expect(swept.contours).toHaveLength(2);
        expect(segmentsOf(swept)).toHaveLength(8);
        expect(regionArea(swept)).toBeCloseTo(2 * r * perimeter(lever), 4);
      }),
      { numRuns: 50 },
    );
  });

  test('round a circle by more than its radius is one disc without a hole', () => {
    const swept = thicken({ segments: [circle({ x: 3, y: 1 }, 2)] }, 2.5);
    expect(swept.contours).toHaveLength(1);
    expect(regionArea(swept)).toBeCloseTo(Math.PI * 4.5 ** 2, 6);
    const ring = thicken({ segments: [circle({ x: 3, y: 1 }, 5, false)] }, 1);
    expect(regionArea(ring)).toBeCloseTo(Math.PI * (36 - 16), 6);
  });

  test('round half a turn is half a ring and two half discs', () => {
    const half = thicken({ segments: [arc({ x: 10, y: 0 }, { x: -10, y: 0 }, { x: 0, y: 0 }, true)] }, 3);
    expect(regionArea(half)).toBeCloseTo((Math.PI / 2) * (169 - 49) + Math.PI * 9, 6);
    expect(nearestBoundary(half, { x: 0, y: 0 })!.distance).toBeCloseTo(7, 9);
  });
});
