import type { BentWork } from './bent-work.ts';
import { eachBrick } from './elasticity/bricks.ts';
import type { Grid } from './elasticity/grid.ts';
import { shareAt } from './elasticity/nodes.ts';
import { cellHolding } from './elasticity/planes.ts';

/** From above as the work lies in its setup, or from the edge nearest to the person at the machine. */
export type View = 'above' | 'edge';

/** A corner of a facet in the plane of a view: where it lies at rest, how it moves there, and the size of its whole movement, mm. */
export interface Corner {
  readonly x: number;
  readonly y: number;
  readonly dx: number;
  readonly dy: number;
  readonly size: number;
}

/** What the side of a facet from one corner to the next is in the view: the rim of the work, a step in it, or nothing. */
export type FacetSide = 'rim' | 'step' | null;

/** One bare face of a brick that looks at the viewer: four corners round it. */
export interface Facet {
  readonly corners: readonly [Corner, Corner, Corner, Corner];
  readonly sides: readonly [FacetSide, FacetSide, FacetSide, FacetSide];
}

/** Corners of a brick round the face that is seen (corner order of `brick.ts`). */
const RINGS = {
  above: { front: [4, 5, 7, 6], back: [0, 1, 3, 2] },
  edge: { front: [0, 1, 5, 4], back: [2, 3, 7, 6] },
} as const;

/**
 * What is seen of the work in a view, in layers from the farthest to the nearest: drawn one over the other they hide what
 * lies behind, also when they are drawn bent. Program coordinates: from above X and Y, from the edge X and Z.
 */
export const bentFacets = (field: BentWork, view: View): readonly (readonly Facet[])[] => {
  const { grid, setup } = field;
  const { face } = setup.frame;
  const layers = new Map<number, Facet[]>();
  const toward = face === 'front' ? 1 : -1;
  const corner = cornerMaker(field, view);
  const shadow = view === 'edge' ? shadowOf(field) : null;
  eachBrick(grid, (i, j, k, corners) => {
    const hidden =
      shadow === null
        ? coveredAbove(grid, i, j, k, toward)
        : shadow[i * grid.nz + k] === 0 || shareAt(grid, i, j - toward, k) > 0;
    if (hidden) return;
    const ring = RINGS[view][face];
    const facet: Facet = {
      corners: [
        corner(i, j, k, ring[0], corners),
        corner(i, j, k, ring[1], corners),
        corner(i, j, k, ring[2], corners),
        corner(i, j, k, ring[3], corners),
      ],
      sides: shadow === null ? [null, null, null, null] : sidesOf(grid, shadow, i, j, k),
    };
    const depth = view === 'above' ? toward * k : -toward * j;
    const layer = layers.get(depth);
    if (layer) layer.push(facet);
    else layers.set(depth, [facet]);
  });
  return [...layers].sort(([a], [b]) => a - b).map(([, facets]) => facets);
};

const coveredAbove = (grid: Grid, i: number, j: number, k: number, toward: number): boolean => {
  const column = j * grid.nx + i;
  for (let up = k + toward; up >= grid.low[column]! && up < grid.high[column]!; up += toward) {
    if (shareAt(grid, i, j, up) > 0) return true;
  }
  return false;
};

const cornerMaker = ({ grid, movement, setup }: BentWork, view: View) => {
  const { face, zero } = setup.frame;
  const sense = face === 'front' ? 1 : -1;
  const { xs, ys, zs } = grid;
  return (i: number, j: number, k: number, n: number, corners: readonly number[]): Corner => {
    const node = 3 * corners[n]!;
    const [u, v, w] = [movement[node]!, movement[node + 1]!, movement[node + 2]!];
    const x = xs[i + (n & 1)]! - zero.x;
    const size = Math.hypot(u, v, w);
    return view === 'above'
      ? { x, y: sense * (ys[j + ((n >> 1) & 1)]! - zero.y), dx: u, dy: sense * v, size }
      : { x, y: sense * (zs[k + (n >> 2)]! - zero.z), dx: u, dy: sense * w, size };
  };
};

/**
 * Where anything stands in the view from the edge: (i, k) at i · nz + k. A brick that the stock's own silhouette fills by
 * less than half of its length is left out, so that an end is drawn at most half a brick too long or too short.
 */
