import { curveMeetings } from './curve.ts';
import { type Box, distance, type Point, subtract, unit } from './point.ts';
import { type Arc, type Line, nearestOn, radiusOf, type Segment, shareOf, shareOfArc } from './segment.ts';

/** Whether one upright box lies in another, edges on edges too. */
export const boxWithin = (inner: Box, outer: Box): boolean =>
  inner.min.x >= outer.min.x &&
  inner.min.y >= outer.min.y &&
  inner.max.x <= outer.max.x &&
  inner.max.y <= outer.max.y;

/** Least distance between two upright boxes, mm; 0 where they overlap. */
export const boxGap = (a: Box, b: Box): number =>
  Math.hypot(
    Math.max(0, a.min.x - b.max.x, b.min.x - a.max.x),
    Math.max(0, a.min.y - b.max.y, b.min.y - a.max.y),
  );

/**
 * Whether two segments come nowhere nearer to each other than a distance, mm. Where two curves are nearest, either an
 * end of one is, or they cross, or both are met at right angles by one line: through an arc's centre, that is.
 */
export const keepApart = (a: Segment, b: Segment, least: number): boolean => {
  if (nearestOn(b, a.from).distance < least || nearestOn(b, a.to).distance < least) return false;
  if (nearestOn(a, b.from).distance < least || nearestOn(a, b.to).distance < least) return false;
  if (least > 0 && cross(a, b)) return false;
  if (a.kind === 'line') return b.kind === 'line' || lineFromArc(a, b, least);
  return b.kind === 'line' ? lineFromArc(b, a, least) : arcFromArc(a, b, least);
};

const cross = (a: Segment, b: Segment): boolean =>
  curveMeetings(a, b).some((p) => shareOf(a, p) !== null && shareOf(b, p) !== null);

const lineFromArc = (l: Line, a: Arc, least: number): boolean => {
  const foot = nearestOn(l, a.centre);
  // The foot of the perpendicular, not an end: ends have been looked at.
  if (foot.share <= 0 || foot.share >= 1 || foot.distance === 0) return true;
  if (shareOfArc(a, foot.point) === null) return true;
  return Math.abs(foot.distance - radiusOf(a)) >= least;
};

const arcFromArc = (a: Arc, b: Arc, least: number): boolean => {
  const apart = distance(a.centre, b.centre);
  // Of one centre: as near as their radii wherever both run, and then at an end too.
  if (apart < 1e-12) return true;
  const u = unit(subtract(b.centre, a.centre));
  const on = (c: Arc, side: 1 | -1): Point => {
    const r = side * radiusOf(c);
    return { x: c.centre.x + u.x * r, y: c.centre.y + u.y * r };
  };
  for (const s of [1, -1] as const) {
    const p = on(a, s);
    if (shareOfArc(a, p) === null) continue;
    for (const t of [1, -1] as const) {
      const q = on(b, t);
      if (distance(p, q) < least && shareOfArc(b, q) !== null) return false;
    }
  }
  return true;
};
