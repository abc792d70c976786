import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { makeAll, planPart, proofInput } from '../gcode/chain.ts';
import { prove } from '../gcode/proof/proof.ts';
import { difference } from '../sketch/shape/boolean.ts';
import { offset } from '../sketch/shape/offset.ts';
import { rectangle, regionArea } from '../sketch/shape/region.ts';
import { growFronts } from '../toolpath/passes/fronts.ts';
import { buriedAlong } from '../toolpath/passes/rim.ts';
import type { StepAdjustment } from '../toolpath/route/document.ts';
import { randomLever } from './random-lever.ts';
import { SAMPLES, sampleText } from './samples.ts';
import './seed.ts';

/** Outlines, grooves and lands under a stated engagement: the proof measures it from the written programs. */

const RUNS = Number(process.env.GENTLE ?? 5);
const SLACK = 5;

interface Measured {
  readonly verdict: string;
  readonly errors: readonly string[];
  /** Passes whose rim is buried by more than the limit and five degrees. */
  readonly over: readonly string[];
  readonly measured: number;
  /** Job steps that the planner itself says cannot keep it. */
  readonly unkept: readonly string[];
  readonly codes: readonly string[];
}

/** A part with a limit on each of its outlines and lands, and what else is laid over its route. */
const gentle = (text: string, limit: number, more: StepAdjustment = {}): Measured | null => {
  const plain = planPart(text);
  if (!plain.ok || plain.findings.some((f) => f.severity === 'error')) return null;
  const steps = plain.route.setups.flatMap((s) => s.steps);
  const adjust = Object.fromEntries(
    steps.flatMap((s) =>
      s.kind === 'outline' || s.kind === 'thin' ? [[s.name, { engagement: limit, ...more }]] : [],
    ),
  );
  if (Object.keys(adjust).length === 0) return null;
  const made = makeAll(JSON.stringify({ ...JSON.parse(text), route: { adjust } }));
  if (!made.ok) throw new Error(made.findings.map((f) => f.message).join(' '));
  const unkept = made.findings.flatMap((f) => (f.code === 'engagement-not-kept' ? [f.feature ?? ''] : []));
  const passes = made.proof.setups.flatMap((s) => s.passes).filter((p) => p.engagement?.limit_deg);
  return {
    verdict: made.proof.verdict,
    errors: made.proof.findings.filter((f) => f.severity === 'error').map((f) => f.message),
    over: passes.flatMap((p) => {
      const { most_deg, limit_deg, line } = p.engagement!;
      if (most_deg <= limit_deg! + SLACK || unkept.includes(p.step ?? '')) return [];
      return [`${p.step} ${p.kind} at ${p.z_mm}, line ${line}: ${most_deg}° of ${limit_deg}°`];
    }),
    measured: passes.length,
    unkept,
    codes: made.findings.map((f) => f.code),
  };
};

describe('every sample with a limit on its outlines and lands', () => {
  test.each(SAMPLES.flatMap((name) => [40, 70].map((limit) => [name, limit] as const)))(
    '%s keeps %i° and fits',
    (name, limit) => {
      const made = gentle(sampleText(name), limit)!;
      expect(made.errors).toEqual([]);
      expect(made.verdict).toBe('fits');
      expect(made.over).toEqual([]);
      expect(made.unkept).toEqual([]);
      expect(made.measured).toBeGreaterThan(1);
    },
    120_000,
  );

  test('without one they are buried far deeper: the measure can tell', () => {
    const text = sampleText('vent-latch-lever');
    const made = makeAll(text);
    if (!made.ok) throw new Error('the sample cannot be made');
    const proof = prove({
      ...proofInput(made.part, made.plan, made.programs, made.profile),
      engagement: 'everywhere',
    });
    const outlines = proof.setups.flatMap((s) => s.passes).filter((p) => p.step === 'outline');
    expect(Math.max(...outlines.map((p) => p.engagement?.most_deg ?? 0))).toBeGreaterThan(75);
  }, 60_000);
});

test('random levers under random limits: five degrees over at the most, or the planner says that it cannot', () => {
  let measured = 0;
  fc.assert(
    fc.property(randomLever, fc.integer({ min: 35, max: 110 }), (document, limit) => {
      const made = gentle(JSON.stringify(document), limit);
      if (made === null) return;
      expect(made.over, JSON.stringify({ document, limit })).toEqual([]);
      expect(made.errors).toEqual([]);
      measured += made.measured;
    }),
    { numRuns: RUNS, endOnFailure: true },
  );
  expect(measured).toBeGreaterThan(0);
}, 600_000);

