import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { FIT, type ProgramFile, planPart, provePlan, writePrograms } from '../gcode/chain.ts';
import { hasErrors } from '../sketch/part/severity.ts';
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

/** One line of a program's motions lost, doubled, or with one of its figures changed. */
const slips = fc.record({
  program: fc.nat(),
  line: fc.nat(),
  figure: fc.nat(),
  by: fc.oneof(fc.double({ min: -0.2, max: 0.2, noNaN: true }), fc.double({ min: -5, max: 5, noNaN: true })),
  how: fc.constantFrom('lost', 'doubled', 'changed', 'changed', 'changed', 'changed'),
});

test('a program with a slip in it fits only where the second proof finds nothing either', () => {
  const { made, programs } = sample('shutter-link');
  let fitted = 0;
  let refused = 0;
  fc.assert(
    fc.property(slips, ({ program, line, figure, by, how }) => {
      const at = program % programs.length;
      const lines = programs[at]!.text.split('\n');
      const moving = lines.flatMap((l, i) => (/^[^(]*[XYZIJ]-?[\d.]/.test(l) ? [i] : []));
      const i = moving[line % moving.length]!;
      const figures = [...lines[i]!.matchAll(/([XYZIJ])(-?[\d.]+)/g)];
      const one = figures[figure % figures.length]!;
      const slipped = `${one[1]}${(Number(one[2]) + by).toFixed(3)}`;
      const changed = lines[i]!.slice(0, one.index) + slipped + lines[i]!.slice(one.index + one[0].length);
      lines.splice(i, 1, ...{ lost: [], doubled: [lines[i]!, lines[i]!], changed: [changed] }[how]!);
      const wrong = programs.map((p, n) => (n === at ? { ...p, text: lines.join('\n') } : p));
      const first = provePlan(made.part, made.plan, wrong, made.profile);
      if (first.verdict !== 'fits') {
        refused++;
        return;
      }
      fitted++;
      const second = secondProof(made, wrong, FIT.excess + first.resolution_mm);
      expect(second.gouge).toBeLessThan(FIT.gouge + first.resolution_mm);
      expect(second.standing).toEqual([]);
    }),
    { numRuns: Number(process.env.SLIPS ?? 40) },
  );
  // Some slips do harm and some do not: both must have been met.
  expect(Math.min(fitted, refused)).toBeGreaterThan(0);
});
