import { describe, expect, test } from 'vitest';
import { type Made, makeAll } from '../gcode/chain.ts';
import { writtenPasses } from '../gcode/survival/written-passes.ts';
import { outlineOf, solidOf } from '../sketch/part/solid.ts';
import { nearestBoundary } from '../sketch/shape/region.ts';
import { pressOf } from '../toolpath/passes/thin-side.ts';
import { barMap, chooseCell } from '../toolpath/removal/height-map.ts';
import { toPart } from '../toolpath/route/frame.ts';
import { CUTTING_FORCE } from '../toolpath/survival/cutting-force.ts';
import { uncut } from '../toolpath/survival/engagement.ts';
import { surveyPass } from '../toolpath/survival/force-survey.ts';
import { sampleText } from './samples.ts';

/** One-way peeling: the force of the estimates, on the stock of the written programs, points into the thick side. */

const THIN = 2;

/** A plate with a slot and a fork, each off the middle, so that a thin wall stands on one side of it. */
const plate = (thinAt: 'low' | 'high', direction: 'climb' | 'conventional' = 'climb'): string => {
  const shift = thinAt === 'low' ? -1 : 1;
  const off = shift * (12 - THIN - 4);
  return JSON.stringify({
    format: 'leverwright-part',
    version: 1,
    name: 'plate',
    unit: 'mm',
    bar: { length: 70, width: 24, thickness: 6, material: 'aluminium', corner: [0, -12] },
    plates: [
      {
        name: 'plate',
        rectangle: [
          [0, -12],
          [70, 12],
        ],
      },
    ],
    forks: [{ name: 'fork', mouth: [0, off], direction: 0, width: 8, depth: 18, root: 'round' }],
    slots: [{ name: 'slot', from: [38, off], to: [56, off], width: 8 }],
    route: {
      // The slots go through over where parallels would lie.
      setups: { 1: { parallels: null } },
      adjust: Object.fromEntries(
        ['fork', 'slot'].flatMap((name) => [
          [name, { cutter: '5 mm endmill', engagement: 60, direction }],
          [`release ${name}`, { cutter: '5 mm endmill' }],
        ]),
      ),
    },
  });
};

const make = (text: string): Made => {
  const made = makeAll(text);
  if (!made.ok) throw new Error(made.findings.map((f) => f.message).join(' '));
  return made;
};

/** Of every place where a job step's roughing cuts: the force on the work along the drawing's Y, N. */
const acrossOf = (made: Made, step: string): readonly number[] => {
  const { part, plan, programs, profile } = made;
  const stock = uncut(barMap(part.bar, chooseCell(part.bar, solidOf(part))), part.bar);
  return writtenPasses(plan, programs, profile).flatMap((pass) =>
    pass.motions.flatMap((motion) => {
      const force = surveyPass(stock, { ...pass, motions: [motion] }, CUTTING_FORCE.aluminium);
      if (pass.step !== step || pass.kind === 'finish') return [];
      const sense = pass.frame.face === 'front' ? 1 : -1;
      // Falling forces of the helix are the way down's.
      return motion.stroke.to.z < motion.stroke.from.z - 1e-6
        ? []
        : force.places.map((place) => sense * place.push.y);
    }),
  );
};

describe.each(['low', 'high'] as const)('with the thin wall on the %s side', (thinAt) => {
  const made = make(plate(thinAt));
  const into = thinAt === 'low' ? 1 : -1;

  test('the part fits', () => {
    expect(made.proof.verdict).toBe('fits');
    expect(made.proof.findings.filter((f) => f.code.startsWith('engagement'))).toEqual([]);
  });

  test.each(['fork', 'slot'])('the force of peeling the %s points into the thick side', (step) => {
    const across = acrossOf(made, step).map((y) => into * y);
    expect(across.length).toBeGreaterThan(30);
    const sum = across.reduce((a, b) => a + b, 0) / across.length;
    const [thick, thin] = [Math.max(...across), Math.max(0, -Math.min(...across))];
    expect(sum).toBeGreaterThan(0);
    // What the thin wall is pressed by at the worst is little beside what the thick side bears.
    expect(thin).toBeLessThan(0.35 * thick);
  });

  test.each(['fork', 'slot'])('the words for the %s say so', (name) => {
    const step = made.route.setups.flatMap((s) => s.steps).find((s) => s.name === name)!;
    const press = pressOf(made.part, step, 'front')!;
    expect(press.sense).toBe('thick');
    expect(press.away).toBeCloseTo(THIN, 1);
    expect(press.on).toBeCloseTo(24 - 8 - THIN, 1);
  });
});

test('a slot in the middle of a part presses on walls that are alike', () => {
  const document = JSON.parse(plate('low'));
  document.slots[0] = { ...document.slots[0], from: [38, 0], to: [56, 0] };
  const made = make(JSON.stringify(document));
  const step = made.route.setups.flatMap((s) => s.steps).find((s) => s.name === 'slot')!;
  expect(pressOf(made.part, step, 'front')).toMatchObject({ sense: 'alike' });
  expect(pressOf(made.part, step, 'front')?.on).toBeCloseTo(8, 1);
});

test('a groove is gone round so that the force points out of the part into the bar about it', () => {
  const document = JSON.parse(sampleText('winch-bell-crank'));
  document.route = { adjust: { outline: { engagement: 75 } } };
  const { part, plan, programs, profile } = make(JSON.stringify(document));
  const outline = outlineOf(part);
  const stock = uncut(barMap(part.bar, chooseCell(part.bar, solidOf(part))), part.bar);
  const outward: number[] = [];
  for (const pass of writtenPasses(plan, programs, profile)) {
    if (pass.step !== 'outline') {
      surveyPass(stock, { ...pass, speed: 0 }, CUTTING_FORCE.aluminium);
      continue;
    }
    for (const motion of pass.motions) {
      const force = surveyPass(stock, { ...pass, motions: [motion] }, CUTTING_FORCE.aluminium);
      if (motion.stroke.to.z < motion.stroke.from.z - 1e-6) continue;
      for (const { at, push } of force.places) {
        const p = toPart(pass.frame, at);
        const near = nearestBoundary(outline, p)!;
        const [x, y] = [(p.x - near.point.x) / near.distance, (p.y - near.point.y) / near.distance];
        outward.push(push.x * x + push.y * y);
      }
    }
    break;
  }
  expect(outward.length).toBeGreaterThan(100);
  const thick = Math.max(...outward);
  expect(outward.reduce((a, b) => a + b, 0)).toBeGreaterThan(0);
  // Opening the groove, the rings go all round; the loops press outward.
  const against = outward.filter((f) => f < -0.35 * thick).length;
  expect(against / outward.length).toBeLessThan(0.05);
}, 120_000);
