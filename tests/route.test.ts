import { describe, expect, test } from 'vitest';
import { readPart } from '../sketch/part/document.ts';
import type { Part } from '../sketch/part/part.ts';
import { standardProfile } from '../toolpath/machine/default-profile.ts';
import { planRoute } from '../toolpath/passes/plan.ts';
import { applyRouteDocument } from '../toolpath/route/document.ts';
import { proposeRoute } from '../toolpath/route/propose.ts';
import type { Route } from '../toolpath/route/route.ts';
import { SAMPLES, samplePart } from './samples.ts';

const kinds = (route: Route): string[] =>
  route.setups.flatMap((setup) => setup.steps.map((step) => `${setup.number} ${step.kind}`));

const proposed = (name: string): { part: Part; route: Route } => {
  const part = samplePart(name);
  return { part, route: proposeRoute(part, standardProfile).route };
};

describe('a proposed route', () => {
  test.each(SAMPLES)('%s is planned without an error and with every web released', (name) => {
    const { part, route } = proposed(name);
    const plan = planRoute(part, route, standardProfile);
    expect(plan.findings.filter((f) => f.severity === 'error')).toEqual([]);
    for (const setup of plan.setups) expect(setup.steps.length).toBeGreaterThan(0);
  });

  test('a lever with a thin body is squared, outlined, forked and drilled, turned over, thinned, and released last', () => {
    const { route } = proposed('vent-latch-lever');
    expect(kinds(route)).toEqual([
      '1 square',
      '1 outline',
      '1 outline',
      '1 fork',
      '1 spot',
      '1 drill',
      '1 drill',
      '1 ream',
      '1 tap',
      '2 thin',
      '2 release',
    ]);
    expect(route.setups.map((s) => s.face)).toEqual(['front', 'back']);
  });

  test('thinning starts at the forked block, which the jaws hold', () => {
    const thin = proposed('vent-latch-lever').route.setups[1]!.steps.find((s) => s.kind === 'thin')!;
    expect(thin.kind === 'thin' && thin.startFrom).toBe('left');
  });

  test('a bar with room all round is kept as a frame and the outline cut last, with bridges', () => {
    const { route } = proposed('winch-bell-crank');
    expect(route.setups).toHaveLength(1);
    const last = route.setups[0]!.steps.at(-1)!;
    expect(last.kind === 'outline' && last.clear === 'groove' && last.bridges !== null).toBe(true);
  });

  test('after turning over, the jaws stay below the thin body', () => {
    const { part, route } = proposed('vent-latch-lever');
    const body = part.lands.find((l) => l.bottom > 0)!;
    const { hold } = route.setups[1]!;
    expect(hold.kind === 'vice' && hold.grip).toBeLessThan(part.bar.thickness - body.bottom);
  });
});

describe('a land between thick parts', () => {
  const found = (width: number) => {
    const read = readPart(
      JSON.stringify({
        ...{ format: 'leverwright-part', version: 1, name: 'grooved', unit: 'mm' },
        bar: { length: 50, width: 20, thickness: 3, material: 'brass', corner: [-10, -10] },
        ends: [
          { name: 'big', centre: [0, 0], radius: 10 },
          { name: 'small', centre: [30, 0], radius: 10 },
        ],
        arms: [{ from: 'big', to: 'small' }],
        lands: [
          { name: 'body', area: { rectangle: [at(11, -100), at(11 + width, 100)] }, top: 0.9, bottom: 0 },
        ],
      }),
    );
    if (!read.ok) throw new Error('refused');
    return proposeRoute(read.part, standardProfile).findings.map((f) => [f.severity, f.code, f.message]);
  };
  const at = (x: number, y: number) => [x, y];

  test('is refused where it is narrower than the smallest endmill, 2 mm', () => {
    expect(found(1.9)).toContainEqual([
      ...['error', 'land-too-narrow'],
      'Land “body”: no endmill in the machine profile that reaches 2.1 mm deep gets between the thick parts beside it but for a little; make it wider, or get a smaller endmill.',
    ]);
    expect(found(0.25).map(([, code]) => code)).toContain('land-too-narrow');
    expect(found(2.1).map(([, code]) => code)).not.toContain('land-too-narrow');
  });
});

