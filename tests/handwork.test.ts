import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { makeAll, type PlannedPart, planPart, proofInput } from '../gcode/chain.ts';
import { proveTable, type TableProof } from '../gcode/handwork/prove-table.ts';
import { readTable } from '../gcode/handwork/read-table.ts';
import { handworkOf } from '../gcode/sheet/handwork.ts';
import { tableText } from '../gcode/table/csv.ts';
import { tableOf } from '../gcode/table/table.ts';
import { standardProfile } from '../toolpath/machine/default-profile.ts';
import type { HandWheels, MachineProfile } from '../toolpath/machine/profile.ts';
import { readProfile } from '../toolpath/machine/profile-document.ts';
import { randomLever } from './random-lever.ts';
import { SAMPLES, sampleText } from './samples.ts';

const machine = (name: string): MachineProfile => {
  const text = readFileSync(new URL(`../samples/machines/${name}.json`, import.meta.url), 'utf8');
  const read = readProfile(text);
  if (!read.ok) throw new Error(read.findings[0]?.message);
  return read.profile;
};
const METRIC = machine('metric-handwheel-mill');
const INCH = machine('inch-handwheel-mill');
const wheels = METRIC.hand!;

const planned = new Map<string, PlannedPart>();
const plannedOf = (name: string, profile: MachineProfile): PlannedPart => {
  const key = `${name} ${profile.name}`;
  const known = planned.get(key);
  if (known) return known;
  const read = planPart(sampleText(name), { profile });
  if (!read.ok) throw new Error(read.findings[0]?.message);
  planned.set(key, read);
  return read;
};
const textOf = ({ part, plan, profile }: PlannedPart): string => tableText(tableOf(plan, part.unit, profile));
const proven = (plan: PlannedPart, text: string = textOf(plan), hand: HandWheels | null = null): TableProof =>
  proveTable(
    {
      proof: proofInput(plan.part, plan.plan, [], plan.profile),
      text,
      unit: plan.part.unit,
      clear: plan.plan.setups.map((s) => s.clearHeight),
    },
    hand,
  );
const codes = (proof: TableProof): readonly string[] =>
  proof.findings.filter((f) => f.severity === 'error').map((f) => f.code);

describe('A coordinate table, done by hand row after row,', () => {
  test.each(SAMPLES)('makes %s so that it fits', (name) => {
    const arcs = proven(plannedOf(name, standardProfile));
    expect([arcs.verdict, codes(arcs)]).toEqual(['fits', []]);
    const stops = plannedOf(name, METRIC);
    const text = textOf(stops);
    // No arc is left for a hand to go, and nothing aslant.
    expect(text).not.toMatch(/,arc,|,ramp,|aslant/);
    for (const hand of [null, wheels]) {
      const proof = proven(stops, text, hand);
      expect([proof.verdict, codes(proof)]).toEqual(['fits', []]);
      expect(proof.rows).toBeGreaterThan(150);
    }
  });

  test('fits on dials in inches too, and on slides whose figures fall', () => {
    const inch = plannedOf('bellows-lever', INCH);
    expect(proven(inch, undefined, INCH.hand!).verdict).toBe('fits');
    const falls = {
      ...wheels,
      x: { ...wheels.x, direction: 'falls' as const },
      z: { ...wheels.z, direction: 'falls' as const },
    };
    const turned = plannedOf('vent-latch-lever', { ...METRIC, name: 'turned', hand: falls });
    expect(proven(turned, undefined, falls).verdict).toBe('fits');
    // The same figures on a screw that runs the other way are a ruined part.
    expect(proven(turned, undefined, wheels).verdict).toBe('does not fit');
  });
});

