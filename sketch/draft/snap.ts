import type { Quantity } from '../part/dimensions.ts';
import { distance, type Point } from '../shape/point.ts';
import { nearestOn, pointAlong, radiusOf, type Segment, shareOfArc } from '../shape/segment.ts';
import { coordinateOf, type Rim, type SnapField, type Spot } from './snap-field.ts';

/** A thin line that shows what a place is in line with, mm. */
export type Guide = readonly [Point, Point];

/** Where a stroke goes, and what it caught on there. */
export interface Caught {
  readonly point: Point;
  /** What it caught on; null for the bare grid. */
  readonly words: string | null;
  readonly guides: readonly Guide[];
  /** For each coordinate, how the thing it caught on states it; null where the number itself is meant. */
  readonly stated: readonly [Quantity | null, Quantity | null];
  /** The feature whose own place it is. */
  readonly spot: Spot | null;
  /** The edge it lies on. */
  readonly edge: Segment | null;
}

/** A place that catches on nothing. */
export const loose = (point: Point): Caught => ({
  point,
  words: null,
  guides: [],
  stated: [null, null],
  spot: null,
  edge: null,
});

const onto = (value: number, step: number): number => Math.round(value / step) * step;

/** The nearest thing for which `gap` is within reach. */
const nearest = <T>(things: readonly T[], gap: (t: T) => number, reach: number): T | null => {
  let best: T | null = null;
  let least = reach;
  for (const t of things) {
    const g = gap(t);
    if (g <= least) {
      best = t;
      least = g;
    }
  }
  return best;
};

/**
 * The place that is meant by a place pointed at, `reach` mm being as far as things catch: a centre or corner first,
 * then where an edge meets a line through one, an edge, places evenly spaced or in line with others, and the grid last.
 */
export const snap = (p: Point, reach: number, field: SnapField): Caught => {
  const spot = nearest(field.spots, (s) => distance(s.point, p), reach);
  if (spot) {
    return {
      point: spot.point,
      words: spot.words,
      guides: [],
      stated: [coordinateOf(spot.place, 'x'), coordinateOf(spot.place, 'y')],
      spot,
      edge: null,
    };
  }
  const inX = lineUp(p, 'x', reach * 0.6, field);
  const inY = lineUp(p, 'y', reach * 0.6, field);
  const edge = nearest(field.edges, (e) => nearestOn(e, p).distance, reach * 0.5);
  if (edge) {
    const crossing = [
      ...(inX ? crossings(edge, 'x', inX.value) : []),
      ...(inY ? crossings(edge, 'y', inY.value) : []),
    ];
    const at = nearest(crossing, (c) => distance(c, p), reach);
    if (at) {
      const byX = inX && Math.abs(at.x - inX.value) < 1e-9 ? inX : null;
      const by = byX ?? inY;
      return {
        point: at,
        words: `on the edge, ${by?.words ?? ''}`,
        guides: by ? [[by.from, at]] : [],
        stated: [byX?.stated ?? null, byX ? null : (inY?.stated ?? null)],
        spot: null,
        edge,
      };
    }
    return { ...loose(nearestOn(edge, p).point), words: 'on the edge', edge };
  }
  const even = inX && inY ? null : evenlySpaced(p, reach * 0.6, field);
  if (even) return even;
  const point = { x: inX?.value ?? onto(p.x, field.grid), y: inY?.value ?? onto(p.y, field.grid) };
  const lines = [inX, inY].filter((l) => l !== null);
  return {
    point,
    words: lines.length > 0 ? lines.map((l) => l.words).join(', ') : null,
    guides: lines.map((l) => [l.from, point] as const),
    stated: [inX?.stated ?? null, inY?.stated ?? null],
    spot: null,
    edge: null,
  };
};

interface Line {
  readonly value: number;
  readonly words: string;
  readonly from: Point;
  readonly stated: Quantity | null;
}

