import {
  add,
  angleOf,
  cross,
  distance,
  dot,
  leftOf,
  type Point,
  scale,
  subtract,
  unit,
} from '../shape/point.ts';
import type { Contour } from '../shape/region.ts';
import { line, type Segment } from '../shape/segment.ts';
import { SAME_POINT } from '../shape/tolerance.ts';

/** Twice the signed area of a polygon, mm²: positive when its corners run anticlockwise. */
export const turningArea = (corners: readonly Point[]): number =>
  corners.reduce((sum, p, i) => sum + cross(p, corners[(i + 1) % corners.length]!), 0);

/** The same corners, running anticlockwise. */
export const anticlockwise = (corners: readonly Point[]): readonly Point[] =>
  turningArea(corners) < 0 ? [...corners].reverse() : corners;

/** How far each corner turns, radians: positive to the left. */
const turns = (corners: readonly Point[]): number[] =>
  corners.map((p, i) => {
    const before = corners[(i + corners.length - 1) % corners.length]!;
    const after = corners[(i + 1) % corners.length]!;
    const u = subtract(p, before);
    const v = subtract(after, p);
    return Math.atan2(cross(u, v), dot(u, v));
  });

/** The largest radius that every corner of the polygon can take at once, mm. */
export const largestCornerRadius = (corners: readonly Point[]): number => {
  const angles = turns(corners);
  return corners.reduce((least, p, i) => {
    const j = (i + 1) % corners.length;
    const needed = Math.tan(Math.abs(angles[i]!) / 2) + Math.tan(Math.abs(angles[j]!) / 2);
    return needed < 1e-12 ? least : Math.min(least, distance(p, corners[j]!) / needed);
  }, Number.POSITIVE_INFINITY);
};

/**
 * The polygon with every corner, outside and inside, rounded by an arc tangent to its two sides. Corners run
 * anticlockwise. A radius too large for the sides is held to the largest that fits (the check of the part reports it).
 */
export const roundedPolygon = (corners: readonly Point[], radius: number): Contour => {
  const angles = turns(corners);
  const r = Math.min(radius, largestCornerRadius(corners));
  const rounded = corners.map((p, i) => {
    const turn = angles[i]!;
    const out = unit(subtract(corners[(i + 1) % corners.length]!, p));
    const into = unit(subtract(p, corners[(i + corners.length - 1) % corners.length]!));
    const back = r * Math.tan(Math.abs(turn) / 2);
    const start = subtract(p, scale(into, back));
    const end = add(p, scale(out, back));
    const centre = add(start, scale(leftOf(into), turn > 0 ? r : -r));
    return { start, end, centre, sweep: turn, straight: back < SAME_POINT };
  });
  const segments: Segment[] = [];
  rounded.forEach((corner, i) => {
    const next = rounded[(i + 1) % rounded.length]!;
    const { start, end, centre, sweep, straight } = corner;
    if (!straight) segments.push({ kind: 'arc', from: start, to: end, centre, sweep });
    const from = straight ? corners[i]! : end;
    const to = next.straight ? corners[(i + 1) % corners.length]! : next.start;
    if (distance(from, to) > SAME_POINT) segments.push(line(from, to));
  });
  return { segments: closed(segments) };
};

/** The chain with each segment beginning exactly where the last one ended. */
const closed = (segments: readonly Segment[]): Segment[] =>
  segments.map((s, i) => ({ ...s, from: segments[(i + segments.length - 1) % segments.length]!.to }));

/** Whether two sides of a closed polygon cross or touch other than at their common corner. */
export const crossesItself = (corners: readonly Point[]): boolean => {
  const known = crossing.get(corners);
  if (known !== undefined) return known;
  const crosses = doesCross(corners);
  crossing.set(corners, crosses);
  return crosses;
};

/** Plates and lands are mostly those of the part before an edit. */
const crossing = new WeakMap<readonly Point[], boolean>();

const doesCross = (corners: readonly Point[]): boolean => {
  const n = corners.length;
  for (let i = 0; i < n; i++) {
    for (let j = i + 1; j < n; j++) {
      const [a, b, c, d] = [corners[i]!, corners[(i + 1) % n]!, corners[j]!, corners[(j + 1) % n]!];
      if (distance(a, c) <= SAME_POINT) return true;
      if (j === i + 1 || (i === 0 && j === n - 1)) {
        const [u, v] = j === i + 1 ? [subtract(b, a), subtract(d, b)] : [subtract(d, c), subtract(b, a)];
        if (Math.abs(Math.abs(angleOf(u) - angleOf(v)) - Math.PI) < 1e-9) return true;
        continue;
      }
      if (meet(a, b, c, d)) return true;
    }
  }
  return false;
};

const meet = (a: Point, b: Point, c: Point, d: Point): boolean => {
  const side = (p: Point, q: Point, r: Point): number => Math.sign(cross(subtract(q, p), subtract(r, p)));
  const on = (p: Point, q: Point, r: Point): boolean =>
    side(p, q, r) === 0 && dot(subtract(p, r), subtract(q, r)) <= 0;
  if (side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0) return true;
  return on(a, b, c) || on(a, b, d) || on(c, d, a) || on(c, d, b);
};
