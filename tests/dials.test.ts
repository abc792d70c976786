import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type DialForm, type DialRow, dialTable, nutPlaces, turningWords } from '../gcode/table/dials.ts';
import { readScrew, type Screw, type ScrewEntry } from '../toolpath/machine/screw.ts';

const METRIC: ScrewEntry = { unit: 'mm', pitch: 2, divisions: 100, direction: 'rises', backlash: 0.15 };

const screwOf = (entry: ScrewEntry): Screw => {
  const reading = readScrew(entry);
  if (!reading.ok) throw new Error(reading.findings[0]?.message);
  return reading.screw;
};
const rowsOf = (screw: Screw, places: readonly number[], form: DialForm): readonly DialRow[] => {
  const table = dialTable(screw, places, form);
  if (!table.ok) throw new Error(table.findings[0]?.message);
  return table.rows;
};
const codes = (made: { readonly findings: readonly { readonly code: string }[] }): readonly string[] =>
  made.findings.map((f) => f.code);

/** Each turning in order, those past a place too, with what is wanted after it (null past a place). */
const turningsOf = (rows: readonly DialRow[]) =>
  rows.flatMap((row) => [
    ...(row.past ? [{ turning: row.past.turning, wanted: null, past: row.past.at }] : []),
    { turning: row.turning, wanted: row.wanted, past: null },
  ]);

/**
 * A nut on a screw in small steps, another way than the product's: how far the screw may still rise before it pushes
 * is kept count of. At a datum arrived at rising there is nothing left of that, arrived at falling all of it.
 */
const walkedNut = (screw: Screw, counts: readonly number[], arrive: 'rising' | 'falling'): number[] => {
  const rise = screw.direction === 'rises' ? 1 : -1;
  let play = arrive === 'rising' ? 0 : screw.backlash;
  let nut = 0;
  return counts.map((count) => {
    const way = count * rise * screw.division;
    const steps = 200;
    for (let i = 0; i < steps; i++) {
      const d = way / steps;
      if (d > 0) {
        const pushed = Math.max(0, d - play);
        play = Math.max(0, play - d);
        nut += pushed;
      } else {
        const free = screw.backlash - play;
        const pulled = Math.max(0, -d - free);
        play = Math.min(screw.backlash, play - d);
        nut -= pulled;
      }
    }
    return nut;
  });
};
const screws = fc
  .record({
    unit: fc.constantFrom('mm' as const, 'inch' as const),
    mm: fc.constantFrom(1, 1.5, 2, 2.5, 3, 4, 5),
    inch: fc.constantFrom(0.05, 0.0625, 0.1, 0.125, 0.2),
    divisions: fc.constantFrom(20, 25, 40, 50, 60, 62.5, 80, 100, 125, 200, 250),
    direction: fc.constantFrom('rises' as const, 'falls' as const),
    share: fc.double({ min: 0, max: 0.9, noNaN: true }),
  })
  .map(({ unit, mm, inch, divisions, direction, share }) => {
    const pitch = unit === 'mm' ? mm : inch;
    return screwOf({ unit, pitch, divisions, direction, backlash: share * pitch });
  });
const paths = fc.array(fc.double({ min: -250, max: 250, noNaN: true }), { minLength: 1, maxLength: 40 });
const sides = fc.constantFrom('rising' as const, 'falling' as const);

