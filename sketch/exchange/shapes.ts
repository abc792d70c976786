import { cross, distance, dot, midpoint, type Point } from '../shape/point.ts';
import type { Contour } from '../shape/region.ts';
import { type Arc, directionAlong, radiusOf, type Segment } from '../shape/segment.ts';

/** Two directions this near are one, radians: less than a hundredth of a millimetre over three. */
const SMOOTH = 3e-3;

/** Whether one segment runs on into the next without a corner, as drawings have it. */
export const runsOn = (a: Segment, b: Segment, limit = SMOOTH): boolean => {
  const u = directionAlong(a, 1);
  const v = directionAlong(b, 0);
  return Math.abs(cross(u, v)) <= limit && dot(u, v) > 0;
};

export interface Round {
  readonly centre: Point;
  readonly radius: number;
}

/** The circle that a contour is; null for any other. */
export const circleOf = (c: Contour): Round | null => {
  const only = c.segments.length === 1 ? c.segments[0]! : null;
  return only?.kind === 'arc' ? { centre: only.centre, radius: radiusOf(only) } : null;
};

export interface Stadium {
  readonly from: Point;
  readonly to: Point;
  readonly width: number;
}

/** Two half turns joined by two lines; null for any other contour. */
export const stadiumOf = (c: Contour, tolerance: number): Stadium | null => {
  const arcs = c.segments.filter((s): s is Arc => s.kind === 'arc');
  if (c.segments.length !== 4 || arcs.length !== 2) return null;
  const alternate = c.segments.every((s, i) => s.kind !== c.segments[(i + 1) % 4]!.kind);
  if (!alternate) return null;
  const [a, b] = arcs as [Arc, Arc];
  const half = (s: Arc): boolean => Math.abs(s.sweep - Math.PI) < 0.02;
  if (!half(a) || !half(b) || Math.abs(radiusOf(a) - radiusOf(b)) > 2 * tolerance) return null;
  if (!c.segments.every((s, i) => runsOn(s, c.segments[(i + 1) % 4]!, 0.02))) return null;
  // Of two nearly half turns the middle of the chord is a better centre than the arc's own.
  return {
    from: midpoint(a.from, a.to),
    to: midpoint(b.from, b.to),
    width: (distance(a.from, a.to) + distance(b.from, b.to)) / 2,
  };
};
