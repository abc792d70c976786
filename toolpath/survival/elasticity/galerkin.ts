import { stiffnessMaker } from './brick.ts';
import { brickAt, eachBrick } from './bricks.ts';
import { type CoarseAxis, type CoarseGrid, stepOf } from './coarsening.ts';
import type { Grid } from './grid.ts';
import type { Moduli } from './material.ts';

/** A sparse symmetric matrix of 3 × 3 blocks: row r holds blocks `start[r]` to `start[r + 1]`, nine values each. */
export interface Blocks {
  readonly rows: number;
  readonly start: Int32Array;
  readonly column: Int32Array;
  readonly values: Float64Array;
}

/** 24 × 24 stiffness of each coarse cell, by the place of its first corner in `CoarseGrid.id`. */
export type Cells = ReadonlyMap<number, Float64Array>;

/**
 * The stiffness that the fine bricks show to the corners of coarse cells (Pᵀ K P, with held unknowns struck out), added
 * up brick by brick. Bricks of one size, one place in their coarse cell and one set of held corners share one matrix.
 */
export const cellsOverGrid = (grid: Grid, moduli: Moduli, free: Uint8Array, coarse: CoarseGrid): Cells => {
  const { axes } = coarse;
  const cells = new Map<number, Float64Array>();
  const known = new Map<number, Float64Array>();
  const make = stiffnessMaker(moduli);
  eachBrick(grid, (i, j, k, corners, brick) => {
    let held = 0;
    for (let n = 0; n < 8; n++) {
      const node = 3 * corners[n]!;
      for (let a = 0; a < 3; a++) if (free[node + a] === 0) held |= 1 << (3 * n + a);
    }
    if (held === 0xffffff) return;
    const kind = (axes[0].kind[i]! * axes[1].kinds + axes[1].kind[j]!) * axes[2].kinds + axes[2].kind[k]!;
    const key = kind * 0x1000000 + held;
    let seen = known.get(key);
    if (seen === undefined) {
      seen = make(brickAt(grid, i, j, k));
      strikeOut(seen, held);
      lookAt(seen, coarse, i, j, k);
      known.set(key, seen);
    }
    addTo(cells, coarse, i, j, k, seen, grid.stiffness[brick]!);
  });
  return cells;
};

/** The same from the cells of the next finer grid, whose corner unknowns are all free. */
export const cellsOverCells = (finer: CoarseGrid, fine: Cells, coarse: CoarseGrid): Cells => {
  const cells = new Map<number, Float64Array>();
  const steps = [0, 1, 2].map((n) => nested(finer.axes[n as 0 | 1 | 2], coarse.axes[n as 0 | 1 | 2]));
  const between: CoarseGrid = { ...coarse, axes: steps as [CoarseAxis, CoarseAxis, CoarseAxis] };
  for (const [base, own] of fine) {
    const k = base % (finer.nz + 1);
    const rest = (base - k) / (finer.nz + 1);
    const j = rest % (finer.ny + 1);
    const i = (rest - j) / (finer.ny + 1);
    const seen = own.slice();
    lookAt(seen, between, i, j, k);
    addTo(cells, between, i, j, k, seen, 1);
  }
  return cells;
};

/** An axis as the cells of a finer coarse grid see it, in place of the bricks. */
const nested = (finer: CoarseAxis, coarse: CoarseAxis): CoarseAxis => {
  const first = finer.kept.subarray(0, finer.kept.length - 1);
  const last = finer.kept.subarray(1);
  return {
    ...coarse,
    cell: Int32Array.from(first, (plane) => coarse.cell[plane]!),
    near: Float64Array.from(first, (plane) => coarse.near[plane]!),
    far: Float64Array.from(last, (plane) => coarse.far[plane - 1]!),
  };
};

const strikeOut = (matrix: Float64Array, held: number): void => {
  for (let n = 0; n < 24; n++) {
    if ((held & (1 << n)) === 0) continue;
    for (let m = 0; m < 24; m++) {
      matrix[n * 24 + m] = 0;
      matrix[m * 24 + n] = 0;
    }
  }
};

const addTo = (
  cells: Map<number, Float64Array>,
  { axes, ny, nz }: CoarseGrid,
  i: number,
  j: number,
  k: number,
  matrix: Float64Array,
  factor: number,
): void => {
  const base = (axes[0].cell[i]! * (ny + 1) + axes[1].cell[j]!) * (nz + 1) + axes[2].cell[k]!;
  let sum = cells.get(base);
  if (sum === undefined) {
    sum = new Float64Array(576);
    cells.set(base, sum);
  }
  for (let n = 0; n < 576; n++) sum[n]! += factor * matrix[n]!;
};

