import type { Box, Point } from './point.ts';
import {
  circle,
  directionAlong,
  line,
  nearestOn,
  reverseSegment,
  type Segment,
  segmentArea,
  segmentBox,
  segmentLength,
} from './segment.ts';

/** A closed chain of segments: each begins where the last one ended. Anticlockwise bounds material, clockwise a hole. */
export interface Contour {
  readonly segments: readonly Segment[];
}

/** A piece of the plane: its inside lies to the left of every contour. May have several pieces and holes, or be empty. */
export interface Region {
  readonly contours: readonly Contour[];
}

/** An open chain of segments. */
export interface Path {
  readonly segments: readonly Segment[];
}

export const NOTHING: Region = { contours: [] };

export const contourArea = (c: Contour): number => {
  const known = areas.get(c);
  if (known !== undefined) return known;
  const area = c.segments.reduce((sum, s) => sum + segmentArea(s), 0);
  areas.set(c, area);
  return area;
};

const areas = new WeakMap<Contour, number>();

/** Area in mm², holes taken off. */
export const regionArea = (r: Region): number => r.contours.reduce((sum, c) => sum + contourArea(c), 0);

export const pathLength = (p: Path): number => p.segments.reduce((sum, s) => sum + segmentLength(s), 0);

/** Length of all boundaries, mm. */
export const perimeter = (r: Region): number => r.contours.reduce((sum, c) => sum + pathLength(c), 0);

/** The contour gone round the other way; the other way round again it is the very contour it was. */
export const reverseContour = (c: Contour): Contour => {
  const known = reversed.get(c);
  if (known !== undefined) return known;
  const made = { segments: c.segments.map(reverseSegment).reverse() };
  reversed.set(c, made);
  reversed.set(made, c);
  return made;
};

const reversed = new WeakMap<Contour, Contour>();

export const isEmpty = (r: Region): boolean => r.contours.length === 0;

export const segmentsOf = (r: Region): readonly Segment[] => {
  const known = allSegments.get(r);
  if (known) return known;
  const made = r.contours.flatMap((c) => c.segments);
  allSegments.set(r, made);
  return made;
};

/** A region is asked where a place lies many thousand times. */
const allSegments = new WeakMap<Region, readonly Segment[]>();

/** The straight-sided contour through the points, closed. */
export const polygon = (points: readonly Point[]): Contour => ({
  segments: points.map((p, i) => line(p, points[(i + 1) % points.length]!)),
});

/** An upright rectangle as a region. */
export const rectangle = (min: Point, max: Point): Region => ({
  contours: [polygon([min, { x: max.x, y: min.y }, max, { x: min.x, y: max.y }])],
});

export const disc = (centre: Point, radius: number): Region => ({
  contours: [{ segments: [circle(centre, radius)] }],
});

/** The upright box of a region; null when it is empty. */
export const regionBox = (r: Region): Box | null => {
  const full = r.contours.filter((c) => c.segments.length > 0);
  return full.length === 0 ? null : full.map(contourBox).reduce(boxOfBoth);
};

/** The upright box of a contour, which has a segment at least. */
export const contourBox = (c: Contour): Box => {
  const known = boxes.get(c);
  if (known !== undefined) return known;
  const box = c.segments.map(segmentBox).reduce(boxOfBoth);
  boxes.set(c, box);
  return box;
};

const boxes = new WeakMap<Contour, Box>();

const boxOfBoth = (a: Box, b: Box): Box => ({
  min: { x: Math.min(a.min.x, b.min.x), y: Math.min(a.min.y, b.min.y) },
  max: { x: Math.max(a.max.x, b.max.x), y: Math.max(a.max.y, b.max.y) },
});

/** Distance in mm from a point to the nearest boundary, with the segment and place; null when the region is empty. */
export const nearestBoundary = (
  r: Region,
  p: Point,
): { distance: number; point: Point; segment: Segment } | null => {
  let best: { distance: number; point: Point; segment: Segment } | null = null;
  for (const segment of segmentsOf(r)) {
    const near = nearestOn(segment, p);
    if (best === null || near.distance < best.distance) {
      best = { distance: near.distance, point: near.point, segment };
    }
  }
  return best;
};