/** The spot that a place stands over (`x`) or beside (`y`), within reach. */
const lineUp = (p: Point, axis: 'x' | 'y', reach: number, field: SnapField): Line | null => {
  // Where several stand in one line, the nearest of them is named.
  const within = field.spots.filter((s) => Math.abs(s.point[axis] - p[axis]) <= reach);
  const least = Math.min(...within.map((s) => Math.abs(s.point[axis] - p[axis])));
  const same = within.filter((s) => Math.abs(s.point[axis] - p[axis]) - least < 1e-6);
  const spot = nearest(same, (s) => distance(s.point, p), Number.POSITIVE_INFINITY);
  return spot
    ? {
        value: spot.point[axis],
        words: `in line with ${spot.words}`,
        from: spot.point,
        stated: coordinateOf(spot.place, axis),
      }
    : null;
};

/** Where an edge crosses an upright (`x`) or level (`y`) line. */
const crossings = (edge: Segment, axis: 'x' | 'y', value: number): Point[] => {
  const other = axis === 'x' ? 'y' : 'x';
  const at = (o: number): Point => (axis === 'x' ? { x: value, y: o } : { x: o, y: value });
  if (edge.kind === 'line') {
    const d = edge.to[axis] - edge.from[axis];
    if (Math.abs(d) < 1e-9) return [];
    const t = (value - edge.from[axis]) / d;
    return t >= 0 && t <= 1 ? [at(pointAlong(edge, t)[other])] : [];
  }
  const off = value - edge.centre[axis];
  const r = radiusOf(edge);
  if (Math.abs(off) > r) return [];
  const half = Math.sqrt(r * r - off * off);
  return [at(edge.centre[other] - half), at(edge.centre[other] + half)].filter(
    (q) => shareOfArc(edge, q) !== null,
  );
};

/** The place that carries on, or halves, the step between two centres. */
const evenlySpaced = (p: Point, reach: number, field: SnapField): Caught | null => {
  const centres = field.spots.filter((s) => s.kind === 'centre' || s.kind === 'end').slice(0, 40);
  let best: Caught | null = null;
  let least = reach;
  for (const a of centres) {
    for (const b of centres) {
      if (a === b || distance(a.point, b.point) < 1e-6) continue;
      const next = { x: 2 * b.point.x - a.point.x, y: 2 * b.point.y - a.point.y };
      const gap = distance(next, p);
      if (gap > least) continue;
      least = gap;
      best = {
        ...loose(next),
        words: `evenly after ${a.words} and ${b.words}`,
        guides: [[a.point, next]],
      };
    }
  }
  return best;
};

/** A radius about a centre: as large as another's, touching an edge, or a round number of the grid, mm. */
export const snapRadius = (
  centre: Point,
  radius: number,
  reach: number,
  field: SnapField,
  of: Rim['kind'] = 'end',
): { readonly radius: number; readonly words: string | null } => {
  const wishes: { radius: number; words: string }[] = [];
  for (const rim of field.rims) {
    const d = distance(centre, rim.centre);
    // A hole as large as an end would leave no wall: each is as large as its own kind.
    if (rim.kind === of) wishes.push({ radius: rim.radius, words: `as large as ${rim.words}` });
    for (const r of [d - rim.radius, d + rim.radius]) {
      if (r > 1e-3 && d > 1e-6) wishes.push({ radius: r, words: `touching ${rim.words}` });
    }
  }
  for (const edge of field.edges) {
    if (edge.kind !== 'line') continue;
    const near = nearestOn(edge, centre);
    if (near.distance > 1e-3 && near.share > 0 && near.share < 1) {
      wishes.push({ radius: near.distance, words: 'touching an edge' });
    }
  }
  const wish = nearest(wishes, (w) => Math.abs(w.radius - radius), reach * 0.5);
  // The grid counts diameters: a hole of 3 is as likely as one of 4.
  const half = field.grid / 2;
  return wish ?? { radius: Math.max(half, onto(radius, half)), words: null };
};

/** A direction, radians: by steps of 15° when it lies within 3° of one, or square to an edge. */
export const snapDirection = (angle: number, squareTo: number | null): number => {
  const STEP = Math.PI / 12;
  const CATCH = Math.PI / 60;
  if (squareTo !== null) {
    const off = Math.atan2(Math.sin(angle - squareTo), Math.cos(angle - squareTo));
    if (Math.abs(off) < 2 * CATCH) return squareTo;
  }
  const near = onto(angle, STEP);
  return Math.abs(near - angle) < CATCH ? near : angle;
};
