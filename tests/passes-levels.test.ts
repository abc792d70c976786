import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { passLevels } from '../toolpath/passes/levels.ts';

const depths = fc.double({ min: 1e-3, max: 40, noNaN: true });
const stepDowns = fc.double({ min: 0.05, max: 12, noNaN: true });
const tops = fc.double({ min: -20, max: 20, noNaN: true });

const depthsOf = (top: number, levels: readonly number[]): readonly number[] =>
  levels.map((z, i) => (i === 0 ? top : levels[i - 1]!) - z);

describe('passes from a top to a floor', () => {
  test('none is deeper than the step-down, all go down, and together they reach the floor exactly', () => {
    const divisions = fc.oneof(
      fc.constant({ kind: 'equal' as const }),
      fc.double({ min: 0.5, max: 1, noNaN: true }).map((share) => ({ kind: 'falling' as const, share })),
    );
    fc.assert(
      fc.property(tops, depths, stepDowns, divisions, (top, depth, stepDown, division) => {
        const levels = passLevels(top, top - depth, stepDown, division);
        const each = depthsOf(top, levels);
        for (const d of each) {
          expect(d).toBeGreaterThan(0);
          expect(d).toBeLessThanOrEqual(stepDown + 1e-8);
        }
        expect(levels.at(-1)).toBe(top - depth);
        expect(each.reduce((sum, d) => sum + d, 0)).toBeCloseTo(depth, 9);
      }),
    );
  });

  test('equal passes are equal, and as few as the step-down allows', () => {
    fc.assert(
      fc.property(tops, depths, stepDowns, (top, depth, stepDown) => {
        const each = depthsOf(top, passLevels(top, top - depth, stepDown, { kind: 'equal' }));
        for (const d of each) expect(d).toBeCloseTo(depth / each.length, 9);
        expect(depth / Math.max(1, each.length - 1) > stepDown - 1e-8 || each.length === 1).toBe(true);
      }),
    );
  });

  test('falling passes never grow, fall by the share stated, and the last is no thinner than a quarter of the first', () => {
    fc.assert(
      fc.property(
        tops,
        depths,
        stepDowns,
        fc.double({ min: 0.5, max: 0.99, noNaN: true }),
        (top, depth, stepDown, share) => {
          const each = depthsOf(top, passLevels(top, top - depth, stepDown, { kind: 'falling', share }));
          each.slice(1).forEach((d, i) => {
            expect(d).toBeLessThanOrEqual(each[i]! + 1e-9);
            const ratio = d / each[i]!;
            const isFloor = Math.abs(d / each[0]! - 0.25) < 1e-6;
            expect(isFloor || Math.abs(ratio - share) < 1e-6).toBe(true);
          });
          expect(each.at(-1)! / each[0]!).toBeGreaterThan(0.25 - 1e-6);
        },
      ),
    );
  });

  test('a depth of a whole number of step-downs is not cut in one pass more', () => {
    expect(passLevels(0, -6, 1.5, { kind: 'equal' })).toEqual([-1.5, -3, -4.5, -6]);
    expect(passLevels(0, -0.3, 0.1, { kind: 'equal' })).toHaveLength(3);
  });

  test('nothing to cut is no pass; a step-down of nothing is refused', () => {
    expect(passLevels(2, 2, 1, { kind: 'equal' })).toEqual([]);
    expect(passLevels(2, 3, 1, { kind: 'equal' })).toEqual([]);
    expect(() => passLevels(2, 1, 0, { kind: 'equal' })).toThrow(RangeError);
    expect(() => passLevels(2, 1, Number.NaN, { kind: 'equal' })).toThrow(RangeError);
  });
});
