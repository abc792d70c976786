import type { Point3 } from '../../sketch/shape/point.ts';
import { type Cutter, pointHeight } from '../machine/cutter.ts';
import type { Frame } from '../route/frame.ts';
import { type Bite, Knife, type Stamp } from './bite.ts';
import type { CellBox, HeightMap } from './height-map.ts';
import { arcBox, sweepLevelArc, type Tip } from './level-arc.ts';
import { type Stroke, strokeInPart } from './stroke.ts';

export interface SweepTerms {
  readonly stamp?: Stamp;
  /** Taken off the cutter's radius and under its tip, mm: for asking whether a rapid more than rubs. */
  readonly spare?: { readonly radius: number; readonly tip: number };
  /**
   * The stroke before it ended where this one begins, and was swept through this map with the same cutter and nothing
   * spared: what a flat end covers there is cut already and need not be looked at again, nor is anything by a way
   * straight up.
   */
  readonly follows?: boolean;
  /** Only these cells are cut, as they would be, and told of; all of the map when left out. */
  readonly within?: CellBox;
}

type ToolSize = Pick<Cutter, 'kind' | 'diameter' | 'pointAngle'>;

/** The cutter as a turned body: a cone of height `cone` under a cylinder. Slope is height per mm of radius. */
interface Body {
  readonly radius: number;
  readonly slope: number;
}

/** Chord error when a pointed cutter's arc is swept as lines, mm. */
const CHORD = 0.001;

/**
 * Removes from the map what the cutter sweeps along one motion, and says what it took.
 *
 * A cell is cut when its middle lies in the swept plan area (the stadium of a line, the ring sector of an arc: exact),
 * down to the lowest height at which any place of the motion that covers the middle puts the cutter's end there:
 * exact on flat ends for lines, ramps, arcs and helices; exact on cones along lines; cones along arcs go by chords of
 * 0.001 mm. Motion in program coordinates; the frame says how they lie in the part's. The map is changed in place.
 */
export const sweep = (
  map: HeightMap,
  stroke: Stroke,
  cutter: ToolSize,
  frame: Frame,
  terms: SweepTerms = {},
): Bite => {
  const knife = new Knife(map, frame.face, terms.stamp);
  const s = strokeInPart(stroke, frame);
  const up = frame.face === 'front' ? 1 : -1;
  const spare = terms.spare ?? { radius: 0, tip: 0 };
  const cone = cutter.kind === 'endmill' ? 0 : pointHeight(cutter);
  const radius = cutter.diameter / 2 - spare.radius;
  const within = terms.within ?? { i0: 0, j0: 0, i1: map.columns - 1, j1: map.rows - 1 };
  if (!(radius > 0)) return knife.bite();
  if (terms.follows && s.kind !== 'arc' && isUpward(s.from, s.to, up)) return knife.bite();
  const body: Body = { radius, slope: cone / (cutter.diameter / 2) };
  const from = { x: s.from.x, y: s.from.y, u: up * s.from.z + spare.tip };
  const to = { x: s.to.x, y: s.to.y, u: up * s.to.z + spare.tip };
  // On the way down the same disc is cut deeper.
  const begun = terms.follows === true && body.slope === 0 && to.u >= from.u;
  if (s.kind !== 'arc' || s.centre === undefined || s.sweep === undefined) {
    sweepLine(map, within, knife, body, from, to, begun);
  } else if (body.slope === 0) {
    const r = Math.hypot(from.x - s.centre.x, from.y - s.centre.y);
    if (r < 1e-9) sweepLine(map, within, knife, body, from, to);
    else if (Math.abs(from.u - to.u) < 1e-9) {
      sweepLevelArc(map, within, knife, { centre: s.centre, r, sweep: s.sweep, from, to, radius }, begun);
    } else sweepArc(map, within, knife, radius, s.centre, from, to, s.sweep);
  } else {
    sweepChords(map, within, knife, body, s.centre, from, to, s.sweep);
  }
  return knife.bite();
};

const isUpward = (from: Point3, to: Point3, up: 1 | -1): boolean =>
  from.x === to.x && from.y === to.y && up * to.z >= up * from.z;