/** The cells of a line; commas within quotes do not part them. */
const cellsOf = (line: string): string[] => line.split(/,(?=(?:[^"]*"[^"]*")*[^"]*$)/);

/** Random levers tried here; a soak asks for more with LEVERS=200. */
const LEVERS = Number(process.env.LEVERS ?? 6);

test('any lever whose programs fit on a mill with handwheels has a table that fits', () => {
  fc.assert(
    fc.property(randomLever, (document) => {
      const made = makeAll(JSON.stringify(document), { profile: METRIC });
      if (!made.ok || made.proof.verdict !== 'fits') return;
      const { sound, proof } = handworkOf(made);
      expect([sound, codes(proof)]).toEqual([true, []]);
    }),
    { numRuns: LEVERS, seed: 4 },
  );
});

describe('A fault in a table', () => {
  const plan = plannedOf('vent-latch-lever', METRIC);
  const text = textOf(plan);
  const lines = text.split('\r\n');
  const [head] = lines as [string];
  const column = (name: string): number => cellsOf(head).findIndex((h) => h.startsWith(name));
  /** The line of a step's row, by what it says. */
  const find = (step: string, part: string, nth = 0): number => {
    const found = lines.flatMap((l, i) => (cellsOf(l)[1] === step && l.includes(part) ? [i] : []));
    return found.at(nth)!;
  };
  const change = (line: number, name: string, to: (figure: number) => number): string =>
    lines
      .map((l, i) => {
        if (i !== line) return l;
        const cells = cellsOf(l);
        cells[column(name)] = to(Number(cells[column(name)])).toFixed(2);
        return cells.join(',');
      })
      .join('\r\n');

  test('is not there to begin with', () => {
    expect(proven(plan, text).verdict).toBe('fits');
  });

  test.each([
    ['drill 3.8', ',drill,', 'Y ('],
    ['drill 2.5', ',drill,', 'X ('],
    ['outline', ',x first,', 'X ('],
    ['fork', ',straight,', 'Y ('],
  ])('is found: a wrong sign in %s', (step, way, name) => {
    expect(
      proven(
        plan,
        change(find(step, way, 0), name, (figure) => -figure),
      ).verdict,
    ).toBe('does not fit');
  });

  test('is found: the cutter’s radius forgotten', () => {
    // The finishing laps run along the ends at half the cutter's width outside of them.
    const finish = lines.findIndex((l) => cellsOf(l)[1] === 'square ends' && l.includes('finish'));
    const along = lines.findIndex((l, i) => i > finish && l.includes('along Y'));
    const x = Number(cellsOf(lines[along]!)[column('X (')]);
    const inward = x > 35 ? -6 : 6;
    const proof = proven(
      plan,
      change(along, 'X (', (was) => was + inward),
    );
    expect(codes(proof)).toContain('gouge-wall');
    expect(proof.gougeMax_mm).toBeGreaterThan(1);
  });

  test('is found: a row left out, by its number and by what it leaves', () => {
    const inner = find('release fork', ',straight,', -2);
    const without = lines.filter((_, i) => i !== inner);
    expect(codes(proven(plan, without.join('\r\n')))).toEqual(['table-stop-missing']);
    // Numbered anew the gap is not to be seen, but the work is.
    const gone = find('release fork', ',straight,', -1);
    const setup = cellsOf(lines[gone]!)[0];
    let stop = 0;
    const renumbered = lines
      .filter((_, i) => i !== gone)
      .map((l) => {
        const cells = cellsOf(l);
        if (cells[0] !== setup) return l;
        stop += 1;
        cells[column('stop')] = String(stop);
        return cells.join(',');
      });
    const proof = proven(plan, renumbered.join('\r\n'));
    expect(proof.verdict).toBe('does not fit');
    expect(proof.excessMax_mm).toBeGreaterThan(0.05);
  });

  test('is found: a pass too deep, and a figure that is none', () => {
    const thin = lines.findIndex((l) => cellsOf(l)[1] === 'thin body from the back' && l.includes('finish'));
    const deep = change(thin + 1, 'Z (', (z) => z - 0.5);
    expect(codes(proven(plan, deep))).toContain('gouge-floor');
    const broken = text.replace(/(\r\n1,outline,1,\d+,enter,)-?[\d.]+/, '$1 12 or so');
    expect(codes(proven(plan, broken))).toEqual(['table-unreadable']);
    expect(codes(proven(plan, 'X,Y\r\n1,2\r\n'))).toEqual(['table-unreadable']);
  });

  test('is found: slack of the screw that is not what the table reckons with', () => {
    expect(proven(plan, text, wheels).verdict).toBe('fits');
    for (const backlash of [0, 0.3]) {
      const worn = { ...wheels, x: { ...wheels.x, backlash }, y: { ...wheels.y, backlash } };
      const proof = proven(plan, text, worn);
      expect(proof.verdict).toBe('does not fit');
      expect(Math.max(proof.gougeMax_mm, proof.excessMax_mm)).toBeGreaterThan(0.05);
    }
  });

  test('is found: not going past a place before coming back to it', () => {
    const [x, y] = [column('X past'), column('Y past')];
    expect(lines.slice(1).some((l) => (cellsOf(l)[x] ?? '') !== '')).toBe(true);
    const slipped = lines.map((l, i) => {
      const cells = cellsOf(l);
      if (i > 0 && l !== '') for (const c of [x, y]) cells[c] = '';
      return cells.join(',');
    });
    expect(codes(proven(plan, slipped.join('\r\n'), wheels))).toContain('gouge-wall');
  });

  test('is found: a dial a whole turn out', () => {
    const drill = find('drill 3.8', ',drill,');
    const turned = lines.map((l, i) =>
      i === drill ? l.replace(/(\d+) t /, (_, t) => `${Number(t) + 1} t `) : l,
    );
    expect(turned[drill]).not.toBe(lines[drill]);
    expect(proven(plan, turned.join('\r\n'), wheels).verdict).toBe('does not fit');
  });
});

describe('A table is read', () => {
  test('with its dials only where they are spoken of, and refused where a dial is no dial', () => {
    const text = textOf(plannedOf('shutter-link', METRIC));
    const read = readTable(text, 'mm', { x: 100, y: 100, z: 50 });
    expect(read.findings).toEqual([]);
    expect(read.rows.every((row) => row.dials?.x.length === 1 || row.dials?.x.length === 2)).toBe(true);
    const odd = readTable(text.replace(/,(under )?\d+ t \d+,/, ',3 turns,'), 'mm', { x: 100, y: 100, z: 50 });
    expect(odd.findings.map((f) => f.code)).toEqual(['table-unreadable']);
    const plain = textOf(plannedOf('shutter-link', standardProfile));
    expect(proven(plannedOf('shutter-link', standardProfile), plain, wheels).findings[0]?.code).toBe(
      'table-without-dials',
    );
  });
});
