import { eachBrick } from './bricks.ts';
import type { Grid } from './grid.ts';

/** One axis of a coarser grid over the same bricks. */
export interface CoarseAxis {
  /** Which fine planes are kept. */
  readonly kept: Int32Array;
  /** The coarse cell of each fine cell. */
  readonly cell: Int32Array;
  /** Where the two planes of each fine cell lie in its coarse cell, 0 to 1. */
  readonly near: Float64Array;
  readonly far: Float64Array;
  /** A number for each fine cell; equal numbers have equal width, `near` and `far`. */
  readonly kind: Int32Array;
  readonly kinds: number;
}

/** The three axes of a coarser grid; node (I, J, K) of it has number `id[(I · (ny + 1) + J) · (nz + 1) + K]`, or −1. */
export interface CoarseGrid {
  readonly axes: readonly [CoarseAxis, CoarseAxis, CoarseAxis];
  readonly nx: number;
  readonly ny: number;
  readonly nz: number;
  readonly id: Int32Array;
  readonly nodes: number;
}

/** Joins neighbouring cells until they measure about `size`; only planes in `among` may be kept. */
const coarsenAxis = (planes: Float64Array, among: Int32Array, size: number): CoarseAxis => {
  const kept = [among[0]!];
  for (let n = 1; n < among.length - 1; n++) {
    const here = planes[among[n]!]!;
    const last = planes[kept[kept.length - 1]!]!;
    const next = planes[among[n + 1]!]!;
    // Stop here when going on would miss the size by more.
    if (Math.abs(here - last - size) <= Math.abs(next - last - size)) kept.push(among[n]!);
  }
  // A last sliver joins the cell before it.
  const end = among[among.length - 1]!;
  if (kept.length > 1 && planes[end]! - planes[kept[kept.length - 1]!]! < 0.4 * size) kept.pop();
  kept.push(end);
  const cells = planes.length - 1;
  const cell = new Int32Array(cells);
  const near = new Float64Array(cells);
  const far = new Float64Array(cells);
  const kind = new Int32Array(cells);
  const kinds = new Map<string, number>();
  let coarse = 0;
  for (let i = 0; i < cells; i++) {
    if (i >= kept[coarse + 1]!) coarse++;
    const from = planes[kept[coarse]!]!;
    const width = planes[kept[coarse + 1]!]! - from;
    cell[i] = coarse;
    near[i] = (planes[i]! - from) / width;
    far[i] = (planes[i + 1]! - from) / width;
    const name = [planes[i + 1]! - planes[i]!, near[i]!, far[i]!].map((n) => n.toFixed(9)).join(' ');
    const known = kinds.get(name) ?? kinds.size;
    kinds.set(name, known);
    kind[i] = known;
  }
  return { kept: Int32Array.from(kept), cell, near, far, kind, kinds: kinds.size };
};

const all = (planes: Float64Array): Int32Array => Int32Array.from(planes.keys());

/**
 * A grid of about `size` mm over a fine one, its planes taken from the next finer grid's, with the nodes that some
 * brick with a free corner reaches. A size of 0 keeps every plane.
 */
export const coarsen = (
  grid: Grid,
  free: Uint8Array,
  size: number,
  finer: CoarseGrid | undefined,
): CoarseGrid => {
  const planes = [grid.xs, grid.ys, grid.zs] as const;
  const axis = (n: 0 | 1 | 2): CoarseAxis =>
    coarsenAxis(planes[n], finer === undefined ? all(planes[n]) : finer.axes[n].kept, size);
  const axes = [axis(0), axis(1), axis(2)] as const;
  const [nx, ny, nz] = [axes[0].kept.length - 1, axes[1].kept.length - 1, axes[2].kept.length - 1];
  const id = new Int32Array((nx + 1) * (ny + 1) * (nz + 1)).fill(-1);
  eachBrick(grid, (i, j, k, corners) => {
    const loose = corners.some((n) => free[3 * n] === 1 || free[3 * n + 1] === 1 || free[3 * n + 2] === 1);
    if (!loose) return;
    const base = (axes[0].cell[i]! * (ny + 1) + axes[1].cell[j]!) * (nz + 1) + axes[2].cell[k]!;
    for (let n = 0; n < 8; n++) id[base + stepOf(n, ny, nz)] = 0;
  });
  let nodes = 0;
  for (let n = 0; n < id.length; n++) if (id[n] === 0) id[n] = nodes++;
  return { axes, nx, ny, nz, id, nodes };
};

/** From node (I, J, K) to corner n of the brick above it, in the numbering of `id`. */
export const stepOf = (n: number, ny: number, nz: number): number =>
  ((n & 1) * (ny + 1) + ((n >> 1) & 1)) * (nz + 1) + (n >> 2);
