import { describe, expect, test } from 'vitest';
import type { Solid } from '../sketch/part/solid.ts';
import type { Point3 } from '../sketch/shape/point.ts';
import { rectangle } from '../sketch/shape/region.ts';
import { standardProfile } from '../toolpath/machine/default-profile.ts';
import { finishesAt } from '../toolpath/survival/finished.ts';
import type { ForcePlace, SurveyPass } from '../toolpath/survival/force-survey.ts';
import type { PassSurvival, SurvivalTerms } from '../toolpath/survival/pass-survival.ts';
import { surviveRoute } from '../toolpath/survival/survival.ts';
import { survivalFindings } from '../toolpath/survival/verdict.ts';

/** What a pass leaves on the finished part is judged; what it leaves under an allowance is not. */

const BAR = { length: 60, width: 30, thickness: 10, material: 'low-carbon steel' } as const;
const bar = { ...BAR, corner: { x: 0, y: 0 }, sawn: 0 };
/** A block with a step: 10 mm high to Y 12, 6 mm high to Y 20. */
const wanted: Solid = {
  slabs: [
    { bottom: 0, top: 6, region: rectangle({ x: 0, y: 0 }, { x: 60, y: 20 }) },
    { bottom: 6, top: 10, region: rectangle({ x: 0, y: 0 }, { x: 60, y: 12 }) },
  ],
};
const front = { face: 'front', zero: { x: 0, y: 0, z: 10 } } as const;
const back = { face: 'back', zero: { x: 0, y: 30, z: 0 } } as const;
const place = (at: Point3, travel: number, depth: number): ForcePlace => ({
  ...{ at, travel, depth },
  push: { x: 0, y: 0, z: 0 },
  most: 1,
  atWall: { across: 1, most: 1 },
  buried: 1,
});

describe('A pass finishes', () => {
  const on = (at: Point3, travel = 0, depth = 4, frame: typeof front | typeof back = front) =>
    finishesAt(wanted, frame, place(at, travel, depth), 6);

  test('a wall that its rim runs along, and not one that it leaves a tenth on or only runs up to', () => {
    expect(on({ x: 30, y: 15, z: -3 })).toEqual({ wall: true, floor: false });
    expect(on({ x: 30, y: 15.1, z: -3 })).toEqual({ wall: false, floor: false });
    expect(on({ x: 30, y: 15, z: -3 }, -Math.PI / 2).wall).toBe(false);
    // Beside the lower step's wall only where the cut reaches down to it.
    expect(on({ x: 30, y: 23, z: -8 }, 0, 8).wall).toBe(true);
    expect(on({ x: 30, y: 23, z: -3 }, 0, 3).wall).toBe(false);
  });

  test('a floor that its end lies on, and not one that it leaves a tenth on', () => {
    expect(on({ x: 30, y: 16, z: -4 })).toEqual({ wall: false, floor: true });
    expect(on({ x: 30, y: 16, z: -3.9 }).floor).toBe(false);
    // On the air beside the part there is no floor.
    expect(on({ x: 30, y: 24, z: -4 }).floor).toBe(false);
  });

  test('the same from the other face, where Y runs the other way', () => {
    // Program Y 7 is the drawing's 23: beside the wall at 20.
    expect(on({ x: 30, y: 7, z: -4 }, Math.PI, 4, back).wall).toBe(true);
    expect(on({ x: 30, y: 7.2, z: -4 }, Math.PI, 4, back).wall).toBe(false);
  });
});

