import { describe, expect, test } from 'vitest';
import {
  type OtherHold,
  otherHoldFactors,
  screwForces,
  USUAL_HOLDS,
} from '../toolpath/survival/other-holds.ts';

const load = { push: { along: 100, left: 0, up: 25 }, inPlane: 100, above: 4, overhang: 10 };
/** What bears: 80 by 16 mm, the places along its middle. */
const base = { low: { x: -40, y: -8 }, high: { x: 40, y: 8 } };
const clamps = (count: number): OtherHold => ({
  kind: 'toe clamps',
  clamp: USUAL_HOLDS.strapClamp,
  friction: USUAL_HOLDS.friction,
  base,
  places: Array.from({ length: count }, (_, i) => ({ x: 30 * (i - (count - 1) / 2), y: 0 })),
});
const tape = (length: number, width: number): OtherHold => ({
  kind: 'tape and glue',
  length,
  width,
  shear: USUAL_HOLDS.tapeShear,
  peel: USUAL_HOLDS.tapePeel,
});

describe('Holds that are no vice', () => {
  test('toe clamps slip at friction times what presses, the lift taken off it', () => {
    const { slip, lift, twist } = otherHoldFactors(clamps(2), load);
    expect(slip).toBeCloseTo((0.15 * (5000 - 25)) / 100, 9);
    expect(lift).toBeCloseTo(5000 / 25, 9);
    expect(twist).toBeCloseTo((2 * 0.15 * 2500 * 15) / (100 * 10), 9);
  });

  test('work tips about the edge of what bears that lies nearest to its clamps', () => {
    // Statics: 2 × 2500 N at 8 mm from the long edge, against 100 N at 4 mm and 25 N of lift at 10 mm.
    expect(otherHoldFactors(clamps(2), load).tip).toBeCloseTo((5000 * 8) / (100 * 4 + 25 * 10), 9);
    const beyond: OtherHold = {
      ...clamps(2),
      kind: 'toe clamps',
      clamp: 2500,
      friction: 0.15,
      base: { low: { x: -40, y: -8 }, high: { x: 40, y: 0 } },
      places: [
        { x: -15, y: 0 },
        { x: 15, y: 0 },
      ],
    };
    // Right on the edge they hold nothing down on the other side of it.
    expect(otherHoldFactors(beyond, load).tip).toBe(0);
  });

  test('one clamp alone holds no turn: the work swings about it', () => {
    expect(otherHoldFactors(clamps(1), load).twist).toBe(0);
    expect(otherHoldFactors(clamps(1), load).least).toBe(0);
  });

  test('tape bears by its area and peels from its edge long before it slides', () => {
    const wide = otherHoldFactors(tape(60, 20), load);
    expect(wide.slip).toBeCloseTo((0.15 * 1200) / 100, 9);
    // Evenly pulled off and bent off: 25/1200 + 6 · (400 + 250)/(1200 · 20) MPa against 0.05.
    expect(wide.tip).toBeCloseTo(0.05 / (25 / 1200 + (6 * 650) / 24000), 9);
    expect(wide.least).toBe(wide.tip);
    expect(otherHoldFactors(tape(60, 40), load).tip).toBeGreaterThan(2 * wide.tip);
  });

  test('a lift peels tape over the side along which it overhangs', () => {
    const pulled = (x: number, y: number) =>
      otherHoldFactors(tape(60, 20), { ...load, inPlane: 0, overhang: Math.hypot(x, y), lever: { x, y } });
    // 25 N at 10 mm: M / W is 6 · 250/(1200 · 60) MPa along the length, three times that across it.
    expect(pulled(10, 0).tip).toBeCloseTo(0.05 / (25 / 1200 + (6 * 250) / 72000), 9);
    expect(pulled(0, -10).tip).toBeCloseTo(0.05 / (25 / 1200 + (6 * 250) / 24000), 9);
    expect(pulled(6, 8).tip).toBeLessThan(pulled(10, 0).tip);
    // A push in the plane may come from any side: it is taken over the shorter one wherever it overhangs.
    const pushed = (x: number, y: number) =>
      otherHoldFactors(tape(60, 20), { ...load, push: { ...load.push, up: 0 }, lever: { x, y } }).tip;
    expect(pushed(10, 0)).toBeCloseTo(pushed(0, 10), 12);
  });

  test('screws press no harder than they are done up, and bear no more than their proof load (ISO 898-1, from memory)', () => {
    const m4 = screwForces('M4');
    expect(m4.proof).toBeCloseTo(580 * 8.78, 6);
    const places = [
      { x: -20, y: 0 },
      { x: 20, y: 0 },
    ];
    const factors = otherHoldFactors({ kind: 'screws', ...m4, places, base, friction: 0.15 }, load);
    expect(factors.lift).toBeCloseTo((2 * m4.proof) / 25, 6);
    expect(factors.slip).toBeCloseTo((0.15 * (2 * m4.preload - 25)) / 100, 6);
  });

  test('half the force is held twice as well, whatever the hold', () => {
    const half = { ...load, push: { along: 50, left: 0, up: 12.5 }, inPlane: 50 };
    for (const hold of [clamps(3), tape(50, 15)]) {
      const [one, two] = [otherHoldFactors(hold, load), otherHoldFactors(hold, half)];
      expect(two.lift / one.lift).toBeCloseTo(2, 9);
      expect(two.tip / one.tip).toBeCloseTo(2, 9);
      expect(two.twist / one.twist).toBeCloseTo(2, 9);
    }
  });
});
