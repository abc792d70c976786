import { describe, expect, test } from 'vitest';
import { drillDiameter } from '../../sketch/part/drill-sizes.ts';
import {
  engagementOf,
  minorDiameter,
  parseThread,
  pitchDiameter,
  type Thread,
  tapDrillFor,
  threadDepth,
  USUAL_ENGAGEMENT,
} from '../../sketch/part/threads.ts';

const thread = (text: string): Thread => {
  const reading = parseThread(text);
  if (!reading.ok) throw new Error(reading.message);
  return reading.thread;
};
const inches = (drill: string): number => drillDiameter(drill)!;

describe('ISO 68-1 and ISO 965, as tabulated in tool makers’ thread guides', () => {
  test('H1 = 0.54127 P; the nut’s minor diameter D − 1.08253 P', () => {
    const t = thread('M10');
    expect(threadDepth(t) / t.pitch).toBeCloseTo(0.54127, 5);
    expect(minorDiameter(t)).toBeCloseTo(10 - 1.08253 * 1.5, 4);
  });

  test.each([
    ['M2 × 0.4', 1.74, 1.567],
    ['M2.5 × 0.45', 2.208, 2.013],
    ['M3 × 0.5', 2.675, 2.459],
    ['M4 × 0.7', 3.545, 3.242],
    ['M5 × 0.8', 4.48, 4.134],
    ['M6 × 1', 5.35, 4.917],
    ['M8 × 1.25', 7.188, 6.647],
    ['M10 × 1.5', 9.026, 8.376],
    ['M12 × 1.75', 10.863, 10.106],
  ])('%s: pitch diameter %d, nut minor %d', (designation, pitchDia, minor) => {
    const t = thread(designation.split(' ')[0]!);
    expect(t.designation).toBe(designation);
    // Printed to 0.001, rounded.
    expect(Math.abs(pitchDiameter(t) - pitchDia)).toBeLessThan(0.00055);
    expect(Math.abs(minorDiameter(t) - minor)).toBeLessThan(0.00055);
  });
});

describe('ISO 2306 tap drills (values from memory)', () => {
  // The standard follows D − P, which is an engagement of 1 / 1.08253.
  const ruleOfPitch = 1 / (2 * 0.541266);
  test.each([
    ['M2', 1.6],
    ['M2.5', 2.05],
    ['M3', 2.5],
    ['M4', 3.3],
    ['M5', 4.2],
    ['M6', 5.0],
    ['M8', 6.8],
    ['M10', 8.5],
    ['M12', 10.2],
  ])(
    '%s: %d mm, computed within half a step of the 0.1 mm set at the engagement of D − P',
    (designation, printed) => {
      const drill = tapDrillFor(thread(designation), ruleOfPitch);
      expect(Math.abs(drill.computed - printed)).toBeLessThanOrEqual(0.0501);
      expect(drill.tableValue?.diameter).toBe(printed);
      expect(drill.tableValue?.source).toContain('ISO 2306');
    },
  );

  test('workshop rule printed by many suppliers: D − P, M5 × 0.8 → 4.2 and M10 × 1.5 → 8.5', () => {
    expect(tapDrillFor(thread('M5'), ruleOfPitch).chosen).toBe(4.2);
    expect(tapDrillFor(thread('M10'), ruleOfPitch).chosen).toBe(8.5);
  });
});

test.each([
  ['M2', 1.679],
  ['M2.5', 2.138],
  ['M3', 2.599],
  ['M4', 3.422],
  ['M5', 4.334],
  ['M6', 5.153],
  ['M8', 6.912],
  ['M10', 8.676],
  ['M12', 10.441],
])(
  'ISO 965 class 6H (values from memory): %s drilled as usual stays within the nut’s largest minor diameter %d',
  (designation, largest) => {
    const drill = tapDrillFor(thread(designation), USUAL_ENGAGEMENT);
    expect(drill.chosen).toBeLessThanOrEqual(largest);
    expect(drill.chosen).toBeGreaterThanOrEqual(minorDiameter(thread(designation)) - 0.05);
  },
);

