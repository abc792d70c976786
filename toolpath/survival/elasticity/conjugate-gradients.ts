import type { Preconditioner } from './multigrid.ts';
import type { Operator } from './operator.ts';

export interface SolveTerms {
  /** Stop when the residual force is this share of the load. */
  readonly tolerance?: number;
  readonly mostRounds?: number;
  /** Polled once a round; the movement so far is kept. */
  readonly cancelled?: () => boolean;
  /** Told once a round. */
  readonly progress?: (residual: number, round: number) => void;
}

export interface Run {
  readonly end: 'reached' | 'cancelled' | 'stalled';
  readonly rounds: number;
  /** Length of the force left over against that of the load. */
  readonly residual: number;
}

export const dot = (a: Float64Array, b: Float64Array): number => {
  let sum = 0;
  for (let n = 0; n < a.length; n++) sum += a[n]! * b[n]!;
  return sum;
};

/** Default share of the load that may be left over. On levers and bars the movement was then right to 1e-6 of itself. */
export const TOLERANCE = 1e-4;
const MOST_ROUNDS = 500;

/**
 * Preconditioned conjugate gradients for A x = b, starting from what `x` holds and leaving the answer there. `x` is
 * only ever changed by finite steps: a run that breaks down says `stalled` and keeps the last good movement.
 */
export const conjugateGradients = (
  operator: Operator,
  precondition: Preconditioner,
  b: Float64Array,
  x: Float64Array,
  terms: SolveTerms = {},
): Run => {
  const tolerance = terms.tolerance ?? TOLERANCE;
  const mostRounds = terms.mostRounds ?? MOST_ROUNDS;
  const size = operator.size;
  const load = Math.sqrt(dot(b, b));
  if (!Number.isFinite(load)) return { end: 'stalled', rounds: 0, residual: 1 };
  if (load === 0) {
    x.fill(0);
    return { end: 'reached', rounds: 0, residual: 0 };
  }
  const r = new Float64Array(size);
  const z = new Float64Array(size);
  const p = new Float64Array(size);
  const q = new Float64Array(size);
  operator.times(x, q);
  for (let n = 0; n < size; n++) r[n] = b[n]! - q[n]!;
  let residual = Math.sqrt(dot(r, r)) / load;
  let rz = 0;
  for (let round = 0; round < mostRounds; round++) {
    if (residual <= tolerance) return { end: 'reached', rounds: round, residual };
    if (terms.cancelled?.() === true) return { end: 'cancelled', rounds: round, residual };
    precondition(r, z);
    const next = dot(r, z);
    const carry = round === 0 ? 0 : next / rz;
    rz = next;
    for (let n = 0; n < size; n++) p[n] = z[n]! + carry * p[n]!;
    operator.times(p, q);
    const step = rz / dot(p, q);
    if (!Number.isFinite(step) || !Number.isFinite(carry) || !(step > 0)) {
      return { end: 'stalled', rounds: round, residual };
    }
    let sum = 0;
    for (let n = 0; n < size; n++) {
      x[n]! += step * p[n]!;
      const left = r[n]! - step * q[n]!;
      r[n] = left;
      sum += left * left;
    }
    residual = Math.sqrt(sum) / load;
    terms.progress?.(residual, round + 1);
  }
  return { end: residual <= tolerance ? 'reached' : 'stalled', rounds: mostRounds, residual };
};
