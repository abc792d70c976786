import { describe, expect, test } from 'vitest';
import { planPart, proveRecommendation, recommendSubject } from '../gcode/chain.ts';
import { adviceLines, adviceOf } from '../gcode/survival/report.ts';
import { assess } from '../toolpath/survival/assess.ts';
import { compareOrders, orderings } from '../toolpath/survival/orders.ts';
import { recommend, recommendInSteps } from '../toolpath/survival/recommend.ts';
import { sampleText } from './samples.ts';

const planned = planPart(sampleText('vent-latch-lever'));
if (!planned.ok) throw new Error('the sample is refused');
const { subject, own } = recommendSubject(planned);
const COARSE = { cell: 0.4, brick: 1.75, places: 1 } as const;
const THIN = 'thin body from the back';

describe('A recommended route', () => {
  const found = recommend(subject, own, COARSE);

  test('keeps every movement within the tolerance, where the proposal does not', () => {
    expect(found.before.movement).toBeGreaterThan(0.1);
    expect(found.after.movement).toBeLessThanOrEqual(0.02);
    expect(found.enough).toBe(true);
    // Solved where it counts, not estimated alone.
    expect(found.after.worst!.basis).toBe('solved');
  });

  test('is a change of the part document that says no more than it must', () => {
    expect(found.route!.order).toBeUndefined();
    expect(Object.keys(found.route!.adjust!).sort()).toEqual(['fork', 'release fork', THIN]);
    const thin = found.route!.adjust![THIN]!;
    // The arm gets softer with every pass, so passes get thinner on the way.
    expect(thin.levels).toMatchObject({ kind: 'falling' });
    expect(thin.stepDown!).toBeLessThan(1);
    expect(thin.stepDown!).toBeGreaterThanOrEqual(0.1);
    const again = assess(subject, found.route!, { ...COARSE, above: 0.012 });
    expect(again.movement).toBeCloseTo(found.after.movement, 6);
  });

  test('takes no longer than it must: a third deeper and the tolerance is broken', () => {
    const thin = found.route!.adjust![THIN]!;
    const deeper = { ...found.route!.adjust, [THIN]: { ...thin, stepDown: thin.stepDown! * 1.5 } };
    expect(assess(subject, { adjust: deeper }, COARSE).movement).toBeGreaterThan(0.02);
  });

  test('is explained with its numbers', () => {
    const [web, step, time] = found.reasons;
    expect(web).toMatch(/with the 0\.5 mm web .* without it .* so the web goes last, at 0\.25 mm depth/);
    expect(step).toMatch(
      /^thin body from the back: at 2\.5 mm a pass the work moves about 0\.\d+ mm at the /,
    );
    expect(time).toMatch(/min in place of \d+ min/);
  });

  test('makes a part that fits, and is withdrawn where it would not', () => {
    expect(proveRecommendation(planned, found).route).toEqual(found.route);
    const unfit = { ...found, route: { order: { 1: ['square ends'], 2: [] } } };
    const withdrawn = proveRecommendation(planned, unfit);
    expect(withdrawn.route).toBeNull();
    expect(withdrawn.reasons.at(-1)).toContain('would not fit');
  });

  test('never touches what the user has chosen, and names what stood in the way', () => {
    const chosen = { adjust: { [THIN]: { stepDown: 1.5 }, fork: { web: 1 } } };
    const theirs = recommend(subject, chosen, COARSE);
    expect(theirs.route?.adjust?.[THIN] ?? chosen.adjust[THIN]).toMatchObject({ stepDown: 1.5 });
    expect(theirs.route?.adjust?.fork ?? chosen.adjust.fork).toMatchObject({ web: 1 });
    expect(theirs.kept.join()).toContain('the web of fork, 1 mm');
    expect(theirs.kept.join()).toContain(`the step-down of ${THIN}, 1.5 mm`);
    expect(theirs.enough).toBe(false);
  });

  test('can be stopped between two of its looks', () => {
    const steps = recommendInSteps(subject, own, COARSE);
    const first = steps.next();
    expect(first.done).toBe(false);
    if (first.done) return;
    expect(first.value.what).toBe('as it is');
    expect(steps.return(found).done).toBe(true);
  });
});

describe('Orders side by side', () => {
  test('a fork cut first on solid bar is held true by the web; cut after the thinning the jaws close it', () => {
    const rows = compareOrders(subject, own, COARSE);
    expect(rows.map((r) => [r.name, r.refused])).toEqual([
      ['as it is', null],
      ['webs released before thinning', null],
      ['forks and slots after thinning', null],
    ]);
    const [first, early, late] = rows.map((r) => r.closes);
    expect(early! / first!).toBeGreaterThan(3);
    expect(late! / first!).toBeGreaterThan(8);
    const lines = adviceLines(adviceOf({ ...recommendation(), reasons: [], route: null }, rows));
    expect(lines.filter((line) => /jaws close the fork 0\.\d{3} mm/.test(line))).toHaveLength(3);
  });

  test('are only those that differ, each with all its job steps', () => {
    const all = orderings(planned.route);
    for (const { order } of all) {
      const names = Object.values(order).flat();
      expect([...names].sort()).toEqual(
        planned.route.setups.flatMap((s) => s.steps.map((x) => x.name)).sort(),
      );
    }
    const bare = {
      setups: [{ ...planned.route.setups[0]!, steps: planned.route.setups[0]!.steps.slice(0, 1) }],
    };
    expect(orderings(bare)).toHaveLength(1);
  });

  const recommendation = () => {
    const before = assess(subject, own, { ...COARSE, steps: [] });
    return { route: null, reasons: [], kept: [], before, after: before, enough: false };
  };
});

test('where only the hold is at fault, passes that take many times as long are not recommended', () => {
  const crank = JSON.parse(sampleText('winch-bell-crank'));
  const places = [
    { x: 15, y: 29 },
    { x: 37, y: 17 },
  ];
  const route = { setups: { 1: { plate: { kind: 'clamps', places } } } };
  const clamped = planPart(JSON.stringify({ ...crank, route }));
  if (!clamped.ok) throw new Error('refused');
  const { subject: held, own: wished } = recommendSubject(clamped);
  const found = recommend(held, wished, COARSE);
  expect(found.before.movement).toBeGreaterThan(0.05);
  expect(found.route).toBeNull();
  expect(found.enough).toBe(false);
  expect(found.reasons.join(' ')).toMatch(/Shallower passes alone do not do: .* Hold it better: more clamps/);
}, 60_000);
