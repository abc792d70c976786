import { placesOf } from '../toolpath/survival/elasticity/bricks.ts';
import { type Grid, gridFrom } from '../toolpath/survival/elasticity/grid.ts';
import { type HeldStock, holdGrid } from '../toolpath/survival/elasticity/held.ts';
import type { Load, Vector } from '../toolpath/survival/elasticity/load.ts';
import type { ElasticMaterial } from '../toolpath/survival/elasticity/material.ts';
import { nodesFacing, nodesInside } from '../toolpath/survival/elasticity/nodes.ts';
import { patchOf } from '../toolpath/survival/elasticity/patch.ts';

/** Steel as the tests of elasticity use it: values from memory, any would do. */
export const STEEL: ElasticMaterial = { young: 210_000, poisson: 0.3, density: 7850 };

export const even = (length: number, cells: number, from = 0): Float64Array =>
  Float64Array.from({ length: cells + 1 }, (_, n) => from + (length * n) / cells);

/** A box of length × width × height mm in so many bricks, its near lower left corner at 0. */
export const box = (
  size: Vector,
  cells: Vector,
  share?: (i: number, j: number, k: number) => number,
): Grid => {
  const shares = new Float64Array(cells[0] * cells[1] * cells[2]);
  for (let n = 0; n < shares.length; n++) {
    const c = Math.floor(n / cells[2]);
    shares[n] = share === undefined ? 1 : share(c % cells[0], Math.floor(c / cells[0]), n % cells[2]);
  }
  return gridFrom(even(size[0], cells[0]), even(size[1], cells[1]), even(size[2], cells[2]), shares);
};

/** A box of bricks of about the default size. */
export const defaultBox = (size: Vector): Grid =>
  box(size, size.map((s) => Math.max(1, Math.ceil(s - 0.2))) as [number, number, number]);

/** The stock, or a failed test. */
export const mustHold = (
  grid: Grid,
  clamped: Iterable<number>,
  material: ElasticMaterial = STEEL,
  supported: Iterable<number> = [],
): HeldStock => {
  const held = holdGrid(grid, material, { clamped, supported });
  if (held.kind !== 'held') throw new Error(`expected held stock, found ${held.kind}`);
  return held;
};

/** A bar clamped over its face at x = 0. */
export const cantilever = (grid: Grid, material: ElasticMaterial = STEEL): HeldStock =>
  mustHold(grid, nodesFacing(grid, '-x', { x1: grid.xs[0]! }), material);

/** A force spread over the end face of a bar as a parabola or evenly does: by the area of each node. */
export const endLoad = (grid: Grid, force: Vector): Load => {
  const nodes = nodesInside(grid, { x0: grid.xs[grid.nx]! });
  const places = placesOf(grid);
  const tributary = (planes: Float64Array, at: number): number => {
    const n = planes.findIndex((plane) => Math.abs(plane - at) < 1e-9);
    return ((planes[n + 1] ?? planes[n]!) - (planes[n - 1] ?? planes[n]!)) / 2;
  };
  const weights = Float64Array.from(
    nodes,
    (n) => tributary(grid.ys, places[3 * n + 1]!) * tributary(grid.zs, places[3 * n + 2]!),
  );
  const total = weights.reduce((sum, w) => sum + w, 0);
  return {
    patch: { ...patchOf(grid, nodes, places)!, weights: weights.map((w) => w / total) },
    force,
  };
};

/** Kappa G A for a rectangle, with Cowper's shear coefficient 10 (1 + ν) / (12 + 11 ν). */
export const shearCoefficient = (poisson: number): number => (10 * (1 + poisson)) / (12 + 11 * poisson);

/** Timoshenko's tip movement of a clamped bar, width b across and height h along the force, mm. */
export const timoshenkoTip = (
  force: number,
  length: number,
  b: number,
  h: number,
  { young, poisson }: ElasticMaterial,
): number => {
  const shear = young / (2 * (1 + poisson));
  return (
    (force * length ** 3) / ((3 * young * (b * h ** 3)) / 12) +
    (force * length) / (shearCoefficient(poisson) * shear * b * h)
  );
};
