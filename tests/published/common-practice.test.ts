import { describe, expect, test } from 'vitest';
import { FIT, makeAll } from '../../gcode/chain.ts';
import { standardProfile } from '../../toolpath/machine/default-profile.ts';
import { planRoute } from '../../toolpath/passes/plan.ts';
import { proposeRoute } from '../../toolpath/route/propose.ts';
import { samplePart, sampleText } from '../samples.ts';

/** Workshop cases that are known to work. Common practice, no source. */
describe('common practice, no source', () => {
  const part = samplePart('vent-latch-lever');
  const { route } = proposeRoute(part, standardProfile);
  const plan = planRoute(part, route, standardProfile);
  const steps = plan.setups.flatMap((s) => s.steps);

  test('a 5 mm slot with a 5 mm round root is cut in steel with a 5 mm cutter in passes of about 1.5 mm', () => {
    const fork = steps.find((s) => s.step.kind === 'fork')!;
    expect(part.forks[0]).toMatchObject({ width: 5, root: { kind: 'round' } });
    expect(fork.cutter.diameter).toBe(5);
    const depths = fork.passes.map((p, i) => (i === 0 ? 0 : fork.passes[i - 1]!.z) - p.z);
    for (const depth of depths) {
      expect(depth).toBeLessThanOrEqual(1.5 + 1e-9);
      expect(depth).toBeGreaterThan(1);
    }
  });

  test('the slot is cut on its centre line and lifted at the root, never dragged back out', () => {
    const fork = steps.find((s) => s.step.kind === 'fork')!;
    for (const pass of fork.passes) {
      const cut = pass.moves.filter((m) => m.kind === 'feed' && m.to.z <= pass.z + 1e-9);
      const last = cut.at(-1)!;
      const root = part.forks[0]!.depth - part.forks[0]!.width / 2;
      expect(last.kind === 'feed' && last.to.x).toBeCloseTo(root, 6);
      expect(pass.moves.at(-1)).toMatchObject({ kind: 'rapid' });
    }
  });

  test('a stiff 12 mm cutter takes the bulk and the small cutter only the fork, to keep its force low', () => {
    const bulk = steps.filter((s) => s.step.kind === 'thin' || s.step.name === 'outline');
    expect(bulk.map((s) => s.cutter.diameter)).toEqual([12, 12]);
  });

  test('a 9 × 15 mm bar is thinned to a 2.5 mm body while less than a millimetre is held', () => {
    const document = JSON.parse(sampleText('vent-latch-lever'));
    document.route = { setups: { 2: { grip: 0.9 } } };
    const made = makeAll(JSON.stringify(document), { tolerance: FIT });
    if (!made.ok) throw new Error(made.findings.map((f) => f.message).join(' '));
    expect(made.part.bar).toMatchObject({ thickness: 9, width: 15 });
    expect(made.plan.setups[1]!.setup.hold).toMatchObject({ kind: 'vice', grip: 0.9 });
    expect(made.proof.verdict).toBe('fits');
    expect(made.plan.findings.map((f) => f.code)).toContain('small-grip');
  });
});
