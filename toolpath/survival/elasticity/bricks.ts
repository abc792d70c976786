import { type Brick, brickOf } from './brick.ts';
import type { Grid } from './grid.ts';

/**
 * Visits every solid brick with its place, its eight nodes (corner order of `brick.ts`; the list is used again for the
 * next brick) and its index in `grid.share` and `grid.stiffness`.
 */
export const eachBrick = (
  grid: Grid,
  visit: (i: number, j: number, k: number, corners: readonly number[], brick: number) => void,
): void => {
  const { nx, ny, low, high, offset, share, nodeLow, nodeBase } = grid;
  const corners = new Array<number>(8).fill(0);
  for (let j = 0; j < ny; j++) {
    for (let i = 0; i < nx; i++) {
      const c = j * nx + i;
      for (let k = low[c]!; k < high[c]!; k++) {
        const brick = offset[c]! + k - low[c]!;
        if (share[brick] === 0) continue;
        for (let n = 0; n < 4; n++) {
          const v = (j + (n >> 1)) * (nx + 1) + i + (n & 1);
          const node = nodeBase[v]! + k - nodeLow[v]!;
          corners[n] = node;
          corners[n + 4] = node + 1;
        }
        visit(i, j, k, corners, brick);
      }
    }
  }
};

/** Size of the brick at (i, j, k), as if it were full. */
export const brickAt = ({ xs, ys, zs }: Grid, i: number, j: number, k: number): Brick =>
  brickOf(xs[i + 1]! - xs[i]!, ys[j + 1]! - ys[j]!, zs[k + 1]! - zs[k]!);

/** Where each node lies, mm: 3 · number + axis. */
export const placesOf = (grid: Grid): Float64Array => {
  const places = new Float64Array(3 * grid.nodes);
  for (let v = 0; v < grid.nodeBase.length; v++) {
    for (let k = grid.nodeLow[v]!; k <= grid.nodeHigh[v]!; k++) {
      const n = 3 * (grid.nodeBase[v]! + k - grid.nodeLow[v]!);
      places[n] = grid.xs[v % (grid.nx + 1)]!;
      places[n + 1] = grid.ys[Math.floor(v / (grid.nx + 1))]!;
      places[n + 2] = grid.zs[k]!;
    }
  }
  return places;
};