/** `begun`: what the cutter covers at the start is cut already. */
const sweepLine = (
  map: HeightMap,
  within: CellBox,
  knife: Knife,
  body: Body,
  a: Tip,
  b: Tip,
  begun = false,
): void => {
  const { cell, columns, x0, y0 } = map;
  const R = body.radius;
  const R2 = R * R;
  const L = Math.hypot(b.x - a.x, b.y - a.y);
  const upright = L < 1e-9;
  const ux = upright ? 1 : (b.x - a.x) / L;
  const uy = upright ? 0 : (b.y - a.y) / L;
  const level = body.slope === 0 && Math.abs(a.u - b.u) < 1e-9;
  const lowest = Math.min(a.u, b.u);
  const first = Math.max(within.j0, Math.ceil((Math.min(a.y, b.y) - R - y0) / cell - 0.5));
  const last = Math.min(within.j1, Math.floor((Math.max(a.y, b.y) + R - y0) / cell - 0.5));
  for (let j = first; j <= last; j++) {
    const y = y0 + (j + 0.5) * cell;
    // The stadium is convex, so a row meets it in one interval: the union of both discs' and the strip's.
    let left = Number.POSITIVE_INFINITY;
    let right = Number.NEGATIVE_INFINITY;
    const da = R2 - (y - a.y) * (y - a.y);
    if (da >= 0) {
      const w = Math.sqrt(da);
      left = a.x - w;
      right = a.x + w;
    }
    const db = R2 - (y - b.y) * (y - b.y);
    if (db >= 0) {
      const w = Math.sqrt(db);
      if (b.x - w < left) left = b.x - w;
      if (b.x + w > right) right = b.x + w;
    }
    if (!upright) {
      const dy = y - a.y;
      let low = Number.NEGATIVE_INFINITY;
      let high = Number.POSITIVE_INFINITY;
      if (Math.abs(ux) < 1e-12) {
        if (uy * dy < 0 || uy * dy > L) high = low;
      } else {
        const p = (-uy * dy) / ux;
        const q = (L - uy * dy) / ux;
        low = Math.min(p, q);
        high = Math.max(p, q);
      }
      if (Math.abs(uy) < 1e-12) {
        if (Math.abs(ux * dy) > R) high = Number.NEGATIVE_INFINITY;
      } else {
        const p = (ux * dy - R) / uy;
        const q = (ux * dy + R) / uy;
        low = Math.max(low, Math.min(p, q));
        high = Math.min(high, Math.max(p, q));
      }
      if (low <= high) {
        if (a.x + low < left) left = a.x + low;
        if (a.x + high > right) right = a.x + high;
      }
    }
    const i0 = Math.max(within.i0, Math.ceil((left - x0) / cell - 0.5));
    const i1 = Math.min(within.i1, Math.floor((right - x0) / cell - 0.5));
    const row = j * columns;
    // The cells of the row under the cutter at the start, where these are cut already.
    const covered = begun && da >= 0;
    const k0 = covered ? Math.ceil((a.x - Math.sqrt(da) - x0) / cell - 0.5) : i1 + 1;
    const k1 = covered ? Math.floor((a.x + Math.sqrt(da) - x0) / cell - 0.5) : i1;
    if (level) {
      knife.cutRun(row + i0, row + Math.min(i1, k0 - 1), lowest);
      if (k0 <= i1) knife.cutRun(row + Math.max(i0, k1 + 1), row + i1, lowest);
      continue;
    }
    for (let i = i0; i <= i1; i++) {
      if ((i >= k0 && i <= k1) || knife.clear(row + i, lowest)) continue;
      const dx = x0 + (i + 0.5) * cell - a.x;
      const along = ux * dx + uy * (y - a.y);
      const off2 = Math.max(0, dx * dx + (y - a.y) * (y - a.y) - along * along);
      knife.cut(row + i, lowestOver(body, a.u, b.u, upright ? 0 : L, along, off2));
    }
  }
};

/**
 * Lowest height of the cutter's end over a place at `along` and `√off2` from a line of length L, over the stretch of
 * the line that covers the place. For a cone, height over the line is convex in the position along it, so its least
 * value lies at the root of its slope or at the end of the stretch next to it.
 */
