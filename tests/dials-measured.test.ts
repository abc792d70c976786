import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { edgeTouch, middleTouch } from '../gcode/table/edge-finder.ts';
import {
  afterRoughing,
  firstEnd,
  type LengthJob,
  type Measured,
  type MeasuredCuts,
  secondEnd,
  type ThicknessJob,
} from '../gcode/table/measured.ts';

const codes = (made: { readonly findings: readonly { readonly code: string }[] }): readonly string[] =>
  made.findings.map((f) => f.code);
const resultOf = <T>(made: Measured<T>): T => {
  if (!made.ok) throw new Error(made.findings[0]?.message);
  return made.result;
};

describe('An edge finder', () => {
  test.each([
    ['left', 'X', -2.5, 'X rising'],
    ['right', 'X', 2.5, 'X falling'],
    ['near', 'Y', -2.5, 'Y rising'],
    ['far', 'Y', 2.5, 'Y falling'],
  ] as const)('at the %s face sets %s to %d, half a tip outside, coming with %s', (face, axis, set, way) => {
    const made = edgeTouch(face, 0, 5, 'mm');
    if (!made.ok) throw new Error('no setting');
    expect(made.setting).toMatchObject({ axis, set, half: 2.5 });
    expect(made.setting.approach).toContain(way);
  });

  test('adds the half to a face that is not the datum', () => {
    const made = edgeTouch('right', 80, 10, 'mm');
    expect(made).toMatchObject({ ok: true, setting: { set: 85, half: 5 } });
  });

  test('finds the middle, where halves cancel, and the width, where they do not', () => {
    const made = middleTouch(-5, 25.1, 10, 20, 'mm');
    if (!made.ok) throw new Error('no middle');
    expect(made.setting.middle).toBeCloseTo(10.05, 9);
    expect(made.setting.width).toBeCloseTo(20.1, 9);
  });

  test('a wrong tip, readings the wrong way about and a width that is another’s are named', () => {
    expect(codes(edgeTouch('left', 0, 0, 'mm'))).toEqual(['edge-tip']);
    expect(codes(edgeTouch('left', 0, Number.NaN, 'mm'))).toEqual(['edge-tip']);
    expect(codes(edgeTouch('left', Number.NaN, 5, 'mm'))).toEqual(['edge-place']);
    expect(codes(edgeTouch('left', 0, 60, 'mm'))).toEqual(['edge-tip']);
    expect(codes(middleTouch(25, -5, 10, 20, 'mm'))).toEqual(['edge-readings']);
    expect(codes(middleTouch(-5, 25, 10, Number.NaN, 'mm'))).toEqual(['edge-width']);
    expect(codes(middleTouch(-5, 25, 5, 20, 'mm'))).toEqual(['edge-width']);
    expect(codes(middleTouch(-5, 25, -1, 20, 'mm'))).toEqual(['edge-tip']);
  });
});

const LENGTH: LengthJob = { length: 80, sawn: 82, cutter: 10, end: 'right', deepest: 0.8, last: 0.2 };
const THICK: ThicknessJob = { bar: 10, planned: 4, wanted: 2.5, floor: -7.5, deepest: 0.6, last: 0.2 };

/** Walks the cuts as the work would see them: none too deep, none into the part, the last at size. */
const walk = (cuts: MeasuredCuts, measured: number, wanted: number, deepest: number): void => {
  let size = measured;
  for (const cut of cuts.cuts) {
    expect(cut.takes).toBeGreaterThan(0);
    expect(cut.takes).toBeLessThanOrEqual(deepest + 1e-9);
    size -= cut.takes;
    expect(size).toBeCloseTo(cut.remains, 9);
    expect(size).toBeGreaterThanOrEqual(wanted - 1e-9);
  }
  if (cuts.cuts.length > 0) expect(size).toBeCloseTo(wanted, 9);
};

