import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { difference, union } from '../sketch/shape/boolean.ts';
import { distance } from '../sketch/shape/point.ts';
import { disc, NOTHING, type Region, rectangle, regionArea, signedDistance } from '../sketch/shape/region.ts';
import { directionAlong, pointAlong } from '../sketch/shape/segment.ts';
import { thicken } from '../sketch/shape/thicken.ts';
import { closing } from '../toolpath/passes/area.ts';
import { contourLaps, type Lap } from '../toolpath/passes/laps.ts';
import { endOf, isClosed, startOf } from '../toolpath/passes/track.ts';
import { lapTerms, outlines, placesAlong, pockets, walledBy } from './passes-samples.ts';

const sweptBy = (laps: readonly Lap[], radius: number): Region =>
  laps.length === 0 ? NOTHING : union(laps.map((lap) => thicken(lap.path, radius)));

const cases = fc.oneof(pockets, outlines);

describe('contour-parallel laps', () => {
  test('never bring the cutter nearer to a wall than its radius and the allowance', () => {
    fc.assert(
      fc.property(cases, lapTerms, ({ target, keep }, terms) => {
        for (const lap of contourLaps(target, walledBy(keep), terms))
          for (const segment of lap.path.segments)
            for (const p of placesAlong(segment, 0.5))
              expect(signedDistance(keep, p)).toBeGreaterThan(terms.radius + terms.allowance - 1e-4);
      }),
      { numRuns: 30 },
    );
  });

  test('never come nearer to the jaws than the cutter is thick, and are cut open there', () => {
    const jaw = rectangle({ x: -200, y: -200 }, { x: 200, y: -3 });
    fc.assert(
      fc.property(outlines, lapTerms, ({ target, keep }, terms) => {
        const keepOut = { walls: keep, barred: jaw, all: union([keep, jaw]) };
        for (const lap of contourLaps(difference(target, jaw), keepOut, terms))
          for (const segment of lap.path.segments)
            for (const p of placesAlong(segment, 0.5))
              expect(signedDistance(keepOut.all, p)).toBeGreaterThan(terms.radius - 1e-4);
      }),
      { numRuns: 25 },
    );
  });

  test('clear all of the target but what the cutter cannot get out of the corners', () => {
    fc.assert(
      fc.property(cases, lapTerms, ({ target, keep }, terms) => {
        const laps = contourLaps(target, walledBy(keep), terms);
        const left = difference(
          difference(target, closing(keep, terms.radius, terms.allowance)),
          sweptBy(laps, terms.radius),
        );
        expect(regionArea(left)).toBeLessThan(0.01);
      }),
      { numRuns: 30 },
    );
  });

  test('clear all of it also where the stepover is almost as wide as the cutter', () => {
    fc.assert(
      fc.property(
        cases,
        lapTerms,
        fc.double({ min: 1, max: 1.9, noNaN: true }),
        ({ target, keep }, given, share) => {
          const terms = { ...given, stepover: share * given.radius };
          const laps = contourLaps(target, walledBy(keep), terms);
          const left = difference(
            difference(target, closing(keep, terms.radius, terms.allowance)),
            sweptBy(laps, terms.radius),
          );
          expect(regionArea(left)).toBeLessThan(0.01);
        },
      ),
      { numRuns: 30, endOnFailure: true },
    );
  });

  test('in climb milling have the wall to the right of the travel, in conventional milling to the left', () => {
    fc.assert(
      fc.property(cases, lapTerms, ({ target, keep }, terms) => {
        const side = terms.direction === 'climb' ? 1 : -1;
        for (const lap of contourLaps(target, walledBy(keep), terms)) {
          for (const segment of lap.path.segments) {
            const d = directionAlong(segment, 0.5);
            const p = pointAlong(segment, 0.5);
            const beside = { x: p.x + d.y * side * 1e-3, y: p.y - d.x * side * 1e-3 };
            expect(signedDistance(keep, beside)).toBeLessThan(signedDistance(keep, p) - 5e-4);
          }
        }
      }),
      { numRuns: 30 },
    );
  });

  test('run round the outside of a disc clockwise and round the inside of a bore anticlockwise when climbing', () => {
    const terms = { radius: 2, allowance: 0, stepover: 1, direction: 'climb' as const };
    const bar = rectangle({ x: -9, y: -9 }, { x: 9, y: 9 });
    const outside = contourLaps(
      difference(bar, disc({ x: 0, y: 0 }, 5)),
      walledBy(disc({ x: 0, y: 0 }, 5)),
      terms,
    );
    const round = outside.find((lap) => lap.ring === 0)!;
    expect(round.path.segments[0]).toMatchObject({ kind: 'arc' });
    expect(Math.sign((round.path.segments[0] as { sweep: number }).sweep)).toBe(-1);
    const inside = contourLaps(
      disc({ x: 0, y: 0 }, 5),
      walledBy(difference(bar, disc({ x: 0, y: 0 }, 5))),
      terms,
    );
    for (const lap of inside) expect((lap.path.segments[0] as { sweep: number }).sweep).toBeGreaterThan(0);
  });

  test('come with the farthest from the walls first, and are closed when they say so', () => {
    fc.assert(
      fc.property(cases, lapTerms, ({ target, keep }, terms) => {
        const laps = contourLaps(target, walledBy(keep), terms);
        const rings = laps.map((lap) => lap.ring);
        expect(rings).toEqual([...rings].sort((a, b) => b - a));
        for (const lap of laps) {
          expect(lap.closed).toBe(isClosed(lap.path));
          lap.path.segments.slice(1).forEach((s, i) => {
            expect(distance(lap.path.segments[i]!.to, s.from)).toBeLessThan(1e-6);
          });
        }
      }),
      { numRuns: 30 },
    );
  });

  test('along the walls that are open begin and end in the air, clear of all that is to be cut', () => {
    fc.assert(
      fc.property(outlines, lapTerms, ({ target, keep }, terms) => {
        for (const lap of contourLaps(target, walledBy(keep), terms)) {
          if (lap.closed || lap.ring > 0) continue;
          for (const end of [startOf(lap.path), endOf(lap.path)])
            expect(signedDistance(target, end)).toBeGreaterThan(terms.radius + 0.5);
        }
      }),
      { numRuns: 25 },
    );
  });
});
