import { describe, expect, test } from 'vitest';
import { advise } from '../gcode/advice.ts';
import { planPart, recommendSubject, survive, writePrograms } from '../gcode/chain.ts';
import { survivalLines } from '../gcode/survival/report.ts';
import { MATERIALS } from '../sketch/part/part.ts';
import { standardProfile } from '../toolpath/machine/default-profile.ts';
import type { MachineProfile, MaterialFigures } from '../toolpath/machine/profile.ts';
import type { Fastening } from '../toolpath/route/route.ts';
import { assess } from '../toolpath/survival/assess.ts';
import { CUTTING_FORCE, cuttingFault } from '../toolpath/survival/cutting-force.ts';
import { materialFault } from '../toolpath/survival/elasticity/material.ts';
import { assumptionsFor, machineTerms } from '../toolpath/survival/machine-terms.ts';
import { constantsOf, ELASTIC, materialData } from '../toolpath/survival/materials.ts';
import { COMPARED_AT } from '../toolpath/survival/recommend.ts';
import { sampleText } from './samples.ts';

const withVice = (vice: Partial<MachineProfile['vice']>): MachineProfile => ({
  ...standardProfile,
  vice: { ...standardProfile.vice, ...vice },
});
const withFigures = (figures: MaterialFigures): MachineProfile => ({
  ...standardProfile,
  materials: Object.fromEntries(MATERIALS.map((m) => [m, figures])),
});

describe('What the machine file says reaches the estimates', () => {
  test('the vice is done up by 2π η T over the lead of its screw, or to the force that was measured', () => {
    expect(machineTerms(withVice({}), 'brass')).toEqual({});
    const byHandle = machineTerms(withVice({ torque: 10 }), 'brass').clamp!;
    expect(byHandle).toBeCloseTo((10_000 * 2 * Math.PI * 0.25) / 4, 6);
    const measured = withVice({ torque: 10, clamp: 5200, friction: 0.1 });
    expect(machineTerms(measured, 'brass')).toEqual({ clamp: 5200, friction: 0.1 });
    expect(assumptionsFor(withVice({ torque: 10 }), 'brass').at(-1)).toContain('3927 N, by 10 N·m');
  });

  test('what is held on a plate says what its fastening is taken to stand, and nothing of a vice', () => {
    const said = (fastening: Fastening) =>
      assumptionsFor(standardProfile, 'brass', [{ kind: 'plate', fastening }]).join('\n');
    const tape = said({ kind: 'tape', shear: 0.2, peel: 0.07 });
    expect(tape).toContain('0.2 MPa sideways and 0.07 MPa pulled off');
    expect(tape).not.toContain('The vice is done up');
    // ISO 898-1, from memory: 0.6 · 580 MPa · 8.78 mm².
    expect(said({ kind: 'screws', thread: 'M4', places: [] })).toContain('about 3055 N');
    expect(said({ kind: 'clamps', force: 1800, places: [] })).toContain('about 1800 N');
  });

  test('usual constants make sense for every material, and each says where it is from', () => {
    for (const material of MATERIALS) {
      const { cutting, elastic } = materialData(material);
      expect([cuttingFault(cutting), materialFault(elastic)]).toEqual([undefined, undefined]);
      expect({ cutting, elastic }).toEqual({ cutting: CUTTING_FORCE[material], elastic: ELASTIC[material] });
      for (const c of constantsOf(material)) expect([c.own, c.source.length > 5]).toEqual([false, true]);
    }
  });

  test('own constants stand before the usual ones, and the assumptions name each with its source', () => {
    const profile = withFigures({ kc11: 999, young: 88_000, source: 'test cuts' });
    expect(machineTerms(profile, 'brass')).toMatchObject({
      cutting: { ...CUTTING_FORCE.brass, kc11: 999, source: 'test cuts' },
      elastic: { ...ELASTIC.brass, young: 88_000 },
    });
    const said = assumptionsFor(profile, 'brass').join('\n');
    expect(said).toContain('kc1.1 999 MPa in place of the usual 524 (test cuts)');
    expect(said).toContain('modulus 88000 MPa in place of the usual 100000 (test cuts)');
    expect(assumptionsFor(standardProfile, 'brass').join('\n')).not.toContain('in place of');
  });

  const planned = (profile: MachineProfile) => {
    const made = planPart(sampleText('shutter-link'), { profile });
    if (!made.ok) throw new Error(made.findings[0]?.message);
    return made;
  };
  const { material } = planned(standardProfile).part.bar;
  const { kc11 } = CUTTING_FORCE[material];
  const softer = withFigures({ young: ELASTIC[material].young / 2 });
  const most = (values: readonly (number | null)[]) =>
    values.reduce<number>((m, v) => Math.max(m, v ?? 0), 0);

  test('in the report force goes with kc1.1, and movement against the modulus', () => {
    const look = (profile: MachineProfile) => {
      const plan = planned(profile);
      const programs = writePrograms(plan.part, plan.plan, profile);
      const report = survive(plan, programs, { only: () => false, brick: 1.5 });
      const { passes, assumptions } = report;
      const force = most(passes.map((p) => p.force_N));
      return {
        report,
        force,
        moved: most(passes.map((p) => p.movement_mm)),
        assumptions: assumptions.join(),
      };
    };
    const [usual, harder, soft] = [standardProfile, withFigures({ kc11: 2 * kc11 }), softer].map(look);
    expect(harder!.force / usual!.force).toBeCloseTo(2, 1);
    expect(soft!.force).toBe(usual!.force);
    expect(soft!.moved / usual!.moved).toBeCloseTo(2, 1);
    expect(harder!.assumptions).toContain(`in place of the usual ${kc11}`);
    // The jaws squeeze a softer bar more, whatever is cut; a row for each setup, put in and done.
    const bows = (r: typeof usual) => r!.report.squeeze.map((row) => row.before!.bow_mm);
    expect(bows(soft)[1]! / bows(usual)[1]!).toBeCloseTo(2, 1);
    expect(bows(harder)).toEqual(bows(usual));
    const lines = survivalLines(usual!.report, 'mm').join('\n');
    expect(lines).toMatch(/setup 1, put in: it bows \d\.\d{3} mm/);
    expect(lines).toMatch(/setup 2, done: {3}it bows \d\.\d{3} mm/);
  });

  test('the advice goes by them too', () => {
    const plan = planned(softer);
    const { subject, own } = recommendSubject(plan);
    const terms = { brick: 1.5, places: 1 };
    const usual = assess(subject, own, { ...COMPARED_AT, ...terms });
    const [first] = advise(plan, { ...terms, tolerance: 1 }).orders;
    expect(first!.movement_mm / usual.movement).toBeCloseTo(2, 1);
  }, 60_000);
});
