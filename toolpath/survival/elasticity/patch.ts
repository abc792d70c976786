import { eachBrick, placesOf } from './bricks.ts';
import type { Grid } from './grid.ts';
import { eachFacing, type Side, type Space, shareAt } from './nodes.ts';
import { cellHolding } from './planes.ts';

/** Where something presses: nodes and the share of the force that each one takes (sum 1). */
export interface Patch {
  readonly nodes: Int32Array;
  readonly weights: Float64Array;
  /** Where the force's middle comes to lie, mm. */
  readonly at: readonly [number, number, number];
}

/** Samples from the middle of a patch to its rim. */
const SAMPLES = 3;

/**
 * A ball of `radius` mm about a place, as far as it lies in solid bricks; the nearest solid brick where it misses them
 * all. Each sample point hands its share to the corners of its brick by the brick's own shapes, so the force and its
 * moment about `at` are exact. Undefined on a grid without bricks.
 */
export const patchAt = (
  grid: Grid,
  place: readonly [number, number, number],
  radius: number,
): Patch | undefined => {
  const shares = new Map<number, number>();
  const middle: [number, number, number] = [0, 0, 0];
  let total = 0;
  const press = (x: number, y: number, z: number, weight: number): void => {
    const [i, j, k] = [cellHolding(grid.xs, x), cellHolding(grid.ys, y), cellHolding(grid.zs, z)];
    spread(grid, i, j, k, [x, y, z], weight, shares);
    middle[0] += weight * x;
    middle[1] += weight * y;
    middle[2] += weight * z;
    total += weight;
  };
  for (let a = -SAMPLES; a <= SAMPLES; a++) {
    for (let b = -SAMPLES; b <= SAMPLES; b++) {
      for (let c = -SAMPLES; c <= SAMPLES; c++) {
        if (a * a + b * b + c * c > SAMPLES * SAMPLES) continue;
        const step = radius / SAMPLES;
        const [x, y, z] = [place[0] + a * step, place[1] + b * step, place[2] + c * step];
        const share = shareOver(grid, x, y, z);
        if (share > 0) press(x, y, z, share);
      }
    }
  }
  if (total === 0) {
    const near = nearestPoint(grid, place);
    if (near === undefined) return undefined;
    press(near[0], near[1], near[2], 1);
  }
  return {
    nodes: Int32Array.from(shares.keys()),
    weights: Float64Array.from(shares.values(), (share) => share / total),
    at: [middle[0] / total, middle[1] / total, middle[2] / total],
  };
};

/** The same share of the force to each of some nodes. Undefined without nodes. */
export const patchOf = (grid: Grid, nodes: Int32Array, places: Float64Array): Patch | undefined => {
  if (nodes.length === 0 || grid.nodes === 0) return undefined;
  const middle: [number, number, number] = [0, 0, 0];
  for (const n of nodes) for (let a = 0; a < 3; a++) middle[a]! += places[3 * n + a]! / nodes.length;
  return { nodes, weights: new Float64Array(nodes.length).fill(1 / nodes.length), at: middle };
};

/**
 * An even pressure on the bare faces that look to one side and lie wholly in a box: what a jaw does. Undefined where
 * there are none.
 */
export const facePatch = (grid: Grid, side: Side, space: Space = {}): Patch | undefined => {
  const shares = new Map<number, number>();
  let total = 0;
  eachFacing(grid, side, space, (facing, corners, area) => {
    if (facing.length < 4) return;
    for (const n of facing) shares.set(corners[n]!, (shares.get(corners[n]!) ?? 0) + area / 4);
    total += area;
  });
  if (total === 0) return undefined;
  const places = placesOf(grid);
  const middle: [number, number, number] = [0, 0, 0];
  for (const [node, share] of shares) {
    for (let a = 0; a < 3; a++) middle[a]! += (share / total) * places[3 * node + a]!;
  }
  return {
    nodes: Int32Array.from(shares.keys()),
    weights: Float64Array.from(shares.values(), (share) => share / total),
    at: middle,
  };
};

const shareOver = (grid: Grid, x: number, y: number, z: number): number => {
  const { xs, ys, zs } = grid;
  const outside =
    x < xs[0]! || x > xs[grid.nx]! || y < ys[0]! || y > ys[grid.ny]! || z < zs[0]! || z > zs[grid.nz]!;
  return outside ? 0 : shareAt(grid, cellHolding(xs, x), cellHolding(ys, y), cellHolding(zs, z));
};

const spread = (
  grid: Grid,
  i: number,
  j: number,
  k: number,
  point: readonly [number, number, number],
  weight: number,
  shares: Map<number, number>,
): void => {
  const along = (planes: Float64Array, cell: number, at: number): number =>
    Math.min(1, Math.max(0, (at - planes[cell]!) / (planes[cell + 1]! - planes[cell]!)));
  const s = along(grid.xs, i, point[0]);
  const t = along(grid.ys, j, point[1]);
  const r = along(grid.zs, k, point[2]);
  for (let n = 0; n < 8; n++) {
    const v = (j + ((n >> 1) & 1)) * (grid.nx + 1) + i + (n & 1);
    const node = grid.nodeBase[v]! + k + (n >> 2) - grid.nodeLow[v]!;
    const part =
      weight * ((n & 1) === 1 ? s : 1 - s) * (((n >> 1) & 1) === 1 ? t : 1 - t) * (n >> 2 === 1 ? r : 1 - r);
    if (part > 0) shares.set(node, (shares.get(node) ?? 0) + part);
  }
};

/** The point of the solid bricks that is nearest to a place, just inside its brick. */
const nearestPoint = (
  grid: Grid,
  place: readonly [number, number, number],
): readonly [number, number, number] | undefined => {
  let best = Number.POSITIVE_INFINITY;
  let point: readonly [number, number, number] | undefined;
  const inside = (planes: Float64Array, cell: number, at: number): number => {
    const slack = 1e-6 * (planes[cell + 1]! - planes[cell]!);
    return Math.min(planes[cell + 1]! - slack, Math.max(planes[cell]! + slack, at));
  };
  eachBrick(grid, (i, j, k) => {
    const x = inside(grid.xs, i, place[0]);
    const y = inside(grid.ys, j, place[1]);
    const z = inside(grid.zs, k, place[2]);
    const distance = Math.hypot(x - place[0], y - place[1], z - place[2]);
    if (distance < best) {
      best = distance;
      point = [x, y, z];
    }
  });
  return point;
};
