import { describe, expect, test } from 'vitest';
import type { Bar } from '../../sketch/part/part.ts';
import { standardProfile } from '../../toolpath/machine/default-profile.ts';
import { planRoute } from '../../toolpath/passes/plan.ts';
import { proposeRoute } from '../../toolpath/route/propose.ts';
import { CUTTING_FORCE } from '../../toolpath/survival/cutting-force.ts';
import type { SurveyPass } from '../../toolpath/survival/force-survey.ts';
import { ELASTIC } from '../../toolpath/survival/materials.ts';
import { FIRM, FRICTION } from '../../toolpath/survival/pass-load.ts';
import { plannedHolds, plannedPasses } from '../../toolpath/survival/planned-passes.ts';
import { surviveRoute } from '../../toolpath/survival/survival.ts';
import { samplePart } from '../samples.ts';

// A whole estimate done over by hand, from the cutter's tooth to the jaws, with nothing of the program but the constants:
// O. Kienzle's kc = kc1.1 · h^(−mc) integrated along a helical edge (any text on the mechanics of milling), a tine as
// S. P. Timoshenko's cantilever with G. R. Cowper's shear coefficient for rectangles, and statics of the vice.

const HELIX = Math.PI / 6;

/** ∫ f from a to b by Simpson's rule. */
const integral = (f: (x: number) => number, a: number, b: number, n = 400): number => {
  const h = (b - a) / n;
  let sum = f(a) + f(b);
  for (let i = 1; i < n; i++) sum += (i % 2 === 1 ? 4 : 2) * f(a + i * h);
  return (sum * h) / 3;
};

describe('A slot as wide as its cutter, in the sample’s fork', () => {
  const part = samplePart('vent-latch-lever');
  const plan = planRoute(part, proposeRoute(part, standardProfile).route, standardProfile);
  const planned = plan.setups.flatMap((s) => s.steps).find((s) => s.step.name === 'fork')!;
  const { kc11, mc } = CUTTING_FORCE[part.bar.material];

  test('its teeth’s edges added up round the turn: kc1.1 · (fz cos φ)^(1−mc) along each, 0.4 of it outward', () => {
    const { cutter, feed, speed } = planned;
    const question = { bar: part.bar, setups: plannedHolds(plan), passes: plannedPasses(plan) };
    const passes = surviveRoute(question, { only: () => false, cell: 0.2 });
    const { force } = passes.filter((p) => p.force.step === 'fork')[1]!;
    const toothLoad = feed / (speed * cutter.flutes);
    const { depth } = force.places[0]!;
    expect(depth).toBeCloseTo(1.3, 1);
    const lag = (depth * Math.tan(HELIX)) / (cutter.diameter / 2);
    // The force of one tooth whose tip is at an angle from straight ahead: its edge lies over `lag` of the rim from there.
    const tooth = (tip: number): readonly [number, number] => {
      const part = (way: (a: number) => number): number =>
        (depth / lag) *
        integral(
          (a) => kc11 * (toothLoad * Math.max(1e-12, Math.cos(a))) ** (1 - mc) * way(a),
          tip,
          tip + lag,
        );
      return [part((a) => Math.sin(a) + 0.4 * Math.cos(a)), part((a) => 0.4 * Math.sin(a) - Math.cos(a))];
    };
    const pitch = (2 * Math.PI) / cutter.flutes;
    const whole = Array.from({ length: 120 }, (_, i) => {
      const teeth = Array.from({ length: cutter.flutes }, (_, k) =>
        tooth((i / 120) * pitch + k * pitch - Math.PI),
      );
      return Math.hypot(...([0, 1] as const).map((axis) => teeth.reduce((sum, t) => sum + t[axis], 0)));
    });
    const most = Math.max(...whole);
    expect(most).toBeGreaterThan(60);
    expect(Math.abs(force.most / most - 1)).toBeLessThan(0.02);
    // Power: specific force at the mean chip, times what is taken away in a second.
    const mean = (toothLoad * 2) / Math.PI;
    const power = (kc11 * mean ** -mc * cutter.diameter * depth * feed) / 60e3;
    expect(Math.abs(force.power / power - 1)).toBeLessThan(0.03);
  });
});

