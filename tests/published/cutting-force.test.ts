import { describe, expect, test } from 'vitest';
import type { Material } from '../../sketch/part/part.ts';
import { cutterBending, FLUTED_SHARE } from '../../toolpath/survival/cutter-bending.ts';
import { CUTTING_FORCE, specificForce } from '../../toolpath/survival/cutting-force.ts';
import { drillingForce } from '../../toolpath/survival/drilling-force.ts';
import {
  type Engagement,
  type MillingTermsOfForce,
  millingForce,
} from '../../toolpath/survival/milling-force.ts';

/** Buried from one angle to another (radians from the travel, left positive) to one depth. */
const buried = (from: number, to: number, depth: number, steps = 720): Engagement => ({
  depth: Float64Array.from({ length: steps }, (_, i) => {
    const angle = ((i + 0.5) * 2 * Math.PI) / steps - Math.PI;
    return angle >= from && angle <= to ? depth : 0;
  }),
});

const constant = (kc: number) => ({ kc11: kc, mc: 0, radialShare: 0.4, axialShare: 0, source: 'test' });

describe('specific cutting force: Mitsubishi Materials, "Formulae for cutting power", table by tooth load', () => {
  const loads = [0.1, 0.2, 0.3, 0.4, 0.6];
  const table: readonly (readonly [Material, readonly number[]])[] = [
    ['low-carbon steel', [2200, 1950, 1820, 1700, 1580]],
    ['stainless steel', [2030, 1970, 1900, 1770, 1710]],
    ['cast iron', [1750, 1400, 1240, 1050, 970]],
    ['brass', [1150, 950, 800, 700, 630]],
    ['aluminium', [700, 600, 490, 450, 390]],
  ];
  test.each(table)(
    '%s: the Kienzle line is the least-squares fit and stays within 7 %% of every entry',
    (material, row) => {
      const data = CUTTING_FORCE[material];
      const xs = loads.map(Math.log);
      const ys = row.map(Math.log);
      const mean = (v: readonly number[]): number => v.reduce((a, b) => a + b, 0) / v.length;
      const [mx, my] = [mean(xs), mean(ys)];
      const slope =
        xs.reduce((s, x, i) => s + (x - mx) * (ys[i]! - my), 0) / xs.reduce((s, x) => s + (x - mx) ** 2, 0);
      expect(data.mc).toBeCloseTo(-slope, 2);
      expect(data.kc11 / Math.exp(my - slope * mx)).toBeCloseTo(1, 2);
      row.forEach((kc, i) => {
        expect(Math.abs(specificForce(data, loads[i]!) / kc - 1)).toBeLessThan(0.07);
      });
    },
  );
});

describe('milling power', () => {
  test('the worked example of the same source: Pc = 1.68 kW with a machine coefficient of 0.8', () => {
    // ⌀250, 12 teeth, depth 2, width 80, feed 280 mm/min, 101.91 turns a minute, kc 1800 MPa.
    const speed = 101.91;
    const half = Math.asin(40 / 125);
    const terms: MillingTermsOfForce = {
      diameter: 250,
      flutes: 12,
      toothLoad: 280 / (12 * speed),
      speed,
      helix: 0,
      data: constant(1800),
    };
    const force = millingForce(buried(-half, half, 2, 7200), terms);
    expect(force.power / 0.8 / 1000).toBeCloseTo(1.68, 1);
    expect(force.power / 0.8 / 1000 / 1.68).toBeCloseTo(1, 1);
    expect(force.torque * 2 * Math.PI * (speed / 60)).toBeCloseTo(force.power, 6);
  });

  test('power is specific force times metal removed, whatever the engagement (kc constant)', () => {
    for (const [from, to] of [
      [-Math.PI / 2, Math.PI / 2],
      [-Math.PI / 2, 0],
      [-Math.PI / 2, -Math.PI / 4],
    ] as const) {
      const terms: MillingTermsOfForce = {
        diameter: 10,
        flutes: 4,
        toothLoad: 0.03,
        speed: 1000,
        helix: Math.PI / 6,
        data: constant(2000),
      };
      const force = millingForce(buried(from, to, 3), terms);
      const width = 5 * (Math.sin(to) - Math.sin(from));
      const removal = (3 * width * 0.03 * 4 * 1000) / 60;
      expect(force.power / ((2000 * removal) / 1000)).toBeCloseTo(1, 1);
    }
  });
});

describe('which way the work is pushed, spindle clockwise', () => {
  const terms: MillingTermsOfForce = {
    diameter: 10,
    flutes: 4,
    toothLoad: 0.03,
    speed: 1000,
    helix: Math.PI / 6,
    data: CUTTING_FORCE['low-carbon steel'],
  };
  test('climb, work on the right: it is pushed away from the travel and drawn towards the cutter or pressed off it', () => {
    const climb = millingForce(buried(-Math.PI / 2, -Math.PI / 3, 2), terms);
    expect(climb.mean.along).toBeLessThan(0);
  });
  test('conventional, work on the left: it is pushed along the travel', () => {
    const conventional = millingForce(buried(Math.PI / 3, Math.PI / 2, 2), terms);
    expect(conventional.mean.along).toBeGreaterThan(0);
    const straight = { ...terms, helix: 0 };
    const mirrored = millingForce(buried(-Math.PI / 2, -Math.PI / 3, 2), straight);
    expect(millingForce(buried(Math.PI / 3, Math.PI / 2, 2), straight).most).toBeCloseTo(mirrored.most, 6);
  });
  test('twice the depth is twice the force', () => {
    const one = millingForce(buried(-Math.PI / 2, 0, 1), { ...terms, helix: 0 });
    const two = millingForce(buried(-Math.PI / 2, 0, 2), { ...terms, helix: 0 });
    expect(two.most / one.most).toBeCloseTo(2, 6);
  });
  test('no material, no force', () => {
    expect(millingForce(buried(0, -1, 0), terms).most).toBe(0);
  });
});

describe('cutter bending', () => {
  test('a plain bar by F L³ / (3 E I) (Euler and Bernoulli, any text on strength of materials)', () => {
    const i = (Math.PI * (5 * FLUTED_SHARE) ** 4) / 64;
    const cutter = { diameter: 5, fluteLength: 30, material: 'high-speed steel' } as const;
    expect(cutterBending(cutter, 100, 30)).toBeCloseTo((100 * 30 ** 3) / (3 * 210_000 * i), 9);
  });
  test('a force at height a: F (L − a)² (2 L + a) / (6 E I) at the tip (the same texts)', () => {
    const i = (Math.PI * (5 * FLUTED_SHARE) ** 4) / 64;
    const cutter = { diameter: 5, fluteLength: 30, material: 'high-speed steel' } as const;
    expect(cutterBending(cutter, 100, 30, 6)).toBeCloseTo((100 * 24 ** 2 * 66) / (6 * 210_000 * i), 9);
  });
});

describe('drilling', () => {
  test('torque is kc · f · D² / 8 for kc constant (any text on metal cutting)', () => {
    const force = drillingForce(10, 0.2, (118 * Math.PI) / 180, 500, constant(2000));
    expect(force.torque).toBeCloseTo((2000 * 0.2 * 100) / 8 / 1000, 6);
  });
});
