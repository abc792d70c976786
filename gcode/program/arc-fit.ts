import type { Point } from '../../sketch/shape/point.ts';
import { countOf, type Grid } from './grid.ts';

/**
 * How far the distances from the written centre to the two written ends of an arc may differ: half of what NISTIR 6556
 * section 3.5.3.2 allows (0.002 mm, 0.0002 inch), so that a controller that reckons a little differently agrees.
 */
const halfTolerance = (grid: Grid): number => (grid.unit === 'inch' ? 0.0001 * 25.4 : 0.001);

/** A place in counts of the grid. */
export interface Counts {
  readonly x: number;
  readonly y: number;
  readonly z: number;
}

/** An arc as it was planned: mm and radians, with the heights of its ends. */
export interface PlannedArc {
  readonly centre: Point;
  readonly radius: number;
  /** Direction from the centre to the start, radians. */
  readonly start: number;
  readonly sweep: number;
  readonly fromZ: number;
  readonly toZ: number;
  /** The end as planned; the start is where the program has come to. */
  readonly to: Point;
}

/** A piece of an arc as it is written: by its centre's offset from its start, or as a straight line. */
export type Piece =
  | { readonly kind: 'line'; readonly to: Counts }
  | {
      readonly kind: 'arc';
      readonly to: Counts;
      readonly i: number;
      readonly j: number;
      readonly clockwise: boolean;
    };

const FULL = 2 * Math.PI;
/** Halving an arc this often leaves nothing but lines, whatever its size. */
const DEEPEST = 24;
/** The written arc may leave the planned one by this many counts between its ends. */
const STRAY = 1.5;

export const placeOn = (arc: PlannedArc, share: number): Point => {
  if (share >= 1) return arc.to;
  const angle = arc.start + arc.sweep * share;
  return {
    x: arc.centre.x + arc.radius * Math.cos(angle),
    y: arc.centre.y + arc.radius * Math.sin(angle),
  };
};

const heightOn = (arc: PlannedArc, share: number): number => arc.fromZ + (arc.toZ - arc.fromZ) * share;

const isFull = (arc: PlannedArc): boolean => Math.abs(arc.sweep) > FULL - 1e-9;

const halves = (arc: PlannedArc): readonly [PlannedArc, PlannedArc] => {
  const middle = heightOn(arc, 0.5);
  const sweep = arc.sweep / 2;
  return [
    { ...arc, sweep, toZ: middle, to: placeOn(arc, 0.5) },
    { ...arc, sweep, start: arc.start + sweep, fromZ: middle },
  ];
};

/** Distance between an arc and its chord, mm. */
const rise = (arc: PlannedArc): number =>
  Math.abs(arc.sweep) > Math.PI ? arc.radius : arc.radius * (1 - Math.cos(arc.sweep / 2));

/**
 * An arc as pieces whose written centre and ends agree within half the standard's tolerance, and which stay within a
 * count and a half of the planned arc. Most arcs are one piece; one that rounding would spoil is halved, and what is
 * flatter than half a count is a line.
 */
export const fitArc = (
  grid: Grid,
  from: Counts,
  arc: PlannedArc,
  fullCircles: boolean,
  depth = 0,
): Piece[] => {
  const z = countOf(grid, arc.toZ);
  const full = isFull(arc);
  const to = full
    ? { x: from.x, y: from.y, z }
    : { x: countOf(grid, arc.to.x), y: countOf(grid, arc.to.y), z };
  if (rise(arc) < grid.step / 2 || depth >= DEEPEST) {
    return to.x === from.x && to.y === from.y && to.z === from.z ? [] : [{ kind: 'line', to }];
  }
  const piece = full && !fullCircles ? null : onePiece(grid, from, to, arc, full);
  if (piece !== null) return [piece];
  const [one, two] = halves(arc);
  const before = fitArc(grid, from, one, fullCircles, depth + 1);
  const middle = before.length > 0 ? before[before.length - 1]!.to : from;
  return [...before, ...fitArc(grid, middle, two, fullCircles, depth + 1)];
};

