import type { Point } from '../../sketch/shape/point.ts';
import type { Knife } from './bite.ts';
import type { HeightMap } from './height-map.ts';

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

/** One row of cells as an arc is cut through it. Places in mm from the map's first column, runs in columns. */
interface Row {
  readonly map: HeightMap;
  readonly knife: Knife;
  readonly height: number;
  /** X of the arc's centre. */
  readonly middle: number;
  /** Index of the row's first cell. */
  start: number;
  /** Cells that are cut already. */
  skip0: number;
  skip1: number;
  /** The ring's outside and inside, from its middle. */
  half: number;
  gap: number;
}

const cutBetween = (row: Row, left: number, right: number): void => {
  const { cell, columns } = row.map;
  const i0 = Math.max(0, Math.ceil(left / cell - 0.5));
  const i1 = Math.min(columns - 1, Math.floor(right / cell - 0.5));
  if (i0 > i1) return;
  const { start, skip0, skip1, height } = row;
  if (skip0 > i1 || skip1 < i0) row.knife.cutRun(start + i0, start + i1, height);
  else {
    if (i0 < skip0) row.knife.cutRun(start + i0, start + skip0 - 1, height);
    if (skip1 < i1) row.knife.cutRun(start + skip1 + 1, start + i1, height);
  }
};

/** What of the ring lies between two places of the row, told from its middle. */
const cutRing = (row: Row, left: number, right: number): void => {
  const { half, gap, middle } = row;
  const low = Math.max(left, -half);
  const high = Math.min(right, half);
  if (gap === 0) {
    if (low <= high) cutBetween(row, middle + low, middle + high);
    return;
  }
  const before = Math.min(high, -gap);
  const behind = Math.max(low, gap);
  if (low <= before) cutBetween(row, middle + low, middle + before);
  if (behind <= high) cutBetween(row, middle + behind, middle + high);
};

/**
 * Cuts what a flat end covers on a level arc: a sector of a ring and a disc at either end. Each row meets the ring in
 * two runs at most, and the sector cuts these by two straight edges, so that no cell is looked at by itself. `begun`:
 * what the cutter covers at the start is cut already.
 */
export const sweepLevelArc = (map: HeightMap, knife: Knife, arc: LevelArc, begun: boolean): void => {
  const { cell, columns, rows, x0, y0 } = map;
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
  const row: Row = {
    map,
    knife,
    height,
    middle: centre.x - x0,
    start: 0,
    skip0: columns,
    skip1: columns,
    half: 0,
    gap: 0,
  };
  const first = Math.max(0, Math.ceil((box.y0 - radius - y0) / cell - 0.5));
  const last = Math.min(rows - 1, Math.floor((box.y1 + radius - y0) / cell - 0.5));
  for (let j = first; j <= last; j++) {
    const y = y0 + (j + 0.5) * cell;
    const dy = y - centre.y;
    row.start = j * columns;
    const half2 = outer2 - dy * dy;
    if (half2 >= 0) {
      row.half = Math.sqrt(half2);
      row.gap = inner2 > dy * dy ? Math.sqrt(inner2 - dy * dy) : 0;
    }
    row.skip0 = columns;
    row.skip1 = columns;
    const da = radius2 - (y - from.y) * (y - from.y);
    if (da >= 0) {
      const w = Math.sqrt(da);
      if (begun) {
        row.skip0 = Math.ceil((from.x - w - x0) / cell - 0.5);
        row.skip1 = Math.floor((from.x + w - x0) / cell - 0.5);
      } else cutBetween(row, from.x - w - x0, from.x + w - x0);
    }
    const db = radius2 - (y - to.y) * (y - to.y);
    if (db >= 0 && !whole) cutBetween(row, to.x - Math.sqrt(db) - x0, to.x + Math.sqrt(db) - x0);
    if (half2 < 0) continue;
    if (whole) {
      cutRing(row, -row.half, row.half);
      continue;
    }
    // Left of the first edge: sx·dy − sy·dx ≥ 0. Right of the second: dx·ey − dy·ex ≥ 0.
    let a0 = -row.half;
    let a1 = row.half;
    if (sy > 0) a1 = (sx * dy) / sy;
    else if (sy < 0) a0 = (sx * dy) / sy;
    else if (sx * dy < 0) a1 = Number.NEGATIVE_INFINITY;
    let b0 = -row.half;
    let b1 = row.half;
    if (ey > 0) b0 = (dy * ex) / ey;
    else if (ey < 0) b1 = (dy * ex) / ey;
    else if (dy * ex > 0) b1 = Number.NEGATIVE_INFINITY;
    if (wide) {
      cutRing(row, a0, a1);
      cutRing(row, b0, b1);
    } else cutRing(row, Math.max(a0, b0), Math.min(a1, b1));
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
