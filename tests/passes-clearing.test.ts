import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { difference, union } from '../sketch/shape/boolean.ts';
import { offset } from '../sketch/shape/offset.ts';
import { type Point, polar } from '../sketch/shape/point.ts';
import { type Region, rectangle, regionArea, signedDistance } from '../sketch/shape/region.ts';
import { nearestOn, pointAlong, segmentLength } from '../sketch/shape/segment.ts';
import { thicken } from '../sketch/shape/thicken.ts';
import { type Clearing, closing } from '../toolpath/passes/area.ts';
import { spreadBridges } from '../toolpath/passes/bridges.ts';
import { clearArea } from '../toolpath/passes/clearing.ts';
import type { Pass } from '../toolpath/passes/pass.ts';
import { stockBetween, type Workpiece } from '../toolpath/passes/workpiece.ts';
import { FEED_FROM } from '../toolpath/route/clearances.ts';
import {
  clearingOf,
  lapTerms,
  motionsOf,
  outlines,
  placesAlong,
  pockets,
  sweptAt,
  type Track,
  tracksByPass,
  tracksOfPasses,
  workOf,
} from './passes-samples.ts';
import { twoEnded } from './shape-samples.ts';

const STEEPEST = Math.tan((3 * Math.PI) / 180);

/** The steepest slope of any feed that goes down while it moves. */
const steepest = (passes: readonly Pass[]): number =>
  tracksOfPasses(passes).reduce((most, t) => {
    const way = segmentLength(t.segment);
    return way > 1e-6 ? Math.max(most, (t.from.z - t.to.z) / way) : most;
  }, 0);

/** Straight ways down, at feed or by rapid, that end in material which nothing before them has cut, in words. What lies no more than `beside` beyond an earlier cut, mm, is left to shaving. */
const plungesIntoWork = (
  passes: readonly Pass[],
  plate: Region,
  radius: number,
  beside = 0.01,
): readonly string[] => {
  const faults: string[] = [];
  const before: Track[] = [];
  for (const t of motionsOf(passes.flatMap((p) => p.moves))) {
    if (t.to.z < t.from.z - 1e-9 && segmentLength(t.segment) < 1e-6 && t.to.z < -1e-9) {
      const lower = before.filter((b) => Math.max(b.from.z, b.to.z) <= t.to.z + 1e-6);
      const isAir = (p: Point): boolean =>
        signedDistance(plate, p) > -0.02 ||
        lower.some((b) => nearestOn(b.segment, p).distance < radius + beside);
      const under = [0.5, 0.97].flatMap((share) =>
        Array.from({ length: 16 }, (_, k) => polar(t.to, radius * share, (k * Math.PI) / 8)),
      );
      if (![t.to, ...under].every(isAir))
        faults.push(`down to ${t.to.z.toFixed(3)} at ${t.to.x.toFixed(2)}, ${t.to.y.toFixed(2)}`);
    }
    before.push(t);
  }
  return faults;
};

const floorStock = (work: Workpiece, z: number) => stockBetween(work, z, 1e6);

