import { type CoarseAxis, type CoarseGrid, stepOf } from './coarsening.ts';
import type { Grid } from './grid.ts';

/** Trilinear weights by which coarse nodes move each fine node: entries `start[n]` to `start[n + 1]`. */
export interface Transfer {
  readonly fine: number;
  readonly coarse: number;
  readonly start: Int32Array;
  readonly node: Int32Array;
  readonly weight: Float64Array;
}

/** A fine plane among the coarse ones: the cell before it and how far across that cell it lies. */
const placeOf = ({ cell, near, far }: CoarseAxis, plane: number): readonly [number, number] =>
  plane === 0 ? [cell[0]!, near[0]!] : [cell[plane - 1]!, far[plane - 1]!];

type Place = readonly [number, number];
type Gather = (x: Place, y: Place, z: Place) => void;

const gatherer = (coarse: CoarseGrid, count: number) => {
  const { ny, nz, id } = coarse;
  const start = new Int32Array(count + 1);
  const node = new Int32Array(8 * count);
  const weight = new Float64Array(8 * count);
  let fine = 0;
  let used = 0;
  const add: Gather = (x, y, z) => {
    const base = (x[0] * (ny + 1) + y[0]) * (nz + 1) + z[0];
    for (let n = 0; n < 8; n++) {
      const share =
        ((n & 1) === 1 ? x[1] : 1 - x[1]) *
        (((n >> 1) & 1) === 1 ? y[1] : 1 - y[1]) *
        (n >> 2 === 1 ? z[1] : 1 - z[1]);
      const at = id[base + stepOf(n, ny, nz)]!;
      if (share < 1e-12 || at < 0) continue;
      node[used] = at;
      weight[used++] = share;
    }
    fine++;
    start[fine] = used;
  };
  const done = (): Transfer => ({
    fine: count,
    coarse: coarse.nodes,
    start,
    node: node.slice(0, used),
    weight: weight.slice(0, used),
  });
  return { add, done };
};

export const transferToGrid = (grid: Grid, coarse: CoarseGrid): Transfer => {
  const { add, done } = gatherer(coarse, grid.nodes);
  const [ax, ay, az] = coarse.axes;
  const stacks = (grid.nx + 1) * (grid.ny + 1);
  for (let v = 0; v < stacks; v++) {
    const x = placeOf(ax, v % (grid.nx + 1));
    const y = placeOf(ay, Math.floor(v / (grid.nx + 1)));
    for (let k = grid.nodeLow[v]!; k <= grid.nodeHigh[v]!; k++) add(x, y, placeOf(az, k));
  }
  return done();
};

/** Between two coarse grids over the same bricks; the coarser one's planes are among the finer one's. */
export const transferBetween = (finer: CoarseGrid, coarser: CoarseGrid): Transfer => {
  const { add, done } = gatherer(coarser, finer.nodes);
  const places = [0, 1, 2].map((n) => {
    const axis = coarser.axes[n as 0 | 1 | 2];
    return [...finer.axes[n as 0 | 1 | 2].kept].map((plane) => placeOf(axis, plane));
  });
  for (let I = 0; I <= finer.nx; I++) {
    for (let J = 0; J <= finer.ny; J++) {
      for (let K = 0; K <= finer.nz; K++) {
        if (finer.id[(I * (finer.ny + 1) + J) * (finer.nz + 1) + K]! < 0) continue;
        add(places[0]![I]!, places[1]![J]!, places[2]![K]!);
      }
    }
  }
  return done();
};

/** fine += P coarse, where `scale` (0 or 1 by unknown) strikes out held unknowns. */
export const prolong = (t: Transfer, coarse: Float64Array, fine: Float64Array, free?: Uint8Array): void => {
  const { start, node, weight } = t;
  for (let n = 0; n < t.fine; n++) {
    let x = 0;
    let y = 0;
    let z = 0;
    for (let e = start[n]!; e < start[n + 1]!; e++) {
      const from = 3 * node[e]!;
      const w = weight[e]!;
      x += w * coarse[from]!;
      y += w * coarse[from + 1]!;
      z += w * coarse[from + 2]!;
    }
    if (free === undefined) {
      fine[3 * n]! += x;
      fine[3 * n + 1]! += y;
      fine[3 * n + 2]! += z;
    } else {
      fine[3 * n]! += x * free[3 * n]!;
      fine[3 * n + 1]! += y * free[3 * n + 1]!;
      fine[3 * n + 2]! += z * free[3 * n + 2]!;
    }
  }
};

/** coarse = Pᵀ fine; held unknowns of `fine` must be 0 already. */
export const restrict = (t: Transfer, fine: Float64Array, coarse: Float64Array): void => {
  const { start, node, weight } = t;
  coarse.fill(0);
  for (let n = 0; n < t.fine; n++) {
    const x = fine[3 * n]!;
    const y = fine[3 * n + 1]!;
    const z = fine[3 * n + 2]!;
    for (let e = start[n]!; e < start[n + 1]!; e++) {
      const to = 3 * node[e]!;
      const w = weight[e]!;
      coarse[to]! += w * x;
      coarse[to + 1]! += w * y;
      coarse[to + 2]! += w * z;
    }
  }
};
