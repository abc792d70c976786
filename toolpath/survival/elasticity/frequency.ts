import { brickAt, eachBrick } from './bricks.ts';
import { dot, type SolveTerms } from './conjugate-gradients.ts';
import type { HeldStock } from './held.ts';
import { TONNES_PER_MM3 } from './material.ts';

export interface Ringing {
  readonly end: 'reached' | 'cancelled' | 'stalled';
  /** Lowest natural frequency, Hz. Rayleigh's quotient lies above the true one until the run has settled. */
  readonly frequency: number;
  readonly rounds: number;
  /** Relative change of the frequency in the last round. */
  readonly residual: number;
  /** The shape it swings in, to no scale: 3 · number + axis. */
  readonly shape: Float64Array;
}

/** Mass of each unknown, tonnes: an eighth of every brick to each of its corners. */
export const lumpedMass = (stock: HeldStock): Float64Array => {
  const { grid, material, free } = stock;
  const mass = new Float64Array(3 * grid.nodes);
  eachBrick(grid, (i, j, k, corners, brick) => {
    const volume = grid.share[brick]! * brickAt(grid, i, j, k).volume;
    const part = (volume * material.density * TONNES_PER_MM3) / 8;
    for (const n of corners) for (let a = 0; a < 3; a++) mass[3 * n + a]! += part * free[3 * n + a]!;
  });
  return mass;
};

const MOST_ROUNDS = 60;
const SETTLED = 1e-5;

/**
 * The lowest natural frequency: Rayleigh's quotient uᵀKu / uᵀMu brought down round by round over the shape, the
 * preconditioned residual and the last step (A. V. Knyazev's locally optimal preconditioned conjugate gradients with
 * one vector). Settles to `tolerance` (default 1e-5) in the frequency.
 */
export const lowestFrequency = (
  stock: HeldStock,
  terms: SolveTerms & { readonly start?: Float64Array } = {},
): Ringing => {
  const { operator, precondition, free } = stock;
  const size = operator.size;
  const mass = lumpedMass(stock);
  const tolerance = terms.tolerance ?? SETTLED;
  const most = terms.mostRounds ?? MOST_ROUNDS;
  const x = firstShape(size, free, precondition, mass, terms.start);
  let step: Float64Array | undefined;
  const kx = new Float64Array(size);
  const residual = new Float64Array(size);
  let value = 0;
  let change = 1;
  const result = (end: Ringing['end'], rounds: number): Ringing => ({
    end,
    frequency: Math.sqrt(Math.max(0, value)) / (2 * Math.PI),
    rounds,
    residual: change,
    shape: x,
  });
  for (let round = 0; round <= most; round++) {
    const length = Math.sqrt(massDot(mass, x, x));
    if (!(length > 0) || !Number.isFinite(length)) return result('stalled', round);
    for (let n = 0; n < size; n++) x[n]! /= length;
    operator.times(x, kx);
    const next = dot(x, kx);
    change = round === 0 ? 1 : Math.abs(Math.sqrt(next) - Math.sqrt(value)) / Math.sqrt(next);
    value = next;
    if (change <= tolerance) return result('reached', round);
    if (terms.cancelled?.() === true) return result('cancelled', round);
    if (round > 0) terms.progress?.(change, round);
    for (let n = 0; n < size; n++) residual[n] = kx[n]! - value * mass[n]! * x[n]!;
    const better = new Float64Array(size);
    precondition(residual, better);
    const basis = orthonormal(mass, step === undefined ? [x, better] : [x, better, step]);
    const weights = lowestMix(operator.times, basis);
    const moved = new Float64Array(size);
    for (let b = 1; b < basis.length; b++) {
      for (let n = 0; n < size; n++) moved[n]! += weights[b]! * basis[b]![n]!;
    }
    for (let n = 0; n < size; n++) x[n] = weights[0]! * basis[0]![n]! + moved[n]!;
    step = moved;
  }
  return result('stalled', most);
};

const massDot = (mass: Float64Array, a: Float64Array, b: Float64Array): number => {
  let sum = 0;
  for (let n = 0; n < a.length; n++) sum += mass[n]! * a[n]! * b[n]!;
  return sum;
};

/** One step of inverse iteration from a shape that favours nothing: mostly the lowest shapes are left. */
const firstShape = (
  size: number,
  free: Uint8Array,
  precondition: (r: Float64Array, out: Float64Array) => void,
  mass: Float64Array,
  start: Float64Array | undefined,
): Float64Array => {
  const shape = new Float64Array(size);
  if (start?.length === size) {
    for (let n = 0; n < size; n++) shape[n] = start[n]! * free[n]!;
    if (massDot(mass, shape, shape) > 0) return shape;
  }
  const push = new Float64Array(size);
  for (let n = 0; n < size; n++) push[n] = mass[n]! * (1 + 0.37 * Math.sin(n * 12.9898));
  precondition(push, shape);
  return shape;
};

/** Makes vectors orthonormal in the mass, in order; one that adds nothing is dropped. */
const orthonormal = (mass: Float64Array, vectors: readonly Float64Array[]): Float64Array[] => {
  const basis: Float64Array[] = [];
  for (const vector of vectors) {
    const own = vector.slice();
    const before = Math.sqrt(massDot(mass, own, own));
    for (let twice = 0; twice < 2; twice++) {
      for (const other of basis) {
        const along = massDot(mass, own, other);
        for (let n = 0; n < own.length; n++) own[n]! -= along * other[n]!;
      }
    }
    const length = Math.sqrt(massDot(mass, own, own));
    if (!(length > 1e-10 * before)) continue;
    for (let n = 0; n < own.length; n++) own[n]! /= length;
    basis.push(own);
  }
  return basis;
};

/** Weights of the mix of basis vectors with the least Rayleigh quotient, by Jacobi's rotations on at most 3 × 3. */
const lowestMix = (
  times: (u: Float64Array, out: Float64Array) => void,
  basis: readonly Float64Array[],
): number[] => {
  const size = basis.length;
  const product = new Float64Array(basis[0]!.length);
  const a: number[][] = basis.map((vector) => {
    times(vector, product);
    return basis.map((other) => dot(other, product));
  });
  const v: number[][] = a.map((_, r) => a.map((__, c) => (r === c ? 1 : 0)));
  for (let sweep = 0; sweep < 30; sweep++) {
    for (let p = 0; p < size; p++) {
      for (let q = p + 1; q < size; q++) {
        const off = a[p]![q]!;
        if (Math.abs(off) < 1e-300) continue;
        const theta = (a[q]![q]! - a[p]![p]!) / (2 * off);
        const t = (theta >= 0 ? 1 : -1) / (Math.abs(theta) + Math.sqrt(theta * theta + 1));
        const c = 1 / Math.sqrt(t * t + 1);
        const s = t * c;
        for (let n = 0; n < size; n++) {
          const [x, y] = [a[n]![p]!, a[n]![q]!];
          a[n]![p] = c * x - s * y;
          a[n]![q] = s * x + c * y;
        }
        for (let n = 0; n < size; n++) {
          const [x, y] = [a[p]![n]!, a[q]![n]!];
          a[p]![n] = c * x - s * y;
          a[q]![n] = s * x + c * y;
          const [e, f] = [v[n]![p]!, v[n]![q]!];
          v[n]![p] = c * e - s * f;
          v[n]![q] = s * e + c * f;
        }
      }
    }
  }
  let least = 0;
  for (let n = 1; n < size; n++) if (a[n]![n]! < a[least]![least]!) least = n;
  return v.map((row) => row[least]!);
};
