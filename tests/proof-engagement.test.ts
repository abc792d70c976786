import { describe, expect, test } from 'vitest';
import { engagementLines } from '../gcode/command/summary.ts';
import { proofJson } from '../gcode/proof/json.ts';
import { type Proof, type ProofSetup, prove } from '../gcode/proof/proof.ts';
import type { Bar } from '../sketch/part/part.ts';
import { rectangle } from '../sketch/shape/region.ts';
import { frameOf } from '../toolpath/route/frame.ts';
import { cutters, frontHold } from './proof-plate.ts';

/** The rim of the cutter in the material, measured by the proof from a program's text, against closed forms. */

const bar: Bar = {
  length: 60,
  width: 40,
  thickness: 6,
  material: 'low-carbon steel',
  corner: { x: 0, y: 0 },
  sawn: 0,
};
/** Cutter 1 of the plate's drawer is a 6 mm endmill. */
const R = 3;
const degrees = (radians: number): number => (radians * 180) / Math.PI;

const run = (lines: readonly string[], more: Partial<ProofSetup> & { cell?: number } = {}): Proof => {
  const text = [
    'G17 G21 G40 G49 G54 G80 G90 G94',
    'T1 M6',
    'S1000 M3',
    'G0 Z20',
    '(STEP cut - PASS 1 OF 2 ROUGH)',
    ...lines,
    'G0 Z20',
    'M5',
    'M30',
    '',
  ].join('\n');
  const { cell, ...setup } = more;
  return prove({
    bar,
    wanted: { slabs: [{ bottom: 0, top: 4, region: rectangle({ x: 0, y: 0 }, { x: 60, y: 40 }) }] },
    setups: [
      {
        number: 1,
        frame: frameOf(bar, 'front', 'left-near'),
        hold: frontHold,
        tools: cutters,
        text,
        ...setup,
      },
    ],
    tolerance: { gouge: 0.02, excess: 0.05 },
    engagement: 'everywhere',
    ...(cell === undefined ? {} : { cell }),
  });
};

const first = (proof: Proof) => proof.setups[0]!.passes[0]!.engagement!;
const second = (proof: Proof) => proof.setups[0]!.passes[1]!.engagement!;

/** A channel along X at y = 10, and then the pass that is asked about. */
const afterChannel = (...lines: readonly string[]): readonly string[] => [
  'G0 X-5 Y10',
  'G1 Z-2 F100',
  'G1 X65',
  'G0 Z20',
  '(STEP cut - PASS 2 OF 2 ROUGH)',
  ...lines,
];

