import type { HeightMap } from '../../removal/height-map.ts';
import { type Box, levelFaces, type Window, wallFaces, windowOf } from './faces.ts';
import { type Face, planesThrough } from './planes.ts';

/**
 * What is left of the bar as rectangular bricks between three sets of planes (mm).
 *
 * The bricks over one (i, j) fill the layers `low[c]` to `high[c]` − 1, c = j · nx + i, and their fill shares lie from
 * `share[offset[c]]` upwards. Node (i, j, k) exists from `nodeLow[v]` to `nodeHigh[v]`, v = j · (nx + 1) + i, and has
 * the number `nodeBase[v]` + k − `nodeLow[v]`; its unknowns are 3 · number + axis.
 */
export interface Grid {
  readonly xs: Float64Array;
  readonly ys: Float64Array;
  readonly zs: Float64Array;
  readonly nx: number;
  readonly ny: number;
  readonly nz: number;
  readonly low: Int32Array;
  readonly high: Int32Array;
  readonly offset: Int32Array;
  readonly share: Float64Array;
  /** What part of a full brick's stiffness each one has. */
  readonly stiffness: Float64Array;
  readonly nodeLow: Int32Array;
  readonly nodeHigh: Int32Array;
  readonly nodeBase: Int32Array;
  readonly nodes: number;
  readonly bricks: number;
}

export interface GridWishes {
  /** Only this part of the map. */
  readonly box?: Box;
  /** Size of a brick along and across the bar, mm. */
  readonly cell?: number;
  /** Greatest thickness of a layer, mm. */
  readonly layer?: number;
  /** Coordinates that must have a plane of their own: the upper edge and the ends of the jaws, above all. */
  readonly through?: {
    readonly xs?: readonly number[];
    readonly ys?: readonly number[];
    readonly zs?: readonly number[];
  };
  /** Planes to use in place of those found in the map, to keep one grid from pass to pass; they must span the material. */
  readonly planes?: { readonly xs: Float64Array; readonly ys: Float64Array; readonly zs: Float64Array };
}

/** Default brick, mm: see `gridOf`. */
export const DEFAULT_CELL = 1;
/** A larger bar gets coarser bricks, so that its volume makes about this many at most. */
export const MOST_BRICKS = 40_000;
/**
 * A partly filled brick reaches further out than its material, which counts when an edge bends edgewise; so its
 * stiffness falls faster than its share. With 1.3 an arm whose walls lie anywhere between the planes comes out right on
 * average at four bricks or more across (tests); 1 would make an arm of 4 mm 11 % too stiff edgewise.
 */
const SHARE_POWER = 1.3;

const stiffnessOfShare = (share: number): number => share ** SHARE_POWER;

/** A brick that is filled by less than this share is left out. */
const LEAST_SHARE = 0.04;

/** The cell for a volume of material: the default unless that would make too many bricks. */
export const chooseBrick = (volume: number): number =>
  Math.max(DEFAULT_CELL, Math.cbrt(volume / MOST_BRICKS));

/**
 * Bricks from a two-sided height map; undefined when the box holds no material.
 *
 * Planes are laid through every level floor and top and every wall square to x or y that is long enough to matter, and
 * evenly between them, so a body of 2.5 mm in the middle of a 9 mm bar is exactly three layers of 0.83 mm with three
 * of 1.08 mm above and below, and a tine of 2.1 mm along the bar is two bricks of 1.05 mm. One layer already bends as a
 * beam does (`brick.ts`). What lies across the planes (round ends, slanting arms, holes) keeps its whole brick at the
 * mass of its fill share and at the stiffness of share^1.3. Measured on bars bent edgewise whose walls lie anywhere
 * between the planes: movement within 7 % at four bricks across or more, −27 to +3 % at two; where planes lie on the
 * walls there is no such error. Two faces closer than 0.3 of a cell share one plane, unless
 * what lies between them is thinner than a layer: a skin of 0.05 mm or more has a layer of its own.
 */
export const gridOf = (map: HeightMap, wishes: GridWishes = {}): Grid | undefined => {
  const window = windowOf(map, wishes.box);
  if (window === undefined) return undefined;
  const cell = wishes.cell ?? DEFAULT_CELL;
  const layer = wishes.layer ?? cell;
  if (!(cell > 0) || !(layer > 0)) throw new RangeError('the bricks of a grid must have a positive size');
  const { xs, ys, zs } = wishes.planes ?? planesOf(map, window, cell, layer, wishes.through);
  return gridFrom(xs, ys, zs, columnsOf(map, window, xs, ys, zs));
};

const planesOf = (
  map: HeightMap,
  window: Window,
  cell: number,
  layer: number,
  through: GridWishes['through'] = {},
) => {
  const first = (wanted: readonly number[] | undefined, faces: readonly Face[]): Face[] => [
    ...(wanted ?? []).map((at) => ({ at, weight: Number.POSITIVE_INFINITY, thin: true })),
    ...faces,
  ];
  let bottom = Number.POSITIVE_INFINITY;
  let top = Number.NEGATIVE_INFINITY;
  for (let r = window.r0; r < window.r1; r++) {
    for (let c = window.c0; c < window.c1; c++) {
      const i = r * map.columns + c;
      if (!(map.top[i]! > map.bottom[i]!)) continue;
      bottom = Math.min(bottom, map.bottom[i]!);
      top = Math.max(top, map.top[i]!);
    }
  }
  const x = (column: number): number => map.x0 + column * map.cell;
  const y = (row: number): number => map.y0 + row * map.cell;
  return {
    xs: planesThrough(
      first(through.xs, wallFaces(map, window, 'x', 3 * cell)),
      x(window.c0),
      x(window.c1),
      cell,
    ),
    ys: planesThrough(
      first(through.ys, wallFaces(map, window, 'y', 3 * cell)),
      y(window.r0),
      y(window.r1),
      cell,
    ),
    zs: planesThrough(first(through.zs, levelFaces(map, window, 4 * cell * cell, layer)), bottom, top, layer),
  };
};