describe('clearing a random pocket or outline from a plate', () => {
  const cases = fc.oneof(pockets, outlines);

  test('no pass cuts deeper than the step-down below what stands, and the levels fall', () => {
    fc.assert(
      fc.property(cases, lapTerms, (pocket, terms) => {
        const clearing = clearingOf(pocket, terms);
        const { passes } = clearArea(workOf(pocket, -3), clearing);
        const rough = passes.filter((p) => p.kind === 'rough').map((p) => p.z);
        rough.forEach((z, i) => {
          expect((i === 0 ? 0 : rough[i - 1]!) - z).toBeLessThanOrEqual(clearing.terms.stepDown + 1e-9);
        });
        for (const { pass, tracks } of tracksByPass(passes))
          for (const t of tracks) expect(t.to.z).toBeGreaterThanOrEqual(pass.z - 1e-9);
      }),
      { numRuns: 15 },
    );
  });

  test('the cutter stays clear of the walls: by the allowance when roughing, to size when finishing', () => {
    fc.assert(
      fc.property(cases, lapTerms, (pocket, terms) => {
        const { passes } = clearArea(workOf(pocket, -3), clearingOf(pocket, terms));
        for (const { pass, tracks } of tracksByPass(passes)) {
          const least = terms.radius + (pass.kind === 'rough' ? terms.allowance : 0) - 2e-4;
          for (const t of tracks)
            for (const p of placesAlong(t.segment, 0.7))
              expect(signedDistance(pocket.keep, p)).toBeGreaterThan(least);
        }
      }),
      { numRuns: 15 },
    );
  });

  test('at the floor nothing is left that the cutter could reach, and the work after it says the same', () => {
    fc.assert(
      fc.property(cases, lapTerms, (pocket, terms) => {
        const { passes, work } = clearArea(workOf(pocket, -3), clearingOf(pocket, terms));
        const swept = sweptAt(tracksOfPasses(passes), -3, terms.radius);
        const left = difference(difference(pocket.target, closing(pocket.keep, terms.radius, 0)), swept);
        expect(regionArea(left)).toBeLessThan(0.02);
        // What the planner believes to stand is what the moves leave standing.
        const believed = floorStock(work, -3);
        expect(regionArea(difference(difference(pocket.plate, swept), believed))).toBeLessThan(0.02);
        expect(regionArea(difference(believed, difference(pocket.plate, swept)))).toBeLessThan(0.02);
      }),
      { numRuns: 15 },
    );
  });

  test('ramps are no steeper than the cutter bears, and straight ways down end above the work or beside it', () => {
    fc.assert(
      fc.property(cases, lapTerms, (pocket, terms) => {
        const start = workOf(pocket, -3);
        const { passes } = clearArea(start, clearingOf(pocket, terms));
        expect(steepest(passes)).toBeLessThanOrEqual(STEEPEST + 1e-9);
        expect(plungesIntoWork(passes, pocket.plate, terms.radius)).toEqual([]);
      }),
      { numRuns: 15 },
    );
  });

  test('rapids across run at the clear height, or over what was cut before with room to spare; the last ends up there', () => {
    let low = 0;
    fc.assert(
      fc.property(cases, lapTerms, (pocket, terms) => {
        const clearing = clearingOf(pocket, terms);
        const { passes } = clearArea(workOf(pocket, -3), clearing);
        const before: Track[] = [];
        for (const t of motionsOf(passes.flatMap((p) => p.moves))) {
          const across = !Number.isFinite(t.feed) && segmentLength(t.segment) > 1e-9;
          if (across) expect(t.to.z).toBe(t.from.z);
          if (across && t.to.z < clearing.clearHeight) {
            low++;
            // All that the cutter passes over lies off the plate or was swept, lower down, by then.
            const lower = before.filter((b) => Math.max(b.from.z, b.to.z) <= t.to.z - FEED_FROM + 1e-6);
            for (const p of [0.25, 0.5, 0.75].map((share) => pointAlong(t.segment, share))) {
              const rim = Array.from({ length: 16 }, (_, k) => polar(p, terms.radius, (k * Math.PI) / 8));
              const free = (q: Point): boolean =>
                signedDistance(pocket.plate, q) > -0.02 ||
                lower.some((b) => nearestOn(b.segment, q).distance < terms.radius + 0.01);
              expect([p, ...rim].every(free)).toBe(true);
            }
          }
          before.push(t);
        }
        const end = passes.at(-1)?.moves.at(-1);
        if (end) expect(end).toMatchObject({ kind: 'rapid', to: { z: clearing.clearHeight } });
      }),
      { numRuns: 40 },
    );
    expect(low).toBeGreaterThan(5);
  });
});

