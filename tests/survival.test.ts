import { describe, expect, test } from 'vitest';
import { solidOf } from '../sketch/part/solid.ts';
import type { Point3 } from '../sketch/shape/point.ts';
import { standardProfile } from '../toolpath/machine/default-profile.ts';
import { planRoute } from '../toolpath/passes/plan.ts';
import { barMap } from '../toolpath/removal/height-map.ts';
import { applyRouteDocument } from '../toolpath/route/document.ts';
import { proposeRoute } from '../toolpath/route/propose.ts';
import { CUTTING_FORCE } from '../toolpath/survival/cutting-force.ts';
import { uncut } from '../toolpath/survival/engagement.ts';
import { type SurveyMotion, type SurveyPass, surveyPass } from '../toolpath/survival/force-survey.ts';
import { namedPlaces } from '../toolpath/survival/named-places.ts';
import type {
  PassSurvival,
  SurvivalNews,
  SurvivalQuestion,
  SurvivalTerms,
} from '../toolpath/survival/pass-survival.ts';
import { plannedHolds, plannedPasses } from '../toolpath/survival/planned-passes.ts';
import { surviveInSteps, surviveRoute } from '../toolpath/survival/survival.ts';
import { survivalRows } from '../toolpath/survival/survival-rows.ts';
import { survivalFindings } from '../toolpath/survival/verdict.ts';
import { samplePart } from './samples.ts';

const part = samplePart('vent-latch-lever');
const { route } = proposeRoute(part, standardProfile);

const question = (wish: unknown): SurvivalQuestion => {
  const plan = planRoute(part, applyRouteDocument(route, wish, part).route, standardProfile);
  return {
    bar: part.bar,
    setups: plannedHolds(plan),
    passes: plannedPasses(plan),
    wanted: solidOf(part),
    names: namedPlaces(part),
  };
};

const COARSE = { cell: 0.3, brick: 1.5, frequency: false, places: 1 } as const;

/** Only the passes of one job step, on the stock that the ones before it left. */
const surveyOf = (wish: unknown, only: string, terms: SurvivalTerms = {}): readonly PassSurvival[] => {
  const asked = question(wish);
  return surviveRoute(asked, { ...COARSE, ...terms, only: (i) => asked.passes[i]!.step === only }).filter(
    (p) => p.force.step === only,
  );
};

describe('common practice, no source', () => {
  test('a 5 mm cutter in passes under 1.5 mm in a steel fork whose back is solid is known to succeed', () => {
    const passes = surveyOf({}, 'fork');
    expect(passes.length).toBeGreaterThanOrEqual(6);
    // Nothing breaks and nothing is lost; that a slot as wide as its cutter does not come out true is another matter.
    const codes = survivalFindings(passes, standardProfile).map((f) => f.code);
    expect(codes.filter((code) => code !== 'wall-off')).toEqual([]);
    for (const pass of passes) {
      expect(pass.movement).not.toBeNull();
      expect(pass.movement!).toBeLessThan(0.02);
      expect(pass.hold!.least).toBeGreaterThan(2);
    }
  });

  test('the same slot cut to full depth in one pass is known to fail', () => {
    const passes = surveyOf({ adjust: { fork: { stepDown: 9.5, web: 0 } } }, 'fork');
    expect(passes).toHaveLength(1);
    const codes = survivalFindings(passes, standardProfile).map((f) => f.code);
    expect(codes).toContain('cutter-overloaded');
    // More than six times the depth of a proposed pass is more than five times its force.
    expect(passes[0]!.force.most / surveyOf({}, 'fork')[1]!.force.most).toBeGreaterThan(5);
  });
});