describe('Dials, for any screw, path and backlash', () => {
  test('the sum of all turnings is the coordinate within half a division', () => {
    fc.assert(
      fc.property(screws, paths, sides, (screw, places, arrive) => {
        const rise = screw.direction === 'rises' ? 1 : -1;
        let sum = 0;
        for (const { turning, wanted, past } of turningsOf(rowsOf(screw, places, { arrive }))) {
          const said = turning.turns * screw.divisions + turning.divisions;
          sum += turning.way === 'figures falling' ? -said : said;
          const place = sum * rise * screw.division;
          if (wanted !== null)
            expect(Math.abs(place - wanted)).toBeLessThanOrEqual(screw.division / 2 + 1e-9);
          else expect(place).toBeCloseTo(past!, 9);
          expect(turning.reads).toBeGreaterThanOrEqual(0);
          expect(turning.reads).toBeLessThan(screw.divisions);
          expect(Number.isInteger((sum - turning.reads) / screw.divisions)).toBe(true);
        }
      }),
      { numRuns: 500 },
    );
  });

  test('the running total is that same sum, of one sign', () => {
    fc.assert(
      fc.property(screws, paths, sides, (screw, places, arrive) => {
        let sum = 0;
        for (const row of rowsOf(screw, places, { arrive })) {
          sum += (row.past?.turning.count ?? 0) + row.turning.count;
          expect(row.total.count).toBe(sum);
          expect(row.total.turns * screw.divisions + row.total.divisions).toBe(sum);
          expect(Math.abs(row.total.divisions)).toBeLessThan(screw.divisions);
          expect(row.total.turns * row.total.divisions).toBeGreaterThanOrEqual(0);
        }
      }),
    );
  });

  test('a nut with lost motion, pushed step by step, stands within half a division of every place', () => {
    fc.assert(
      fc.property(screws, paths, sides, (screw, places, arrive) => {
        const all = turningsOf(rowsOf(screw, places, { arrive }));
        const stood = walkedNut(
          screw,
          all.map((t) => t.turning.count),
          arrive,
        );
        all.forEach(({ wanted }, i) => {
          if (wanted !== null) {
            expect(Math.abs(stood[i]! - wanted)).toBeLessThanOrEqual(screw.division / 2 + 1e-6);
          }
        });
      }),
      { numRuns: 300 },
    );
  });

  test('every place is come to from the same side', () => {
    fc.assert(
      fc.property(screws, paths, sides, (screw, places, arrive) => {
        const rise = screw.direction === 'rises' ? 1 : -1;
        for (const { turning } of rowsOf(screw, places, { arrive })) {
          expect(turning.count * rise * (arrive === 'rising' ? 1 : -1)).toBeGreaterThanOrEqual(0);
        }
      }),
    );
  });

  test('figures read back agree with the nut pushed step by step, also where places are come to wrongly', () => {
    fc.assert(
      fc.property(screws, fc.array(fc.integer({ min: -900, max: 900 })), sides, (screw, counts, arrive) => {
        const read = nutPlaces(
          screw,
          counts.map((count) => ({ count })),
          arrive,
        );
        walkedNut(screw, counts, arrive).forEach((place, i) => {
          expect(read[i]).toBeCloseTo(place, 6);
        });
      }),
    );
  });

  test('a forgotten over-travel shows as the whole backlash', () => {
    const screw = screwOf(METRIC);
    const rows = rowsOf(screw, [30, 12], { arrive: 'rising' });
    const slipped = [rows[0]!.turning, { count: rows[1]!.past!.turning.count + rows[1]!.turning.count }];
    expect(nutPlaces(screw, slipped, 'rising')[1]).toBeCloseTo(12 + 0.15, 9);
  });
});

