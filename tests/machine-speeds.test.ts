import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Material } from '../sketch/part/part.ts';
import { standardProfile } from '../toolpath/machine/default-profile.ts';
import { CUTTING_DATA, GREATEST_TOOTH_LOAD } from '../toolpath/machine/materials.ts';
import type { MachineProfile } from '../toolpath/machine/profile.ts';
import { type CuttingWork, runningTerms } from '../toolpath/machine/speeds.ts';

const cutter = (name: string) => standardProfile.cutters.find((c) => c.name === name)!;
const withSpindle = (spindle: Partial<MachineProfile['spindle']>): MachineProfile => ({
  ...standardProfile,
  spindle: { ...standardProfile.spindle, ...spindle },
});
const materials = Object.keys(CUTTING_DATA) as Material[];

describe('Running terms', () => {
  test('of a 5 mm cutter in free-cutting steel follow from 30 m/min and 0.025 mm a tooth', () => {
    // By hand: 1000 · 30 / (π · 5) = 1909.9; 1909 · 3 · 0.025 = 143.2
    const terms = runningTerms('free-cutting steel', cutter('5 mm endmill'), standardProfile, 'mill');
    expect(terms).toEqual({ speed: 1909, feed: 143, plungeFeed: 43, limitedBy: null });
  });

  test('take the nearest belt step, but none more than a tenth too fast', () => {
    // 1909 turns a minute are wished.
    const taken = (steps: readonly number[]): number =>
      runningTerms('free-cutting steel', cutter('5 mm endmill'), withSpindle({ steps }), 'mill').speed;
    expect(taken([900, 2050])).toBe(2050);
    expect(taken([1850, 2050])).toBe(1850);
    expect(taken([900, 2150])).toBe(900);
    expect(taken([160, 420, 1000])).toBe(1000);
  });

  test('say which belt step it is', () => {
    const belts = withSpindle({ least: 160, most: 2500, steps: [160, 420, 1000, 1600, 2500] });
    const terms = runningTerms('free-cutting steel', cutter('5 mm endmill'), belts, 'mill');
    expect(terms.speed).toBe(1600);
    expect(terms.feed).toBe(Math.round(1600 * 3 * 0.025));
    expect(terms.limitedBy).toContain('1600');
  });

  test('take the slowest step, and say so, where even that is too fast', () => {
    const fast = withSpindle({ least: 3000, most: 20000, steps: [3000, 20000] });
    const terms = runningTerms('stainless steel', cutter('12 mm endmill'), fast, 'mill');
    expect(terms.speed).toBe(3000);
    expect(terms.limitedBy).toContain('slowest');
  });

  test('name the limit that held them back', () => {
    const slow = withSpindle({ most: 1200 });
    expect(runningTerms('aluminium', cutter('3 mm endmill'), slow, 'mill').limitedBy).toContain('1200');
    const sluggish = { ...standardProfile, feed: { ...standardProfile.feed, most: 90 } };
    const terms = runningTerms('aluminium', cutter('6 mm endmill'), sluggish, 'mill');
    expect(terms.feed).toBe(90);
    expect(terms.limitedBy).toContain('90 mm/min');
  });

  test('let carbide run faster than high-speed steel, and a reamer slower than a drill of its size', () => {
    for (const material of materials) {
      const steel = cutter('8 mm endmill');
      const hard = { ...steel, material: 'carbide' as const };
      const slow = runningTerms(material, steel, standardProfile, 'mill').speed;
      expect(runningTerms(material, hard, standardProfile, 'mill').speed).toBeGreaterThan(slow);
      const ream = runningTerms(material, cutter('8 mm reamer'), standardProfile, 'ream').speed;
      expect(ream).toBeLessThan(
        runningTerms(material, cutter('8.0 mm drill'), standardProfile, 'drill').speed,
      );
    }
  });

  test('never pass what the machine can do, nor the greatest tooth load, for any cutter and material', () => {
    const works: CuttingWork[] = ['mill', 'drill', 'ream', 'spot'];
    fc.assert(
      fc.property(
        fc.constantFrom(...materials),
        fc.constantFrom(...works),
        fc.double({ min: 0.3, max: 25, noNaN: true }),
        fc.integer({ min: 1, max: 8 }),
        fc.constantFrom('high-speed steel' as const, 'carbide' as const),
        fc.uniqueArray(fc.integer({ min: 100, max: 5000 }), { maxLength: 6 }),
        (material, work, diameter, flutes, made, steps) => {
          const profile = withSpindle({ steps: [...steps].sort((a, b) => a - b) });
          const tool = { ...cutter('5 mm endmill'), diameter, flutes, material: made };
          const terms = runningTerms(material, tool, profile, work);
          expect(terms.speed).toBeGreaterThanOrEqual(profile.spindle.least);
          expect(terms.speed).toBeLessThanOrEqual(profile.spindle.most);
          if (steps.length > 0) expect(steps).toContain(terms.speed);
          expect(terms.feed).toBeGreaterThanOrEqual(1);
          expect(terms.plungeFeed).toBeLessThanOrEqual(profile.feed.mostPlunge);
          expect(terms.feed).toBeLessThanOrEqual(
            work === 'mill' ? profile.feed.most : profile.feed.mostPlunge,
          );
          if (work === 'mill' && terms.feed > 1) {
            expect((terms.feed - 0.5) / terms.speed / flutes).toBeLessThanOrEqual(GREATEST_TOOTH_LOAD);
          }
        },
      ),
    );
  });
});