describe('the rim in the material', () => {
  test.each([0.3, 0.6, 1.5, 3, 4.5])(
    'beside a straight wall, %s mm of it at once: arccos (1 − e / r)',
    (e) => {
      const proof = run(afterChannel('G0 X-5', `G0 Y${10 + e}`, 'G1 Z-2 F100', 'G1 X55'));
      expect(Math.abs(second(proof).most_deg - degrees(Math.acos(1 - e / R)))).toBeLessThan(1.5);
    },
  );

  test('in a full slot it is half the rim, up and down a channel nothing', () => {
    const proof = run(afterChannel('G0 X-5', 'G1 Z-2 F100', 'G1 X65'));
    expect(first(proof).most_deg).toBeGreaterThan(178);
    expect(second(proof).most_deg).toBeLessThan(0.5);
    expect(first(proof).entry_deg).toBe(0);
  });

  test.each([0.4, 1, 2])('the first bite into a straight edge, %s mm deep: 2 arccos (1 − d / r)', (d) => {
    const proof = run(['G0 X-6 Y20', 'G1 Z-2 F100', `G1 X${-R + d}`]);
    expect(Math.abs(first(proof).most_deg - degrees(2 * Math.acos(1 - d / R)))).toBeLessThan(2.5);
    expect(first(proof).at_mm[0]).toBeCloseTo(-R + d, 6);
  });

  /** A round groove about (30, 20), its middle at radius `was`; then the same round at radius `now`. */
  const rounds = (was: number, now: number): readonly string[] => {
    const circle = (r: number, sense: string): string[] => [
      `G0 X${30 + r} Y20`,
      'G1 Z-2 F100',
      `${sense} X${30 - r} Y20 I${-r} J0`,
      `${sense} X${30 + r} Y20 I${r} J0`,
      'G0 Z20',
    ];
    return [...circle(was, 'G2'), '(STEP cut - PASS 2 OF 2 ROUGH)', ...circle(now, 'G3')];
  };

  test('inside a growing round: wider than beside a straight wall', () => {
    const [was, now] = [8, 8.8];
    const cos = ((was + R) ** 2 - now ** 2 - R ** 2) / (2 * now * R);
    const angle = second(run(rounds(was, now))).most_deg;
    expect(Math.abs(angle - degrees(Math.acos(cos)))).toBeLessThan(2);
    expect(angle).toBeGreaterThan(degrees(Math.acos(1 - 0.8 / R)) + 3);
  });

  test('round a boss that gets smaller: narrower than beside a straight wall', () => {
    const [was, now] = [10, 9.2];
    const cos = (now ** 2 + R ** 2 - (was - R) ** 2) / (2 * now * R);
    const angle = second(run(rounds(was, now))).most_deg;
    expect(Math.abs(angle - degrees(Math.acos(cos)))).toBeLessThan(2);
    expect(angle).toBeLessThan(degrees(Math.acos(1 - 0.8 / R)) - 2);
  });

  test('an inside corner is met where it is: the cutter turns into it', () => {
    // Along Y after a channel along X, 1 mm beyond it: at its end the corner stands ahead and beside.
    const proof = run(afterChannel('G0 X10 Y10', 'G1 Z-2 F100', 'G1 X30', 'G1 Y14'));
    expect(second(proof).most_deg).toBeGreaterThan(178);
    expect(second(proof).at_mm[0]).toBeCloseTo(30, 6);
  });

  test.each([0.04, 0.1, 0.2])('a cell of %s mm gives the same angle', (cell) => {
    const proof = run(afterChannel('G0 X-5', 'G0 Y11.5', 'G1 Z-2 F100', 'G1 X55'), { cell });
    expect(Math.abs(second(proof).most_deg - degrees(Math.acos(1 - 1.5 / R)))).toBeLessThan(1.5);
  });

  test('what another level or the other face has taken is gone, what stands above counts', () => {
    const deeper = run(afterChannel('G0 X-5 Y10', 'G1 Z-4 F100', 'G1 X65'));
    expect(second(deeper).most_deg).toBeGreaterThan(178);
    const higher = run(afterChannel('G0 X-5 Y10', 'G1 Z-1 F100', 'G1 X65'));
    expect(second(higher).most_deg).toBe(0);
    // A channel from the back, up to 3 mm: from the front the cutter meets its roof alone.
    const input = {
      bar,
      wanted: { slabs: [{ bottom: 0, top: 6, region: rectangle({ x: 0, y: 0 }, { x: 60, y: 40 }) }] },
      tolerance: { gouge: 0.02, excess: 0.05 },
      engagement: 'everywhere' as const,
    };
    const text = (z: number): string =>
      [
        'G21 G90',
        'T1 M6',
        'S1000 M3',
        'G0 Z20',
        'G0 X-5 Y20',
        `G1 Z${z} F100`,
        'G1 X65',
        'G0 Z20',
        'M30',
        '',
      ].join('\n');
    const both = prove({
      ...input,
      setups: (['back', 'front'] as const).map((face, k) => ({
        number: k + 1,
        frame: frameOf(bar, face, 'centre'),
        hold: frontHold,
        tools: cutters,
        text: text(k === 0 ? -3 : -5)
          .replaceAll('X-5 Y20', 'X-35 Y0')
          .replaceAll('X65', 'X35'),
      })),
    });
    expect(both.setups[1]!.passes[0]!.engagement!.most_deg).toBeGreaterThan(178);
    const empty = prove({
      ...input,
      setups: (['back', 'front'] as const).map((face, k) => ({
        number: k + 1,
        frame: frameOf(bar, face, 'centre'),
        hold: frontHold,
        tools: cutters,
        text: text(k === 0 ? -5 : -0.5)
          .replaceAll('X-5 Y20', 'X-35 Y0')
          .replaceAll('X65', 'X35'),
      })),
    });
    // A millimetre of roof is left by the first, and half of it is cut here over the whole width.
    expect(empty.setups[1]!.passes[0]!.engagement!.most_deg).toBeGreaterThan(178);
  });
});

