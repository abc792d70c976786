import { readdirSync, readFileSync } from 'node:fs';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { planPart, writePrograms } from '../gcode/chain.ts';
import { prove } from '../gcode/proof/proof.ts';
import { readProgram } from '../gcode/reading/read.ts';
import { readClip } from '../sketch/draft/clip.ts';
import { readDxf } from '../sketch/exchange/dxf-in.ts';
import { writeDxf } from '../sketch/exchange/dxf-out.ts';
import { readSvg } from '../sketch/exchange/svg-in.ts';
import { checkPart } from '../sketch/part/checks.ts';
import { readPart } from '../sketch/part/document.ts';
import { hasErrors } from '../sketch/part/severity.ts';
import { outlineOf, solidOf } from '../sketch/part/solid.ts';
import { standardProfile } from '../toolpath/machine/default-profile.ts';
import { readProfile } from '../toolpath/machine/profile-document.ts';
import { hostileProgram, spoiled } from './spoiled.ts';

/**
 * Whatever comes in spoiled is read or refused with a sentence: nothing throws, hangs, or lets a number that is none
 * into a program. `CASES=100000 npx vitest run tests/spoiled.test.ts` soaks for hours what is tried here in seconds.
 */
const CASES = Number(process.env.CASES ?? 5000);
const share = (part: number): { numRuns: number } => ({ numRuns: Math.max(10, Math.round(CASES * part)) });

const textsOf = (folder: string): readonly string[] =>
  readdirSync(folder)
    .filter((f) => f.endsWith('.json') && !f.endsWith('.schema.json'))
    .map((f) => readFileSync(`${folder}/${f}`, 'utf8'));
const PARTS = textsOf('samples');

/** Every number in a value is one. */
const sound = (value: unknown): boolean =>
  typeof value === 'number'
    ? Number.isFinite(value)
    : typeof value !== 'object' || value === null || Object.values(value).every(sound);

test('spoiled part files', () => {
  fc.assert(
    fc.property(spoiled(PARTS), (text) => {
      const reading = readPart(text);
      if (!reading.ok) {
        expect(reading.findings[0]?.message).toMatch(/\S/);
        return;
      }
      expect(sound(reading.part)).toBe(true);
      const findings = checkPart(reading.part);
      if (findings.some((f) => f.severity === 'error')) return;
      expect(sound(solidOf(reading.part))).toBe(true);
      expect(sound(outlineOf(reading.part))).toBe(true);
    }),
    share(0.5),
  );
});

test('spoiled part files that can be planned give programs without a word that is none', () => {
  fc.assert(
    fc.property(spoiled(PARTS), (text) => {
      const made = planPart(text);
      if (!made.ok || hasErrors(made.findings)) return;
      for (const { text: program } of writePrograms(made.part, made.plan, made.profile)) {
        expect(program).not.toMatch(/NaN|Infinity|undefined|null|e[+-]\d/);
        expect(readProgram(program).faults.filter((f) => f.severity === 'error')).toEqual([]);
      }
    }),
    share(0.012),
  );
});

test('spoiled machine files, clips and drawings', () => {
  const machines = textsOf('samples/machines');
  fc.assert(
    fc.property(spoiled(machines), (text) => {
      const reading = readProfile(text);
      if (reading.ok) expect(sound(reading.profile)).toBe(true);
      else expect(reading.findings[0]?.message).toMatch(/\S/);
    }),
    share(0.15),
  );
  fc.assert(
    fc.property(spoiled(PARTS), (text) => {
      const clip = text.replace('leverwright-part', 'leverwright-clip');
      const reading = readClip(clip);
      expect(reading.ok || reading.message.length > 0).toBe(true);
    }),
    share(0.05),
  );
  const drawings = PARTS.flatMap((text) => {
    const reading = readPart(text);
    return reading.ok ? [writeDxf(reading.part)] : [];
  });
  fc.assert(
    fc.property(spoiled(drawings), (text) => {
      expect(sound(readDxf(text))).toBe(true);
    }),
    share(0.1),
  );
  fc.assert(
    fc.property(
      spoiled(['<svg viewBox="0 0 40 20"><path d="M0 0 L40 0 A5 5 0 0 1 40 20 C30 30 10 30 0 20 Z"/></svg>']),
      (text) => {
        expect(sound(readSvg(text))).toBe(true);
      },
    ),
    share(0.1),
  );
});

test('hostile programs are read, and none of them fits', () => {
  const link = planPart(readFileSync('samples/shutter-link.json', 'utf8'));
  if (!link.ok) throw new Error('the sample cannot be planned');
  const wanted = solidOf(link.part);
  fc.assert(
    fc.property(hostileProgram, (text) => {
      const reading = readProgram(text);
      expect(sound(reading)).toBe(true);
    }),
    share(0.2),
  );
  fc.assert(
    fc.property(hostileProgram, (text) => {
      const proof = prove({
        bar: link.part.bar,
        wanted,
        setups: link.plan.setups.map((setup) => ({
          number: setup.setup.number,
          frame: setup.frame,
          hold: setup.setup.hold,
          tools: standardProfile.cutters,
          text,
        })),
        tolerance: { gouge: 0.02, excess: 0.05 },
        owned: standardProfile.cutters,
        rapid: 1000,
      });
      expect(proof.verdict).toBe('does not fit');
      expect(sound(proof)).toBe(true);
    }),
    share(0.012),
  );
});
