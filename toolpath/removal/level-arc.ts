import type { Point } from '../../sketch/shape/point.ts';
import type { Knife } from './bite.ts';
import type { CellBox, HeightMap } from './height-map.ts';

/** A place of the tip: plan, and up height. */
export interface Tip {
  readonly x: number;
  readonly y: number;
  readonly u: number;
}

/** A flat end's way along an arc at one height. mm, radians. */
export interface LevelArc {
  readonly centre: Point;
  readonly r: number;
  readonly sweep: number;
  readonly from: Tip;
  readonly to: Tip;
  /** Of the cutter. */
  readonly radius: number;
}

const TURN = 2 * Math.PI;

/** Runs of a row, first and last column of each, and how many numbers of them count: a row has six at most. */
const runs = new Int32Array(12);

/** Adds the columns whose middles lie between two places of a row, mm from the map's first column; gives the new count. */
const addBetween = (count: number, left: number, right: number, cell: number, within: CellBox): number => {
  const i0 = Math.max(within.i0, Math.ceil(left / cell - 0.5));
  const i1 = Math.min(within.i1, Math.floor(right / cell - 0.5));
  if (i0 > i1) return count;
  runs[count] = i0;
  runs[count + 1] = i1;
  return count + 2;
};

/** Adds what of the ring lies between two places of a row, told from the ring's middle; its right side comes second. */
const addRing = (
  count: number,
  left: number,
  right: number,
  half: number,
  gap: number,
  middle: number,
  cell: number,
  within: CellBox,
): number => {
  const low = Math.max(left, -half);
  const high = Math.min(right, half);
  if (gap === 0) return low <= high ? addBetween(count, middle + low, middle + high, cell, within) : count;
  const before = Math.min(high, -gap);
  const behind = Math.max(low, gap);
  const one = low <= before ? addBetween(count, middle + low, middle + before, cell, within) : count;
  return behind <= high ? addBetween(one, middle + behind, middle + high, cell, within) : one;
};

/** Puts runs in order and overlapping ones together, so that no cell is met twice; gives the new count. */
const merged = (count: number): number => {
  for (let k = 2; k < count; k += 2) {
    const first = runs[k]!;
    const last = runs[k + 1]!;
    let at = k;
    for (; at > 0 && runs[at - 2]! > first; at -= 2) {
      runs[at] = runs[at - 2]!;
      runs[at + 1] = runs[at - 1]!;
    }
    runs[at] = first;
    runs[at + 1] = last;
  }
  let end = 0;
  for (let k = 2; k < count; k += 2) {
    if (runs[k]! <= runs[end + 1]!) runs[end + 1] = Math.max(runs[end + 1]!, runs[k + 1]!);
    else {
      end += 2;
      runs[end] = runs[k]!;
      runs[end + 1] = runs[k + 1]!;
    }
  }
  return Math.min(count, end + 2);
};

/**
 * Cuts what a flat end covers on a level arc: a sector of a ring and a disc at either end. Each row meets the ring in
 * two runs at most, and the sector cuts these by two straight edges, so that no cell is looked at by itself. `begun`:
 * what the cutter covers at the start is cut already.
 */
