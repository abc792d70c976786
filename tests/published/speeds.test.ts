import { describe, expect, test } from 'vitest';
import type { Material } from '../../sketch/part/part.ts';
import { CUTTING_DATA } from '../../toolpath/machine/materials.ts';
import { spindleSpeed, tableFeed } from '../../toolpath/machine/speeds.ts';

const MM_PER_FOOT = 304.8;

describe('Mitsubishi Materials, technical data, "Formulae for cutting power": tool steel, 250 mm cutter of 12 teeth', () => {
  test('80 m/min gives n = 101.91 /min, printed with π = 3.14', () => {
    expect((spindleSpeed(80, 250) * Math.PI) / 3.14).toBeCloseTo(101.91, 2);
    expect(spindleSpeed(80, 250)).toBeCloseTo(101.86, 2);
  });

  test('280 mm/min at that speed is 0.228 mm a tooth (printed cut off, not rounded: 0.22896)', () => {
    expect(280 / tableFeed(101.91, 12, 1)).toBeGreaterThanOrEqual(0.228);
    expect(280 / tableFeed(101.91, 12, 1)).toBeLessThan(0.229);
    expect(tableFeed(101.91, 12, 0.228)).toBeGreaterThan(278);
    expect(tableFeed(101.91, 12, 0.229)).toBeLessThan(281);
  });
});

describe('Machinery’s Handbook, "Cutting speeds and equivalent rpm" (values from memory, edition unsure)', () => {
  // N = 12 V / (π D): surface speed V in feet/min, diameter D in inches; the table prints whole turns.
  test.each([
    [100, 1, 382],
    [100, 0.5, 764],
    [100, 0.25, 1528],
    [40, 0.5, 306],
    [200, 2, 382],
  ])('%d ft/min on a diameter of %d in is %d turns/min', (feet, inches, printed) => {
    const speed = spindleSpeed((feet * MM_PER_FOOT) / 1000, inches * 25.4);
    expect(Math.abs(speed - printed)).toBeLessThanOrEqual(0.5);
  });

  test('1000 m/min on 100 mm and 30 m/min on 10 mm are 3183 and 955 turns/min', () => {
    expect(Math.round(spindleSpeed(1000, 100))).toBe(3183);
    expect(Math.round(spindleSpeed(30, 10))).toBe(955);
  });

  test('four teeth of 0.05 mm at 955 turns/min feed 191 mm/min', () => {
    expect(tableFeed(955, 4, 0.05)).toBeCloseTo(191, 10);
  });
});

describe('Our cutting data against handbook ranges for uncoated high-speed steel (values from memory)', () => {
  // Low and high end of the ranges commonly printed, m/min. Ours must not pass the high end, nor dawdle far below.
  const RANGES: readonly (readonly [Material, number, number])[] = [
    ['free-cutting steel', 30, 45],
    ['low-carbon steel', 24, 36],
    ['stainless steel', 12, 25],
    ['cast iron', 18, 30],
    ['brass', 45, 90],
    ['bronze', 20, 40],
    ['aluminium', 60, 150],
    ['acetal', 90, 150],
  ];
  test.each(RANGES)('%s lies within %d to %d m/min, in the lower half', (material, low, high) => {
    const { surfaceSpeed } = CUTTING_DATA[material]['high-speed steel'];
    expect(surfaceSpeed).toBeGreaterThanOrEqual(low);
    expect(surfaceSpeed).toBeLessThanOrEqual((low + high) / 2);
  });

  // Tooth loads for small endmills, mm: 3 mm about 0.005–0.025, 12 mm about 0.03–0.13, over soft and hard materials.
  test.each(RANGES.map(([material]) => material))('tooth loads in %s lie in the common range', (material) => {
    for (const terms of Object.values(CUTTING_DATA[material])) {
      expect(terms.toothLoadShare * 3).toBeGreaterThanOrEqual(0.005);
      expect(terms.toothLoadShare * 3).toBeLessThanOrEqual(0.04);
      expect(terms.toothLoadShare * 12).toBeGreaterThanOrEqual(0.03);
      expect(terms.toothLoadShare * 12).toBeLessThanOrEqual(0.15);
    }
  });
});
