import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { planPart } from '../gcode/chain.ts';
import { tableCsv } from '../gcode/table/csv.ts';
import { figure } from '../gcode/table/figures.ts';
import { setupRows, tableRows } from '../gcode/table/rows.ts';
import { standardProfile } from '../toolpath/machine/default-profile.ts';
import type { Move, Pass, Plan, PlannedSetup, PlannedStep } from '../toolpath/passes/pass.ts';
import type { JobStep } from '../toolpath/route/route.ts';

const endmill = standardProfile.cutters.find((c) => c.name === '5 mm endmill')!;
const step = (
  name: string,
  passes: readonly Pass[],
  kind: 'drill' | 'ream' | 'spot' = 'drill',
): PlannedStep => ({
  step: { kind, name, cutter: endmill.name, holes: [], peck: 2 } as JobStep,
  cutter: endmill,
  speed: 1000,
  feed: 100,
  plungeFeed: 30,
  passes,
  bridges: [],
});
const pass = (moves: readonly Move[], more: Partial<Pass> = {}): Pass => ({
  kind: 'rough',
  z: -1.5,
  web: null,
  moves,
  ...more,
});
const setup = (steps: readonly PlannedStep[]): PlannedSetup => ({
  setup: {
    number: 1,
    face: 'front',
    datum: 'left-near',
    workOffset: 'G54',
    hold: { kind: 'vice', jaws: { from: 0, to: 100 }, grip: 3, parallels: null, gripped: 'the sides' },
    steps: [],
  },
  frame: { face: 'front', zero: { x: 0, y: 0, z: 9 } },
  stock: { min: { x: 0, y: 0, z: -9 }, max: { x: 70, y: 15, z: 0 } },
  standing: [],
  clearHeight: 5,
  steps,
});
const plan = (name: string, moves: readonly Move[]): Plan => ({
  setups: [setup([step(name, [pass(moves)])])],
  findings: [],
});
const p = (x: number, y: number, z: number) => ({ x, y, z });

/** A reader of RFC 4180 text, strict: throws on a stray quote or a line that does not end in CR LF. */
const parseCsv = (text: string): string[][] => {
  const rows: string[][] = [];
  let row: string[] = [];
  for (let i = 0; i < text.length; ) {
    let cell = '';
    if (text[i] === '"') {
      for (i++; ; i++) {
        if (i >= text.length) throw new Error('a quote is not closed');
        if (text[i] !== '"') cell += text[i];
        else if (text[i + 1] === '"') cell += text[i++];
        else break;
      }
      i++;
    } else while (i < text.length && !/[,\r\n]/.test(text[i]!)) cell += text[i++];
    if (cell.includes('"') && text[i - 1] !== '"') throw new Error('a stray quote');
    row.push(cell);
    if (text[i] === ',') i++;
    else if (text.startsWith('\r\n', i)) {
      i += 2;
      rows.push(row);
      row = [];
    } else throw new Error(`no CR LF after "${cell}"`);
  }
  return rows;
};

describe('A coordinate table', () => {
  test('tells a fork pass as two places: where to go in, and where to stop', () => {
    const rows = setupRows(
      setup([
        step('fork', [
          pass(
            [
              { kind: 'rapid', to: p(-4, 7.5, 5) },
              { kind: 'rapid', to: p(-4, 7.5, -1) },
              { kind: 'feed', to: p(-4, 7.5, -1.5), feed: 30 },
              { kind: 'feed', to: p(9.5, 7.5, -1.5), feed: 100 },
              { kind: 'rapid', to: p(9.5, 7.5, 5) },
            ],
            { web: 7.5 },
          ),
        ]),
      ]),
      'mm',
    );
    expect(rows.map(({ coming, at }) => [coming, at.x, at.y, at.z])).toEqual([
      ['enter', -4, 7.5, -1.5],
      ['straight', 9.5, 7.5, -1.5],
    ]);
    expect(rows[0]!.about).toBe('rough, web 7.50 stays');
    expect(rows[0]!.note).toBe('lift clear, across, down gently');
    expect(rows[1]!.note).toBe('along X');
  });

  test('tells an arc by its end, its centre and the radius of the cutter centre', () => {
    const [, arc, whole] = tableRows(
      plan('a', [
        { kind: 'rapid', to: p(0, 0, 5) },
        { kind: 'arc', to: p(10, 10, 5), centre: { x: 0, y: 10 }, clockwise: false, feed: 9 },
        { kind: 'arc', to: p(10, 10, 4), centre: { x: 0, y: 10 }, clockwise: true, feed: 9 },
      ]),
      'mm',
    );
    expect(arc).toMatchObject({ coming: 'arc', at: p(10, 10, 5) });
    expect(arc!.note).toBe('arc anticlockwise round X 0.00 Y 10.00, cutter centre at radius 10.00');
    expect(whole!.note).toContain('full circle clockwise');
    expect(whole!.note).toContain('going down');
  });

  test('tells ramps, plunges and slanting lines apart', () => {
    const rows = tableRows(
      plan('a', [
        { kind: 'rapid', to: p(0, 0, 0.5) },
        { kind: 'feed', to: p(5, 0, -1), feed: 9 },
        { kind: 'feed', to: p(5, 0, -2), feed: 9 },
        { kind: 'feed', to: p(5, 3, -2), feed: 9 },
        { kind: 'feed', to: p(8, 6, -2), feed: 9 },
      ]),
      'mm',
    );
    expect(rows.map((r) => r.coming)).toEqual(['enter', 'ramp', 'plunge', 'straight', 'straight']);
    expect(rows.map((r) => r.note).slice(3)).toEqual(['along Y', 'aslant, both handwheels']);
  });

  test('gives a drilled place once, with the depth of the tip', () => {
    const drill: Move = {
      kind: 'drill',
      at: { x: 3, y: 4 },
      clear: 1,
      depth: -9,
      peck: 2,
      dwell: 0,
      feed: 30,
    };
    const rows = tableRows(plan('a', [{ kind: 'rapid', to: p(3, 4, 5) }, drill]), 'inch');
    expect(rows).toHaveLength(1);
    expect(rows[0]).toMatchObject({ coming: 'drill', at: p(3, 4, -9) });
    expect(rows[0]!.note).toContain('every 0.0785');
  });

  test('keeps a stop for work by hand, with its words', () => {
    const rows = tableRows(
      plan('tap', [
        { kind: 'rapid', to: p(3, 4, 5) },
        { kind: 'stop', message: 'tap M3' },
      ]),
      'mm',
    );
    expect(rows.map((r) => [r.coming, r.at.x])).toEqual([['stop', 3]]);
    expect(rows[0]!.note).toContain('tap M3');
  });
});

