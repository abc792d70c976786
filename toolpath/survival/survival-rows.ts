import type { PassSurvival } from './pass-survival.ts';

/** One pass as it is written to a file: figures rounded to what they are worth, none that is not a number. */
export interface SurvivalRow {
  readonly setup: number;
  readonly step: string;
  readonly pass: string;
  /** Number among all passes of the plan from 0; null for one that was not planned. */
  readonly still: number | null;
  readonly basis: PassSurvival['basis'];
  readonly footing: PassSurvival['footing'];
  /** When along the programs, s. */
  readonly from_s: number | null;
  readonly to_s: number | null;
  readonly force_N: number;
  readonly thrust_N: number;
  readonly torque_Nm: number;
  readonly power_W: number;
  readonly chip_mm: number;
  readonly movement_mm: number | null;
  /** What scrap does under the cutter, which the part is not judged by. */
  readonly scrapMoves_mm: number | null;
  /** Where it moves most: the part's name for the place, and the cutter's place in program coordinates. */
  readonly place: string | null;
  readonly at_mm: readonly [number, number, number] | null;
  /** What it leaves on walls and floors; of the finished part, where `finishes` says so, else under an allowance. */
  readonly wallError_mm: number | null;
  readonly floorError_mm: number | null;
  readonly finishes: readonly ('wall' | 'floor')[];
  readonly webLeft_mm: number | null;
  readonly holdFactor: number | null;
  readonly slipFactor: number | null;
  readonly liftFactor: number | null;
  readonly tipFactor: number | null;
  readonly cutterBend_mm: number;
  readonly cutterStress_MPa: number;
  readonly frequency_Hz: number | null;
  readonly toothPassing_Hz: number;
  readonly loose_mm3: readonly number[];
}

export const survivalRows = (passes: readonly PassSurvival[]): readonly SurvivalRow[] => passes.map(rowOf);

const rowOf = (pass: PassSurvival): SurvivalRow => {
  const { force, movement, error, hold, cutter, time } = pass;
  const worst = pass.bending.find((b) => b.movement === movement) ?? null;
  return {
    setup: force.setup,
    step: force.step,
    pass: force.label,
    still: force.still,
    basis: pass.basis,
    footing: pass.footing,
    from_s: figure(time?.from, 1),
    to_s: figure(time?.to, 1),
    force_N: Math.round(force.most),
    thrust_N: Math.round(force.thrust),
    torque_Nm: Number(force.torque.toFixed(3)),
    power_W: Math.round(force.power),
    chip_mm: Number(force.chip.toFixed(4)),
    movement_mm: figure(movement, 5),
    scrapMoves_mm: figure(pass.scrap, 5),
    place: worst?.name ?? null,
    at_mm: worst && [
      Number(worst.place.at.x.toFixed(2)),
      Number(worst.place.at.y.toFixed(2)),
      Number(worst.place.at.z.toFixed(2)),
    ],
    wallError_mm: figure(error?.wall, 5),
    floorError_mm: figure(error?.floor, 5),
    finishes: (['wall', 'floor'] as const).filter((what) => pass.finishes[what]),
    webLeft_mm: figure(pass.web, 3),
    holdFactor: figure(hold?.least, 2),
    slipFactor: figure(hold?.slip, 2),
    liftFactor: figure(hold?.lift, 2),
    tipFactor: figure(hold === null ? null : Math.min(hold.tip, hold.twist), 2),
    cutterBend_mm: Number(cutter.bend.toFixed(4)),
    cutterStress_MPa: Math.round(cutter.stress),
    frequency_Hz: figure(pass.frequency, 0),
    toothPassing_Hz: Math.round(pass.toothPassing),
    loose_mm3: pass.loose.map((piece) => Math.round(piece.volume)),
  };
};

const figure = (value: number | null | undefined, decimals: number): number | null =>
  value === null || value === undefined || !Number.isFinite(value) ? null : Number(value.toFixed(decimals));
