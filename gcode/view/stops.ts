import type { Point3 } from '../../sketch/shape/point.ts';
import type { Still } from '../../toolpath/view/work.ts';
import type { TableRow } from '../table/rows.ts';
import type { RowDials, TableSetup } from '../table/table.ts';

/** One thing to do at the machine. */
export interface Stop {
  /** Names it among the stops of a setup, for its tick. */
  readonly key: string;
  /** The pass it belongs to. */
  readonly still: Still;
  readonly row: TableRow;
  /** What the dials say; null for a machine without handwheels or with a readout. */
  readonly dials: RowDials | null;
  /** Where the cutter came from within the setup; null at a job step's first place. */
  readonly before: Point3 | null;
  /** Whether it is the first of its job step: the cutter is changed before it. */
  readonly first: boolean;
}

/** Every place of a setup's table as a stop, in order; the stills are those of the setup. */
export const stopsOf = (stills: readonly Still[], table: TableSetup): readonly Stop[] => {
  let before: Point3 | null = null;
  let step = '';
  return table.rows.flatMap((row, i): Stop[] => {
    const still = stills.find((s) => s.step.step.name === row.step && s.passNumber === row.pass);
    if (!still) return [];
    const first = row.step !== step;
    const dials = table.dials?.[i] ?? null;
    const stop: Stop = { key: `${i}`, still, row, dials, before: first ? null : before, first };
    step = row.step;
    before = row.at;
    return [stop];
  });
};

/** Nearer than this, mm, a figure is the same on any dial. */
const SAME = 1e-4;

/** Which figures of a stop differ from the one before: the others stay as they stand on the machine. */
export const changedAxes = (stop: Stop): Readonly<Record<'x' | 'y' | 'z', boolean>> => ({
  x: !stop.before || Math.abs(stop.before.x - stop.row.at.x) > SAME,
  y: !stop.before || Math.abs(stop.before.y - stop.row.at.y) > SAME,
  z: !stop.before || Math.abs(stop.before.z - stop.row.at.z) > SAME,
});