describe('Figures in a table', () => {
  test('are rounded to what a hand can set, and are never −0', () => {
    expect(figure(-1.8333, 'mm')).toBe('-1.83');
    expect(figure(-0.004, 'mm')).toBe('0.00');
    expect(figure(25.4, 'inch')).toBe('1.0000');
    expect(figure(10, 'inch')).toBe('0.3935');
    expect(figure(-0.001, 'inch')).toBe('0.0000');
  });

  test('lie within half a setting of the length', () => {
    fc.assert(
      fc.property(fc.double({ min: -500, max: 500, noNaN: true }), (mm) => {
        expect(Math.abs(Number(figure(mm, 'mm')) - mm)).toBeLessThanOrEqual(0.005 + 1e-9);
        expect(Math.abs(Number(figure(mm, 'inch')) * 25.4 - mm)).toBeLessThanOrEqual(0.00635 + 1e-9);
      }),
    );
  });
});

describe('The table as comma-separated values', () => {
  test('has its unit in the head and one line a row, by RFC 4180', () => {
    const read = planPart(readFileSync('samples/vent-latch-lever.json', 'utf8'));
    if (!read.ok) throw new Error(read.findings[0]?.message);
    const rows = parseCsv(tableCsv(read.plan, read.part));
    expect(rows[0]).toEqual([
      ...['setup', 'job step', 'pass', 'stop', 'way', 'X (mm)', 'Y (mm)', 'Z (mm)'],
      ...['from before X (mm)', 'from before Y (mm)', 'centre X (mm)', 'centre Y (mm)'],
      ...['cutter', 'turns/min', 'feed (mm/min)', 'note'],
    ]);
    expect(rows.slice(1)).toHaveLength(tableRows(read.plan, 'mm').length);
    expect(rows.every((row) => row.length === 16)).toBe(true);
    const cells = rows.slice(1);
    expect(cells.every((row) => row.slice(5, 10).every((figure) => /^-?\d+\.\d\d$/.test(figure)))).toBe(true);
    const names = [...new Set(cells.map((row) => row[1]))];
    expect(names).toContain('fork');
    // Down to the web left, in passes of about 1.3 mm, and beyond the underside only in the release.
    const fork = cells.filter((row) => row[1] === 'fork').map((row) => Number(row[7]));
    expect(Math.min(...fork)).toBeGreaterThan(-9);
  });

  test('survives any text in names: it reads back as one cell that no spreadsheet computes', () => {
    fc.assert(
      fc.property(
        fc.oneof(fc.string(), fc.constantFrom('=1+1', '@SUM(A1)', '-2', '+3', '\t=1', 'a"b', 'a,b\r\nc')),
        (name) => {
          const rows = parseCsv(
            tableCsv(
              plan(name, [
                { kind: 'rapid', to: p(-1, 0, 5) },
                { kind: 'feed', to: p(1, 0, 5), feed: 1 },
              ]),
              { unit: 'mm' },
            ),
          );
          expect(rows).toHaveLength(3);
          expect(rows[1]).toHaveLength(16);
          expect(rows[1]![1]).not.toMatch(/^\s*[=+\-@]/);
          expect(rows[1]![5]).toBe('-1.00');
        },
      ),
    );
  });
});