export const sweepLevelArc = (
  map: HeightMap,
  within: CellBox,
  knife: Knife,
  arc: LevelArc,
  begun: boolean,
): void => {
  const { cell, columns, x0, y0 } = map;
  const { centre, r, sweep, from, to, radius } = arc;
  const box = arcBox(centre, r, from, sweep);
  const radius2 = radius * radius;
  const outer2 = (r + radius) ** 2;
  const inner2 = Math.max(0, r - radius) ** 2;
  const whole = Math.abs(sweep) >= TURN - 1e-9;
  const wide = Math.abs(sweep) > Math.PI;
  // Directions of the sector's edges, anticlockwise from the first to the second.
  const s = sweep > 0 ? from : to;
  const e = sweep > 0 ? to : from;
  const sx = s.x - centre.x;
  const sy = s.y - centre.y;
  const ex = e.x - centre.x;
  const ey = e.y - centre.y;
  const height = Math.min(from.u, to.u);
  const middle = centre.x - x0;
  const first = Math.max(within.j0, Math.ceil((box.y0 - radius - y0) / cell - 0.5));
  const last = Math.min(within.j1, Math.floor((box.y1 + radius - y0) / cell - 0.5));
  for (let j = first; j <= last; j++) {
    const y = y0 + (j + 0.5) * cell;
    const dy = y - centre.y;
    let count = 0;
    const half2 = outer2 - dy * dy;
    if (half2 >= 0) {
      const half = Math.sqrt(half2);
      const gap = inner2 > dy * dy ? Math.sqrt(inner2 - dy * dy) : 0;
      // Left of the first edge: sx·dy − sy·dx ≥ 0. Right of the second: dx·ey − dy·ex ≥ 0.
      let a0 = -half;
      let a1 = half;
      let b0 = -half;
      let b1 = half;
      if (!whole) {
        if (sy > 0) a1 = (sx * dy) / sy;
        else if (sy < 0) a0 = (sx * dy) / sy;
        else if (sx * dy < 0) a1 = Number.NEGATIVE_INFINITY;
        if (ey > 0) b0 = (dy * ex) / ey;
        else if (ey < 0) b1 = (dy * ex) / ey;
        else if (dy * ex > 0) b1 = Number.NEGATIVE_INFINITY;
      }
      if (wide && !whole) {
        count = addRing(0, a0, a1, half, gap, middle, cell, within);
        count = addRing(count, b0, b1, half, gap, middle, cell, within);
      } else count = addRing(0, Math.max(a0, b0), Math.min(a1, b1), half, gap, middle, cell, within);
    }
    let skip0 = columns;
    let skip1 = columns;
    const da = radius2 - (y - from.y) * (y - from.y);
    const db = radius2 - (y - to.y) * (y - to.y);
    if (da >= 0) {
      const w = Math.sqrt(da);
      if (begun) {
        skip0 = Math.ceil((from.x - w - x0) / cell - 0.5);
        skip1 = Math.floor((from.x + w - x0) / cell - 0.5);
      } else count = addBetween(count, from.x - w - x0, from.x + w - x0, cell, within);
    }
    if (db >= 0 && !whole) {
      const w = Math.sqrt(db);
      count = addBetween(count, to.x - w - x0, to.x + w - x0, cell, within);
    }
    // The two sides of the ring alone are apart and in order.
    if (count > 2 && (wide || da >= 0 || db >= 0)) count = merged(count);
    const start = j * columns;
    for (let k = 0; k < count; k += 2) {
      const i0 = runs[k]!;
      const i1 = runs[k + 1]!;
      if (skip0 > i1 || skip1 < i0) knife.cutRun(start + i0, start + i1, height);
      else {
        if (i0 < skip0) knife.cutRun(start + i0, start + skip0 - 1, height);
        if (skip1 < i1) knife.cutRun(start + skip1 + 1, start + i1, height);
      }
    }
  }
};

/** The box round an arc's middle line. */
export const arcBox = (
  centre: { readonly x: number; readonly y: number },
  r: number,
  from: Tip,
  turn: number,
): { readonly x0: number; readonly x1: number; readonly y0: number; readonly y1: number } => {
  const start = Math.atan2(from.y - centre.y, from.x - centre.x);
  const low = Math.min(start, start + turn);
  const high = Math.max(start, start + turn);
  const angles = [low, high];
  for (let k = Math.ceil(low / (Math.PI / 2)); (k * Math.PI) / 2 <= high; k++) angles.push((k * Math.PI) / 2);
  const xs = angles.map((t) => centre.x + r * Math.cos(t));
  const ys = angles.map((t) => centre.y + r * Math.sin(t));
  return { x0: Math.min(...xs), x1: Math.max(...xs), y0: Math.min(...ys), y1: Math.max(...ys) };
};
