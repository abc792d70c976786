import { expect, test } from 'vitest';
import { makeAll, planPart, provePlan, writePrograms } from '../gcode/chain.ts';
import { writtenPasses } from '../gcode/survival/written-passes.ts';
import { solidOf } from '../sketch/part/solid.ts';
import { standardProfile } from '../toolpath/machine/default-profile.ts';
import { chipFactor, MOST_FACTOR } from '../toolpath/passes/tooth-load.ts';
import { barMap, chooseCell } from '../toolpath/removal/height-map.ts';
import { CUTTING_FORCE } from '../toolpath/survival/cutting-force.ts';
import { uncut } from '../toolpath/survival/engagement.ts';
import { surveyPass } from '../toolpath/survival/force-survey.ts';
import { sampleText } from './samples.ts';

/** The feed along peeled ways keeps the chip as thick as the cutting data mean it, and says so. */

const peeled = (engagement: number): string =>
  JSON.stringify({
    ...JSON.parse(sampleText('damper-yoke')),
    route: { adjust: { 'fork yoke': { cutter: '6 mm endmill', engagement } } },
  });

test('the factor undoes the thinning of the chip, between one and the most', () => {
  for (const degrees of [31, 45, 60, 80]) {
    const buried = (degrees * Math.PI) / 180;
    expect(chipFactor(buried) * Math.sin(buried)).toBeCloseTo(1, 12);
  }
  expect(chipFactor(Math.PI / 2)).toBe(1);
  expect(chipFactor(Math.PI)).toBe(1);
  expect(chipFactor(0.01)).toBe(MOST_FACTOR);
  expect(chipFactor(0)).toBe(MOST_FACTOR);
});

test.each([40, 60, 90])(
  'at %s° the written program cuts chips as thick as the tooth load, and no thicker',
  (angle) => {
    const made = planPart(peeled(angle));
    if (!made.ok) throw new Error('refused');
    const programs = writePrograms(made.part, made.plan, made.profile);
    const { bar } = made.part;
    const stock = uncut(barMap(bar, chooseCell(bar, solidOf(made.part))), bar);
    const data = CUTTING_FORCE[made.part.bar.material];
    const fork = made.plan.setups.flatMap((s) => s.steps).find((s) => s.step.name === 'fork yoke')!;
    const load = fork.feed / (fork.speed * fork.cutter.flutes);
    const chips: number[] = [];
    for (const pass of writtenPasses(made.plan, programs, made.profile)) {
      const force = surveyPass(stock, pass, data);
      if (pass.step === 'fork yoke' && pass.kind === 'rough') chips.push(force.chip / load);
    }
    expect(chips.length).toBeGreaterThan(2);
    for (const chip of chips) {
      expect(chip).toBeGreaterThan(0.85);
      expect(chip).toBeLessThan(1.15);
    }
  },
);

test('the feed is never beyond the machine, nor under what the cutting data say, and changes only where it is said', () => {
  const slow = { ...standardProfile, feed: { ...standardProfile.feed, most: 200 } };
  const made = makeAll(peeled(60), { profile: slow });
  if (!made.ok) throw new Error('refused');
  const fork = made.plan.setups.flatMap((s) => s.steps).find((s) => s.step.name === 'fork yoke')!;
  const feeds = fork.passes.flatMap((p) => p.moves.flatMap((m) => (m.kind === 'arc' ? [m.feed] : [])));
  expect(Math.max(...feeds)).toBeLessThanOrEqual(200);
  expect(Math.min(...feeds)).toBeGreaterThanOrEqual(Math.min(200, Math.round(fork.feed)));
  const words = made.programs.flatMap((p) => p.text.split('\n').flatMap((l) => l.match(/F[\d.]+/g) ?? []));
  const lines = made.programs.flatMap((p) => p.text.split('\n').filter((l) => /^[GXYZ]/.test(l)));
  expect(words.length).toBeLessThan(lines.length * 0.8);
  expect(provePlan(made.part, made.plan, made.programs, made.profile).verdict).toBe('fits');
});
