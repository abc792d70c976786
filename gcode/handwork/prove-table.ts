import type { Finding, Unit } from '../../sketch/part/part.ts';
import type { HandWheels } from '../../toolpath/machine/profile.ts';
import type { Proof, ProofInput } from '../proof/proof.ts';
import { proveReadings } from '../proof/prove.ts';
import { nutPlaces, type Turning } from '../table/dials.ts';
import { ARRIVE } from '../table/table.ts';
import { handMotions, type SlidePlaces } from './hand-motions.ts';
import { type ReadRow, readTable } from './read-table.ts';

/** What came of doing the table's rows by hand. */
export interface TableProof {
  readonly verdict: Proof['verdict'];
  readonly findings: readonly Finding[];
  readonly gougeMax_mm: number;
  readonly excessMax_mm: number;
  readonly rows: number;
}

/** The bar, the part, the holds and the cutters as for a program; the text of the table in place of programs. */
export interface TableInput {
  readonly proof: ProofInput;
  readonly text: string;
  readonly unit: Unit;
  /** How high the tip is lifted clear in each setup, in order; program coordinates, mm. */
  readonly clear: readonly number[];
}

/**
 * Proves a coordinate table by doing what it says. Only the table's text is read, figures as they are printed, never
 * the moves it was made from: each row becomes the motions of a cutter, these cut the bar, and what is left is held
 * against the part, as for a program.
 *
 * With `machine` the places are not taken from the figures but from the dials: each is turned to where the table says,
 * on screws that have the lost motion of that machine, and the cutter goes where the nuts then stand.
 */
export const proveTable = (input: TableInput, machine: HandWheels | null = null): TableProof => {
  const divisions =
    machine === null ? null : { x: machine.x.divisions, y: machine.y.divisions, z: machine.z.divisions };
  const { rows, findings } = readTable(input.text, input.unit, divisions);
  if (findings.length > 0) return { ...NOTHING, findings };
  if (machine !== null && rows.some((row) => row.dials === null)) {
    return {
      ...NOTHING,
      findings: [
        { code: 'table-without-dials', severity: 'error', message: 'The table says nothing of dials.' },
      ],
    };
  }
  const readings = input.proof.setups.map((setup, i) => {
    const own = rows.filter((row) => row.setup === setup.number);
    const clear = input.clear[i] ?? 0;
    const places = machine === null ? own.map(byFigures) : byDials(own, clear, machine);
    return handMotions(own, clear, places);
  });
  const proof = proveReadings(input.proof, readings);
  return {
    verdict: proof.verdict,
    findings: proof.findings.map(({ at, ...finding }) => ({
      ...finding,
      ...(at === undefined ? {} : { at: { x: at.x, y: at.y } }),
      // The lines of a table are its rows.
      message: finding.message.replace(
        /\b([Ll])ine (\d)/g,
        (_, l: string, d: string) => `${l === 'L' ? 'Row' : 'row'} ${d}`,
      ),
    })),
    gougeMax_mm: proof.gougeMax_mm,
    excessMax_mm: proof.excessMax_mm,
    rows: rows.length,
  };
};

/**
 * The table proven in every way it can be read on a machine: by its figures, and on dials that are read without a
 * readout also by those. It fits only when all of them do.
 */
export const proveByHand = (input: TableInput, hand: HandWheels | null): TableProof => {
  const figures = proveTable(input);
  if (hand === null || hand.readout) return figures;
  const dials = proveTable(input, hand);
  const messages = new Set(figures.findings.map((f) => f.message));
  return {
    verdict: figures.verdict === 'fits' ? dials.verdict : figures.verdict,
    findings: [...figures.findings, ...dials.findings.filter((f) => !messages.has(f.message))],
    gougeMax_mm: Math.max(figures.gougeMax_mm, dials.gougeMax_mm),
    excessMax_mm: Math.max(figures.excessMax_mm, dials.excessMax_mm),
    rows: figures.rows,
  };
};

const NOTHING: Omit<TableProof, 'findings'> = {
  verdict: 'does not fit',
  gougeMax_mm: 0,
  excessMax_mm: 0,
  rows: 0,
};

const byFigures = ({ at }: ReadRow): SlidePlaces => ({ x: [at.x], y: [at.y], z: at.z });

/** Where the slides stand when the dials are turned as the rows say, one row after the other from the datum. */
const byDials = (rows: readonly ReadRow[], clear: number, machine: HandWheels): readonly SlidePlaces[] => {
  const flat = (axis: 'x' | 'y'): readonly (readonly number[])[] => {
    const counts = rows.map((row) => row.dials![axis]);
    const places = nutPlaces(machine[axis], turningsTo(counts.flat()), ARRIVE[axis]);
    let k = 0;
    return counts.map((own) => own.map(() => places[k++]!));
  };
  const { z } = machine;
  const lift = Math.ceil(clear / z.division) * (z.direction === 'rises' ? 1 : -1);
  const heights = rows.map((row) => [...(isLifted(row) ? [lift] : []), ...row.dials!.z]);
  const tips = nutPlaces(z, turningsTo(heights.flat()), ARRIVE.z);
  const [xs, ys] = [flat('x'), flat('y')];
  let k = -1;
  return rows.map((_, i) => {
    k += heights[i]!.length;
    return { x: xs[i]!, y: ys[i]!, z: tips[k]! };
  });
};

const isLifted = (row: ReadRow): boolean => row.way === 'enter' || row.way === 'drill' || row.way === 'stop';

/** From where dials are turned to, how far each turning goes. */
const turningsTo = (counts: readonly number[]): readonly Pick<Turning, 'count'>[] =>
  counts.map((count, i) => ({ count: count - (counts[i - 1] ?? 0) }));