/** How many times the contours wind round the point (exact on lines and arcs); 0 outside. */
export const windingNumber = (r: Region, p: Point): number => turnsRound(segmentsOf(r), p);

/** How many times one contour winds round the point. */
export const windingOfContour = (c: Contour, p: Point): number => turnsRound(c.segments, p);

const turnsRound = (segments: readonly Segment[], p: Point): number => {
  let turns = 0;
  for (const s of segments) {
    if (s.kind === 'line') {
      turns += crossing(s.from, s.to, p);
      continue;
    }
    // Split at the extremes in y so that each piece is monotone, then ask which side of the arc the point lies on.
    turns += arcCrossing(s, p);
  }
  return turns;
};

const crossing = (a: Point, b: Point, p: Point): number => {
  if (a.y <= p.y === b.y <= p.y) return 0;
  const x = a.x + ((p.y - a.y) / (b.y - a.y)) * (b.x - a.x);
  if (x <= p.x) return 0;
  return b.y > a.y ? 1 : -1;
};

const arcCrossing = (s: Extract<Segment, { kind: 'arc' }>, p: Point): number => {
  const r = Math.hypot(s.from.x - s.centre.x, s.from.y - s.centre.y);
  // Over, under or to the right of its whole circle no arc is crossed.
  const beyond = r + 1e-6;
  if (Math.abs(p.y - s.centre.y) > beyond || p.x - s.centre.x > beyond) return 0;
  const start = Math.atan2(s.from.y - s.centre.y, s.from.x - s.centre.x);
  const end = start + s.sweep;
  const low = Math.min(start, end);
  const high = Math.max(start, end);
  const cuts: number[] = [low];
  for (let k = Math.ceil((low - Math.PI / 2) / Math.PI); ; k++) {
    const angle = Math.PI / 2 + k * Math.PI;
    if (angle >= high) break;
    if (angle > low) cuts.push(angle);
  }
  cuts.push(high);
  let turns = 0;
  for (let i = 0; i + 1 < cuts.length; i++) {
    const first = cuts[i]!;
    const last = cuts[i + 1]!;
    const at = (t: number): number =>
      t === start ? s.from.y : t === end ? s.to.y : s.centre.y + r * Math.sin(t);
    const y0 = at(first);
    const y1 = at(last);
    if (y0 <= p.y === y1 <= p.y) continue;
    const right = Math.cos((first + last) / 2) >= 0;
    const dx = Math.sqrt(Math.max(0, r * r - (p.y - s.centre.y) ** 2));
    const x = s.centre.x + (right ? dx : -dx);
    if (x <= p.x) continue;
    turns += (y1 > y0 ? 1 : -1) * (s.sweep > 0 ? 1 : -1);
  }
  return turns;
};

export const contains = (r: Region, p: Point): boolean => windingNumber(r, p) > 0;

/** Distance to the boundary, negative inside: mm. Infinite for an empty region. */
export const signedDistance = (r: Region, p: Point): number => {
  const near = nearestBoundary(r, p);
  if (near === null) return Number.POSITIVE_INFINITY;
  return contains(r, p) ? -near.distance : near.distance;
};

/** Largest jump between the end of one segment and the start of the next, mm: zero for a sound contour. */
export const worstGap = (c: Contour): number =>
  c.segments.reduce((worst, s, i) => {
    const next = c.segments[(i + 1) % c.segments.length]!;
    return Math.max(worst, Math.hypot(s.to.x - next.from.x, s.to.y - next.from.y));
  }, 0);

/** Whether two neighbouring segments meet without a corner (within `limit` radians). */
export const isSmooth = (a: Segment, b: Segment, limit = 1e-3): boolean => {
  const u = directionAlong(a, 1);
  const v = directionAlong(b, 0);
  return Math.abs(Math.atan2(u.x * v.y - u.y * v.x, u.x * v.x + u.y * v.y)) <= limit;
};
