import { expect, test } from 'vitest';
import { type Slab, solidOf } from '../sketch/part/solid.ts';
import { signedDistance } from '../sketch/shape/region.ts';
import type { PlannedStep } from '../toolpath/passes/pass.ts';
import { slabsInProgram } from '../toolpath/passes/workpiece.ts';
import { CASES } from './passes-cases.ts';
import { inLines, planned } from './passes-programs.ts';
import { placesAlong, tracksByPass } from './passes-samples.ts';

/** Every pass begins and ends well above the work, and its heights are as it says. */
const expectHeights = ({ step, passes }: PlannedStep, clear: number): void => {
  const last = passes.at(-1)!.moves.at(-1)!;
  expect(passes[0]!.moves[0]).toMatchObject({ kind: 'rapid', to: { z: clear } });
  if (last.kind !== 'drill') expect(last).toMatchObject({ kind: 'rapid', to: { z: clear } });
  for (const { pass, tracks } of tracksByPass(passes))
    if (tracks.length > 0) expect(Math.min(...tracks.map((t) => t.to.z))).toBeCloseTo(pass.z, 9);
  if (!('stepDown' in step)) return;
  const levels = [0, ...passes.filter((p) => p.kind === 'rough').map((p) => p.z)];
  for (const [i, z] of levels.slice(1).entries()) {
    expect(levels[i]! - z).toBeGreaterThan(0);
    expect(levels[i]! - z).toBeLessThanOrEqual(step.stepDown + 1e-9);
  }
};

/** The cutter never comes nearer to the part than its radius, and roughing leaves what is stated. */
const expectClear = ({ step, passes, cutter }: PlannedStep, wanted: readonly Slab[]): void => {
  if (!('stepDown' in step)) return;
  for (const { pass, tracks } of tracksByPass(passes)) {
    // Under a limit of engagement less is left where a finishing lap could not take it.
    const left =
      pass.kind === 'rough' && 'engagement' in step && step.engagement === null ? step.wallAllowance : 0;
    // On its centre line a cutter as wide as the opening leaves nothing.
    const asWide = step.kind === 'fork' && cutter.diameter === 5 && passes.every((p) => p.kind === 'rough');
    for (const t of tracks)
      for (const slab of wanted) {
        if (slab.top <= Math.min(t.from.z, t.to.z) + 1e-6) continue;
        for (const p of placesAlong(t.segment, 0.8))
          expect(signedDistance(slab.region, p)).toBeGreaterThan(
            cutter.diameter / 2 + (asWide ? 0 : left) - 2e-3,
          );
      }
  }
};

test.each(CASES)('$name: planned as it was, and truly', async ({ name, part, steps, over = {} }) => {
  const plan = planned(part, steps, over);
  const [setup] = plan.setups;
  expect(plan.findings.filter((f) => f.severity === 'error')).toEqual([]);
  expect(setup!.steps.map(({ step }) => step.name)).toEqual(steps.map((step) => step.name));
  const wanted = slabsInProgram(setup!.frame, solidOf(part).slabs);
  for (const step of setup!.steps) {
    expectHeights(step, setup!.clearHeight);
    expectClear(step, wanted);
  }
  // All in figures, as they were when the above was found to hold; `-u` writes them anew where the ways
  // are meant to be others.
  await expect(inLines(plan)).toMatchFileSnapshot(`passes-programs/${name.replaceAll(' ', '-')}.txt`);
});