describe('Squaring to length', () => {
  test('takes half of what is over from the first end, in one cut no deeper than may be', () => {
    expect(resultOf(firstEnd(LENGTH, 'mm'))).toEqual({ take: 0.8, keep: 80.2 });
    expect(resultOf(firstEnd({ ...LENGTH, sawn: 81 }, 'mm'))).toEqual({ take: 0.5, keep: 80.2 });
  });

  test('the measured length gives the readout’s setting and the final place', () => {
    const made = resultOf(secondEnd(LENGTH, 81.06, 'mm'));
    expect(made.set).toBeCloseTo(86.06, 9);
    expect(made.final).toBeCloseTo(85, 9);
    expect(made.cuts.map((c) => Number(c.at.toFixed(4)))).toEqual([85.63, 85.2, 85]);
    // As far as the cutter goes from where it stood is what is too long.
    expect(made.set - made.final).toBeCloseTo(1.06, 9);
  });

  test('of the left end mirrors it', () => {
    const made = resultOf(secondEnd({ ...LENGTH, end: 'left' }, 81.06, 'mm'));
    expect(made.set).toBeCloseTo(-86.06, 9);
    expect(made.final).toBeCloseTo(-85, 9);
  });

  test('never goes into the part, whatever is measured', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 80, max: 82, noNaN: true }),
        fc.double({ min: 0.3, max: 2, noNaN: true }),
        fc.double({ min: 0.05, max: 0.3, noNaN: true }),
        (measured, deepest, last) => {
          const made = resultOf(secondEnd({ ...LENGTH, deepest, last }, measured, 'mm'));
          walk(made, measured, 80, deepest);
          expect(Math.abs(made.final)).toBeGreaterThanOrEqual(85 - 1e-9);
        },
      ),
    );
  });

  test('at size leaves nothing to cut, and says so', () => {
    const made = secondEnd(LENGTH, 80.002, 'mm');
    expect(codes(made)).toEqual(['measured-to-size']);
    expect(resultOf(made).cuts).toEqual([]);
  });

  test('a cut that would only rub is warned of', () => {
    expect(codes(secondEnd(LENGTH, 80.012, 'mm'))).toEqual(['measured-rubs']);
  });

  test.each<[string, number, Partial<LengthJob>, string]>([
    ['longer than the bar', 82.3, {}, 'measured-over-bar'],
    ['shorter than the part', 79.9, {}, 'measured-under-size'],
    ['in inches by mistake', 3.19, {}, 'measured-under-size'],
    ['nothing', 0, {}, 'measured-nothing'],
    ['no number', Number.NaN, {}, 'measured-nothing'],
    ['endless', Number.POSITIVE_INFINITY, {}, 'measured-nothing'],
    ['of a bar sawn too short', 80, { sawn: 80 }, 'length-no-stock'],
    ['for no length', 80, { length: 0 }, 'length-job'],
    ['with no cutter', 81, { cutter: 0 }, 'length-cutter'],
    ['with a last cut deeper than the deepest', 81, { last: 2 }, 'measured-cuts'],
    ['with no deepest cut', 81, { deepest: Number.NaN }, 'measured-cuts'],
  ])('%s: named, and no number given', (_, measured, change, code) => {
    const made = secondEnd({ ...LENGTH, ...change }, measured, 'mm');
    expect(made.ok).toBe(false);
    expect(codes(made)).toEqual([code]);
    expect(made.findings[0]!.message).not.toMatch(/NaN|Infinity/);
  });

  test('says the numbers in the unit asked for', () => {
    const made = secondEnd({ ...LENGTH, length: 76.2, sawn: 78 }, 80, 'inch');
    expect(made.findings[0]!.message).toContain('3.1496 in is more than the sawn bar');
  });
});

describe('Measured after roughing', () => {
  test('as planned, the last passes are as planned', () => {
    const made = resultOf(afterRoughing(THICK, 4, 'mm'));
    expect(made.set).toBeCloseTo(-6, 9);
    expect(made.cuts.map((c) => Number(c.at.toFixed(4)))).toEqual([-6.4333, -6.8667, -7.3, -7.5]);
    expect(made.final).toBe(-7.5);
  });

  test('thicker than planned, Z is set higher where the cutter stands and one pass more is made', () => {
    const made = resultOf(afterRoughing({ ...THICK, deepest: 0.45 }, 4.15, 'mm'));
    expect(made.set).toBeCloseTo(-5.85, 9);
    expect(made.cuts).toHaveLength(5);
    expect(made.final).toBe(-7.5);
  });

  test('thinner than planned, the passes are thinner and the floor the same', () => {
    const made = resultOf(afterRoughing(THICK, 3.7, 'mm'));
    expect(made.set).toBeCloseTo(-6.3, 9);
    walk(made, 3.7, 2.5, 0.6);
    expect(made.final).toBe(-7.5);
  });

  test('never goes into the part, whatever is measured', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 3.51, max: 4.49, noNaN: true }),
        fc.double({ min: 0.2, max: 1, noNaN: true }),
        (measured, deepest) => {
          const made = resultOf(afterRoughing({ ...THICK, deepest }, measured, 'mm'));
          walk(made, measured, 2.5, deepest);
          for (const cut of made.cuts) expect(cut.at - THICK.floor).toBeCloseTo(cut.remains - 2.5, 9);
        },
      ),
    );
  });

  test.each<[string, number, Partial<ThicknessJob>, string]>([
    ['thicker than the bar', 10.2, {}, 'measured-over-bar'],
    ['thinner than the part', 2.4, {}, 'measured-under-size'],
    ['far from what was planned', 5, {}, 'measured-far-off'],
    ['nothing', 0, {}, 'measured-nothing'],
    ['no number', Number.NaN, {}, 'measured-nothing'],
    ['planned thicker than the bar', 4, { planned: 11 }, 'thickness-job'],
    ['to a part thicker than planned', 4, { wanted: 5 }, 'thickness-job'],
    ['with no floor', 4, { floor: Number.NaN }, 'thickness-job'],
    ['with no last cut', 4, { last: 0 }, 'measured-cuts'],
  ])('%s: named, and no number given', (_, measured, change, code) => {
    const made = afterRoughing({ ...THICK, ...change }, measured, 'mm');
    expect(made.ok).toBe(false);
    expect(codes(made)).toEqual([code]);
    expect(made.findings[0]!.message).not.toMatch(/NaN|Infinity/);
  });
});
