import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { nutPlaces } from '../gcode/table/dials.ts';
import { type Visit, type VisitRow, visitDials } from '../gcode/table/visits.ts';
import { readScrew, type Screw, type ScrewEntry } from '../toolpath/machine/screw.ts';

const screwOf = (entry: ScrewEntry): Screw => {
  const read = readScrew(entry);
  if (!read.ok) throw new Error(read.findings[0]?.message);
  return read.screw;
};
const rowsOf = (
  screw: Screw,
  visits: readonly Visit[],
  arrive: 'rising' | 'falling' = 'rising',
): readonly VisitRow[] => {
  const made = visitDials(screw, visits, arrive);
  if (!made.ok) throw new Error(made.findings[0]?.message);
  return made.rows;
};
const PLAIN = screwOf({ unit: 'mm', pitch: 2, divisions: 100, direction: 'rises', backlash: 0.15 });

/** Where the nut stands after each row, going past where the row says so. */
const nutAfter = (
  screw: Screw,
  rows: readonly VisitRow[],
  arrive: 'rising' | 'falling',
): readonly number[] => {
  const turnings = rows.flatMap((row) =>
    row.past === null ? [row.turning] : [row.past.turning, row.turning],
  );
  const places = nutPlaces(screw, turnings, arrive);
  let k = -1;
  return rows.map((row) => {
    k += row.past === null ? 1 : 2;
    return places[k]!;
  });
};

const screws = fc
  .record({
    unit: fc.constantFrom('mm' as const, 'inch' as const),
    turns: fc.constantFrom(1, 1.5, 2, 2.5, 4, 5),
    divisions: fc.constantFrom(20, 40, 50, 62.5, 80, 100, 125, 200, 250),
    direction: fc.constantFrom('rises' as const, 'falls' as const),
    slack: fc.double({ min: 0, max: 0.9, noNaN: true }),
  })
  .map(({ unit, turns, divisions, direction, slack }) => {
    const pitch = unit === 'mm' ? turns : turns / 25.4;
    return screwOf({ unit, pitch, divisions, direction, backlash: slack * pitch });
  });
const visits = fc.array(
  fc.record({ at: fc.double({ min: -150, max: 150, noNaN: true }), clear: fc.boolean() }),
  { maxLength: 60 },
);

describe('Places on the way of a cutter, as dials', () => {
  test('put the nut within half a division of each, for any way, any slack and any screw', () => {
    fc.assert(
      fc.property(
        screws,
        visits,
        fc.constantFrom('rising' as const, 'falling' as const),
        (screw, way, arrive) => {
          const rows = rowsOf(screw, way, arrive);
          const nuts = nutAfter(screw, rows, arrive);
          let turned = 0;
          rows.forEach((row, i) => {
            turned += (row.past?.turning.count ?? 0) + row.turning.count;
            // The sum of the dials is where the dial stands, and the nut stands where it is wanted.
            expect(turned).toBeCloseTo(row.total.count, 6);
            expect(nuts[i]).toBeCloseTo(row.reached, 9);
            expect(Math.abs(nuts[i]! - way[i]!.at)).toBeLessThanOrEqual(screw.division / 2 + 1e-9);
            // In the cut nothing is gone past.
            if (!way[i]!.clear) expect(row.past).toBeNull();
          });
        },
      ),
    );
  });

  test('never turn the cutter back in a cut that goes one way', () => {
    const way = [{ at: 10, clear: true }, ...[9.1, 8.34, 8.333, 5].map((at) => ({ at, clear: false }))];
    const rows = rowsOf(PLAIN, way);
    expect(rows.slice(1).every((row) => row.turning.count <= 0 && row.against)).toBe(true);
    // The slack of 0.15 mm is in the figure: 7.5 divisions of 0.02.
    expect(rows[1]!.total.count).toBe(Math.round((9.1 - 0.15) / 0.02));
    // Back with the cutter clear, the figure is the plain one again, gone past first or not.
    const [again] = rowsOf(PLAIN, [...way, { at: 4, clear: true }]).slice(-1);
    expect(again).toMatchObject({ against: false, total: { count: 200, turns: 2, divisions: 0 } });
    expect(again!.pastTotal!.count).toBeLessThan(200 - 7.5);
  });

  test('that nobody can set are refused', () => {
    for (const at of [Number.NaN, 1e9]) {
      expect(visitDials(PLAIN, [{ at, clear: true }], 'rising')).toMatchObject({
        ok: false,
        findings: [{ code: 'dial-place' }],
      });
    }
  });
});