describe('thinning by strokes one way', () => {
  const block = {
    target: rectangle({ x: 18, y: -8 }, { x: 70, y: 8 }),
    keep: rectangle({ x: 0, y: -8 }, { x: 18, y: 8 }),
    plate: rectangle({ x: 0, y: -8 }, { x: 70, y: 8 }),
  };
  const terms = { radius: 5, allowance: 0.2, stepover: 4, direction: 'climb' as const };
  const strokes = (startFrom: 'left' | 'right', over: Partial<Clearing> = {}) =>
    clearArea(
      workOf(block, -9),
      clearingOf(block, terms, { pattern: { kind: 'strokes', startFrom }, ...over }),
    );

  test.each(['left', 'right'] as const)(
    'every long stroke starts from the %s and feeds away from it',
    (side) => {
      const { passes } = strokes(side);
      const long = tracksOfPasses(passes).filter(
        (t) =>
          t.segment.kind === 'line' &&
          Math.abs(t.to.x - t.from.x) > 3 &&
          Math.abs(t.to.y - t.from.y) < 1e-9 &&
          t.from.z === t.to.z,
      );
      expect(long.length).toBeGreaterThan(3);
      for (const t of long) expect(Math.sign(t.to.x - t.from.x)).toBe(side === 'left' ? 1 : -1);
    },
  );

  test('clears the body to its floor and leaves the block that gives the hold', () => {
    for (const side of ['left', 'right'] as const) {
      const { passes } = strokes(side);
      const swept = sweptAt(tracksOfPasses(passes), -3, terms.radius);
      expect(regionArea(difference(block.target, swept))).toBeLessThan(0.01);
      expect(regionArea(difference(block.keep, difference(block.plate, swept)))).toBeLessThan(0.01);
    }
  });
});

describe('holding bridges in a groove', () => {
  const keep = twoEnded({ x: 0, y: 0 }, 8, { x: 50, y: 0 }, 6);
  const plate = rectangle({ x: -20, y: -20 }, { x: 70, y: 20 });
  const groove = { target: difference(offset(keep, 6), keep), keep, plate };
  const terms = { radius: 2, allowance: 0.2, stepover: 0.8, direction: 'climb' as const };
  const bridges = spreadBridges(keep, { count: 4, length: 5, top: -4 }, terms.radius);
  const { passes } = clearArea(
    workOf(groove, -5),
    clearingOf(groove, terms, { area: groove.target, floor: -5.2, underside: -5, bridges }),
  );

  test('are as many as asked for, on straight pieces, spread round the outline', () => {
    expect(bridges).toHaveLength(4);
    for (const bridge of bridges) {
      expect(Math.abs(signedDistance(keep, bridge.at))).toBeLessThan(1e-6);
      const beyond = { x: bridge.at.x + bridge.outward.x, y: bridge.at.y + bridge.outward.y };
      expect(signedDistance(keep, beyond)).toBeCloseTo(1, 6);
    }
  });

  test('stand to their height and length after all passes, and the groove between them is through', () => {
    // Whatever goes below a bridge's top at all, be it at one end only.
    const below = tracksOfPasses(passes).filter((t) => Math.min(t.from.z, t.to.z) < -4 - 1e-6);
    const swept = union(below.map((t) => thicken({ segments: [t.segment] }, terms.radius)));
    for (const bridge of bridges) {
      const along = { x: -bridge.outward.y, y: bridge.outward.x };
      const at = (out: number, side: number) => ({
        x: bridge.at.x + bridge.outward.x * out + along.x * side,
        y: bridge.at.y + bridge.outward.y * out + along.y * side,
      });
      for (const out of [0.1, 1, 2, 3.5])
        for (const side of [-bridge.length / 2 + 0.02, 0, bridge.length / 2 - 0.02])
          expect(signedDistance(swept, at(out, side))).toBeGreaterThan(0);
      // Beyond the bridge's ends the groove is cut to the floor.
      for (const side of [-bridge.length / 2 - 2.2, bridge.length / 2 + 2.2])
        expect(signedDistance(swept, at(2, side))).toBeLessThan(0);
    }
  });

  test('are not plunged into: slopes stay within the ramp, and straight plunges within what was cut', () => {
    expect(steepest(passes)).toBeLessThanOrEqual(STEEPEST + 1e-9);
    // Finishing comes down beside the wall, where roughing has left its allowance and no more.
    expect(plungesIntoWork(passes, plate, terms.radius, terms.allowance + 0.01)).toEqual([]);
  });

  test('are told of by the passes under their tops', () => {
    for (const pass of passes) expect(pass.web).toBeCloseTo(Math.max(pass.z, -4) + 5, 9);
  });
});
