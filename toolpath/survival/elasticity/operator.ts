import { brickOf, diagonalOf, stiffnessOf } from './brick.ts';
import { brickAt, eachBrick } from './bricks.ts';
import type { Grid } from './grid.ts';
import type { Moduli } from './material.ts';
import { stiffnessTimes } from './product.ts';

/** A symmetric stiffness as the solvers see it. Held unknowns have 0 in `inverse` and are 0 in every product. */
export interface Operator {
  readonly size: number;
  /** out = A u. */
  readonly times: (u: Float64Array, out: Float64Array) => void;
  /** One over the diagonal. */
  readonly inverse: Float64Array;
  /** No eigenvalue of inverse · A is greater. */
  readonly largest: number;
}

export const gridOperator = (grid: Grid, moduli: Moduli, free: Uint8Array): Operator => {
  const held: number[] = [];
  for (let n = 0; n < free.length; n++) if (free[n] === 0) held.push(n);
  const fixed = Int32Array.from(held);
  return {
    size: 3 * grid.nodes,
    times: (u, out) => {
      stiffnessTimes(grid, moduli, u, out);
      for (let n = 0; n < fixed.length; n++) out[fixed[n]!] = 0;
    },
    inverse: inverseDiagonal(grid, moduli, free),
    largest: largestOverBricks(grid, moduli),
  };
};

const inverseDiagonal = (grid: Grid, moduli: Moduli, free: Uint8Array): Float64Array => {
  const sum = new Float64Array(3 * grid.nodes);
  eachBrick(grid, (i, j, k, corners, brick) => {
    const factor = grid.stiffness[brick]!;
    const [x, y, z] = diagonalOf(brickAt(grid, i, j, k), moduli);
    for (const n of corners) {
      sum[3 * n]! += factor * x;
      sum[3 * n + 1]! += factor * y;
      sum[3 * n + 2]! += factor * z;
    }
  });
  for (let n = 0; n < sum.length; n++) sum[n] = free[n] === 1 && sum[n]! > 0 ? 1 / sum[n]! : 0;
  return sum;
};

/**
 * The matrix and its diagonal are both sums over bricks, so no eigenvalue of their quotient exceeds the greatest one
 * of a single brick; a true bound, whatever is held and however full the bricks are.
 */
const largestOverBricks = (grid: Grid, moduli: Moduli): number => {
  const sizes = [grid.xs, grid.ys, grid.zs].map((planes) => [
    ...new Set([...planes].slice(1).map((at, n) => Number((at - planes[n]!).toFixed(3)))),
  ]) as [number[], number[], number[]];
  // Only the extremes matter: the quotient grows with the sides' ratios.
  const ends = sizes.map((all) => [...new Set([Math.min(...all), Math.max(...all)])]);
  let largest = 0;
  for (const dx of ends[0]!) {
    for (const dy of ends[1]!) {
      for (const dz of ends[2]!) {
        const brick = brickOf(dx, dy, dz);
        const matrix = stiffnessOf(brick, moduli);
        const diagonal = diagonalOf(brick, moduli);
        largest = Math.max(
          largest,
          largestOf(
            24,
            (u, out) => {
              for (let r = 0; r < 24; r++) {
                let sum = 0;
                for (let c = 0; c < 24; c++) sum += matrix[r * 24 + c]! * u[c]!;
                out[r] = sum / diagonal[(r % 3) as 0 | 1 | 2];
              }
            },
            40,
          ),
        );
      }
    }
  }
  return 1.05 * largest;
};

/** Greatest eigenvalue by repeated products (power method), from below. */
export const largestOf = (
  size: number,
  times: (u: Float64Array, out: Float64Array) => void,
  rounds: number,
): number => {
  const u = new Float64Array(size);
  const out = new Float64Array(size);
  // Any start will do that favours no movement; this one repeats from run to run.
  let seed = 12345;
  for (let n = 0; n < size; n++) {
    seed = (Math.imul(seed, 1103515245) + 12345) & 0x7fffffff;
    u[n] = seed / 0x7fffffff - 0.5;
  }
  let largest = 0;
  for (let round = 0; round < rounds; round++) {
    times(u, out);
    let length = 0;
    for (let n = 0; n < size; n++) length += out[n]! * out[n]!;
    length = Math.sqrt(length);
    if (!(length > 0)) return largest;
    let before = 0;
    for (let n = 0; n < size; n++) before += u[n]! * u[n]!;
    largest = length / Math.sqrt(before);
    for (let n = 0; n < size; n++) u[n] = out[n]! / length;
  }
  return largest;
};