describe('the survey step by step', () => {
  const asked = question({});
  const passes = asked.passes.filter((p) => p.kind === 'rough').slice(0, 4);
  const few = { ...asked, passes };

  test('gives every pass by closed forms first, then each one solved, with how far it has come', () => {
    let clock = 0;
    const news: SurvivalNews[] = [];
    const steps = surviveInSteps(few, COARSE, () => (clock += 500));
    let step = steps.next();
    for (; !step.done; step = steps.next()) news.push(step.value);
    const [first, ...rest] = news;
    if (first?.kind !== 'estimated') throw new Error('no estimate came first');
    expect(first.passes).toHaveLength(4);
    for (const pass of first.passes) expect(pass).toMatchObject({ basis: 'closed form', footing: 'held' });
    const solved = rest.filter((n) => n.kind === 'solved');
    expect(solved.map((n) => n.pass)).toEqual([0, 1, 2, 3]);
    expect(solved.map((n) => n.share)).toEqual([0.25, 0.5, 0.75, 1]);
    // A quarter done in one tick of half a second or two: what is left is told, and shrinks to nothing.
    const left = solved.map((n) => n.secondsLeft!);
    expect(left[0]!).toBeGreaterThan(1);
    expect(left[3]!).toBe(0);
    expect(step.value!.map((p) => p.basis)).toEqual(['solved', 'solved', 'solved', 'solved']);
    expect(step.value![2]).toBe(solved[2]!.result);
  });

  test('keeps what was solved when it is told to stop, the rest as estimates', () => {
    let stop = false;
    const steps = surviveInSteps(few, { ...COARSE, cancelled: () => stop });
    let step = steps.next();
    for (; !step.done; step = steps.next()) if (step.value.kind === 'solved') stop = true;
    expect(step.value!.map((p) => p.basis)).toEqual(['solved', 'closed form', 'closed form', 'closed form']);
  });

  test('refuses constants that make no sense, with the reason, before anything is computed', () => {
    const elastic = { young: -1, poisson: 0.3, density: 7850 };
    const cutting = { ...CUTTING_FORCE.brass, mc: 1.5 };
    expect([...surviveInSteps(few, { elastic })]).toEqual([
      { kind: 'refused', reason: "Young's modulus must be more than 0 MPa, not -1" },
    ]);
    expect([...surviveInSteps(few, { cutting })]).toEqual([
      { kind: 'refused', reason: 'mc must be from 0 to under 1, not 1.5' },
    ]);
    expect(surviveRoute(few, { elastic })).toEqual([]);
  });

  test('says of a pass that nothing is in the jaws, and of a piece that it has come free', () => {
    const away = asked.setups.map((s) => ({
      ...s,
      hold: { ...s.hold, jaws: { from: 200, to: 300 } },
    }));
    const none = surviveRoute({ ...few, setups: away }, COARSE);
    expect(none.map((p) => p.footing)).toEqual(Array(4).fill('nothing in the jaws'));
    expect(none.every((p) => p.movement === null && p.hold === null)).toBe(true);
    const codes = new Set(survivalFindings(none, standardProfile).map((f) => f.code));
    expect([...codes]).toEqual(['nothing-held']);
    // The jaws hold the left end alone, and the first pass saws the bar through beside it.
    const sawn = {
      ...few,
      setups: asked.setups.map((s) => ({ ...s, hold: { ...s.hold, jaws: { from: -1, to: 20 } } })),
      passes: [{ ...passes[0]!, motions: [crossing(40)] }],
    };
    const [pass] = surviveRoute(sawn, COARSE);
    expect(pass!.loose).toHaveLength(1);
    expect(pass!.loose[0]!.at[0]).toBeGreaterThan(40);
    expect(survivalFindings([pass!], standardProfile).map((f) => f.code)).toContain('piece-loose');
  });

  /** A feed right across the bar at an X, below its underside. */
  const crossing = (x: number): SurveyMotion => ({
    stroke: { kind: 'feed', from: { x, y: -10, z: -10 }, to: { x, y: 25, z: -10 } },
    feed: 30,
  });
});

describe('where the work gives most', () => {
  const asked = question({});
  const solved = surveyOf({}, 'thin body from the back');

  test('an arm that juts out of the jaws moves most at its far end, and names it', () => {
    const worst = solved.reduce((a, b) => ((b.movement ?? 0) > (a.movement ?? 0) ? b : a));
    expect(worst.bending[0]!.name).toBe('edge of hole latch pin');
    expect(worst.movement!).toBeGreaterThan(0.05);
    // Without the place's name the strongest cut alone would be looked at, beside the jaws, where nothing gives.
    const strongest = worst.force.places[0]!;
    expect(strongest.at.x).toBeLessThan(worst.bending[0]!.place.at.x);
  });

  test('the closed forms come within a third of the solve where the arm bends', () => {
    const quick = surviveRoute(asked, { ...COARSE, only: () => false });
    for (const pass of solved.slice(0, 3)) {
      const estimate = quick.find((p) => p.force.still === pass.force.still)!;
      expect(Math.abs(estimate.movement! / pass.movement! - 1)).toBeLessThan(0.34);
    }
  });

  test('its lowest frequency falls as it is thinned, and lies far above that of the teeth', () => {
    const [first, , third] = surveyOf({}, 'thin body from the back', { frequency: true });
    expect(third!.frequency!).toBeLessThan(0.7 * first!.frequency!);
    expect(third!.frequency!).toBeGreaterThan(10 * third!.toothPassing);
  });

  test('the web under the fork is told pass by pass, down to its thickness and then to nothing', () => {
    const webs = [...surveyOf({}, 'fork'), ...surveyOf({}, 'release fork')].map((p) => p.web);
    expect(webs.slice(0, 6).map((web) => Number(web!.toFixed(2)))).toEqual([7.7, 6.4, 5.1, 3.8, 2.5, 1.2]);
    expect(webs.at(-1)).toBeNull();
  });
});