const lowestOver = (
  body: Body,
  uFrom: number,
  uTo: number,
  L: number,
  along: number,
  off2: number,
): number => {
  if (L === 0) return Math.min(uFrom, uTo) + body.slope * Math.sqrt(off2 + along * along);
  const w = Math.sqrt(Math.max(0, body.radius * body.radius - off2));
  const low = Math.max(0, along - w);
  const high = Math.min(L, along + w);
  const fall = (uTo - uFrom) / L;
  if (body.slope === 0) return uFrom + fall * (fall < 0 ? high : low);
  const k = body.slope;
  const root =
    Math.abs(fall) < k
      ? along - (fall * Math.sqrt(off2)) / Math.sqrt(k * k - fall * fall)
      : fall < 0
        ? high
        : low;
  const at = Math.min(high, Math.max(low, root));
  return uFrom + fall * at + k * Math.sqrt(off2 + (at - along) * (at - along));
};

const TURN = 2 * Math.PI;

/** A helix, cell by cell. */
const sweepArc = (
  map: HeightMap,
  within: CellBox,
  knife: Knife,
  R: number,
  centre: { readonly x: number; readonly y: number },
  a: Tip,
  b: Tip,
  turn: number,
): void => {
  const { cell, columns, x0, y0 } = map;
  const r = Math.hypot(a.x - centre.x, a.y - centre.y);
  const box = arcBox(centre, r, a, turn);
  const length = Math.abs(turn);
  // Measure the turn from the lower end, so that the first place to cover a cell is the lowest to do so.
  const endLow = b.u <= a.u;
  const start = Math.atan2(a.y - centre.y, a.x - centre.x);
  const lowAngle = endLow ? start + turn : start;
  const away = (endLow ? -1 : 1) * Math.sign(turn);
  const lowest = Math.min(a.u, b.u);
  const climb = length === 0 ? 0 : Math.abs(a.u - b.u) / length;
  const outer2 = (r + R) * (r + R);
  const inner = Math.max(0, r - R);
  const first = Math.max(within.j0, Math.ceil((box.y0 - R - y0) / cell - 0.5));
  const last = Math.min(within.j1, Math.floor((box.y1 + R - y0) / cell - 0.5));
  for (let j = first; j <= last; j++) {
    const dy = y0 + (j + 0.5) * cell - centre.y;
    const half2 = outer2 - dy * dy;
    if (half2 < 0) continue;
    const half = Math.sqrt(half2);
    const left = Math.max(centre.x - half, box.x0 - R);
    const right = Math.min(centre.x + half, box.x1 + R);
    const i0 = Math.max(within.i0, Math.ceil((left - x0) / cell - 0.5));
    const i1 = Math.min(within.i1, Math.floor((right - x0) / cell - 0.5));
    const row = j * columns;
    for (let i = i0; i <= i1; i++) {
      if (knife.clear(row + i, lowest)) continue;
      const dx = x0 + (i + 0.5) * cell - centre.x;
      const p = Math.sqrt(dx * dx + dy * dy);
      if (p < inner) continue;
      // The disc covers the cell while the centre line's angle is within `reach` of the cell's.
      const q = p === 0 ? (r <= R ? -1 : 2) : (p * p + r * r - R * R) / (2 * p * r);
      if (q > 1) continue;
      const reach = q <= -1 ? Math.PI : Math.acos(q);
      let angle = (away * (Math.atan2(dy, dx) - lowAngle)) % TURN;
      if (angle < 0) angle += TURN;
      const travel = angle <= reach || angle + reach >= TURN ? 0 : angle - reach;
      if (travel <= length) knife.cut(row + i, lowest + climb * travel);
    }
  }
};

const sweepChords = (
  map: HeightMap,
  within: CellBox,
  knife: Knife,
  body: Body,
  centre: { readonly x: number; readonly y: number },
  a: Tip,
  b: Tip,
  turn: number,
): void => {
  const r = Math.hypot(a.x - centre.x, a.y - centre.y);
  const start = Math.atan2(a.y - centre.y, a.x - centre.x);
  const step = r <= CHORD ? Math.PI : 2 * Math.acos(1 - CHORD / r);
  const count = Math.max(1, Math.ceil(Math.abs(turn) / step));
  let last = a;
  for (let k = 1; k <= count; k++) {
    const t = k / count;
    const angle = start + turn * t;
    const next =
      k === count
        ? b
        : { x: centre.x + r * Math.cos(angle), y: centre.y + r * Math.sin(angle), u: a.u + (b.u - a.u) * t };
    sweepLine(map, within, knife, body, last, next);
    last = next;
  }
};
