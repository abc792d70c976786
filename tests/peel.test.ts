import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Point } from '../sketch/shape/point.ts';
import { directionAlong, pointAlong, type Segment, segmentLength } from '../sketch/shape/segment.ts';
import {
  canPeel,
  loopEngagement,
  mostStep,
  orbitOf,
  type PeelTerms,
  peelLoops,
  peelOpening,
  peelStep,
} from '../toolpath/passes/peel.ts';

const RIM = 360;

/**
 * The rim in the material along a path, measured the plain way: the material is a fine grid of places, each gone once
 * the cutter has been over it; at every step the places just beyond the rim are looked at, on the side it goes to.
 */
const measured = (
  path: readonly Segment[],
  radius: number,
  standing: (p: Point) => boolean,
  cleared: readonly Point[] = [],
): number => {
  const gone: { readonly at: Point; readonly radius: number }[] = cleared.map((at) => ({ at, radius }));
  let most = 0;
  const STEP = 0.1;
  for (const s of path) {
    const count = Math.max(1, Math.ceil(segmentLength(s) / STEP));
    for (let i = 0; i < count; i++) {
      const at = pointAlong(s, (i + 1) / count);
      const way = directionAlong(s, (i + 0.5) / count);
      let inside = 0;
      for (let k = 0; k < RIM; k++) {
        const a = (2 * Math.PI * k) / RIM;
        const u = { x: Math.cos(a), y: Math.sin(a) };
        if (u.x * way.x + u.y * way.y <= 0) continue;
        const p = { x: at.x + u.x * radius, y: at.y + u.y * radius };
        if (!standing(p)) continue;
        // A place is gone when the cutter was over it with a hair to spare.
        if (gone.some((g) => Math.hypot(g.at.x - p.x, g.at.y - p.y) < g.radius - 1e-3)) continue;
        inside++;
      }
      most = Math.max(most, (2 * Math.PI * inside) / RIM);
      gone.push({ at, radius });
      // Only the last loops lie within reach.
      if (gone.length > cleared.length + 450) gone.splice(cleared.length, 100);
    }
  }
  return most;
};

const degrees = (r: number): number => (r * 180) / Math.PI;

const terms = (width: number, radius: number, limit: number, length = 14): PeelTerms => ({
  from: { x: 0, y: 0 },
  to: { x: length, y: 0 },
  width,
  radius,
  engagement: (limit * Math.PI) / 180,
  direction: 'climb',
});

test('the step keeps the limit and uses it', () => {
  fc.assert(
    fc.property(
      fc.double({ min: 1, max: 4, noNaN: true }),
      fc.double({ min: 1.15, max: 4, noNaN: true }),
      fc.double({ min: 25, max: 100, noNaN: true }),
      (radius, times, limit) => {
        const t = terms(2 * radius * times, radius, limit);
        const step = peelStep(t);
        if (step === null) return;
        const reached = loopEngagement(orbitOf(t), radius, step);
        expect(reached).toBeLessThanOrEqual(t.engagement + 1e-9);
        if (step < mostStep(t) - 1e-9) expect(degrees(t.engagement - reached)).toBeLessThan(0.5);
      },
    ),
    { numRuns: 60 },
  );
});

test('against a straight edge of a very wide slot the angle is that of any handbook: arccos (1 − step / radius)', () => {
  // An orbit that is large beside the cutter cuts as a straight line does.
  for (const step of [0.2, 0.5, 1]) {
    const engaged = loopEngagement(1e6, 3, step);
    expect(engaged).toBeCloseTo(Math.acos(1 - step / 3), 4);
  }
});

test('an open slot is peeled within the limit, by a measure that knows nothing of loops', () => {
  for (const [width, radius, limit] of [
    [8, 3, 60],
    [8, 2.5, 45],
    [6, 2, 80],
  ] as const) {
    for (const direction of ['climb', 'conventional'] as const) {
      const t = { ...terms(width, radius, limit, 8), direction };
      const path = peelLoops(t)!;
      // The edge lies where the first loop just reaches; beyond the walls nothing is counted.
      const edge = width / 2;
      const standing = (p: Point): boolean => p.x > edge && Math.abs(p.y) < width / 2 - 1e-6;
      const most = measured(path, radius, standing);
      expect(degrees(most), `${width} ${radius} ${direction}`).toBeLessThanOrEqual(limit + 5);
      // It is no air cut either.
      expect(degrees(most)).toBeGreaterThan(limit * 0.6);
    }
  }
}, 60_000);

test('a closed slot is opened from its hole within the limit, and then peeled', () => {
  const t = terms(9, 2.5, 60, 6);
  const hole = 1.2;
  const opening = peelOpening(t, hole)!;
  const loops = peelLoops(t)!;
  // The hole of the way down: all within its reach is gone.
  const cleared = Array.from({ length: 60 }, (_, i) => ({
    x: hole * Math.cos((i * Math.PI) / 30),
    y: hole * Math.sin((i * Math.PI) / 30),
  }));
  const middleGone = (p: Point): boolean => Math.hypot(p.x, p.y) < hole + t.radius - 1e-3;
  const standing = (p: Point): boolean => Math.abs(p.y) < t.width / 2 - 1e-6 && !middleGone(p);
  const most = measured([...opening, ...loops], t.radius, standing, cleared);
  expect(degrees(most)).toBeLessThanOrEqual(60 + 5);
  expect(most).toBeGreaterThan(0.5);
  // One chain without a gap, that ends with a whole round.
  const all = [...opening, ...loops];
  for (let i = 1; i < all.length; i++) {
    expect(Math.hypot(all[i]!.from.x - all[i - 1]!.to.x, all[i]!.from.y - all[i - 1]!.to.y)).toBeLessThan(
      1e-9,
    );
  }
}, 60_000);

test('the loops sweep the slot from wall to wall, and reach its end', () => {
  const t = terms(8, 3, 60);
  const path = peelLoops(t)!;
  const places = path.flatMap((s) => Array.from({ length: 40 }, (_, i) => pointAlong(s, i / 39)));
  const swept = (p: Point): boolean => places.some((q) => Math.hypot(p.x - q.x, p.y - q.y) <= 3 + 1e-9);
  for (let x = 0; x <= 14; x += 0.35) {
    expect(swept({ x, y: 0 })).toBe(true);
    expect(swept({ x, y: 3.9 })).toBe(true);
    expect(swept({ x, y: -3.9 })).toBe(true);
  }
  expect(Math.max(...places.map((p) => p.x))).toBeCloseTo(14 + 1, 2);
  expect(Math.max(...places.map((p) => Math.abs(p.y)))).toBeLessThanOrEqual(1 + 1e-9);
});

test('a slot no wider than its cutter is not peeled, and an angle that is too small is refused', () => {
  expect(canPeel({ width: 6, radius: 3 })).toBe(false);
  expect(peelLoops(terms(6, 3, 60))).toBeNull();
  expect(peelLoops(terms(8, 3, 2))).toBeNull();
});
