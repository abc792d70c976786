import { type Band, emptyBand, factorBand, solveBand } from './band.ts';
import { type CoarseGrid, coarsen } from './coarsening.ts';
import { assemble, type Blocks, blocksTimes, type Cells, cellsOverCells, cellsOverGrid } from './galerkin.ts';
import type { Grid } from './grid.ts';
import type { Moduli } from './material.ts';
import { largestOf, type Operator } from './operator.ts';
import { prolong, restrict, type Transfer, transferBetween, transferToGrid } from './transfer.ts';

/** Stands in for the inverse of a stiffness: out ≈ A⁻¹ r, always by the same symmetric positive rule. */
export type Preconditioner = (r: Float64Array, out: Float64Array) => void;

export interface CycleTerms {
  /** Products in each smoothing sweep. */
  readonly degree: number;
  /** The sweep damps eigenvalues from the greatest down to this share of it. */
  readonly reach: number;
  /** Each grid's cells are about this many times those of the one before. */
  readonly ratio: number;
  /** Unknowns at which a grid is factored in place of being coarsened further. */
  readonly direct: number;
}

/**
 * Measured on bars and on a lever outlined, forked, thinned and on a skin: sweeps of 2 to 4 products and ratios of 2 to 4
 * lie within a third of each other, and these are the quickest on most. Keeping coarse blocks in single precision was a
 * tenth quicker a product, which is not worth a second kind of number.
 */
export const DEFAULT_TERMS: CycleTerms = { degree: 2, reach: 0.08, ratio: 2, direct: 2500 };

interface Level {
  readonly operator: Operator;
  /** From the next coarser level. */
  readonly transfer: Transfer;
  readonly free: Uint8Array | undefined;
  readonly residual: Float64Array;
  readonly direction: Float64Array;
  readonly product: Float64Array;
  readonly coarseForce: Float64Array;
  readonly coarseMovement: Float64Array;
}

/** One V-cycle of geometric multigrid: Chebyshev smoothing, coarse grids as the bricks show themselves to them. */
export const multigrid = (
  grid: Grid,
  moduli: Moduli,
  free: Uint8Array,
  fine: Operator,
  terms: CycleTerms = DEFAULT_TERMS,
): Preconditioner => {
  const levels: Level[] = [];
  let operator = fine;
  let coarse: CoarseGrid | undefined;
  let cells: Cells | undefined;
  let blocks: Blocks;
  let size = meanSide(grid);
  do {
    const before: CoarseGrid | undefined = coarse;
    const next = nextCoarser(grid, free, size, before, terms);
    size = next.size;
    coarse = next.coarse;
    const transfer = before === undefined ? transferToGrid(grid, coarse) : transferBetween(before, coarse);
    const vector = (nodes: number): Float64Array => new Float64Array(3 * nodes);
    const nodes = before === undefined ? grid.nodes : before.nodes;
    levels.push({
      operator,
      transfer,
      free: before === undefined ? free : undefined,
      residual: vector(nodes),
      direction: vector(nodes),
      product: vector(nodes),
      coarseForce: vector(coarse.nodes),
      coarseMovement: vector(coarse.nodes),
    });
    cells =
      before === undefined || cells === undefined
        ? cellsOverGrid(grid, moduli, free, coarse)
        : cellsOverCells(before, cells, coarse);
    blocks = assemble(coarse, cells);
    if (3 * coarse.nodes > terms.direct) operator = blocksOperator(blocks);
  } while (3 * coarse.nodes > terms.direct && levels.length < MOST_LEVELS);
  const band = bandOf(blocks);
  factorBand(band);
  return (r, out) => cycle(levels, 0, band, terms, r, out);
};

/** More grids than any stock could need. */
const MOST_LEVELS = 20;

/**
 * The next grid that is coarser along any axis, however many steps of the ratio that takes: flat bricks are first joined
 * through the thickness. Stock too small for one gets a copy of its own grid, and with it a direct solve.
 */
const nextCoarser = (
  grid: Grid,
  free: Uint8Array,
  from: number,
  finer: CoarseGrid | undefined,
  { ratio }: CycleTerms,
): { readonly coarse: CoarseGrid; readonly size: number } => {
  const longest = Math.max(
    ...[grid.xs, grid.ys, grid.zs].map((planes) => planes[planes.length - 1]! - planes[0]!),
  );
  for (let size = ratio * from; size <= 2 * ratio * longest; size *= ratio) {
    const coarse = coarsen(grid, free, size, finer);
    if (isCoarser(coarse, grid, finer)) return { coarse, size };
  }
  return { coarse: coarsen(grid, free, 0, finer), size: ratio * from };
};