/** The arc in one block, or null when no centre on the grid suits it. */
const onePiece = (grid: Grid, from: Counts, to: Counts, arc: PlannedArc, full: boolean): Piece | null => {
  if (!full && to.x === from.x && to.y === from.y) return null;
  const clockwise = arc.sweep < 0;
  const wanted = idealOffset(grid, from, to, arc, full);
  const most = halfTolerance(grid) / grid.step;
  let best: { i: number; j: number; cost: number } | null = null;
  for (let a = -2; a <= 2; a++) {
    for (let b = -2; b <= 2; b++) {
      const i = Math.round(wanted.x) + a;
      const j = Math.round(wanted.y) + b;
      const start = Math.hypot(i, j);
      const mismatch = Math.abs(start - Math.hypot(from.x + i - to.x, from.y + j - to.y));
      if (mismatch > most || start === 0) continue;
      const cost = Math.hypot(i - wanted.x, j - wanted.y) + mismatch / most;
      if (best === null || cost < best.cost) best = { i, j, cost };
    }
  }
  if (best === null) return null;
  const piece = { kind: 'arc', to, i: best.i, j: best.j, clockwise } as const;
  return strays(grid, from, piece, arc, full) ? null : piece;
};

/**
 * The centre's offset from the written start, in counts: the point nearest to the planned centre that is as far from
 * the one written end as from the other.
 */
const idealOffset = (grid: Grid, from: Counts, to: Counts, arc: PlannedArc, full: boolean): Point => {
  const x = arc.centre.x / grid.step - from.x;
  const y = arc.centre.y / grid.step - from.y;
  if (full) return { x, y };
  const dx = to.x - from.x;
  const dy = to.y - from.y;
  const off = (x * dx + y * dy) / (dx * dx + dy * dy) - 0.5;
  return { x: x - off * dx, y: y - off * dy };
};

/**
 * Whether an arc, read as it is written, leaves the planned one. Near a full turn it easily does: the ends lie close
 * together, and rounding them turns the circle, or makes a full turn of a short arc.
 */
const strays = (
  grid: Grid,
  from: Counts,
  piece: Extract<Piece, { kind: 'arc' }>,
  arc: PlannedArc,
  full: boolean,
): boolean => {
  const centre = { x: from.x + piece.i, y: from.y + piece.j };
  const radius = Math.hypot(piece.i, piece.j);
  const start = Math.atan2(-piece.j, -piece.i);
  let sweep = Math.atan2(piece.to.y - centre.y, piece.to.x - centre.x) - start;
  while (sweep <= 0) sweep += FULL;
  if (piece.clockwise) sweep -= FULL;
  if (full) sweep = piece.clockwise ? -FULL : FULL;
  for (const share of [0.25, 0.5, 0.75]) {
    const planned = placeOn(arc, share);
    const angle = start + sweep * share;
    const dx = centre.x + radius * Math.cos(angle) - planned.x / grid.step;
    const dy = centre.y + radius * Math.sin(angle) - planned.y / grid.step;
    if (Math.hypot(dx, dy) > STRAY) return true;
  }
  return false;
};

/** The arc as straight lines that stay within `chord` mm of it. */
export const chordsOf = (grid: Grid, arc: PlannedArc, chord: number): Counts[] => {
  const error = Math.min(Math.max(chord, 1e-4), arc.radius);
  const step = 2 * Math.acos(1 - error / arc.radius);
  const count = Math.min(10_000, Math.max(isFull(arc) ? 3 : 1, Math.ceil(Math.abs(arc.sweep) / step)));
  return Array.from({ length: count }, (_, k) => {
    const share = (k + 1) / count;
    const place = placeOn(arc, share);
    return { x: countOf(grid, place.x), y: countOf(grid, place.y), z: countOf(grid, heightOn(arc, share)) };
  });
};
