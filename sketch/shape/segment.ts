import {
  angleOf,
  type Box,
  cross,
  distance,
  dot,
  type Point,
  polar,
  scale,
  subtract,
  unit,
} from './point.ts';

/** A straight piece of a path, mm. */
export interface Line {
  readonly kind: 'line';
  readonly from: Point;
  readonly to: Point;
}

/**
 * A round piece of a path, mm and radians. `sweep` is signed (positive anticlockwise) and at most one full turn;
 * a full circle has `from` equal to `to` and a sweep of ±2π.
 */
export interface Arc {
  readonly kind: 'arc';
  readonly from: Point;
  readonly to: Point;
  readonly centre: Point;
  readonly sweep: number;
}

export type Segment = Line | Arc;

const FULL = 2 * Math.PI;

export const line = (from: Point, to: Point): Line => ({ kind: 'line', from, to });

/** The arc from one point to another round a centre, the short or long way as `sweep`'s sign demands. */
export const arc = (from: Point, to: Point, centre: Point, anticlockwise: boolean): Arc => {
  let sweep = angleOf(subtract(to, centre)) - angleOf(subtract(from, centre));
  if (anticlockwise) while (sweep <= 1e-12) sweep += FULL;
  else while (sweep >= -1e-12) sweep -= FULL;
  return { kind: 'arc', from, to, centre, sweep };
};

/** The whole circle, starting at its rightmost point. */
export const circle = (centre: Point, radius: number, anticlockwise = true): Arc => {
  const start = { x: centre.x + radius, y: centre.y };
  return { kind: 'arc', from: start, to: start, centre, sweep: anticlockwise ? FULL : -FULL };
};

export const radiusOf = (a: Arc): number => distance(a.from, a.centre);

export const segmentLength = (s: Segment): number =>
  s.kind === 'line' ? distance(s.from, s.to) : radiusOf(s) * Math.abs(s.sweep);

export const reverseSegment = (s: Segment): Segment =>
  s.kind === 'line'
    ? { kind: 'line', from: s.to, to: s.from }
    : { kind: 'arc', from: s.to, to: s.from, centre: s.centre, sweep: -s.sweep };

/** The point a share `t` (0 to 1) of the way along. */
export const pointAlong = (s: Segment, t: number): Point => {
  if (t <= 0) return s.from;
  if (t >= 1) return s.to;
  if (s.kind === 'line') {
    return { x: s.from.x + (s.to.x - s.from.x) * t, y: s.from.y + (s.to.y - s.from.y) * t };
  }
  return polar(s.centre, radiusOf(s), angleOf(subtract(s.from, s.centre)) + s.sweep * t);
};

/** Unit direction of travel a share `t` of the way along. */
export const directionAlong = (s: Segment, t: number): Point => {
  if (s.kind === 'line') return unit(subtract(s.to, s.from));
  const r = unit(subtract(pointAlong(s, t), s.centre));
  return s.sweep > 0 ? { x: -r.y, y: r.x } : { x: r.y, y: -r.x };
};

/** The piece between the shares t0 and t1 (t0 < t1). */
export const piece = (s: Segment, t0: number, t1: number): Segment => {
  const from = pointAlong(s, t0);
  const to = pointAlong(s, t1);
  return s.kind === 'line'
    ? { kind: 'line', from, to }
    : { kind: 'arc', from, to, centre: s.centre, sweep: s.sweep * (t1 - t0) };
};

/** How far along (0 to 1) the direction of `p` from an arc's centre lies; null where the arc does not reach it. */
export const shareOfArc = (a: Arc, p: Point): number | null => {
  const start = angleOf(subtract(a.from, a.centre));
  let turn = angleOf(subtract(p, a.centre)) - start;
  if (a.sweep > 0) {
    while (turn < -1e-9) turn += FULL;
    while (turn > FULL - 1e-9) turn -= FULL;
  } else {
    while (turn > 1e-9) turn -= FULL;
    while (turn < -FULL + 1e-9) turn += FULL;
  }
  const t = turn / a.sweep;
  return t <= 1 + 1e-9 ? Math.min(1, Math.max(0, t)) : null;
};

/** How far along (0 to 1) a point of the segment's own line or circle lies; null where the segment does not reach it. */
export const shareOf = (s: Segment, p: Point): number | null => {
  if (s.kind === 'arc') return shareOfArc(s, p);
  const d = subtract(s.to, s.from);
  const l2 = dot(d, d);
  if (l2 === 0) return distance(p, s.from) < 1e-9 ? 0 : null;
  const t = dot(subtract(p, s.from), d) / l2;
  const slack = 1e-9 / Math.sqrt(l2);
  return t < -slack || t > 1 + slack ? null : Math.min(1, Math.max(0, t));
};

/** The place on a segment nearest to a point: distance in mm, share along it, and the place itself. */
export const nearestOn = (s: Segment, p: Point): { distance: number; share: number; point: Point } => {
  if (s.kind === 'line') {
    const d = subtract(s.to, s.from);
    const l2 = dot(d, d);
    const share = l2 === 0 ? 0 : Math.min(1, Math.max(0, dot(subtract(p, s.from), d) / l2));
    const point = { x: s.from.x + d.x * share, y: s.from.y + d.y * share };
    return { distance: distance(p, point), share, point };
  }
  const share = shareOfArc(s, p);
  if (share !== null && distance(p, s.centre) > 0) {
    const radial = scale(unit(subtract(p, s.centre)), radiusOf(s));
    const point = { x: s.centre.x + radial.x, y: s.centre.y + radial.y };
    return { distance: Math.abs(distance(p, s.centre) - radiusOf(s)), share, point };
  }
  const a = distance(p, s.from);
  const b = distance(p, s.to);
  return a <= b ? { distance: a, share: 0, point: s.from } : { distance: b, share: 1, point: s.to };
};

/** Signed area between the segment and the origin (Green's theorem), mm²; summed round a contour it is its area. */
export const segmentArea = (s: Segment): number => {
  const chord = cross(s.from, s.to) / 2;
  if (s.kind === 'line') return chord;
  const r = radiusOf(s);
  return chord + (r * r * (s.sweep - Math.sin(s.sweep))) / 2;
};

/** The upright box that just holds the segment. */
export const segmentBox = (s: Segment): Box => {
  if (s.kind === 'line') return boxOf(s);
  const known = arcBoxes.get(s);
  if (known !== undefined) return known;
  const box = boxOf(s);
  arcBoxes.set(s, box);
  return box;
};

/** An arc's box takes its four extremes, and is asked for again and again. */
const arcBoxes = new WeakMap<Arc, Box>();

const boxOf = (s: Segment): Box => {
  const points: Point[] = [s.from, s.to];
  if (s.kind === 'arc') {
    const r = radiusOf(s);
    for (let k = 0; k < 4; k++) {
      const p = polar(s.centre, r, (k * Math.PI) / 2);
      if (shareOfArc(s, p) !== null) points.push(p);
    }
  }
  return {
    min: { x: Math.min(...points.map((p) => p.x)), y: Math.min(...points.map((p) => p.y)) },
    max: { x: Math.max(...points.map((p) => p.x)), y: Math.max(...points.map((p) => p.y)) },
  };
};

/** Direction of an arc's start from its centre, radians. */
export const angleOfStart = (a: Arc): number => angleOf(subtract(a.from, a.centre));
