import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { makeAll } from '../gcode/chain.ts';
import { randomLever } from './random-lever.ts';
import { SAMPLES, sampleText } from './samples.ts';

/** Random levers tried here; a soak asks for more with LEVERS=2000. */
const LEVERS = Number(process.env.LEVERS ?? 12);

describe('from a part file to programs that are proven', () => {
  test.each(SAMPLES)('%s fits', (name) => {
    const made = makeAll(sampleText(name));
    if (!made.ok) throw new Error(made.findings.map((f) => f.message).join(' '));
    expect(made.proof.findings.filter((f) => f.severity === 'error')).toEqual([]);
    expect(made.proof.verdict).toBe('fits');
    // Three decimals of a millimetre in the text, and no more than that in the part.
    expect(made.proof.gougeMax_mm).toBeLessThan(0.002);
    for (const setup of made.proof.setups) {
      expect(setup.rapidsInStock).toBe(0);
      expect(setup.jawHits).toBe(0);
    }
  });

  test('a support web is seen, and then seen to go', () => {
    const made = makeAll(sampleText('vent-latch-lever'));
    if (!made.ok) throw new Error('refused');
    const passes = made.proof.setups.flatMap((s) => s.passes);
    const fork = passes.filter((p) => p.step.includes('fork'));
    const cut = fork.filter((p) => p.kind === 'rough');
    const release = fork.filter((p) => p.kind === 'release');
    expect(cut.at(-1)!.webLeft_mm).toBeCloseTo(1.2, 2);
    expect(release.at(-2)!.webLeft_mm).toBeGreaterThan(0);
    expect(release.at(-1)!.webLeft_mm).toBeNull();
    // The releasing passes are the very last of all.
    expect(passes.at(-1)!.kind).toBe('release');
  });

  test('any lever is either refused with a reason or fits', () => {
    fc.assert(
      fc.property(randomLever, (document) => {
        const made = makeAll(JSON.stringify(document));
        if (!made.ok) {
          expect(made.findings.some((f) => f.severity === 'error' && f.message.length > 20)).toBe(true);
          return;
        }
        expect(made.proof.findings.filter((f) => f.severity === 'error').map((f) => f.message)).toEqual([]);
        expect(made.proof.verdict).toBe('fits');
      }),
      { numRuns: LEVERS, seed: 20261125 },
    );
  });
});