test('a gap with no room for its cutter to go round in is said to break the limit, and what would mend it', () => {
  const gap = (cutter: string) => {
    const made = planPart(
      JSON.stringify({
        format: 'leverwright-part',
        version: 1,
        name: 'gap',
        unit: 'mm',
        bar: { length: 90, width: 50, thickness: 8, material: 'brass', corner: [-15, -25] },
        plates: [
          {
            name: 'plate',
            rectangle: [
              [0, -10],
              [60, 10],
            ],
            cornerRadius: 2,
          },
        ],
        lands: [
          {
            name: 'gap',
            area: {
              rectangle: [
                [27, -50],
                [33.3, 50],
              ],
            },
            top: 5,
            bottom: 0,
          },
        ],
        route: { adjust: { 'relieve gap': { cutter, engagement: 60 } } },
      }),
    );
    if (!made.ok) throw new Error(made.findings.map((f) => f.message).join(' '));
    expect(made.plan.setups.flatMap((s) => s.steps).map((s) => s.step.name)).toContain('relieve gap');
    return made.findings.filter((f) => f.code === 'engagement-not-kept');
  };
  const [said, ...more] = gap('6 mm endmill');
  expect(more).toEqual([]);
  expect(said?.severity).toBe('warning');
  expect(said?.message).toMatch(/^relieve gap: .* 6 mm endmill .* 60° .*smaller cutter/);
  expect(gap('4 mm endmill')).toEqual([]);
});

describe('growing fronts', () => {
  const block = rectangle({ x: 0, y: 0 }, { x: 40, y: 24 });
  const part = rectangle({ x: 8, y: 8 }, { x: 32, y: 16 });
  const radius = 3;
  const allowed = difference(rectangle({ x: -30, y: -30 }, { x: 70, y: 54 }), offset(part, radius));
  const open = difference(allowed, offset(block, radius + 0.05));
  const target = difference(block, part);
  const left = (swept: Parameters<typeof offset>[0]) => difference(target, offset(swept, radius + 1e-3));
  const grow = (degrees: number) =>
    growFronts(
      open,
      { allowed, standing: block, left: (s) => regionArea(left(s)) > 0.05 },
      { radius, engagement: (degrees * Math.PI) / 180, direction: 'climb' },
    );

  test.each([30, 60, 90])('every cut keeps %i°, each on what the fronts before it leave', (degrees) => {
    const { cuts, swept } = grow(degrees);
    expect(cuts.length).toBeGreaterThan(2);
    for (const cut of cuts) {
      const again = buriedAlong(cut.path, { standing: block, swept: cut.before, radius });
      expect((Math.max(...again) * 180) / Math.PI).toBeLessThanOrEqual(degrees + 1e-6);
    }
    expect(regionArea(left(swept))).toBeLessThan(0.05);
  });

  test('a smaller angle takes more fronts', () => {
    const fronts = (degrees: number): number => Math.max(...grow(degrees).cuts.map((c) => c.front));
    expect(fronts(30)).toBeGreaterThan(fronts(60));
    expect(fronts(60)).toBeGreaterThan(fronts(90));
  });
});

describe('the angle of a rim', () => {
  const stock = rectangle({ x: -50, y: -50 }, { x: 50, y: 0 });
  const along = { segments: [{ kind: 'line', from: { x: -20, y: 1 }, to: { x: 20, y: 1 } } as const] };
  test('along an edge it is the closed form', () => {
    for (const depth of [0.2, 1, 2, 2.9]) {
      const y = 3 - depth;
      const path = { segments: [{ ...along.segments[0]!, from: { x: -20, y }, to: { x: 20, y } }] };
      // Going right, with the material on its right: from straight aside to where the rim leaves it.
      const [angle] = buriedAlong(path, { standing: stock, swept: { contours: [] }, radius: 3 });
      const closed = Math.acos(1 - depth / 3);
      expect(Math.abs(angle! - closed)).toBeLessThan((1.5 * Math.PI) / 180);
    }
  });
});
