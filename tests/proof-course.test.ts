import { describe, expect, it } from 'vitest';
import { sumOf, tallied } from '../gcode/proof/pass-tally.ts';
import { passGroups } from '../gcode/proof/passes.ts';
import { neighboursOf } from '../gcode/proof/patches.ts';
import type { ProofInput, ProofSetup } from '../gcode/proof/proof.ts';
import { proofMemory } from '../gcode/proof/proof-memory.ts';
import { prove, proveInSteps } from '../gcode/proof/prove.ts';
import type { Motion, Reading } from '../gcode/reading/motion.ts';
import { rectangle } from '../sketch/shape/region.ts';
import { frameOf } from '../toolpath/route/frame.ts';
import type { Hold } from '../toolpath/route/route.ts';
import { drawnColumns, drawnMap } from './proof-map.ts';
import { cutters, smallBar } from './proof-plate.ts';

// How a proof goes: how far it is, how its passes are named, how often something is counted.

const bar = smallBar(4);
const vice: Hold = {
  kind: 'vice',
  jaws: { from: 5, to: 35 },
  grip: 2,
  parallels: null,
  gripped: 'sides',
};
const setupOf = (number: number, lines: readonly string[]): ProofSetup => ({
  number,
  frame: frameOf(bar, 'front', 'left-near'),
  hold: vice,
  tools: cutters,
  text: ['G21 G90 G17 G40 G49 G80 G94', 'G54', 'T1 M6', 'S1000 M3', 'G0 Z10', ...lines, 'M30', ''].join('\n'),
});
const inputOf = (...setups: readonly ProofSetup[]): ProofInput => ({
  bar,
  wanted: { slabs: [{ bottom: 0, top: 4, region: rectangle({ x: 0, y: 0 }, { x: 40, y: 30 }) }] },
  setups,
  tolerance: { gouge: 0.02, excess: 0.05 },
  cell: 0.5,
});

it('tells how far it is by the text that is read and cut, a tenth for reading and the last twentieth for comparing', () => {
  const air = (count: number): string[] => [
    'G0 X10 Y10',
    ...Array.from({ length: count }, (_, k) => `G0 X${k % 2 === 0 ? 9 : 10}`),
  ];
  const [first, second] = [setupOf(3, air(9000)), setupOf(5, air(1000))];
  const whole = first.text.length + second.text.length;
  const steps = proveInSteps(inputOf(first, second));
  const told: [string, number, number][] = [];
  for (let step = steps.next(); !step.done; step = steps.next()) {
    const { kind, setup, share } = step.value;
    told.push([kind, setup, share]);
  }
  const kinds = ['reading', 'cutting', 'comparing'];
  expect(told.map(([kind]) => kinds.indexOf(kind))).toEqual(told.map(([kind]) => kinds.indexOf(kind)).sort());
  const ofSetup = (kind: string, setup: number) => told.filter(([k, s]) => k === kind && s === setup);
  for (const [kind, begin, size] of [
    ['reading', 0, 0.1],
    ['cutting', 0.1, 0.85],
  ] as const) {
    const [one, other] = [ofSetup(kind, 3), ofSetup(kind, 5)];
    expect(one.length).toBeGreaterThan(1);
    expect(one.at(-1)![2]).toBeCloseTo(begin + (size * first.text.length) / whole, 9);
    expect(other.at(-1)![2]).toBeCloseTo(begin + size, 9);
    expect(one[0]![2]).toBeGreaterThan(begin + (size * first.text.length) / whole / 9);
    expect(one[0]![2]).toBeLessThan(begin + (size * first.text.length) / whole);
  }
  expect(told.at(-1)).toEqual(['comparing', 5, 0.95]);
  expect(told.filter(([kind]) => kind === 'comparing')).toHaveLength(1);
  expect([...proveInSteps(inputOf(setupOf(7, [])))].at(-1)?.setup).toBe(7);
  expect([...proveInSteps(inputOf())]).toEqual([{ kind: 'comparing', setup: 1, share: 0.95 }]);
});

it('remembers programs of two million characters, all together, and no longer ones', () => {
  const remark = `(${'x'.repeat(98)})`;
  const counted = (...remarks: readonly number[]): number => {
    const memory = proofMemory();
    const setups = remarks.map((count, k) =>
      setupOf(k + 1, ['G0 X50 Y15', 'G1 Z-1 F100', ...Array.from({ length: count }, () => remark)]),
    );
    prove(inputOf(...setups), memory);
    return memory.counts.cut;
  };
  expect(counted(9000, 9000)).toBeGreaterThan(0);
  expect(counted(10_000, 10_000)).toBe(0);
});