/** Fill shares of all bricks of the box, layer fastest: the share of each brick that the map's columns fill. */
const columnsOf = (
  map: HeightMap,
  window: Window,
  xs: Float64Array,
  ys: Float64Array,
  zs: Float64Array,
): Float64Array => {
  const [nx, ny, nz] = [xs.length - 1, ys.length - 1, zs.length - 1];
  const shares = new Float64Array(nx * ny * nz);
  const alongX = overlaps(xs, map.x0, map.cell, window.c0, window.c1);
  const alongY = overlaps(ys, map.y0, map.cell, window.r0, window.r1);
  for (const { index: r, cell: j, share: inY } of alongY) {
    for (const { index: c, cell: i, share: inX } of alongX) {
      const at = r * map.columns + c;
      const top = map.top[at]!;
      const bottom = map.bottom[at]!;
      if (!(top > bottom)) continue;
      const column = (j * nx + i) * nz;
      for (let k = 0; k < nz; k++) {
        const filled = Math.min(top, zs[k + 1]!) - Math.max(bottom, zs[k]!);
        if (filled > 0) shares[column + k]! += (inX * inY * filled) / (zs[k + 1]! - zs[k]!);
      }
    }
  }
  return shares;
};

/** Which map cells overlap which cells between planes, and what share of the latter each one covers. */
const overlaps = (planes: Float64Array, origin: number, size: number, from: number, to: number) => {
  const found: { readonly index: number; readonly cell: number; readonly share: number }[] = [];
  let cell = 0;
  for (let index = from; index < to; index++) {
    const start = origin + index * size;
    const end = start + size;
    while (cell < planes.length - 2 && planes[cell + 1]! <= start) cell++;
    for (let k = cell; k < planes.length - 1 && planes[k]! < end; k++) {
      const shared = Math.min(end, planes[k + 1]!) - Math.max(start, planes[k]!);
      if (shared > 1e-9) found.push({ index, cell: k, share: shared / (planes[k + 1]! - planes[k]!) });
    }
  }
  return found;
};

/**
 * The grid of the bricks whose shares (0 to 1, (j · nx + i) · nz + k) are not next to nothing. Throws a RangeError
 * when the planes do not rise or the shares do not fit them.
 */
export const gridFrom = (
  xs: Float64Array,
  ys: Float64Array,
  zs: Float64Array,
  shares: Float64Array,
): Grid => {
  const [nx, ny, nz] = [xs.length - 1, ys.length - 1, zs.length - 1];
  for (const planes of [xs, ys, zs]) {
    if (planes.length < 2 || planes.some((at, i) => i > 0 && !(at > planes[i - 1]!))) {
      throw new RangeError('the planes of a grid must rise');
    }
  }
  if (shares.length !== nx * ny * nz) throw new RangeError('a grid needs one share for each brick');
  const low = new Int32Array(nx * ny);
  const high = new Int32Array(nx * ny);
  const offset = new Int32Array(nx * ny);
  const kept: number[] = [];
  let bricks = 0;
  for (let c = 0; c < nx * ny; c++) {
    let first = 0;
    while (first < nz && shares[c * nz + first]! < LEAST_SHARE) first++;
    let last = nz;
    while (last > first && shares[c * nz + last - 1]! < LEAST_SHARE) last--;
    low[c] = first;
    high[c] = last;
    offset[c] = kept.length;
    for (let k = first; k < last; k++) {
      const share = shares[c * nz + k]!;
      const solid = share >= LEAST_SHARE;
      if (solid) bricks++;
      kept.push(solid ? Math.min(1, share) : 0);
    }
  }
  return {
    xs,
    ys,
    zs,
    nx,
    ny,
    nz,
    low,
    high,
    offset,
    bricks,
    ...nodesOf(nx, ny, low, high),
    share: Float64Array.from(kept),
    stiffness: Float64Array.from(kept, stiffnessOfShare),
  };
};

const nodesOf = (nx: number, ny: number, low: Int32Array, high: Int32Array) => {
  const stacks = (nx + 1) * (ny + 1);
  const nodeLow = new Int32Array(stacks).fill(1);
  const nodeHigh = new Int32Array(stacks);
  const seen = new Uint8Array(stacks);
  for (let j = 0; j < ny; j++) {
    for (let i = 0; i < nx; i++) {
      const c = j * nx + i;
      if (low[c]! >= high[c]!) continue;
      const v = j * (nx + 1) + i;
      for (const s of [v, v + 1, v + nx + 1, v + nx + 2]) {
        nodeLow[s] = seen[s] === 1 ? Math.min(nodeLow[s]!, low[c]!) : low[c]!;
        nodeHigh[s] = seen[s] === 1 ? Math.max(nodeHigh[s]!, high[c]!) : high[c]!;
        seen[s] = 1;
      }
    }
  }
  const nodeBase = new Int32Array(stacks);
  let nodes = 0;
  for (let s = 0; s < stacks; s++) {
    nodeBase[s] = nodes;
    if (seen[s] === 1) nodes += nodeHigh[s]! - nodeLow[s]! + 1;
    else nodeHigh[s] = 0;
  }
  return { nodeLow, nodeHigh, nodeBase, nodes };
};
