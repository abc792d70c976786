import type { Finding, Unit } from '../../sketch/part/part.ts';
import type { HandWheels, MachineProfile } from '../../toolpath/machine/profile.ts';
import type { Plan } from '../../toolpath/passes/pass.ts';
import { CUSPS, type Cusps, handRows } from './hand-rows.ts';
import { setupRows, type TableRow } from './rows.ts';
import { type Visit, type VisitRow, visitDials } from './visits.ts';

/** The dials of one row. */
export interface RowDials {
  readonly x: VisitRow;
  readonly y: VisitRow;
  readonly z: VisitRow;
}

export interface TableSetup {
  readonly number: number;
  /** Where the tip stands, at least, when it is lifted clear; program coordinates, mm. */
  readonly clear: number;
  readonly rows: readonly TableRow[];
  /** Beside each row what the dials say; null for a machine without handwheels or with a readout. */
  readonly dials: readonly RowDials[] | null;
}

/** The coordinate table of a whole part, as sheet, file, bench and proof all have it. */
export interface Table {
  readonly unit: Unit;
  readonly hand: HandWheels | null;
  readonly cusps: Cusps;
  readonly setups: readonly TableSetup[];
  /** What makes a figure doubtful; with an error among them no table is to be printed as good. */
  readonly findings: readonly Finding[];
}

/** X and Y arrive with the coordinate rising, Z going down. */
export const ARRIVE = { x: 'rising', y: 'rising', z: 'falling' } as const;

/** The table of a plan: arcs as arcs for a machine without handwheels, stop by stop for one with. */
export const tableOf = (
  plan: Plan,
  unit: Unit,
  profile: Pick<MachineProfile, 'hand'>,
  cusps: Cusps = CUSPS,
): Table => {
  const hand = profile.hand ?? null;
  const findings: Finding[] = [];
  const setups = plan.setups.map((planned): TableSetup => {
    const { number } = planned.setup;
    const clear = planned.clearHeight;
    if (hand === null) return { number, clear, rows: setupRows(planned, unit), dials: null };
    const made = handRows(plan, planned, unit, cusps);
    findings.push(...made.findings);
    if (hand.readout) return { number, clear, rows: made.rows, dials: null };
    const dials = dialsOf(hand, made.rows, clear);
    if (!dials.ok) findings.push(...dials.findings.map((f) => ({ ...f, setup: number })));
    return { number, clear, rows: made.rows, dials: dials.ok ? dials.rows : null };
  });
  return { unit, hand, cusps, setups, findings };
};

/** Whether the tip is lifted clear on the way to a row. */
export const isLifted = (row: Pick<TableRow, 'coming'>): boolean =>
  row.coming === 'enter' || row.coming === 'drill' || row.coming === 'stop';

const dialsOf = (
  hand: HandWheels,
  rows: readonly TableRow[],
  clear: number,
):
  | { readonly ok: true; readonly rows: readonly RowDials[] }
  | { readonly ok: false; readonly findings: readonly Finding[] } => {
  const flat = (axis: 'x' | 'y'): readonly Visit[] =>
    rows.map((row) => ({ at: row.at[axis], clear: isLifted(row) }));
  const x = visitDials(hand.x, flat('x'), ARRIVE.x);
  const y = visitDials(hand.y, flat('y'), ARRIVE.y);
  // Every place that is come to from above has the lift before it.
  const heights = rows.flatMap((row): Visit[] => [
    ...(isLifted(row) ? [{ at: clear, clear: false }] : []),
    { at: row.at.z, clear: false },
  ]);
  const z = visitDials(hand.z, heights, ARRIVE.z);
  if (!x.ok) return x;
  if (!y.ok) return y;
  if (!z.ok) return z;
  let k = 0;
  return {
    ok: true,
    rows: rows.map((row, i) => {
      if (isLifted(row)) k++;
      return { x: x.rows[i]!, y: y.rows[i]!, z: z.rows[k++]! };
    }),
  };
};
