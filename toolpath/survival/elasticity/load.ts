import { emptyBand, factorBand, solveBand } from './band.ts';
import { conjugateGradients, dot, type Run, type SolveTerms } from './conjugate-gradients.ts';
import type { HeldStock } from './held.ts';
import type { Patch } from './patch.ts';

export type Vector = readonly [number, number, number];

/** A force in N on a patch. */
export interface Load {
  readonly patch: Patch;
  readonly force: Vector;
}

/** What the stock does under one load case. */
export interface Bent extends Run {
  /** Movement of every node, mm: 3 · number + axis. */
  readonly movement: Float64Array;
  /** For each load, the mean movement of its patch, mm. */
  readonly moved: readonly Vector[];
  /** For each load, the movement along its force by newton, mm/N; 0 for a load without force. */
  readonly compliance: readonly number[];
  /** What the loads do on their way, N·mm: force times movement. */
  readonly work: number;
  /** What the stock holds, N·mm; half of the work once the run has `reached` its tolerance. */
  readonly energy: number;
}

export interface LoadTerms extends SolveTerms {
  /**
   * Movements of like cases on the same grid. The run starts from the mix of them that comes nearest to the answer, so a
   * poor one does no harm. They are not changed. Each costs one product; other places of the same pass and the same
   * place of the last one (`carry.ts`) save a tenth to a quarter of the rounds.
   */
  readonly starts?: readonly Float64Array[];
}

/** The forces of a load case on all unknowns, N; those on held unknowns go into the grips. */
export const forcesOf = (stock: HeldStock, loads: readonly Load[]): Float64Array => {
  const forces = new Float64Array(3 * stock.grid.nodes);
  for (const { patch, force } of loads) {
    for (let n = 0; n < patch.nodes.length; n++) {
      const node = 3 * patch.nodes[n]!;
      for (let a = 0; a < 3; a++) forces[node + a]! += patch.weights[n]! * force[a]! * stock.free[node + a]!;
    }
  }
  return forces;
};

/** The mean movement of a patch. */
export const patchMovement = (patch: Patch, movement: Float64Array): Vector => {
  const mean: [number, number, number] = [0, 0, 0];
  for (let n = 0; n < patch.nodes.length; n++) {
    for (let a = 0; a < 3; a++) mean[a]! += patch.weights[n]! * movement[3 * patch.nodes[n]! + a]!;
  }
  return mean;
};

/**
 * How held stock moves under loads that act together. Never throws and never gives a number that is not one: a run that
 * was cancelled or that stalled carries the movement it had come to and says so in `end`.
 */
export const bend = (stock: HeldStock, loads: readonly Load[], terms: LoadTerms = {}): Bent => {
  const { operator } = stock;
  const forces = forcesOf(stock, loads);
  const movement = nearestMix(stock, forces, terms.starts ?? []);
  const run = conjugateGradients(operator, stock.precondition, forces, movement, terms);
  const product = new Float64Array(operator.size);
  operator.times(movement, product);
  const moved = loads.map(({ patch }) => patchMovement(patch, movement));
  return {
    ...run,
    movement,
    moved,
    compliance: loads.map(({ force }, n) => {
      const square = force[0] ** 2 + force[1] ** 2 + force[2] ** 2;
      const along = force[0] * moved[n]![0] + force[1] * moved[n]![1] + force[2] * moved[n]![2];
      return square > 0 ? along / square : 0;
    }),
    work: dot(forces, movement),
    energy: dot(movement, product) / 2,
  };
};

/** The mix of some movements with the least energy left: (Vᵀ K V) w = Vᵀ f, the mix V w. */
const nearestMix = (
  { operator, free }: HeldStock,
  forces: Float64Array,
  starts: readonly Float64Array[],
): Float64Array => {
  const mix = new Float64Array(operator.size);
  const fitting = starts
    .filter((start) => start.length === operator.size)
    .map((start) => start.map((value, n) => value * free[n]!));
  const product = new Float64Array(operator.size);
  const gram = emptyBand(new Int32Array(fitting.length));
  fitting.forEach((start, row) => {
    operator.times(start, product);
    for (let column = 0; column <= row; column++) {
      gram.values[gram.start[row]! + column] = dot(product, fitting[column]!);
    }
  });
  factorBand(gram);
  const weights = Float64Array.from(fitting, (start) => dot(start, forces));
  solveBand(gram, weights);
  fitting.forEach((start, n) => {
    if (!Number.isFinite(weights[n]!)) return;
    for (let i = 0; i < mix.length; i++) mix[i]! += weights[n]! * start[i]!;
  });
  return mix;
};
