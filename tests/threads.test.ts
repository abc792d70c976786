import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { drillDiameter, nearestDrill } from '../sketch/part/drill-sizes.ts';
import { METRIC_COARSE, MODEL, PRINTED_DRILLS, UNIFIED } from '../sketch/part/thread-tables.ts';
import {
  engagementOf,
  minorDiameter,
  parseThread,
  pitchDiameter,
  type Thread,
  tapDrill,
  tapDrillFor,
  tapDrillText,
  threadDepth,
} from '../sketch/part/threads.ts';

const thread = (text: string): Thread => {
  const reading = parseThread(text);
  if (!reading.ok) throw new Error(reading.message);
  return reading.thread;
};
const refusal = (text: string): string => {
  const reading = parseThread(text);
  return reading.ok ? `is ${reading.thread.designation}` : reading.message;
};

const ALL: readonly string[] = [
  ...[...METRIC_COARSE].map(([d, p]) => `M${d} × ${p}`),
  ...['M3 × 0.35', 'M8 × 1', 'M10 × 0.75', 'M6 × 0.5'],
  ...Array.from({ length: 17 }, (_, n) => `${n} BA`),
  ...(['UNC', 'UNF'] as const).flatMap((s) => [...UNIFIED[s]].map(([size, n]) => `${size}-${n} ${s}`)),
  ...[...MODEL].flatMap(([n, sizes]) => sizes.map((size) => `${size} × ${n}`)),
];

describe('a designation is read however it is written', () => {
  test.each([
    ['M3', 'M3 × 0.5'],
    ['m3', 'M3 × 0.5'],
    ['M3x0.5', 'M3 × 0.5'],
    ['M3 X 0.5', 'M3 × 0.5'],
    ['M3 × 0.5', 'M3 × 0.5'],
    ['M3*.5', 'M3 × 0.5'],
    ['M3 x 0,5', 'M3 × 0.5'],
    ['  M3  ×  0.5 ', 'M3 × 0.5'],
    ['M3 × 0.5 - 6H', 'M3 × 0.5'],
    ['M2.5', 'M2.5 × 0.45'],
    ['M8x1', 'M8 × 1'],
    ['4BA', '4 BA'],
    ['4 BA', '4 BA'],
    ['4 B.A.', '4 BA'],
    ['No. 4 BA', '4 BA'],
    ['ba 10', '10 BA'],
    ['8-32 UNC', '8-32 UNC'],
    ['8-32', '8-32 UNC'],
    ['#8-32', '8-32 UNC'],
    ['No. 8-32 unc', '8-32 UNC'],
    ['8-32 UNC-2B', '8-32 UNC'],
    ['10-32', '10-32 UNF'],
    ['1/4-28 UNF', '1/4-28 UNF'],
    ['1/4"-20UNC', '1/4-20 UNC'],
    ['1/4 UNF', '1/4-28 UNF'],
    ['5/32x40', '5/32 × 40'],
    ['5/32 × 40', '5/32 × 40'],
    ['5/32" x 40 tpi', '5/32 × 40'],
    ['3/8 × 32 ME', '3/8 × 32'],
  ])('%s is %s', (text, designation) => {
    expect(thread(text).designation).toBe(designation);
  });

  test('every designation it gives out, it reads again as the same thread', () => {
    for (const designation of ALL) {
      const first = thread(designation);
      expect(first.designation).toBe(designation);
      expect(thread(first.designation)).toEqual(first);
    }
    for (const printed of PRINTED_DRILLS.keys()) expect(ALL).toContain(printed);
  });
});

describe('a designation that is none says what is near', () => {
  test.each([
    ['M3.2', /near it are M3 and M3.5/],
    ['M3 × 0.6', /coarse one is 0.5, finer ones are 0.35, 0.25, 0.2/],
    ['M3 × 0', /no standard pitch of 0/],
    ['17 BA', /outside the sizes/],
    ['8-32 UNF', /is UNC, not UNF/],
    ['8-33', /8-32 UNC and 8-36 UNF/],
    ['5/32-40', /model series 5\/32 × 40/],
    ['5/32 × 26', /40 or 32/],
    ['5/32 × 32', /has no 5\/32/],
    ['G1/4', /not a thread that is known/],
    ['', /not a thread that is known/],
    ['M3); DROP', /not a thread that is known/],
    ['M1e3', /not a thread that is known/],
    ['1/0-20 UNC', /not a Unified thread/],
  ])('%s', (text, message) => {
    expect(refusal(text)).toMatch(message);
    expect(tapDrill(text)).toBeNull();
  });

  test('any text is read or refused, never worse', () => {
    const bits = fc.constantFrom(
      'M',
      '3',
      'x',
      '×',
      '.',
      '-',
      '/',
      'BA',
      'UNC',
      ' ',
      '0',
      '#',
      '40',
      '"',
      ',',
    );
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string(),
          fc.array(bits, { maxLength: 12 }).map((b) => b.join('')),
        ),
        (text) => {
          const reading = parseThread(text);
          if (reading.ok)
            expect(
              ALL.includes(reading.thread.designation) || reading.thread.series === 'ISO metric fine',
            ).toBe(true);
          else expect(reading.message.length).toBeGreaterThan(10);
        },
      ),
      { numRuns: 3000 },
    );
  });
});