describe('Dials', () => {
  test('say turns and divisions, the figure, and where to go past a place', () => {
    const rows = rowsOf(screwOf(METRIC), [7.5, 3.02, 3.02, -4.5], { arrive: 'rising' });
    expect(
      rows.map((r) =>
        r.past ? [turningWords(r.past.turning), turningWords(r.turning)] : turningWords(r.turning),
      ),
    ).toEqual([
      '3 turns + 75, figures rising, to 75',
      // 0.65 mm past is 32.5 divisions, so 33.
      ['2 turns + 57, figures falling, to 18', '33, figures rising, to 51'],
      'stay at 51',
      ['4 turns + 9, figures falling, to 42', '33, figures rising, to 75'],
    ]);
    expect(rows[1]!.past!.at).toBeCloseTo(2.36, 9);
    expect(rows.at(-1)!.total).toEqual({ count: -225, turns: -2, divisions: -25 });
  });

  test('whose figures fall as the coordinate rises turn the other way', () => {
    const screw = screwOf({ ...METRIC, direction: 'falls' });
    const [row] = rowsOf(screw, [7.5], { arrive: 'rising' });
    expect(turningWords(row!.turning)).toBe('3 turns + 75, figures falling, to 25');
    expect(row!.past).toBeNull();
  });

  test('of 62.5 divisions are set between the lines after an odd turn', () => {
    const screw = screwOf({
      unit: 'inch',
      pitch: 0.0625,
      divisions: 62.5,
      direction: 'rises',
      backlash: 0.004,
    });
    const [row] = rowsOf(screw, [2.54], { arrive: 'rising' });
    expect(turningWords(row!.turning)).toBe('1 turn + 37.5, figures rising, to 37.5');
    expect(row!.reached).toBeCloseTo(2.54, 9);
  });
});

describe('A screw that cannot be is named and gives no number', () => {
  test.each<[string, Partial<ScrewEntry>, string]>([
    ['no divisions', { divisions: 0 }, 'screw-divisions'],
    ['divisions below nothing', { divisions: -100 }, 'screw-divisions'],
    ['a third of a division', { divisions: 33.3 }, 'screw-divisions'],
    ['divisions that are no number', { divisions: Number.NaN }, 'screw-divisions'],
    ['endless divisions', { divisions: Number.POSITIVE_INFINITY }, 'screw-divisions'],
    ['no pitch', { pitch: 0 }, 'screw-pitch'],
    ['a pitch below nothing', { pitch: -2 }, 'screw-pitch'],
    ['a pitch of half a metre', { pitch: 500 }, 'screw-pitch'],
    ['an inch pitch of ten turns to the inch given as 10', { unit: 'inch', pitch: 10 }, 'screw-pitch'],
    ['a pitch that is no number', { pitch: Number.NaN }, 'screw-pitch'],
    ['backlash below nothing', { backlash: -0.1 }, 'screw-backlash'],
    ['backlash of a whole turn', { backlash: 2 }, 'screw-backlash'],
    ['backlash that is no number', { backlash: Number.NaN }, 'screw-backlash'],
  ])('%s', (_, change, code) => {
    const reading = readScrew({ ...METRIC, ...change });
    expect(reading.ok).toBe(false);
    expect(codes(reading)).toEqual([code]);
    expect(reading.findings[0]!.message).not.toMatch(/NaN|Infinity/);
  });

  test('several things amiss are all named', () => {
    expect(codes(readScrew({ ...METRIC, pitch: 0, divisions: 0, backlash: -1 }))).toEqual([
      'screw-pitch',
      'screw-divisions',
      'screw-backlash',
    ]);
  });

  test('a coarse dial is used, with a warning that says how coarse', () => {
    const reading = readScrew({ ...METRIC, pitch: 5, divisions: 20 });
    expect(reading.ok).toBe(true);
    expect(codes(reading)).toEqual(['screw-coarse']);
    expect(reading.findings[0]!.message).toContain('0.25 mm');
  });

  test.each([Number.NaN, Number.POSITIVE_INFINITY, 1e9])('a place of %d', (place) => {
    const table = dialTable(screwOf(METRIC), [1, place], { arrive: 'rising' });
    expect(table.ok).toBe(false);
    expect(codes(table)).toEqual(['dial-place']);
  });

  test.each([0.1, 0.15, 0, -1, Number.NaN, 100])('over-travel of %d with 0.15 of backlash', (overTravel) => {
    const table = dialTable(screwOf(METRIC), [1], { arrive: 'rising', overTravel });
    expect(codes(table)).toEqual(['dial-over-travel']);
    expect(table.findings[0]!.message).not.toContain('NaN');
  });
});