describe('the way down', () => {
  test('straight down, by a ramp or a helix it is told apart', () => {
    const helix = ['G0 X31.5 Y20', 'G1 Z0.1 F100', 'G3 X28.5 Y20 Z-0.9 I-1.5 J0', 'G3 X31.5 Y20 Z-2 I1.5 J0'];
    const proof = run(helix);
    expect(first(proof).entry_deg).toBeGreaterThan(170);
  });

  test('the floor that a flat helix leaves is its own to level, a ramp as deep as the pass is not', () => {
    const flat = ['G0 X31.5 Y20', 'G1 Z-1.4 F100', 'G3 X31.5 Y20 Z-2 I-1.5 J0', 'G3 X31.5 Y20 I-1.5 J0'];
    expect(first(run(flat)).most_deg).toBeLessThan(0.5);
    const steep = ['G0 X20 Y20', 'G1 Z0 F100', 'G1 X40 Z-2', 'G1 X20'];
    expect(first(run(steep)).most_deg).toBeGreaterThan(178);
  });
});

describe('a limit', () => {
  const cut = afterChannel('G0 X-5', 'G0 Y11.5', 'G1 Z-2 F100', 'G1 X55');
  const limit = (deg: number) => [{ step: 'cut', engagement: (deg * Math.PI) / 180 }];

  test('that is passed by more than 5° is a finding with the line and the place; the first channel breaks it', () => {
    const proof = run(cut, { limits: limit(60) });
    const found = proof.findings.filter((f) => f.code === 'engagement-over-limit');
    expect(found.length).toBe(1);
    expect(found[0]!.message).toMatch(/by 180°, and states 60° at most: line 8/);
    expect(found[0]!.at!.y).toBeCloseTo(10, 3);
    const json = proofJson(proof).setups[0]!.passes[1]!.engagement!;
    expect(json.limit_deg).toBe(60);
    expect(Math.abs(json.most_deg - 60)).toBeLessThan(1.5);
  });

  test('of 180° is kept, and one that no pass bears is said to be unproven', () => {
    expect(run(cut, { limits: limit(180) }).findings.filter((f) => f.code.startsWith('engagement'))).toEqual(
      [],
    );
    const unnamed = run(cut, { limits: [{ step: 'other', engagement: 1 }] });
    expect(unnamed.findings.map((f) => f.code)).toContain('engagement-not-measured');
  });

  test('and the most of each job step are said in a line', () => {
    expect(engagementLines(run(cut, { limits: limit(60) }))).toEqual([
      '  setup 1: cut buries its cutter by 180° of its rim at most, 60° stated: line 8',
    ]);
  });

  test('without one nothing is measured unless asked', () => {
    const text = 'G21 G90\nT1 M6\nS1000 M3\nG0 Z20\nG0 X-5 Y10\nG1 Z-2 F100\nG1 X65\nG0 Z20\nM30\n';
    const proof = prove({
      bar,
      wanted: { slabs: [] },
      setups: [
        { number: 1, frame: frameOf(bar, 'front', 'left-near'), hold: frontHold, tools: cutters, text },
      ],
      tolerance: { gouge: 0.02, excess: 0.05 },
    });
    expect(proof.setups[0]!.passes[0]).not.toHaveProperty('engagement');
  });
});