it('a tally is of what a pass cut, of webs where nothing is wanted, tile by tile', () => {
  const map = drawnMap(['#wl..'.padEnd(20, 'w'), 'wu'.padEnd(20, '#')]);
  const columns = drawnColumns(['PP'.padEnd(20, '.'), 'P'.padEnd(20, '.')]);
  const of = (...cut: readonly number[]) => {
    const marks = new Int32Array(40).fill(-1);
    for (const i of cut) marks[i] = 3;
    const made = tallied({ map, columns, marks, number: 3 }, { i0: 0, j0: 0, i1: 19, j1: 1 }, null);
    const { opened, webLeft } = sumOf(made);
    return [opened, webLeft && Math.round(webLeft * 1e4) / 1e4, [...made.opened]];
  };
  expect(of()).toEqual([0, null, [0, 0]]);
  expect(of(0, 1)).toEqual([0, null, [0, 0]]);
  expect(of(0, 2, 3)).toEqual([1, 2, [1, 0]]);
  expect(of(1, 2, 3, 4, 20, 21)).toEqual([2, 2, [2, 0]]);
  expect(of(2, 19, 39)).toEqual([0, 0.8, [0, 0]]);
  map.top[18] = map.bottom[18] = 1;
  map.top[17] = 0.0009;
  expect(of(18, 17, 39)).toEqual([1, 4, [0, 1]]);
});

it('a wall short over more than a told bridge’s height is told beside the bridge, too', () => {
  const island = { slabs: [{ bottom: 0, top: 4, region: rectangle({ x: 10, y: 8 }, { x: 30, y: 22 }) }] };
  const bridge = { at: { x: 20, y: 8 }, outward: { x: 0, y: -1 }, length: 10, width: 6, height: 1 };
  const codes = (height: number, text: string): readonly string[] => {
    const input = inputOf(
      setupOf(1, ['G0 X7 Y5', 'G1 Z-4.1 F50', ...text.split(', '), 'G1 X33', 'G1 Y25', 'G1 X7', 'G1 Y5']),
    );
    return prove({ ...input, wanted: island, cell: 0.1, bridges: [{ ...bridge, height }] })
      .findings.filter((f) => f.severity === 'error')
      .map((f) => f.code);
  };
  expect(codes(1, 'G1 X33')).toEqual([]);
  expect(codes(1, 'G1 X16, G1 Y4.88, G1 X24, G1 Y5')).toEqual(['wall-excess']);
  expect(codes(1, 'G1 X16, G1 Z-3, G1 X24, G1 Z-4.1')).toEqual([]);
});

it('counts five thousand hits and no more, whatever else goes low', () => {
  // Below the jaws' tops, and beyond their ends; then 0.5 mm into a jaw.
  const beside = Array.from({ length: 5001 }, (_, k) => `G1 X${k % 2 === 0 ? 50 : 51}`);
  const into = (count: number) => Array.from({ length: count }, (_, k) => `G1 X${k % 2 === 0 ? 20 : 21}`);
  const hits = (...lines: readonly string[]): number =>
    prove(inputOf(setupOf(1, ['G0 X50 Y-2.5', 'G1 Z-3 F500', ...lines]))).setups[0]!.jawHits;
  expect(hits(...beside, 'G0 Z10', 'G0 X20', 'G1 Z-3', ...into(3))).toBe(3);
  expect(hits('G0 Z10', 'G0 X20', 'G1 Z-3', ...into(5003))).toBe(5000);
});

