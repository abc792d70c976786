import { add, distance, dot, type Point, scale, subtract, unit } from '../shape/point.ts';
import { contains, type Region, segmentsOf } from '../shape/region.ts';
import {
  type Arc,
  type Line,
  nearestOn,
  pointAlong,
  radiusOf,
  type Segment,
  shareOfArc,
} from '../shape/segment.ts';
import { SAME_POINT } from '../shape/tolerance.ts';

/** The shortest way between two shapes: its length in mm (0 where they touch or cross) and where it begins and ends. */
export interface Separation {
  readonly distance: number;
  readonly from: Point;
  readonly to: Point;
}

/** Distance between two pieces of boundary, exact for lines and arcs. */
export const segmentSeparation = (a: Segment, b: Segment): Separation => {
  const meeting = meetingPoint(a, b);
  if (meeting !== null) return { distance: 0, from: meeting, to: meeting };
  let best: Separation = { distance: Number.POSITIVE_INFINITY, from: a.from, to: b.from };
  const tryFrom = (p: Point): void => {
    const near = nearestOn(b, p);
    if (near.distance < best.distance) best = { distance: near.distance, from: p, to: near.point };
  };
  const tryTo = (p: Point): void => {
    const near = nearestOn(a, p);
    if (near.distance < best.distance) best = { distance: near.distance, from: near.point, to: p };
  };
  // The shortest way starts or ends at an end point, or stands square on both, and so passes through every arc's centre.
  for (const p of [a.from, a.to, ...squareTo(a, b)]) tryFrom(p);
  for (const p of [b.from, b.to, ...squareTo(b, a)]) tryTo(p);
  return best;
};

/** Places on `a` from which a way square to it may lead square onto `b`. */
const squareTo = (a: Segment, b: Segment): readonly Point[] => {
  if (b.kind === 'line') return [];
  const centre = b.centre;
  if (a.kind === 'line') return [nearestOn(a, centre).point];
  // About one centre every way is square; the end points then tell the shortest.
  if (distance(centre, a.centre) < SAME_POINT) return [];
  const along = unit(subtract(centre, a.centre));
  const r = radiusOf(a);
  return [add(a.centre, scale(along, r)), add(a.centre, scale(along, -r))].filter(
    (p) => shareOfArc(a, p) !== null,
  );
};

const meetingPoint = (a: Segment, b: Segment): Point | null => {
  if (a.kind === 'line') return b.kind === 'line' ? lineMeetsLine(a, b) : lineMeetsArc(a, b);
  return b.kind === 'line' ? lineMeetsArc(b, a) : arcMeetsArc(a, b);
};

const lineMeetsLine = (a: Line, b: Line): Point | null => {
  const u = subtract(a.to, a.from);
  const v = subtract(b.to, b.from);
  const w = subtract(b.from, a.from);
  const turn = u.x * v.y - u.y * v.x;
  if (turn === 0) return null;
  const t = (w.x * v.y - w.y * v.x) / turn;
  const s = (w.x * u.y - w.y * u.x) / turn;
  return t >= 0 && t <= 1 && s >= 0 && s <= 1 ? pointAlong(a, t) : null;
};

const lineMeetsArc = (a: Line, b: Arc): Point | null => {
  const u = subtract(a.to, a.from);
  const w = subtract(a.from, b.centre);
  const r = radiusOf(b);
  const [k2, k1, k0] = [dot(u, u), 2 * dot(u, w), dot(w, w) - r * r];
  const under = k1 * k1 - 4 * k2 * k0;
  if (k2 === 0 || under < 0) return null;
  for (const sign of [-1, 1]) {
    const t = (-k1 + sign * Math.sqrt(under)) / (2 * k2);
    if (t < 0 || t > 1) continue;
    const p = pointAlong(a, t);
    if (shareOfArc(b, p) !== null) return p;
  }
  return null;
};

const arcMeetsArc = (a: Arc, b: Arc): Point | null => {
  const d = distance(a.centre, b.centre);
  const [ra, rb] = [radiusOf(a), radiusOf(b)];
  if (d === 0 || d > ra + rb || d < Math.abs(ra - rb)) return null;
  const along = unit(subtract(b.centre, a.centre));
  const t = (d * d + ra * ra - rb * rb) / (2 * d);
  const h = Math.sqrt(Math.max(0, ra * ra - t * t));
  const foot = add(a.centre, scale(along, t));
  for (const sign of [-1, 1]) {
    const p = add(foot, scale({ x: -along.y, y: along.x }, sign * h));
    if (shareOfArc(a, p) !== null && shareOfArc(b, p) !== null) return p;
  }
  return null;
};

/** Shortest way between two chains of boundary; null when one has none. */
export const boundarySeparation = (a: readonly Segment[], b: readonly Segment[]): Separation | null => {
  let best: Separation | null = null;
  for (const s of a) {
    for (const t of b) {
      const found = segmentSeparation(s, t);
      if (best === null || found.distance < best.distance) best = found;
    }
  }
  return best;
};

/** Shortest way between two regions; 0 where they overlap. Null when one is empty. */
export const regionSeparation = (a: Region, b: Region): Separation | null => {
  const [sa, sb] = [segmentsOf(a), segmentsOf(b)];
  const inner = sa[0] !== undefined && contains(b, sa[0].from) ? sa[0].from : null;
  const outer = sb[0] !== undefined && contains(a, sb[0].from) ? sb[0].from : null;
  const within = inner ?? outer;
  return within === null ? boundarySeparation(sa, sb) : { distance: 0, from: within, to: within };
};