const isCoarser = (coarse: CoarseGrid, grid: Grid, finer: CoarseGrid | undefined): boolean => {
  const { nx, ny, nz } = finer ?? grid;
  return coarse.nx < nx || coarse.ny < ny || coarse.nz < nz;
};

const meanSide = (grid: Grid): number => {
  const mean = (planes: Float64Array): number =>
    (planes[planes.length - 1]! - planes[0]!) / (planes.length - 1);
  return Math.cbrt(mean(grid.xs) * mean(grid.ys) * mean(grid.zs));
};

/** Rounds of the power method on a coarse grid, and what is added for its coming from below. */
const ROUNDS = 15;
const MARGIN = 1.15;

const blocksOperator = (blocks: Blocks): Operator => {
  const size = 3 * blocks.rows;
  const inverse = new Float64Array(size);
  for (let row = 0; row < blocks.rows; row++) {
    for (let n = blocks.start[row]!; n < blocks.start[row + 1]!; n++) {
      if (blocks.column[n] !== row) continue;
      for (let a = 0; a < 3; a++) {
        const value = blocks.values[9 * n + 4 * a]!;
        inverse[3 * row + a] = value > 0 ? 1 / value : 0;
      }
    }
  }
  const times = (u: Float64Array, out: Float64Array): void => blocksTimes(blocks, u, out);
  const scaled = (u: Float64Array, out: Float64Array): void => {
    times(u, out);
    for (let n = 0; n < size; n++) out[n]! *= inverse[n]!;
  };
  return { size, times, inverse, largest: MARGIN * largestOf(size, scaled, ROUNDS) };
};

const bandOf = (blocks: Blocks): Band => {
  const first = new Int32Array(3 * blocks.rows);
  for (let row = 0; row < blocks.rows; row++) {
    for (let a = 0; a < 3; a++) first[3 * row + a] = 3 * blocks.column[blocks.start[row]!]!;
  }
  const band = emptyBand(first);
  for (let row = 0; row < blocks.rows; row++) {
    for (let n = blocks.start[row]!; n < blocks.start[row + 1]!; n++) {
      for (let e = 0; e < 9; e++) {
        const r = 3 * row + ((e / 3) | 0);
        const c = 3 * blocks.column[n]! + (e % 3);
        if (c <= r) band.values[band.start[r]! + c - first[r]!] = blocks.values[9 * n + e]!;
      }
    }
  }
  return band;
};

/** Solves level `n` about: out ≈ A⁻¹ r. */
const cycle = (
  levels: readonly Level[],
  n: number,
  band: Band,
  terms: CycleTerms,
  r: Float64Array,
  out: Float64Array,
): void => {
  if (n === levels.length) {
    out.set(r);
    solveBand(band, out);
    return;
  }
  const level = levels[n]!;
  const { operator, transfer, residual, coarseForce, coarseMovement, free } = level;
  residual.set(r);
  out.fill(0);
  smooth(level, terms, out, true);
  restrict(transfer, residual, coarseForce);
  cycle(levels, n + 1, band, terms, coarseForce, coarseMovement);
  prolong(transfer, coarseMovement, out, free);
  operator.times(out, residual);
  for (let i = 0; i < r.length; i++) residual[i] = r[i]! - residual[i]!;
  smooth(level, terms, out, false);
};

/**
 * A Chebyshev sweep: adds to `out` the polynomial in inverse · A that is least over the upper eigenvalues, applied to
 * `residual`. With `keep` the residual is brought up to date as well (one more product).
 */
const smooth = (level: Level, terms: CycleTerms, out: Float64Array, keep: boolean): void => {
  const { operator, residual, direction, product } = level;
  const { inverse, largest } = operator;
  const least = largest * terms.reach;
  const centre = (largest + least) / 2;
  const half = (largest - least) / 2;
  const sigma = centre / half;
  let rho = 1 / sigma;
  const size = operator.size;
  for (let i = 0; i < size; i++) {
    const step = (inverse[i]! * residual[i]!) / centre;
    direction[i] = step;
    out[i]! += step;
  }
  for (let turn = 1; turn <= terms.degree; turn++) {
    if (turn === terms.degree && !keep) break;
    operator.times(direction, product);
    if (turn === terms.degree) {
      for (let i = 0; i < size; i++) residual[i]! -= product[i]!;
      break;
    }
    const next = 1 / (2 * sigma - rho);
    const carry = next * rho;
    const push = (2 * next) / half;
    rho = next;
    for (let i = 0; i < size; i++) {
      const left = residual[i]! - product[i]!;
      residual[i] = left;
      const step = carry * direction[i]! + push * inverse[i]! * left;
      direction[i] = step;
      out[i]! += step;
    }
  }
};
