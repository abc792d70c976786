import { describe, expect, test } from 'vitest';
import { standardProfile } from '../toolpath/machine/default-profile.ts';
import { planRoute } from '../toolpath/passes/plan.ts';
import { applyRouteDocument } from '../toolpath/route/document.ts';
import { proposeRoute } from '../toolpath/route/propose.ts';
import { plannedHolds, plannedPasses } from '../toolpath/survival/planned-passes.ts';
import { type PassSurvival, surviveRoute } from '../toolpath/survival/survival.ts';
import { survivalFindings, survivalRows } from '../toolpath/survival/verdict.ts';
import { samplePart } from './samples.ts';

const part = samplePart('vent-latch-lever');
const { route } = proposeRoute(part, standardProfile);

/** Only the passes of one job step, on the stock that the ones before it left. */
const survey = (wish: unknown, only: string): readonly PassSurvival[] => {
  const plan = planRoute(part, applyRouteDocument(route, wish, 'mm').route, standardProfile);
  const passes = plannedPasses(plan);
  const last = passes.findLastIndex((p) => p.label.startsWith(`${only},`));
  return surviveRoute(part.bar, plannedHolds(plan), passes.slice(0, last + 1), {
    cell: 0.3,
    places: 1,
  }).filter((p) => p.force.label.startsWith(`${only},`));
};

describe('common practice, no source', () => {
  test('a 5 mm cutter in passes under 1.5 mm in a steel fork whose back is solid is known to succeed', () => {
    const passes = survey({}, 'fork');
    expect(passes.length).toBeGreaterThanOrEqual(6);
    expect(survivalFindings(passes, standardProfile)).toEqual([]);
    for (const pass of passes) {
      expect(pass.movement).not.toBeNull();
      expect(pass.movement!).toBeLessThan(0.02);
      expect(pass.hold!.least).toBeGreaterThan(2);
    }
  });

  test('the same slot cut to full depth in one pass is known to fail', () => {
    const passes = survey({ adjust: { fork: { stepDown: 9.5, web: 0 } } }, 'fork');
    expect(passes).toHaveLength(1);
    const codes = survivalFindings(passes, standardProfile).map((f) => f.code);
    expect(codes).toContain('cutter-overloaded');
    // More than six times the depth of a proposed pass is more than five times its force.
    expect(passes[0]!.force.most / survey({}, 'fork')[1]!.force.most).toBeGreaterThan(5);
  });
});

describe('the survey of a plan', () => {
  test('a floor of nothing but web gives more than solid work', () => {
    const solid = survey({}, 'fork')[1]!;
    const thin = survey({ adjust: { fork: { web: 0.3 } } }, 'fork').at(-1)!;
    expect(thin.movement! / thin.force.most).toBeGreaterThan(solid.movement! / solid.force.most);
  });

  test('stops when it is told to, with what it has', () => {
    const plan = planRoute(part, route, standardProfile);
    let asked = 0;
    const done = surviveRoute(part.bar, plannedHolds(plan), plannedPasses(plan), {
      cell: 0.4,
      places: 0,
      cancelled: () => ++asked > 3,
    });
    expect(done).toHaveLength(3);
  });

  test('rows for a file hold no figure that is not one', () => {
    const rows = survivalRows(survey({}, 'drill 3.8'));
    expect(rows).toHaveLength(1);
    expect(rows[0]!.thrust_N).toBeGreaterThan(50);
    for (const value of Object.values(rows[0]!)) {
      if (typeof value === 'number') expect(Number.isFinite(value)).toBe(true);
    }
  });
});
