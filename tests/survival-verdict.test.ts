import { describe, expect, test } from 'vitest';
import { standardProfile } from '../toolpath/machine/default-profile.ts';
import { LEAVES_NOTHING } from '../toolpath/survival/finished.ts';
import type { PassSurvival } from '../toolpath/survival/pass-survival.ts';
import { spindlePower } from '../toolpath/survival/spindle-power.ts';
import { survivalFindings } from '../toolpath/survival/verdict.ts';

const pass: PassSurvival = {
  basis: 'solved',
  footing: 'held',
  force: {
    label: 'thin body, pass 2',
    setup: 2,
    step: 'thin body',
    still: 7,
    kind: 'rough',
    places: [],
    most: 100,
    torque: 0.2,
    power: 20,
    thrust: 0,
    chip: 0.02,
    removed: 50,
  },
  bending: [],
  movement: 0.004,
  scrap: null,
  finishes: LEAVES_NOTHING,
  error: { wall: 0.004, floor: 0.001 },
  frequency: 3000,
  hold: { slip: 9, lift: 9, tip: 9, twist: 9, least: 9 },
  cutter: { bend: 0.01, stress: 100 },
  toothPassing: 60,
  speed: 1000,
  web: null,
  loose: [],
  time: null,
};
const said = (change: Partial<PassSurvival>) => survivalFindings([{ ...pass, ...change }], standardProfile);

describe('What will not survive', () => {
  test('is nothing where all is well', () => {
    expect(said({})).toEqual([]);
  });

  test('a hold under twice the force is said with what would mend it, by how the part would be lost', () => {
    const hold = (weak: 'slip' | 'lift' | 'tip' | 'twist') => {
      const [finding] = said({ hold: { ...pass.hold!, [weak]: 1.4, least: 1.4 } });
      expect(finding).toMatchObject({ code: 'weak-hold', feature: 'thin body', setup: 2 });
      return finding!.message;
    };
    expect(hold('slip')).toMatch(/about 1\.4 times .*it slips first.*stop/);
    expect(hold('lift')).toMatch(/it lifts first.*harder/);
    expect(hold('tip')).toMatch(/it tips first.*sacrificial block/);
    expect(hold('twist')).toMatch(/it turns first.*longer piece/);
    expect(said({ hold: { ...pass.hold!, slip: 2.1, least: 2.1 } })).toEqual([]);
  });

  test('teeth that pass near the natural frequency are a note, those far off are not', () => {
    expect(said({ toothPassing: 2700 }).map((f) => [f.code, f.severity])).toEqual([['near-ringing', 'note']]);
    expect(said({ toothPassing: 2300 })).toEqual([]);
  });

  test('of a job step only the worst pass is told', () => {
    const passes = [0.03, 0.09, 0.05].map((movement) => ({ ...pass, movement, bending: [bent(movement)] }));
    const findings = survivalFindings(passes, standardProfile);
    expect(findings).toHaveLength(1);
    expect(findings[0]!.message).toContain('0.090 mm under the cutter at the end toe');
  });

  test('what linear bending cannot say is not said in figures', () => {
    const [finding] = said({ movement: 494.236, bending: [bent(494.236)] });
    expect(finding!.message).toMatch(/gives way under the cutter at the end toe.*more than 1 mm/);
    expect(finding!.message).not.toContain('494');
  });

  const bent = (movement: number): PassSurvival['bending'][number] => ({
    place: {
      at: { x: 0, y: 0, z: 0 },
      travel: 0,
      push: { x: 1, y: 0, z: 0 },
      most: 1,
      atWall: { across: 1, most: 1 },
      depth: 1,
      buried: 1,
    },
    name: 'end toe',
    moved: [movement, 0, 0],
    movement,
    scrap: null,
    error: { wall: 0, floor: 0 },
    give: 0,
    finishes: LEAVES_NOTHING,
  });
});

describe('Power and clamp of the machine', () => {
  test('a stepless spindle loses power below half its top speed, one with belts does not (common practice, no source)', () => {
    const spindle = { least: 100, most: 4000, power: 500, steps: [] };
    expect(spindlePower(spindle, 3000)).toBe(500);
    expect(spindlePower(spindle, 1000)).toBeCloseTo(250, 9);
    expect(spindlePower({ ...spindle, steps: [500, 1000] }, 500)).toBe(500);
    const force = { ...pass.force, power: 200 };
    const slow = { ...standardProfile, spindle };
    expect(survivalFindings([{ ...pass, force, speed: 400 }], slow).map((f) => f.code)).toEqual([
      'beyond-power',
    ]);
    expect(survivalFindings([{ ...pass, force, speed: 2000 }], slow)).toEqual([]);
  });
});