describe('what a route can have wrong', () => {
  const lever = proposed('vent-latch-lever');
  const without = (kind: string): Route => ({
    setups: lever.route.setups.map((s) => ({ ...s, steps: s.steps.filter((step) => step.kind !== kind) })),
  });
  const codes = (route: Route): string[] =>
    planRoute(lever.part, route, standardProfile).findings.map((f) => f.code);

  test('a web that nobody releases', () => {
    expect(codes(without('release'))).toContain('web-never-released');
    expect(codes(lever.route)).not.toContain('web-never-released');
  });

  test('a release before its fork is cut', () => {
    const [one, two] = lever.route.setups;
    const release = two!.steps.find((s) => s.kind === 'release')!;
    const early: Route = {
      setups: [
        { ...one!, steps: [release, ...one!.steps] },
        { ...two!, steps: [] },
      ],
    };
    expect(codes(early)).toContain('release-too-early');
  });

  test('a cutter that is not owned, one that is too wide, one too short', () => {
    const change = (cutter: string): Route => ({
      setups: lever.route.setups.map((s) => ({
        ...s,
        steps: s.steps.map((step) => (step.kind === 'fork' ? { ...step, cutter } : step)),
      })),
    });
    expect(codes(change('7 mm endmill'))).toContain('cutter-not-owned');
    expect(codes(change('6 mm endmill'))).toContain('cutter-too-wide');
    expect(codes(change('2 mm endmill'))).toContain('flutes-too-short');
  });

  test('a corner that no cutter owned can make is refused, and says what would do', () => {
    const tight: Part = {
      ...lever.part,
      forks: lever.part.forks.map((f) => ({ ...f, root: { kind: 'square', cornerRadius: 0.5 } })),
    };
    const found = proposeRoute(tight, standardProfile).findings;
    expect(found.map((f) => f.code)).toEqual(['corner-smaller-than-any-cutter']);
    // The 2 mm endmill is too short for 9 mm; the 3 mm one leaves 1.5 mm.
    expect(found[0]!.message).toContain('1.5 mm');
    expect(found[0]!.message).toContain('0.5 mm');
  });

  test('a machine too small for the work', () => {
    const small = { ...standardProfile, travel: { x: 40, y: 180, z: 200 } };
    expect(planRoute(lever.part, lever.route, small).findings.map((f) => f.code)).toContain('beyond-travel');
  });

  test('jaws that close on nothing', () => {
    const off: Route = {
      setups: lever.route.setups.map((s) => ({ ...s, hold: { ...s.hold, jaws: { from: 500, to: 600 } } })),
    };
    expect(codes(off)).toContain('nothing-gripped');
  });

  test('a hole that goes through above a parallel is told with the shift that clears it', () => {
    const shifted: Route = {
      setups: lever.route.setups.map((s) => ({
        ...s,
        hold: { ...s.hold, parallels: { height: 22, thickness: 3, offset: 2 } },
      })),
    };
    const found = planRoute(lever.part, shifted, standardProfile).findings.find(
      (f) => f.code === 'over-parallel',
    )!;
    // The 3.8 mm drill reaches 1.9 from the middle; the parallel begins at 2 − 1.5 = 0.5, so 1.4 and 0.2 to spare.
    const drilled = found.feature === 'drill 2.5' ? 1.25 - 0.5 + 0.2 : 1.9 - 0.5 + 0.2;
    expect(found.message).toContain(`${Number(drilled.toFixed(2))} mm farther out`);
  });
});

describe("the file's own wishes", () => {
  const { part, route } = proposed('vent-latch-lever');

  test('a changed step-down changes the passes', () => {
    const wish = { adjust: { fork: { stepDown: 0.8, web: 0.6 } } };
    const { route: changed, findings } = applyRouteDocument(route, wish, part);
    expect(findings).toEqual([]);
    const fork = planRoute(part, changed, standardProfile).setups[0]!.steps.find(
      (s) => s.step.kind === 'fork',
    )!;
    const heights = [0, ...fork.passes.map((p) => p.z)];
    for (let i = 1; i < heights.length; i++)
      expect(heights[i - 1]! - heights[i]!).toBeLessThanOrEqual(0.8 + 1e-9);
    expect(fork.passes.at(-1)!.web).toBeCloseTo(0.6, 9);
  });

  test('lengths are in the unit of the file', () => {
    const { route: changed } = applyRouteDocument(
      route,
      { adjust: { fork: { stepDown: 0.05 } } },
      {
        ...part,
        unit: 'inch',
      },
    );
    const fork = changed.setups[0]!.steps.find((s) => s.kind === 'fork')!;
    expect(fork.kind === 'fork' && fork.stepDown).toBeCloseTo(1.27, 12);
  });

  test('steps can be put in another order or left out, and holding changed', () => {
    const wish = { order: { 1: ['fork', 'outline'] }, setups: { 2: { grip: 0.9 } } };
    const { route: changed } = applyRouteDocument(route, wish, part);
    expect(changed.setups[0]!.steps.map((s) => s.name)).toEqual(['fork', 'outline']);
    expect(changed.setups[1]!.hold).toMatchObject({ kind: 'vice', grip: 0.9 });
  });

  test('a web put in place of bridges is released last, and a web taken out needs no release', () => {
    const crank = proposed('winch-bell-crank');
    const wish = { adjust: { outline: { bridges: null, web: 0.4 } } };
    const { route: webbed } = applyRouteDocument(crank.route, wish, crank.part);
    expect(webbed.setups[0]!.steps.at(-1)).toMatchObject({ kind: 'release', of: 'outline', stepDown: 0.2 });
    const plan = planRoute(crank.part, webbed, standardProfile);
    expect(plan.findings.filter((f) => f.severity === 'error')).toEqual([]);
    expect(plan.setups[0]!.steps.at(-1)!.passes.at(-1)).toMatchObject({ kind: 'release', web: 0 });
    const { route: open } = applyRouteDocument(route, { adjust: { fork: { web: 0 } } }, part);
    expect(open.setups.flatMap((s) => s.steps).some((s) => s.kind === 'release')).toBe(false);
  });

  test.each([
    [{ adjust: { 'no such step': { stepDown: 1 } } }, 'step-unknown'],
    [{ adjust: { fork: { peck: 1 } } }, 'term-unknown'],
    [{ adjust: { fork: { stepDown: -1 } } }, 'route-unreadable'],
    [{ adjust: { fork: { stepDown: 'deep' } } }, 'route-unreadable'],
    [{ order: { 1: ['nothing'] } }, 'step-unknown'],
    [{ wrong: 1 }, 'route-unreadable'],
    [[], 'route-unreadable'],
  ])('%j is refused with %s', (wish, code) => {
    expect(applyRouteDocument(route, wish, part).findings.map((f) => f.code)).toContain(code);
  });
});
