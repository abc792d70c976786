import { eachBrick } from './bricks.ts';
import type { Grid } from './grid.ts';

/** A box in space, mm; a side that is left out is open. */
export interface Space {
  readonly x0?: number;
  readonly x1?: number;
  readonly y0?: number;
  readonly y1?: number;
  readonly z0?: number;
  readonly z1?: number;
}

export type Side = '-x' | '+x' | '-y' | '+y' | '-z' | '+z';

/** Corners of a brick on each of its sides, and the step to the brick beyond. */
const SIDES: Readonly<
  Record<Side, { readonly corners: readonly number[]; readonly step: readonly number[] }>
> = {
  '-x': { corners: [0, 2, 4, 6], step: [-1, 0, 0] },
  '+x': { corners: [1, 3, 5, 7], step: [1, 0, 0] },
  '-y': { corners: [0, 1, 4, 5], step: [0, -1, 0] },
  '+y': { corners: [2, 3, 6, 7], step: [0, 1, 0] },
  '-z': { corners: [0, 1, 2, 3], step: [0, 0, -1] },
  '+z': { corners: [4, 5, 6, 7], step: [0, 0, 1] },
};

/** A node on a plane counts as inside a box that ends there, mm. */
const TOUCH = 1e-6;

/** Fill share of the brick at (i, j, k), 0 where there is none. */
export const shareAt = (grid: Grid, i: number, j: number, k: number): number => {
  if (i < 0 || j < 0 || i >= grid.nx || j >= grid.ny) return 0;
  const c = j * grid.nx + i;
  return k < grid.low[c]! || k >= grid.high[c]! ? 0 : grid.share[grid.offset[c]! + k - grid.low[c]!]!;
};

/** Visits the bare faces that look to one side and lie in a box: the corners used, the brick's eight nodes and the area, mm². */
export const eachFacing = (
  grid: Grid,
  side: Side,
  space: Space,
  visit: (facing: readonly number[], corners: readonly number[], area: number) => void,
): void => {
  const { corners: facing, step } = SIDES[side];
  eachBrick(grid, (i, j, k, corners) => {
    if (shareAt(grid, i + step[0]!, j + step[1]!, k + step[2]!) > 0) return;
    const inside = facing.filter((n) =>
      isInside(space, grid.xs[i + (n & 1)]!, grid.ys[j + ((n >> 1) & 1)]!, grid.zs[k + (n >> 2)]!),
    );
    if (inside.length === 0) return;
    const dx = step[0] === 0 ? grid.xs[i + 1]! - grid.xs[i]! : 1;
    const dy = step[1] === 0 ? grid.ys[j + 1]! - grid.ys[j]! : 1;
    const dz = step[2] === 0 ? grid.zs[k + 1]! - grid.zs[k]! : 1;
    visit(inside, corners, dx * dy * dz);
  });
};

/**
 * Nodes of all bare brick faces that look to one side and lie in a box: what a jaw (±y), a stop (±x) or parallels (−z
 * with the front up, +z with the back up) can touch. Sorted, each once.
 */
export const nodesFacing = (grid: Grid, side: Side, space: Space = {}): Int32Array => {
  const found = new Set<number>();
  eachFacing(grid, side, space, (facing, corners) => {
    for (const n of facing) found.add(corners[n]!);
  });
  return Int32Array.from(found).sort();
};

/** All nodes of solid bricks in a box. Sorted, each once. */
export const nodesInside = (grid: Grid, space: Space): Int32Array => {
  const found = new Set<number>();
  eachBrick(grid, (i, j, k, corners) => {
    for (let n = 0; n < 8; n++) {
      const inside = isInside(
        space,
        grid.xs[i + (n & 1)]!,
        grid.ys[j + ((n >> 1) & 1)]!,
        grid.zs[k + (n >> 2)]!,
      );
      if (inside) found.add(corners[n]!);
    }
  });
  return Int32Array.from(found).sort();
};

const isInside = (space: Space, x: number, y: number, z: number): boolean =>
  x >= (space.x0 ?? Number.NEGATIVE_INFINITY) - TOUCH &&
  x <= (space.x1 ?? Number.POSITIVE_INFINITY) + TOUCH &&
  y >= (space.y0 ?? Number.NEGATIVE_INFINITY) - TOUCH &&
  y <= (space.y1 ?? Number.POSITIVE_INFINITY) + TOUCH &&
  z >= (space.z0 ?? Number.NEGATIVE_INFINITY) - TOUCH &&
  z <= (space.z1 ?? Number.POSITIVE_INFINITY) + TOUCH;