describe('The tip of a tine, shaved from inside', () => {
  const bar: Bar = {
    ...{ length: 60, width: 12, thickness: 8, material: 'low-carbon steel' },
    ...{ corner: { x: 0, y: 0 }, sawn: 0 },
  };
  const frame = { face: 'front', zero: { x: 0, y: 0, z: 8 } } as const;
  const cutter = {
    ...{ number: 1, name: '5 mm endmill', kind: 'endmill', diameter: 5, flutes: 2, fluteLength: 13 },
    ...{ material: 'high-speed steel', centreCutting: true, pointAngle: Math.PI, reamed: null },
  } as unknown as SurveyPass['cutter'];
  const [speed, feed] = [1900, 76];
  const along = (label: string, y: number, from: number, to: number): SurveyPass => ({
    ...{ label, setup: 1, step: label, still: null, kind: 'rough', cutter, speed, frame },
    motions: [{ stroke: { kind: 'feed', from: { x: from, y, z: -8.5 }, to: { x: to, y, z: -8.5 } }, feed }],
  });
  // A slot of 5 from the end in leaves two tines of 3.5; 0.3 is then shaved off the far one's last 5 mm.
  const SHAVED = 0.3;
  const passes = [along('slot', 6, 64, 35), along('shave', 6 + SHAVED, 64, 55)];
  const jaws = { from: 0, to: 30 };
  const hold = { kind: 'vice', jaws, grip: 8, parallels: null, gripped: 'the sides' } as const;
  const [, shave] = surviveRoute({ bar, setups: [{ number: 1, frame, hold }], passes }, { frequency: false });
  const { place, moved } = shave!.bending[0]!;
  const { kc11, mc } = CUTTING_FORCE[bar.material];

  test('its force is Kienzle’s along the edge: R / tan β · ∫ kc1.1 · (fz sin φ)^(1−mc) dφ over the arc', () => {
    const radius = cutter.diameter / 2;
    const arc = Math.acos(1 - SHAVED / radius);
    // The edge leaves the arc at one end as it enters at the other, and the next tooth is half a turn behind.
    expect((8 * Math.tan(HELIX)) / radius).toBeGreaterThan(arc);
    const toothLoad = feed / (speed * cutter.flutes);
    const edge = (way: (angle: number) => number): number =>
      (radius / Math.tan(HELIX)) *
      kc11 *
      integral((a) => (toothLoad * Math.sin(a)) ** (1 - mc) * way(a), 0, arc);
    // Across the edge it is 0.4 of what it is along it, all round alike.
    const most = Math.hypot(1, 0.4) * Math.hypot(edge(Math.cos), edge(Math.sin));
    expect(most).toBeGreaterThan(20);
    expect(Math.abs(place.most / most - 1)).toBeLessThan(0.05);
  });

  test('it moves as a cantilever from the slot’s root does: F L³/(3 E I) + F L/(κ G A), the root’s own turning, and the push along it', () => {
    const { young, poisson } = ELASTIC[bar.material];
    const shear = young / (2 * (1 + poisson));
    const kappa = (10 * (1 + poisson)) / (12 + 11 * poisson);
    const [wide, high] = [3.5, 8];
    const inertia = (high * wide ** 3) / 12;
    // The slot ends round: the tine begins half way along its radius, as near as makes no odds.
    const length = place.at.x - (35 - cutter.diameter / 4);
    const { x: pulled, y: pushed } = place.push;
    const bends = (pushed * length ** 3) / (3 * young * inertia);
    const shears = (pushed * length) / (kappa * shear * wide * high);
    // A root in solid metal turns by 16.67 M / (π E h²) for each mm of height (W. J. O'Donnell, 1960, value from memory).
    const turns = ((16.67 * pushed * length) / (Math.PI * young * wide ** 2 * high)) * length;
    const along = (pulled * (wide / 2) * length ** 2) / (2 * young * inertia);
    const all = bends + shears + turns + along;
    expect(bends / all).toBeGreaterThan(0.6);
    expect(Math.abs(moved![1] / all - 1)).toBeLessThan(0.15);
    // The helix lifts it: bent the stiff way, and far less.
    expect(Math.abs(moved![2])).toBeLessThan(0.5 * Math.abs(moved![1]));
  });

  test('the vice holds by friction on two faces against sliding, and against turning by clamp times length held', () => {
    const pull = Math.hypot(place.most, place.push.z);
    const slip = (2 * FRICTION * FIRM) / pull;
    expect(shave!.hold!.slip / slip).toBeCloseTo(1, 1);
    // Turned flat about the middle of the jaws: pressure can gather at opposite ends, and friction adds the width's share.
    const arm = place.at.x - 15;
    const twist = (FIRM * 30 + FRICTION * FIRM * 12) / (place.most * arm);
    expect(shave!.hold!.twist / twist).toBeCloseTo(1, 1);
    expect(shave!.hold!.least).toBe(
      Math.min(shave!.hold!.slip, shave!.hold!.lift, shave!.hold!.tip, shave!.hold!.twist),
    );
  });
});