/** Turns the stiffness between a fine cell's corners into that between its coarse cell's, axis by axis, in place. */
const lookAt = (matrix: Float64Array, { axes }: CoarseGrid, i: number, j: number, k: number): void => {
  for (let axis = 0; axis < 3; axis++) {
    const { near, far } = axes[axis as 0 | 1 | 2];
    const cell = axis === 0 ? i : axis === 1 ? j : k;
    const s = near[cell]!;
    const t = far[cell]!;
    if (s === 0 && t === 1) continue;
    const bit = 1 << axis;
    for (let corner = 0; corner < 8; corner++) {
      if ((corner & bit) !== 0) continue;
      for (let a = 0; a < 3; a++) {
        const low = 3 * corner + a;
        const high = 3 * (corner | bit) + a;
        mix(matrix, 24 * low, 24 * high, 1, s, t);
      }
    }
    for (let corner = 0; corner < 8; corner++) {
      if ((corner & bit) !== 0) continue;
      for (let a = 0; a < 3; a++) mix(matrix, 3 * corner + a, 3 * (corner | bit) + a, 24, s, t);
    }
  }
};

/** Two rows or columns of forces at `s` and `t` along a cell, as forces at its two ends. */
const mix = (matrix: Float64Array, low: number, high: number, step: number, s: number, t: number): void => {
  for (let n = 0, p = low, q = high; n < 24; n++, p += step, q += step) {
    const near = matrix[p]!;
    const far = matrix[q]!;
    matrix[p] = (1 - s) * near + (1 - t) * far;
    matrix[q] = s * near + t * far;
  }
};

/** Sums the cells' matrices into rows of blocks; each row's blocks are sorted by column. */
export const assemble = (coarse: CoarseGrid, cells: Cells): Blocks => {
  const { id, nodes, ny, nz } = coarse;
  const neighbours: number[][] = Array.from({ length: nodes }, () => []);
  const cornersOf = (base: number): number[] =>
    Array.from({ length: 8 }, (_, n) => id[base + stepOf(n, ny, nz)]!);
  for (const base of cells.keys()) {
    const corners = cornersOf(base);
    for (const from of corners) for (const to of corners) neighbours[from]!.push(to);
  }
  const start = new Int32Array(nodes + 1);
  const lists = neighbours.map((list) => [...new Set(list)].sort((a, b) => a - b));
  for (let row = 0; row < nodes; row++) start[row + 1] = start[row]! + lists[row]!.length;
  const column = Int32Array.from(lists.flat());
  const values = new Float64Array(9 * column.length);
  const slotOf = (row: number, to: number): number => {
    let low = start[row]!;
    let high = start[row + 1]! - 1;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (column[middle]! < to) low = middle + 1;
      else high = middle;
    }
    return low;
  };
  for (const [base, matrix] of cells) {
    const corners = cornersOf(base);
    for (let r = 0; r < 8; r++) {
      for (let c = 0; c < 8; c++) {
        const block = 9 * slotOf(corners[r]!, corners[c]!);
        for (let n = 0; n < 9; n++) {
          values[block + n]! += matrix[(r * 3 + ((n / 3) | 0)) * 24 + c * 3 + (n % 3)]!;
        }
      }
    }
  }
  return { rows: nodes, start, column, values };
};

/** out = A u. */
export const blocksTimes = (
  { rows, start, column, values }: Blocks,
  u: Float64Array,
  out: Float64Array,
): void => {
  let at = 0;
  for (let row = 0; row < rows; row++) {
    let x = 0;
    let y = 0;
    let z = 0;
    for (let n = start[row]!; n < start[row + 1]!; n++) {
      const c = 3 * column[n]!;
      const a = u[c]!;
      const b = u[c + 1]!;
      const d = u[c + 2]!;
      x += values[at]! * a + values[at + 1]! * b + values[at + 2]! * d;
      y += values[at + 3]! * a + values[at + 4]! * b + values[at + 5]! * d;
      z += values[at + 6]! * a + values[at + 7]! * b + values[at + 8]! * d;
      at += 9;
    }
    out[3 * row] = x;
    out[3 * row + 1] = y;
    out[3 * row + 2] = z;
  }
};