describe('passes', () => {
  const labels = [
    { line: 1, step: 'Slot', pass: '1 OF 3 ROUGH' },
    { line: 2, step: 'Slot', pass: '2 OF 3 FINISH' },
    { line: 3, step: 'Slot', pass: 'Finish and RELEASE' },
    { line: 4, step: 'release slot', pass: '1' },
    { line: 5, step: 'finishing', pass: '1' },
  ];
  const motion = (label: number, tool = 1, z = -1, more: Partial<Motion> = {}): Motion => ({
    kind: 'feed',
    from: { x: 0, y: 0, z },
    to: { x: 9, y: 0, z },
    feed: 1,
    tool,
    speed: 1,
    line: 1,
    label,
    ...more,
  });
  const named = (...motions: readonly Motion[]) =>
    passGroups({ motions, labels } as unknown as Reading).map(({ step, label, kind, first, end }) => [
      step,
      label,
      kind,
      first,
      end,
    ]);
  it('are named by their labels, and are releasing before they are finishing', () => {
    expect(named(...[0, 0, 1, 2, 3, 4].map((k) => motion(k)))).toEqual([
      ['Slot', '1 OF 3 ROUGH', 'rough', 0, 2],
      ['Slot', '2 OF 3 FINISH', 'finish', 2, 3],
      ['Slot', 'Finish and RELEASE', 'release', 3, 4],
      ['release slot', '1', 'release', 4, 5],
      ['finishing', '1', 'finish', 5, 6],
    ]);
    // A label holds for all levels until the next, and for one cutter.
    expect(named(motion(0), motion(0, 1, -2), motion(0, 2, -2))).toEqual([
      ['Slot', '1 OF 3 ROUGH', 'rough', 0, 2],
      ['Slot', '1 OF 3 ROUGH', 'rough', 2, 3],
    ]);
    expect(named(motion(-1, 7))).toEqual([['cutter 7', '', 'rough', 0, 1]]);
  });

  it('begin at a new level, of more than 0.005 mm', () => {
    const along = (z: number) => motion(-1, 1, z);
    const up = (z: number) =>
      motion(-1, 1, z, { kind: 'rapid', from: { x: 9, y: 0, z }, to: { x: 9, y: 0, z: 9 } });
    const down = (z: number) => motion(-1, 1, z, { from: { x: 9, y: 0, z: 9 }, to: { x: 9, y: 0, z } });
    const ends = (...motions: readonly Motion[]) =>
      named(...motions).map(([, , , first, end]) => [first, end]);
    // The first motion of all leads somewhere and is at no level yet.
    const [start, first] = [down(-1), along(-1)];
    const one = [[0, 5]];
    const two = [
      [0, 2],
      [2, 5],
    ];
    for (const [z, expected] of [
      [-1.004, one],
      [-0.996, one],
      [-1.006, two],
      [-0.994, two],
    ] as const) {
      expect(ends(start, first, up(-1), down(z), along(z))).toEqual(expected);
    }
    // Down under feed is a new level, up is none, and then only what is lower than the lowest.
    const fed = (from: number, to: number) =>
      motion(-1, 1, to, { from: { x: 9, y: 0, z: from }, to: { x: 9, y: 0, z: to } });
    expect(ends(start, first, fed(-1, -2), along(-2))).toEqual([
      [0, 2],
      [2, 4],
    ]);
    expect(ends(start, first, fed(-1, 0), along(0), fed(0, -1), along(-1))).toEqual([[0, 6]]);
    expect(ends(start, first, fed(-1, 0), along(0), fed(0, -1.5), along(-1.5))).toEqual([
      [0, 4],
      [4, 6],
    ]);
    // A round that stays where it began is a way across as well.
    const round = motion(-1, 1, -2, {
      kind: 'arc',
      to: { x: 0, y: 0, z: -2 },
      centre: { x: 1, y: 0 },
      sweep: 6,
    });
    expect(ends(start, first, up(-1), down(-2), round)).toEqual(two);
    // A way down of over ten thousand motions is no way down: it belongs to the cut before.
    const steps = (count: number) => Array.from({ length: count }, (_, k) => fed(-1 - k, -2 - k));
    expect(ends(start, first, up(-1), ...steps(9998), along(-9999))).toEqual([
      [0, 2],
      [2, 10_002],
    ]);
    expect(ends(start, first, up(-1), ...steps(10_000), along(-10_001))).toEqual([[0, 10_004]]);
  });
});

it('cells beside those that were reached are told where they are not, from every side', () => {
  const map = drawnMap(['####', '####', '####']);
  const beside = (...reached: number[]) =>
    neighboursOf(
      map,
      Uint8Array.from({ length: 12 }, (_, i) => (reached.includes(i) ? 1 : 0)),
      (i) => i !== 11,
    );
  expect(beside(5)).toEqual([4, 6, 1, 9]);
  expect(beside(5, 6)).toEqual([4, 1, 9, 7, 2, 10]);
  expect(beside(0, 1, 4)).toEqual([2, 5, 5, 8]);
  expect(beside(7, 10)).toEqual([6, 3, 9, 6]);
  expect(beside(...Array.from({ length: 12 }, (_, i) => i))).toEqual([]);
});
