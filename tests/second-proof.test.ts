import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { FIT, hasErrors, type ProgramFile, planPart, provePlan, writePrograms } from '../gcode/chain.ts';
import { randomLever } from './random-lever.ts';
import { secondProof } from './second-proof.ts';

const SAMPLES = ['vent-latch-lever', 'winch-bell-crank', 'shutter-link', 'bellows-lever', 'damper-yoke'];

const planned = (text: string) => {
  const made = planPart(text);
  if (!made.ok) throw new Error(made.findings[0]?.message);
  return { made, programs: writePrograms(made.part, made.plan, made.profile) };
};
const sample = (name: string) => planned(readFileSync(`samples/${name}.json`, 'utf8'));

/** Every X of the programs' cutting lines moved by so much: a table that was set wrong. */
const shifted = (programs: readonly ProgramFile[], by: number): readonly ProgramFile[] =>
  programs.map((p) => ({
    ...p,
    text: p.text
      .split('\n')
      .map((line) =>
        line.startsWith('(')
          ? line
          : line.replace(/X(-?[\d.]+)/g, (_, x) => `X${(Number(x) + by).toFixed(4)}`),
      )
      .join('\n'),
  }));

describe('two proofs that share no way of looking agree', () => {
  for (const name of SAMPLES) {
    test(`on ${name} as it is written`, () => {
      const { made, programs } = sample(name);
      const first = provePlan(made.part, made.plan, programs, made.profile);
      const second = secondProof(made, programs, FIT.excess + first.resolution_mm);
      expect(first.verdict).toBe('fits');
      expect(Math.abs(second.gouge - first.gougeMax_mm)).toBeLessThan(0.005);
      expect(second.standing).toEqual([]);
    });
    test(`on ${name} set 0.3 mm wrong in X`, () => {
      const { made, programs } = sample(name);
      const wrong = shifted(programs, 0.3);
      const first = provePlan(made.part, made.plan, wrong, made.profile);
      const second = secondProof(made, wrong, FIT.excess + first.resolution_mm);
      expect(first.verdict).toBe('does not fit');
      expect(Math.abs(second.gouge - first.gougeMax_mm)).toBeLessThan(Math.max(0.02, first.resolution_mm));
      expect(second.standing.length).toBeGreaterThan(0);
    });
  }
});

test('on random levers no gouge is seen by one and not by the other', () => {
  fc.assert(
    fc.property(randomLever, (document) => {
      const made = planPart(JSON.stringify(document));
      if (!made.ok || hasErrors(made.findings)) return;
      const programs = writePrograms(made.part, made.plan, made.profile);
      const first = provePlan(made.part, made.plan, programs, made.profile);
      const second = secondProof(made, programs, FIT.excess + first.resolution_mm);
      expect(Math.abs(second.gouge - first.gougeMax_mm)).toBeLessThan(first.resolution_mm);
      if (first.verdict === 'fits') expect(second.standing).toEqual([]);
    }),
    { numRuns: Number(process.env.LEVERS ?? 6) },
  );
});
