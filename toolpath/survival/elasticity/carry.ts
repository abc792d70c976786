import type { Grid } from './grid.ts';
import { shareAt } from './nodes.ts';
import { cellHolding } from './planes.ts';

/**
 * A movement of one grid at the nodes of another, to start the next pass's solve from the last one's: trilinear where
 * the old grid has a brick, 0 where it has none. Over the same planes nothing is rounded.
 */
export const carryMovement = (from: Grid, movement: Float64Array, to: Grid): Float64Array => {
  const carried = new Float64Array(3 * to.nodes);
  const xs = placesAmong(from.xs, to.xs);
  const ys = placesAmong(from.ys, to.ys);
  const zs = placesAmong(from.zs, to.zs);
  for (let v = 0; v < to.nodeBase.length; v++) {
    const x = xs[v % (to.nx + 1)]!;
    const y = ys[Math.floor(v / (to.nx + 1))]!;
    for (let k = to.nodeLow[v]!; k <= to.nodeHigh[v]!; k++) {
      const brick = firstSolid(from, x, y, zs[k]!);
      if (brick === undefined) continue;
      const node = 3 * (to.nodeBase[v]! + k - to.nodeLow[v]!);
      for (let n = 0; n < 8; n++) {
        const weight = brick.reduce(
          (product, { at }, axis) => product * (((n >> axis) & 1) === 1 ? at : 1 - at),
          1,
        );
        if (weight === 0) continue;
        const stack = (brick[1]!.cell + ((n >> 1) & 1)) * (from.nx + 1) + brick[0]!.cell + (n & 1);
        const old = 3 * (from.nodeBase[stack]! + brick[2]!.cell + (n >> 2) - from.nodeLow[stack]!);
        for (let a = 0; a < 3; a++) carried[node + a]! += weight * movement[old + a]!;
      }
    }
  }
  return carried;
};

/** A cell of the old grid along one axis and where in it a plane lies, 0 to 1. */
interface Place {
  readonly cell: number;
  readonly at: number;
}

/** How near to an old plane a new one counts as lying on it, as a share of the cell. */
const ON_PLANE = 1e-6;

/** For each new plane, the old cells that it lies in: two where it lies on an old plane, none outside. */
const placesAmong = (old: Float64Array, planes: Float64Array): Place[][] =>
  Array.from(planes, (plane) => {
    const cell = cellHolding(old, plane);
    const at = (plane - old[cell]!) / (old[cell + 1]! - old[cell]!);
    if (at < -ON_PLANE || at > 1 + ON_PLANE) return [];
    if (at < ON_PLANE)
      return cell > 0
        ? [
            { cell, at: 0 },
            { cell: cell - 1, at: 1 },
          ]
        : [{ cell, at: 0 }];
    if (at > 1 - ON_PLANE)
      return cell < old.length - 2
        ? [
            { cell, at: 1 },
            { cell: cell + 1, at: 0 },
          ]
        : [{ cell, at: 1 }];
    return [{ cell, at }];
  });

const firstSolid = (
  grid: Grid,
  xs: readonly Place[],
  ys: readonly Place[],
  zs: readonly Place[],
): readonly [Place, Place, Place] | undefined => {
  for (const x of xs) {
    for (const y of ys) {
      for (const z of zs) if (shareAt(grid, x.cell, y.cell, z.cell) > 0) return [x, y, z];
    }
  }
  return undefined;
};
