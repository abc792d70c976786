import { brickOf, stiffnessOf } from './brick.ts';
import { type CoarseGrid, eachBrick, stepOf } from './coarsening.ts';
import type { Grid } from './grid.ts';
import type { Moduli } from './material.ts';

/** A sparse symmetric matrix of 3 × 3 blocks: row r holds blocks `start[r]` to `start[r + 1]`, nine values each. */
export interface Blocks {
  readonly rows: number;
  readonly start: Int32Array;
  readonly column: Int32Array;
  readonly values: Float64Array;
}

/**
 * The stiffness that the fine bricks show to the movements of a coarse grid (Pᵀ K P, with held unknowns struck out),
 * added up brick by brick. Bricks of one size, one place in their coarse cell and one set of held corners share one
 * 24 × 24 matrix, so most bricks cost 576 additions.
 */
export const coarseStiffness = (grid: Grid, moduli: Moduli, free: Uint8Array, coarse: CoarseGrid): Blocks => {
  const { axes, ny, nz } = coarse;
  const cells = new Map<number, Float64Array>();
  const known = new Map<number, Float64Array>();
  eachBrick(grid, (i, j, k, corners, share) => {
    let held = 0;
    for (let n = 0; n < 24; n++) {
      if (free[3 * corners[(n / 3) | 0]! + (n % 3)] === 0) held |= 1 << n;
    }
    if (held === 0xffffff) return;
    const kind = (axes[0].kind[i]! * axes[1].kinds + axes[1].kind[j]!) * axes[2].kinds + axes[2].kind[k]!;
    const key = kind * 0x1000000 + held;
    let seen = known.get(key);
    if (seen === undefined) {
      seen = seenFrom(grid, moduli, coarse, i, j, k, held);
      known.set(key, seen);
    }
    const base = (axes[0].cell[i]! * (ny + 1) + axes[1].cell[j]!) * (nz + 1) + axes[2].cell[k]!;
    let sum = cells.get(base);
    if (sum === undefined) {
      sum = new Float64Array(576);
      cells.set(base, sum);
    }
    for (let n = 0; n < 576; n++) sum[n]! += share * seen[n]!;
  });
  return assemble(coarse, cells);
};

/** The 24 × 24 stiffness of one fine brick as its coarse cell's corners feel it. */
const seenFrom = (
  grid: Grid,
  moduli: Moduli,
  { axes }: CoarseGrid,
  i: number,
  j: number,
  k: number,
  held: number,
): Float64Array => {
  const own = stiffnessOf(
    brickOf(grid.xs[i + 1]! - grid.xs[i]!, grid.ys[j + 1]! - grid.ys[j]!, grid.zs[k + 1]! - grid.zs[k]!),
    moduli,
  );
  for (let n = 0; n < 24; n++) {
    if ((held & (1 << n)) === 0) continue;
    for (let m = 0; m < 24; m++) {
      own[n * 24 + m] = 0;
      own[m * 24 + n] = 0;
    }
  }
  // How much each coarse corner moves each fine corner.
  const weight = new Float64Array(64);
  const cellOf = [i, j, k];
  for (let fine = 0; fine < 8; fine++) {
    for (let corner = 0; corner < 8; corner++) {
      let product = 1;
      for (let a = 0; a < 3; a++) {
        const { near, far } = axes[a as 0 | 1 | 2];
        const at = ((fine >> a) & 1) === 1 ? far[cellOf[a]!]! : near[cellOf[a]!]!;
        product *= ((corner >> a) & 1) === 1 ? at : 1 - at;
      }
      weight[fine * 8 + corner] = product;
    }
  }
  const half = new Float64Array(576);
  for (let row = 0; row < 24; row++) {
    for (let fine = 0; fine < 8; fine++) {
      for (let axis = 0; axis < 3; axis++) {
        const value = own[row * 24 + fine * 3 + axis]!;
        if (value === 0) continue;
        for (let corner = 0; corner < 8; corner++) {
          half[row * 24 + corner * 3 + axis]! += value * weight[fine * 8 + corner]!;
        }
      }
    }
  }
  const seen = new Float64Array(576);
  for (let fine = 0; fine < 8; fine++) {
    for (let corner = 0; corner < 8; corner++) {
      const w = weight[fine * 8 + corner]!;
      if (w === 0) continue;
      for (let axis = 0; axis < 3; axis++) {
        const from = (fine * 3 + axis) * 24;
        const to = (corner * 3 + axis) * 24;
        for (let n = 0; n < 24; n++) seen[to + n]! += w * half[from + n]!;
      }
    }
  }
  return seen;
};

/** Sums the cells' matrices into rows of blocks; each row's blocks are sorted by column. */
const assemble = (coarse: CoarseGrid, cells: ReadonlyMap<number, Float64Array>): Blocks => {
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