const cutter = standardProfile.cutters.find((c) => c.kind === 'endmill' && c.diameter === 6)!;
const along = (y: number, z: number, kind: SurveyPass['kind'] = 'rough'): SurveyPass => ({
  ...{ label: `at Y ${y}`, setup: 1, step: `step ${y} ${z}`, still: null, kind, cutter, frame: front },
  speed: 1500,
  // Climbing: the wall on the right.
  motions: [{ stroke: { kind: 'feed', from: { x: 70, y, z }, to: { x: -10, y, z } }, feed: 200 }],
});
const hold = {
  kind: 'vice',
  jaws: { from: 0, to: 60 },
  grip: 4,
  parallels: null,
  gripped: 'the sides',
} as const;
const surveyed = (passes: readonly SurveyPass[], terms: SurvivalTerms = {}): readonly PassSurvival[] =>
  surviveRoute(
    { bar, setups: [{ number: 1, frame: front, hold }], passes, wanted },
    { cell: 0.3, brick: 2, frequency: false, places: 1, ...terms },
  );
const faster = (pass: SurveyPass): SurveyPass => ({
  ...pass,
  motions: pass.motions.map((m) => ({ ...m, feed: 1500 })),
});
const offs = (passes: readonly PassSurvival[]) =>
  survivalFindings(passes, standardProfile).filter((f) => f.code.endsWith('-off'));

describe('What a pass leaves on the finished part', () => {
  const cuts = [along(26, -4), along(20.2, -4), along(15.4, -3.9), along(15, -3.9, 'finish')];

  test('is a finding beyond the tolerance, with its number, the cutter’s share and what would mend it', () => {
    // A finishing lap as deep as it is, cut at a feed that bends the cutter.
    const [, , rough, finish] = surveyed(cuts);
    expect(rough!.finishes).toEqual({ wall: false, floor: false });
    expect(finish!.finishes).toEqual({ wall: true, floor: false });
    expect(finish!.error!.wall).toBeGreaterThan(finish!.bending[0]!.give);
    const limits = { movement: finish!.error!.wall * 0.9, hold: 2, stress: 500 };
    const [found, ...more] = survivalFindings([finish!], standardProfile, 'mm', limits).filter((f) =>
      f.code.endsWith('-off'),
    );
    expect(more).toEqual([]);
    expect(found!.code).toBe('wall-off');
    expect(found!.message).toMatch(/leaves the finished wall about 0\.0\d+ mm off.*cutter.*more than/);
    expect(found!.message).toMatch(/a lighter last pass, a shorter or thicker cutter/);
    expect(offs([finish!]).length).toBe(finish!.error!.wall > 0.02 ? 1 : 0);
  });

  test('is none where an allowance is left, however far the cutter bends', () => {
    const hurried = [along(26, -4), along(20.2, -4), along(16, -3.9), along(15, -3.9, 'finish')];
    const passes = surveyed(hurried.map(faster));
    const roughs = passes.slice(0, 3);
    expect(Math.max(...roughs.map((p) => p.error!.wall))).toBeGreaterThan(0.02);
    expect(offs(roughs)).toEqual([]);
    expect(offs(passes).map((f) => f.code)).toEqual(['wall-off']);
  });

  test('is not judged before it is solved: a closed form does not know which way the work goes', () => {
    const hurried = [along(16, -3.9), along(15, -3.9, 'finish')].map(faster);
    expect(offs(surveyed(hurried)).map((f) => f.code)).toEqual(['wall-off']);
    expect(offs(surveyed(hurried, { only: () => false }))).toEqual([]);
  });

  test('a floor that the helix lifts is one too', () => {
    // Only the left end is held: what juts out is lifted while its floor is cut.
    const jutting = { ...hold, jaws: { from: 0, to: 8 } };
    const [pass] = surviveRoute(
      { bar, setups: [{ number: 1, frame: front, hold: jutting }], passes: [along(16, -4)], wanted },
      { cell: 0.3, brick: 2, frequency: false, places: 1 },
    );
    expect(pass!.finishes.floor).toBe(true);
    const found = survivalFindings([pass!], standardProfile, 'mm', {
      movement: pass!.error!.floor * 0.9,
      hold: 2,
      stress: 500,
    }).filter((f) => f.code === 'floor-off');
    expect(found).toHaveLength(1);
    expect(found[0]!.message).toMatch(/leaves the finished floor about .* off.*leave an allowance on it/);
  });
});
