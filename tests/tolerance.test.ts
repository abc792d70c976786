import { describe, expect, test } from 'vitest';
import { planPart, survive, writePrograms } from '../gcode/chain.ts';
import { readArguments } from '../gcode/command/arguments.ts';
import { plannedOf } from '../gcode/command/inputs.ts';
import { surveyPages } from '../gcode/sheet/survey-pages.ts';
import { limitsOf, USUAL_LIMITS } from '../toolpath/survival/verdict.ts';
import { sampleText } from './samples.ts';

/** How far the work may move and a wall be left off: the part's own, or the command line's, or the usual. */

const withTolerance = (sample: string, tolerance: unknown) => {
  const document = JSON.parse(sampleText(sample));
  const route = tolerance === undefined ? document.route : { ...document.route, tolerance };
  const planned = planPart(JSON.stringify({ ...document, route }));
  if (!planned.ok) throw new Error('the sample is refused');
  return planned;
};
const surveyedWith = (tolerance: number | undefined) => {
  const planned = withTolerance('vent-latch-lever', tolerance);
  const programs = writePrograms(planned.part, planned.plan, planned.profile);
  return { planned, survival: survive(planned, programs, { cell: 0.3, only: () => false }) };
};

describe('The tolerance of movements and errors', () => {
  test('is the usual 0.02 mm, or what the part file states in its own unit', () => {
    expect(limitsOf(withTolerance('bellows-lever', undefined).route)).toEqual(USUAL_LIMITS);
    const own = withTolerance('bellows-lever', 0.002);
    expect(own.findings.filter((f) => f.severity === 'error')).toEqual([]);
    expect(limitsOf(own.route).movement).toBeCloseTo(0.0508, 12);
    expect(limitsOf(withTolerance('vent-latch-lever', 0.05).route).movement).toBe(0.05);
  });

  test.each([0, -0.01, 2, '0.02'])('is refused as %s', (tolerance) => {
    const codes = withTolerance('vent-latch-lever', tolerance).findings.map((f) => f.code);
    expect(codes).toContain('route-unreadable');
  });

  test('is refused where it is finer than any estimate, in the part’s own unit', () => {
    const said = (sample: string, tolerance: number) =>
      withTolerance(sample, tolerance).findings.filter((f) => f.code === 'tolerance-too-fine');
    expect(said('vent-latch-lever', 0.0009)[0]!.message).toContain(
      '0.0009 mm is finer than any estimate; take 0.001',
    );
    expect(said('bellows-lever', 0.00009)).toHaveLength(1);
    expect(said('bellows-lever', 0.0001)).toEqual([]);
  });

  test('judges every movement, and is told where they are told', () => {
    const [usual, strict, loose] = [undefined, 0.001, 0.9].map(surveyedWith);
    const moving = (s: typeof usual) => s!.survival.findings.filter((f) => f.code === 'work-moves');
    expect(moving(usual)[0]!.message).toContain('more than 0.02 mm');
    expect(moving(loose).length).toBeLessThan(moving(usual).length);
    expect(moving(strict)[0]!.message).toContain('more than 0.001 mm');
    expect(strict!.survival.tolerance_mm).toBe(0.001);
    // The very same movements, judged otherwise.
    expect(strict!.survival.passes).toEqual(usual!.survival.passes);
    const page = surveyPages(strict!.planned.part, strict!.survival, []);
    expect(page).toContain('beyond 0.001 mm or under 2 times');
  });

  test('of the command line is before the file’s', () => {
    const request = readArguments([
      'make',
      'samples/vent-latch-lever.json',
      '--out',
      'nowhere',
      '--tolerance',
      '0.05',
    ]);
    if (request.kind !== 'make') throw new Error('not read');
    expect(limitsOf(plannedOf(request).route).movement).toBe(0.05);
    const silent = readArguments(['make', 'samples/vent-latch-lever.json', '--out', 'nowhere']);
    if (silent.kind !== 'make') throw new Error('not read');
    expect(limitsOf(plannedOf(silent).route).movement).toBe(0.02);
  });
});
