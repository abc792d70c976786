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

/** Where corner c of a cell lies from corner r, as one of 27 places; they run in the order of the numbers in `id`. */
const placeFrom = (r: number, c: number): number => {
  const away = (bit: number): number => ((c >> bit) & 1) - ((r >> bit) & 1) + 1;
  return 9 * away(0) + 3 * away(1) + away(2);
};
const PLACES = Int32Array.from({ length: 64 }, (_, n) => placeFrom(n >> 3, n & 7));

/** Sums the cells' matrices into rows of blocks; each row's blocks are sorted by column. */
export const assemble = (coarse: CoarseGrid, cells: Cells): Blocks => {
  const { id, nodes, ny, nz } = coarse;
  const steps = Array.from({ length: 8 }, (_, n) => stepOf(n, ny, nz));
  const corners = new Int32Array(8);
  // First which of its 27 neighbours each node meets, then where each block lies, then the sums.
  const slots = new Int32Array(27 * nodes).fill(-1);
  for (const base of cells.keys()) {
    for (let n = 0; n < 8; n++) corners[n] = id[base + steps[n]!]!;
    for (let n = 0; n < 64; n++) slots[27 * corners[n >> 3]! + PLACES[n]!] = corners[n & 7]!;
  }
  const start = new Int32Array(nodes + 1);
  let count = 0;
  for (let n = 0; n < slots.length; n++) if (slots[n]! >= 0) count++;
  const column = new Int32Array(count);
  count = 0;
  for (let n = 0; n < slots.length; n++) {
    if (slots[n]! >= 0) {
      column[count] = slots[n]!;
      slots[n] = count++;
    }
    if (n % 27 === 26) start[(n + 1) / 27] = count;
  }
  const values = new Float64Array(9 * count);
  for (const [base, matrix] of cells) {
    for (let n = 0; n < 8; n++) corners[n] = id[base + steps[n]!]!;
    for (let n = 0; n < 64; n++) {
      const block = 9 * slots[27 * corners[n >> 3]! + PLACES[n]!]!;
      const from = 72 * (n >> 3) + 3 * (n & 7);
      for (let a = 0; a < 3; a++) {
        for (let b = 0; b < 3; b++) values[block + 3 * a + b]! += matrix[from + 24 * a + b]!;
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
