import { describe, expect, it } from 'vitest';
import { type Proof, type ProofInput, type ProofSetup, prove } from '../gcode/proof/proof.ts';
import { proofMemory } from '../gcode/proof/proof-memory.ts';
import type { Face } from '../sketch/part/part.ts';
import { rectangle } from '../sketch/shape/region.ts';
import type { Cutter } from '../toolpath/machine/cutter.ts';
import { frameOf } from '../toolpath/route/frame.ts';
import { cutters, smallBar } from './proof-plate.ts';

// What is told of a setup's run: lengths, time, cutters, webs, rapids, flutes. A bar 40 × 30 × 4, cells of 0.5 mm.

const bar = smallBar(4);
const HEAD = ['G21 G90 G17 G40 G49 G80 G94', 'G54', 'T1 M6', 'S1000 M3', 'G0 Z10'];

const setupOf = (
  face: Face,
  lines: readonly string[],
  more: Partial<ProofSetup> & { readonly head?: readonly string[] } = {},
): ProofSetup => ({
  number: face === 'front' ? 2 : 1,
  frame: frameOf(bar, face, 'left-near'),
  hold: { kind: 'plate', fastening: { kind: 'tape', shear: 1, peel: 1 } },
  tools: cutters,
  text: [...(more.head ?? HEAD), ...lines, 'M30', ''].join('\n'),
  ...more,
});
/** A part at the left end; over the rest of the bar nothing is wanted. */
const proofOf = (setups: readonly ProofSetup[], more: Partial<ProofInput> = {}): Proof =>
  prove({
    bar,
    wanted: { slabs: [{ bottom: 0, top: 4, region: rectangle({ x: 0, y: 0 }, { x: 2, y: 30 }) }] },
    setups,
    tolerance: { gouge: 0.02, excess: 0.05 },
    cell: 0.5,
    ...more,
  });
const front = (...lines: readonly string[]): Proof => proofOf([setupOf('front', lines)]);
const codes = (proof: Proof): readonly string[] => proof.findings.map((f) => f.code);

describe('lengths and time', () => {
  const lines = [
    'G0 X50 Y40',
    'G0 Z1',
    'G1 Z-1 F60',
    // 3, 4 and 12 mm at once: 13.
    'G1 X53 Y44 Z11 F130',
    'G4 P2.5',
    // Half a round of 5 mm that sinks by 10.
    'G2 X63 Y44 Z1 I5 J0 F300',
    'G0 X60 Y40',
    'G0 Z13',
  ];
  it('are those of all motions, the rapids by their own speed, with the dwells', () => {
    const at = (rapid: number | undefined) =>
      proofOf([setupOf('front', lines)], rapid === undefined ? {} : { rapid }).setups[0]!;
    const cut = 2 + 13 + Math.hypot(5 * Math.PI, 10);
    const seconds = 60 * (2 / 60 + 13 / 130 + Math.hypot(5 * Math.PI, 10) / 300) + 2.5;
    // The first rapid, from nobody knows where, is not counted on; 9, 5 and 12 are.
    const before = proofOf([setupOf('front', ['G0 X50 Y40'])]).setups[0]!.rapidLength_mm;
    expect(at(600).cutLength_mm).toBeCloseTo(cut, 9);
    expect(at(600).rapidLength_mm - before).toBeCloseTo(9 + 5 + 12, 9);
    expect(at(600).time_s).toBeCloseTo(seconds + (60 * (before + 26)) / 600, 9);
    expect(at(undefined).time_s).toBeCloseTo(seconds + (60 * (before + 26)) / 2000, 9);
    expect(before).toBeGreaterThan(0);
  });

  it('have an end where a feed was never given', () => {
    const { setups, findings } = front('G0 X50 Y40', 'G1 X53 Y44', 'G0 X50 Y40');
    expect(setups[0]!.cutLength_mm).toBeCloseTo(5, 9);
    expect(setups[0]!.time_s).toBeCloseTo((60 * setups[0]!.rapidLength_mm) / 2000, 9);
    expect(findings.map((f) => f.severity)).toContain('error');
  });
});

it('cutters are told by their numbers, those alone that move', () => {
  const { setups } = front('T2 M6', 'S1000 M3', 'G0 X50 Y40', 'G0 Y45', 'T4 M6', 'T1 M6', 'G0 Y50');
  expect(setups[0]!.tools).toEqual([
    { number: 1, kind: 'endmill', diameter_mm: 6 },
    { number: 2, kind: 'endmill', diameter_mm: 5 },
  ]);
});

describe('the web that a pass leaves', () => {
  const webs = (setups: readonly ProofSetup[]) =>
    proofOf(setups)
      .setups.at(-1)!
      .passes.map(({ webLeft_mm }) => webLeft_mm && Math.round(webLeft_mm * 1e4) / 1e4);
  const along = (z: number): readonly string[] => [
    'G0 X10 Y15',
    'G0 Z1',
    `G1 Z${z} F100`,
    'G1 X30',
    'G0 Z10',
  ];

  it('is the thinnest in its own cells, of what is not wanted', () => {
    expect(webs([setupOf('front', [...along(-3.2), ...along(-3.5), ...along(-4.1)])])).toEqual([
      0.8,
      0.5,
      null,
    ]);
    // Beside the first, thicker; over the part alone; and under a thousandth of a millimetre.
    const beside = ['G0 Y25', 'G0 Z1', 'G1 Z-2 F100', 'G1 X20', 'G0 Z10'];
    const over = ['G0 X-2.1 Y5', 'G0 Z-1', 'G1 Y20', 'G0 Z10'];
    expect(webs([setupOf('front', [...along(-3.2), ...beside, ...over])])).toEqual([0.8, 2, null]);
    expect(webs([setupOf('front', along(-3.9995))])).toEqual([null]);
    expect(webs([setupOf('front', ['G0 X10 Y15', 'G1 Z-3 F100', 'G1 X20', 'G1 Z-2', 'G1 X30'])])).toEqual([
      1,
    ]);
  });

  it('lies over an underside that was raised before, at whichever end of the cut', () => {
    const [back, also] = [
      (x: number, y: number) => [`G0 X${x} Y${30 - y}`, 'G1 Z-1 F100', 'G0 Z10'],
      along(-2.2),
    ];
    expect(webs([setupOf('front', also)])).toEqual([1.8]);
    for (const [x, y] of [
      [20, 15],
      [5, 15],
      [35, 15],
      [20, 10],
      [20, 20],
    ] as const) {
      expect(webs([setupOf('back', back(x, y)), setupOf('front', also)])).toEqual([0.8]);
    }
  });
});