const shadowOf = ({ grid, map }: BentWork): Uint8Array => {
  const { nx, nz, xs, zs } = grid;
  const shadow = new Uint8Array(nx * nz);
  const filled = new Float64Array(nx * nz);
  for (let c = 0; c < map.columns; c++) {
    const x = map.x0 + (c + 0.5) * map.cell;
    const i = cellHolding(xs, x);
    let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
    for (let n = c; n < map.top.length; n += map.columns) {
      if (map.top[n]! <= map.bottom[n]!) continue;
      low = Math.min(low, map.bottom[n]!);
      high = Math.max(high, map.top[n]!);
    }
    for (let k = 0; k < nz; k++) {
      const middle = (zs[k]! + zs[k + 1]!) / 2;
      if (x > xs[0]! && x < xs[nx]! && low < middle && middle < high) filled[i * nz + k]! += map.cell;
    }
  }
  eachBrick(grid, (i, _, k) => {
    if (filled[i * nz + k]! >= 0.5 * (xs[i + 1]! - xs[i]!)) shadow[i * nz + k] = 1;
  });
  return shadow;
};

/** Low, right, high and left side of a facet seen from the edge, in the order of its corners in the part. */
const sidesOf = (grid: Grid, shadow: Uint8Array, i: number, j: number, k: number): Facet['sides'] => {
  const stands = (a: number, c: number): boolean =>
    a >= 0 && c >= 0 && a < grid.nx && c < grid.nz && shadow[a * grid.nz + c] === 1;
  const level = (c: number): FacetSide =>
    !stands(i, c) ? 'rim' : shareAt(grid, i, j, c) === 0 ? 'step' : null;
  return [level(k - 1), stands(i + 1, k) ? null : 'rim', level(k + 1), stands(i - 1, k) ? null : 'rim'];
};

/** How far a place beyond the last brick is looked for, bricks. */
const REACH = 2;

/**
 * The movement of what is seen from above at a place of the part, in program coordinates: X and Y; nothing where no brick
 * is near.
 */
export const surfaceMovement = (
  field: BentWork,
): ((x: number, y: number) => { readonly dx: number; readonly dy: number }) => {
  const { grid, setup } = field;
  const { face } = setup.frame;
  const toward = face === 'front' ? 1 : -1;
  const faces = new Map<number, readonly [Corner, Corner, Corner, Corner]>();
  const corner = cornerMaker(field, 'above');
  const ring = RINGS.above[face];
  eachBrick(grid, (i, j, k, corners) => {
    if (coveredAbove(grid, i, j, k, toward)) return;
    const four = ring.map((n) => corner(i, j, k, n, corners)) as [Corner, Corner, Corner, Corner];
    faces.set(j * grid.nx + i, four);
  });
  return (x, y) => {
    const [i, j] = [cellHolding(grid.xs, x), cellHolding(grid.ys, y)];
    const found = nearestFace(grid, faces, i, j);
    if (found === undefined) return { dx: 0, dy: 0 };
    const share = (planes: Float64Array, cell: number, at: number): number =>
      Math.min(1, Math.max(0, (at - planes[cell]!) / (planes[cell + 1]! - planes[cell]!)));
    const [s, t] = [share(grid.xs, found.i, x), share(grid.ys, found.j, y)];
    const [a, b, c, d] = found.face;
    const mix = (axis: 'dx' | 'dy'): number =>
      (1 - t) * ((1 - s) * a[axis] + s * b[axis]) + t * ((1 - s) * d[axis] + s * c[axis]);
    return { dx: mix('dx'), dy: mix('dy') };
  };
};

const nearestFace = (
  grid: Grid,
  faces: ReadonlyMap<number, readonly [Corner, Corner, Corner, Corner]>,
  i: number,
  j: number,
) => {
  for (let ring = 0; ring <= REACH; ring++) {
    for (let dj = -ring; dj <= ring; dj++) {
      for (let di = -ring; di <= ring; di++) {
        if (Math.max(Math.abs(di), Math.abs(dj)) !== ring) continue;
        const [a, b] = [i + di, j + dj];
        const face = a >= 0 && a < grid.nx && b >= 0 ? faces.get(b * grid.nx + a) : undefined;
        if (face !== undefined) return { face, i: a, j: b };
      }
    }
  }
  return undefined;
};
