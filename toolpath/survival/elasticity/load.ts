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
  /** A movement to start from, of a like case on the same grid. It is not changed. */
  readonly start?: Float64Array;
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
  const { operator, free } = stock;
  const movement = new Float64Array(operator.size);
  if (terms.start?.length === operator.size) {
    for (let n = 0; n < movement.length; n++) movement[n] = terms.start[n]! * free[n]!;
  }
  const forces = forcesOf(stock, loads);
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