describe('a rapid', () => {
  const rapids = (...lines: readonly string[]): number => front(...lines).setups[0]!.rapidsInStock;
  it('may brush the work by 0.01 under its tip and by 0.02 beside it', () => {
    expect(rapids('G0 X20 Y40', 'G0 Z-0.009', 'G0 Y-10')).toBe(0);
    expect(rapids('G0 X20 Y40', 'G0 Z-0.02', 'G0 Y-10')).toBe(1);
    // The middles of the outermost cells lie 0.25 in.
    expect(rapids('G0 X-10 Y-2.74', 'G0 Z-2', 'G0 X60')).toBe(0);
    expect(rapids('G0 X-10 Y-2.72', 'G0 Z-2', 'G0 X60')).toBe(1);
  });

  it('is told with its deepest, the first of those alike, and how many more there were in the pass', () => {
    const proof = front('G0 X20 Y40', 'G0 Z-1', 'G0 Y25', 'G0 Y20', 'G0 Z-2', 'G0 Y15', 'G0 Y10');
    expect(proof.setups[0]!.rapidsInStock).toBe(5);
    const told = proof.findings.filter((f) => f.code === 'rapid-in-stock').map((f) => f.message);
    expect(told).toHaveLength(1);
    expect(told[0]).toMatch(
      /^A rapid goes through material, 1\.99 mm deep: line 11, .*\(and 4 more in this pass\)/,
    );
  });
});

it('flutes are as long as they are, and 0.05 mm', () => {
  const tools: readonly Cutter[] = [{ ...cutters[0]!, fluteLength: 3 }];
  const cut = (z: number) =>
    codes(proofOf([setupOf('front', ['G0 X10 Y15', `G1 Z${z} F100`, 'G1 X20'], { tools })]));
  expect(cut(-3.04)).not.toContain('deeper-than-flutes');
  expect(cut(-3.06)).toContain('deeper-than-flutes');
});

describe('a cutter goes on where another stopped', () => {
  it('and cuts all of its own diameter there', () => {
    // A 5 mm cutter goes down to the bottom, and then one of 6 mm a little way, so that the pieces are the same.
    const narrow = ['T2 M6', 'S1000 M3', 'G0 X20 Y15', 'G1 Z-3 F100', 'G1 X21', 'T1 M6', 'G1 X21.2'];
    const wide = ['G0 X20 Y15', 'G0 X21', 'G1 Z-3 F100', 'G1 X21.2'];
    const area = (lines: readonly string[]): string =>
      front(...lines).findings.find((f) => f.code === 'web-not-released')!.message;
    expect(area(narrow)).toBe(area([...narrow.slice(0, 5), 'G0 Z10', 'T1 M6', ...wide]));
  });
});

it('with what is remembered of a proof the next one comes to the same as by itself', () => {
  const lines = (x: number, z = -4.1) => [
    '(STEP low - PASS 1 OF 1 ROUGH)',
    'G0 X10 Y5',
    'G1 Z-2 F100',
    'G1 X30',
    'G0 Z10',
    '(STEP right - PASS 1 OF 1 ROUGH)',
    'G0 X32 Y15',
    'G1 Z-3 F100',
    'G1 Y25',
    'G0 Z10',
    'G0 X20 Y20',
    '(STEP left - PASS 1 OF 1 ROUGH)',
    `G0 X${x} Y15`,
    `G1 Z${z} F100`,
    'G1 Y25',
    'G0 Z10',
  ];
  const input = (x: number, z?: number): ProofInput => ({
    bar,
    wanted: { slabs: [{ bottom: 0, top: 4, region: rectangle({ x: 0, y: 0 }, { x: 7, y: 30 }) }] },
    setups: [setupOf('front', lines(x, z))],
    tolerance: { gouge: 0.02, excess: 0.05 },
    cell: 0.5,
  });
  for (const engagement of ['limited', 'everywhere'] as const) {
    const memory = proofMemory();
    for (const [x, z] of [[12], [12], [14], [9.9], [9], [12], [14, -3.5], [20]] as const) {
      const asked = { ...input(x, z), engagement };
      expect(prove(asked, memory)).toEqual(prove(asked));
    }
    if (engagement === 'everywhere') continue;
    expect(memory.counts.known).toBeGreaterThan(memory.counts.cut);
    // The same program a line further on is the same.
    const { cut } = memory.counts;
    const later = { ...input(20), setups: [setupOf('front', ['(a remark)', ...lines(20)])] };
    expect(prove(later, memory)).toEqual(prove(later));
    expect(memory.counts.cut - cut).toBeLessThanOrEqual(1);
  }
});