describe('what the survey takes for cut and for carried', () => {
  const bar = {
    length: 40,
    width: 20,
    thickness: 9,
    material: 'brass',
    corner: { x: 0, y: 0 },
    sawn: 0,
  } as const;
  const frame = { face: 'front', zero: { x: 0, y: 0, z: 9 } } as const;
  const cutter = standardProfile.cutters.find((c) => c.kind === 'endmill' && c.diameter === 6)!;
  const drill = standardProfile.cutters.find((c) => c.kind === 'drill' && c.diameter === 4)!;
  const at = (x: number, y: number, z: number) => ({ x, y, z });
  const pass = (tool: typeof cutter, from: Point3, to: Point3): SurveyPass => ({
    label: 'a pass',
    step: 'a step',
    setup: 1,
    still: null,
    kind: 'rough',
    cutter: tool,
    speed: 1500,
    frame,
    motions: [{ stroke: { kind: 'feed', from, to }, feed: 90 }],
  });
  const slot = (y: number, z: number) => pass(cutter, at(-5, y, z), at(45, y, z));

  test('the wall beside a slot that is cut once more, deeper, is not cut again', () => {
    const stock = uncut(barMap(bar, 0.2), bar);
    const [first, second, third] = [-2, -4, -6].map((z) =>
      surveyPass(stock, slot(10.07, z), CUTTING_FORCE.brass),
    );
    expect(first!.most).toBeGreaterThan(20);
    for (const later of [second!, third!]) {
      expect(Math.abs(later.most / first!.most - 1)).toBeLessThan(0.02);
      for (const place of later.places) expect(place.depth).toBeCloseTo(2, 3);
    }
  });

  test('parallels carry what a drill presses down, and nothing that an endmill lifts', () => {
    const movement = (one: SurveyPass, carried: boolean): number => {
      // The jaws hold the left quarter alone; parallels lie under the whole length.
      const parallels = carried ? { height: 20, thickness: 4, offset: 7 } : null;
      const hold = {
        kind: 'vice',
        jaws: { from: 0, to: 10 },
        grip: 4,
        parallels,
        gripped: 'the sides',
      } as const;
      const [result] = surviveRoute({ bar, setups: [{ number: 1, frame, hold }], passes: [one] }, COARSE);
      return result!.movement!;
    };
    const milled = pass(cutter, at(36, -5, -1), at(36, 25, -1));
    expect(movement(milled, true)).toBe(movement(milled, false));
    const drilled = pass(drill, at(36, 10, 2), at(36, 10, -5));
    expect(movement(drilled, true)).toBeLessThan(0.5 * movement(drilled, false));
  });
});

describe('the survey of a plan', () => {
  test('a floor of nothing but web gives more than solid work', () => {
    const solid = surveyOf({}, 'fork')[1]!;
    const thin = surveyOf({ adjust: { fork: { web: 0.3 } } }, 'fork').at(-1)!;
    expect(thin.movement! / thin.force.most).toBeGreaterThan(solid.movement! / solid.force.most);
  });

  test('rows for a file hold no figure that is not one', () => {
    const rows = survivalRows(surveyOf({}, 'drill 3.8'));
    expect(rows).toHaveLength(1);
    expect(rows[0]!.thrust_N).toBeGreaterThan(50);
    for (const value of Object.values(rows[0]!)) {
      if (typeof value === 'number') expect(Number.isFinite(value)).toBe(true);
    }
  });
});