describe('geometry', () => {
  test('every thread has its minor diameter inside its pitch diameter inside its major', () => {
    for (const designation of ALL) {
      const t = thread(designation);
      expect(minorDiameter(t)).toBeGreaterThan(0.5 * t.major);
      expect(pitchDiameter(t)).toBeGreaterThan(minorDiameter(t));
      expect(t.major).toBeGreaterThan(pitchDiameter(t));
    }
  });

  test('diameters in inches: 0.060 + 0.013 n, and fractions', () => {
    expect(thread('8-32').major).toBeCloseTo(0.164 * 25.4, 12);
    expect(thread('0-80').major).toBeCloseTo(0.06 * 25.4, 12);
    expect(thread('5/16-18').major).toBeCloseTo((5 / 16) * 25.4, 12);
    expect(thread('5/32x40').pitch).toBeCloseTo(0.635, 12);
  });
});

describe('tap drills', () => {
  test('the drill that is worked out leaves the engagement that was asked for; the chosen one is the nearest 0.1 mm', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...ALL),
        fc.double({ min: 0.4, max: 1, noNaN: true }),
        (designation, wanted) => {
          const t = thread(designation);
          const drill = tapDrillFor(t, wanted);
          expect(engagementOf(t, drill.computed)).toBeCloseTo(wanted, 9);
          expect(Math.abs(drill.chosen - drill.computed)).toBeLessThanOrEqual(0.05 + 1e-9);
          expect(drill.chosen * 10).toBeCloseTo(Math.round(drill.chosen * 10), 9);
          expect(engagementOf(t, drill.chosen)).toBe(drill.engagementGiven);
          expect(drill.computed).toBeCloseTo(t.major - 2 * wanted * threadDepth(t), 12);
        },
      ),
    );
  });

  test('more engagement never asks for a larger drill', () => {
    for (const designation of ALL) {
      const shares = [0.5, 0.6, 0.7, 0.8, 0.9, 1].map((e) => tapDrill(designation, e)!.computed);
      expect(shares).toEqual([...shares].sort((a, b) => b - a));
    }
  });

  test('the table’s drill stands beside, with its source and what it would leave', () => {
    const drill = tapDrill('4BA')!;
    expect(drill.tableValue).toMatchObject({ drill: '32' });
    expect(drill.tableValue!.diameter).toBeCloseTo(2.9464, 4);
    expect(drill.tableValue!.source).toContain('Live Steamers');
    expect(drill.tableValue!.engagement).toBeCloseTo((3.6 - 2.9464) / (1.2 * 0.66), 6);
    expect(tapDrill('M3x0.35')!.tableValue).toBeUndefined();
    expect(tapDrillText(tapDrill('M3')!)).toBe('2.5 mm leaves 92 % of the thread; table: 2.5 mm');
    expect(tapDrillText(drill)).toBe('2.9 mm leaves 88 % of the thread; table: 32 = 2.95 mm');
  });

  test('drill names', () => {
    expect(drillDiameter('30')).toBeCloseTo(3.2639, 4);
    expect(drillDiameter('J')).toBeCloseTo(7.0358, 4);
    expect(drillDiameter('5/32')).toBeCloseTo(3.96875, 6);
    expect(drillDiameter('2.05 mm')).toBe(2.05);
    for (const name of ['0', '81', 'AA', 'j', '', '-1']) expect(drillDiameter(name)).toBeNull();
    expect(nearestDrill(2.65)).toBe(2.7);
    expect(nearestDrill(2.649)).toBe(2.6);
  });

  test('the number and letter drills fall and rise without a break', () => {
    const numbers = Array.from({ length: 80 }, (_, i) => drillDiameter(String(i + 1))!);
    const letters = Array.from({ length: 26 }, (_, i) => drillDiameter(String.fromCharCode(65 + i))!);
    const rising = [...numbers].reverse().concat(letters);
    for (let i = 1; i < rising.length; i++) {
      expect(rising[i]!).toBeGreaterThan(rising[i - 1]!);
      expect(rising[i]! / rising[i - 1]!).toBeLessThan(1.15);
    }
  });
});
