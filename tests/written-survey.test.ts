import { describe, expect, test } from 'vitest';
import { planPart, survivalQuestion, survive, writePrograms } from '../gcode/chain.ts';
import { plannedPasses } from '../toolpath/survival/planned-passes.ts';
import { surviveRoute } from '../toolpath/survival/survival.ts';
import { sampleText } from './samples.ts';

const planned = planPart(sampleText('vent-latch-lever'));
if (!planned.ok) throw new Error('the sample is refused');
const programs = writePrograms(planned.part, planned.plan, planned.profile);
const QUICK = { cell: 0.3, only: () => false } as const;

describe('The survey of written programs', () => {
  const asked = survivalQuestion(planned, programs);
  const written = surviveRoute(asked, QUICK);

  test('finds the forces of the planned moves in the text alone', () => {
    const moves = surviveRoute({ ...asked, passes: plannedPasses(planned.plan) }, QUICK);
    expect(written.map((p) => p.force.label)).toEqual(moves.map((p) => p.force.label));
    expect(written.length).toBeGreaterThan(25);
    written.forEach((pass, i) => {
      const other = moves[i]!;
      expect(pass.force.still).toBe(other.force.still);
      expect(Math.abs(pass.force.most - other.force.most)).toBeLessThan(0.05 * other.force.most + 1);
      expect(Math.abs(pass.force.removed - other.force.removed)).toBeLessThan(0.02 * other.force.removed + 1);
    });
  });

  test('believes the text and not the plan: a feed doubled by hand pushes harder', () => {
    const edited = programs.map((p) => ({
      ...p,
      text: p.text.replace(/F(\d+(\.\d+)?)/g, (_, f) => `F${2 * f}`),
    }));
    const harder = surviveRoute(survivalQuestion(planned, edited), QUICK);
    const fork = (passes: typeof written) => passes.find((p) => p.force.label === 'fork, pass 2')!.force.most;
    // Kienzle: force goes with the tooth load to the power 1 − mc, 2^0.82 = 1.77; helix and wedge of chips blur it.
    expect(fork(harder) / fork(written)).toBeGreaterThan(1.6);
    expect(fork(harder) / fork(written)).toBeLessThan(1.9);
  });

  test('a text with its depths changed by hand bears no plan any more, and the passes keep the text’s names', () => {
    const bare = programs.map((p) => ({ ...p, text: p.text.replace(/^.*\(STEP .*$/gm, '') }));
    const passes = survivalQuestion(planned, bare).passes;
    expect(passes.length).toBeGreaterThan(10);
    expect(passes.every((p) => p.still === null && p.step.startsWith('cutter '))).toBe(true);
  });

  test('says when each pass is cut, one after the other', () => {
    const times = written.map((p) => p.time!);
    expect(times[0]!.from).toBeGreaterThanOrEqual(0);
    times.forEach((time, i) => {
      expect(time.to).toBeGreaterThanOrEqual(time.from);
      if (i > 0) expect(time.from).toBeGreaterThanOrEqual(times[i - 1]!.to - 1e-9);
    });
  });

  test('rows, findings and assumptions go into a file as plain figures', () => {
    const { passes, assumptions, findings } = survive(planned, programs, { ...QUICK });
    expect(assumptions[0]).toContain('estimate');
    expect(findings.map((f) => f.code)).toContain('work-moves');
    expect(JSON.parse(JSON.stringify(passes))).toEqual(passes);
  });
});
