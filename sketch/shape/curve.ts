import { cross, distance, dot, type Point, subtract, unit } from './point.ts';
import { type Arc, type Line, radiusOf, type Segment } from './segment.ts';

/** Two curves this near are one, mm. */
const SAME_CURVE = 1e-6;
/** Curves whose distance differs from touching by less than this are taken as tangent, mm. */
const TANGENT = 1e-7;

/** Whether two segments lie on one line or one circle. */
export const isSameCurve = (a: Segment, b: Segment): boolean => {
  if (a === b) return true;
  if (a.kind === 'arc') {
    return (
      b.kind === 'arc' &&
      distance(a.centre, b.centre) < SAME_CURVE &&
      Math.abs(radiusOf(a) - radiusOf(b)) < SAME_CURVE
    );
  }
  return b.kind === 'line' && offLine(a, b.from) < SAME_CURVE && offLine(a, b.to) < SAME_CURVE;
};

/** How far a point lies from the whole line or circle of a segment, mm. */
export const offCurve = (s: Segment, p: Point): number =>
  s.kind === 'arc' ? Math.abs(distance(p, s.centre) - radiusOf(s)) : offLine(s, p);

/** The place on the whole line or circle of a segment nearest to a point; a circle's centre has none and stays. */
export const ontoCurve = (s: Segment, p: Point): Point => {
  if (s.kind === 'arc') {
    const away = distance(p, s.centre);
    const k = away === 0 ? 1 : radiusOf(s) / away;
    return { x: s.centre.x + (p.x - s.centre.x) * k, y: s.centre.y + (p.y - s.centre.y) * k };
  }
  const u = unit(subtract(s.to, s.from));
  const along = dot(subtract(p, s.from), u);
  return { x: s.from.x + u.x * along, y: s.from.y + u.y * along };
};

const offLine = (l: Line, p: Point): number =>
  Math.abs(cross(unit(subtract(l.to, l.from)), subtract(p, l.from)));

/** Where the whole line or circle of one segment meets that of another: none, one (touching) or two points. */
export const curveMeetings = (a: Segment, b: Segment): readonly Point[] => {
  if (a.kind === 'line') return b.kind === 'line' ? lineLine(a, b) : lineCircle(a, b);
  return b.kind === 'line' ? lineCircle(b, a) : circleCircle(a, b);
};

/** The meeting nearest to a point, or where the two curves come nearest to touching; null for parallels. */
export const meetingPoint = (a: Segment, b: Segment, near: Point): Point | null => {
  const met = curveMeetings(a, b);
  const places = met.length > 0 ? met : nearlyTouching(a, b);
  return places.reduce<Point | null>(
    (best, p) => (best === null || distance(p, near) < distance(best, near) ? p : best),
    null,
  );
};

const lineLine = (a: Line, b: Line): readonly Point[] => {
  const u = subtract(a.to, a.from);
  const v = subtract(b.to, b.from);
  const d = cross(u, v);
  if (Math.abs(d) < 1e-12 * Math.hypot(u.x, u.y) * Math.hypot(v.x, v.y)) return [];
  const t = cross(subtract(b.from, a.from), v) / d;
  return [{ x: a.from.x + u.x * t, y: a.from.y + u.y * t }];
};

const lineCircle = (l: Line, c: Arc): readonly Point[] => {
  const u = unit(subtract(l.to, l.from));
  const along = dot(subtract(c.centre, l.from), u);
  const foot = { x: l.from.x + u.x * along, y: l.from.y + u.y * along };
  const gap = distance(foot, c.centre);
  const r = radiusOf(c);
  if (Math.abs(gap - r) < TANGENT) return [foot];
  if (gap > r) return [];
  const half = Math.sqrt(r * r - gap * gap);
  return [
    { x: foot.x - u.x * half, y: foot.y - u.y * half },
    { x: foot.x + u.x * half, y: foot.y + u.y * half },
  ];
};

const circleCircle = (a: Arc, b: Arc): readonly Point[] => {
  const d = distance(a.centre, b.centre);
  const [ra, rb] = [radiusOf(a), radiusOf(b)];
  if (d < 1e-9) return [];
  const u = { x: (b.centre.x - a.centre.x) / d, y: (b.centre.y - a.centre.y) / d };
  const on = (t: number): Point => ({ x: a.centre.x + u.x * t, y: a.centre.y + u.y * t });
  if (Math.abs(d - (ra + rb)) < TANGENT) return [on(ra)];
  if (Math.abs(d - Math.abs(ra - rb)) < TANGENT) return [on(ra > rb ? ra : -ra)];
  if (d > ra + rb || d < Math.abs(ra - rb)) return [];
  const t = (d * d + ra * ra - rb * rb) / (2 * d);
  const h = Math.sqrt(Math.max(0, ra * ra - t * t));
  const m = on(t);
  return [
    { x: m.x - u.y * h, y: m.y + u.x * h },
    { x: m.x + u.y * h, y: m.y - u.x * h },
  ];
};

/** The middle of the narrowest gap between two curves that just miss each other. */
const nearlyTouching = (a: Segment, b: Segment): readonly Point[] => {
  if (a.kind === 'line' && b.kind === 'line') return [];
  if (a.kind === 'arc' && b.kind === 'arc') {
    const d = distance(a.centre, b.centre);
    if (d < 1e-9) return [];
    const u = { x: (b.centre.x - a.centre.x) / d, y: (b.centre.y - a.centre.y) / d };
    const ra = radiusOf(a);
    const t = d > ra ? ra : radiusOf(b) > ra ? -ra : ra;
    return [{ x: a.centre.x + u.x * t, y: a.centre.y + u.y * t }];
  }
  const l = (a.kind === 'line' ? a : b) as Line;
  const c = (a.kind === 'line' ? b : a) as Arc;
  const u = unit(subtract(l.to, l.from));
  const along = dot(subtract(c.centre, l.from), u);
  return [{ x: l.from.x + u.x * along, y: l.from.y + u.y * along }];
};