describe('BA, BS 93', () => {
  const majors = [6.0, 5.3, 4.7, 4.1, 3.6, 3.2, 2.8, 2.5, 2.2, 1.9, 1.7, null, 1.3, null, 1.0];
  test.each(majors.flatMap((major, n) => (major === null ? [] : [[n, major]])) as [number, number][])(
    '%d BA: pitch 0.9^n mm rounded to 0.01, major 6 p^1.2 rounded to 0.1 = %d mm, depth 0.6 p',
    (n, major) => {
      const t = thread(`${n}BA`);
      expect(t.pitch).toBe(Math.round(0.9 ** n * 100) / 100);
      expect(t.major).toBe(major);
      expect(t.major).toBeCloseTo(Math.round(6 * t.pitch ** 1.2 * 10) / 10, 9);
      expect(threadDepth(t)).toBeCloseTo(0.6 * t.pitch, 12);
      expect(minorDiameter(t)).toBeCloseTo(major - 1.2 * t.pitch, 9);
      expect((t.form.angle * 180) / Math.PI).toBeCloseTo(47.5, 9);
    },
  );

  // Thread table of the International Brotherhood of Live Steamers; another maker prints 31 for 4 BA, 50 for 8 BA, 54 for
  // 10 BA. Number drills in mm by ANSI B94.11M, values from memory.
  test.each([
    [0, '10'],
    [1, '17'],
    [2, '24'],
    [3, '29'],
    [4, '32'],
    [5, '37'],
    [6, '43'],
    [7, '46'],
    [8, '50'],
    [9, '53'],
    [10, '55'],
    [12, '60'],
    [14, '70'],
  ])(
    'International Brotherhood of Live Steamers: %d BA drilled with number %s, ours within 0.16 mm',
    (n, drill) => {
      const t = thread(`${n} BA`);
      const ours = tapDrillFor(t);
      expect(ours.tableValue?.diameter).toBeCloseTo(inches(drill), 9);
      expect(Math.abs(ours.computed - inches(drill))).toBeLessThan(0.16);
      // BS 93 lets the nut's minor diameter grow by 0.375 p. Number 70 for 14 BA is printed 0.013 mm under the basic one.
      for (const diameter of [ours.chosen, inches(drill)]) {
        expect(diameter).toBeGreaterThanOrEqual(minorDiameter(t) - (n === 14 ? 0.013 : 0));
        expect(diameter).toBeLessThanOrEqual(minorDiameter(t) + 0.375 * t.pitch);
      }
    },
  );

  test.each([
    [4, '31'],
    [8, '50'],
    [10, '54'],
  ])('another maker’s table: %d BA drilled with number %s, within the 0.375 p of BS 93', (n, drill) => {
    const t = thread(`${n} BA`);
    expect(inches(drill)).toBeGreaterThan(minorDiameter(t));
    expect(inches(drill)).toBeLessThanOrEqual(minorDiameter(t) + 0.375 * t.pitch);
  });
});

describe('Whitworth form, 40 and 32 threads per inch, International Brotherhood of Live Steamers table (drills B94.11M, from memory)', () => {
  test('depth 0.640327 p (BS 84, from memory)', () => {
    const t = thread('1/4 × 40');
    expect(threadDepth(t)).toBeCloseTo(0.640327 * 0.635, 9);
    expect((t.form.angle * 180) / Math.PI).toBeCloseTo(55, 9);
  });

  test.each([
    ['5/32 × 40', '30'],
    ['3/16 × 40', '5/32'],
    ['7/32 × 40', '3/16'],
    ['1/4 × 40', '7/32'],
    ['5/16 × 32', 'J'],
    ['3/8 × 40', '11/32'],
  ])('%s: drill %s lies between the full thread and three quarters of it', (designation, drill) => {
    const t = thread(designation);
    const ours = tapDrillFor(t);
    expect(ours.tableValue?.diameter).toBeCloseTo(inches(drill), 9);
    const share = engagementOf(t, inches(drill));
    expect(share).toBeGreaterThan(0.75);
    expect(share).toBeLessThanOrEqual(1);
    expect(Math.abs(ours.chosen - inches(drill))).toBeLessThan(0.16);
  });

  test('3/8 × 32: the printed drill Q is 0.08 mm below the basic minor diameter, so the table and the form disagree', () => {
    const t = thread('3/8 × 32');
    expect(minorDiameter(t) - inches('Q')).toBeCloseTo(0.075, 2);
    expect(tapDrillFor(t).tableValue?.engagement).toBeGreaterThan(1);
    expect(tapDrillFor(t).chosen).toBe(8.7);
  });
});

describe('Unified screws: 0.060 + 0.013 n inch; tap drills by the same table (drills B94.11M, from memory)', () => {
  test.each([
    ['0-80', 'UNF', '56'],
    ['1-72', 'UNF', '53'],
    ['2-56', 'UNC', '49'],
    ['3-48', 'UNC', '47'],
    ['4-40', 'UNC', '44'],
    ['5-40', 'UNC', '39'],
    ['6-32', 'UNC', '36'],
    ['8-36', 'UNF', '29'],
    ['10-32', 'UNF', '21'],
    ['12-24', 'UNC', '16'],
    ['1/4-28', 'UNF', '3'],
    ['5/16-24', 'UNF', 'I'],
    ['1/4-20', 'UNC', '7'],
    ['5/16-18', 'UNC', 'F'],
    ['3/8-16', 'UNC', '5/16'],
  ])('%s %s: drill %s leaves between two thirds and all of the thread', (size, series, drill) => {
    const t = thread(size);
    expect(t.series).toBe(series);
    const ours = tapDrillFor(t);
    expect(ours.tableValue?.diameter).toBeCloseTo(inches(drill), 9);
    const share = engagementOf(t, inches(drill));
    expect(share).toBeGreaterThan(2 / 3);
    expect(share).toBeLessThanOrEqual(1);
    // Ours at 0.85 is a drill of the 0.1 mm set within a size or two of the table's.
    expect(Math.abs(ours.chosen - inches(drill))).toBeLessThan(0.21);
  });
});
