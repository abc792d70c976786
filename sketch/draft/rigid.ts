import { distance, length, type Point, subtract } from '../shape/point.ts';
import { SAME_POINT } from '../shape/tolerance.ts';

/** A way to lay a drawing elsewhere without changing its shape: x to ax + by + e, y to cx + dy + f, mm. */
export interface Rigid {
  readonly a: number;
  readonly b: number;
  readonly c: number;
  readonly d: number;
  readonly e: number;
  readonly f: number;
}

export const laid = (t: Rigid, p: Point): Point => ({
  x: t.a * p.x + t.b * p.y + t.e,
  y: t.c * p.x + t.d * p.y + t.f,
});

/** A direction, radians, as it lies afterwards. */
export const laidDirection = (t: Rigid, angle: number): number => {
  const [x, y] = [Math.cos(angle), Math.sin(angle)];
  return Math.atan2(t.c * x + t.d * y, t.a * x + t.b * y);
};

/** Whether it leads anywhere: nothing in it is infinite or no number. */
export const isSound = (t: Rigid): boolean => Object.values(t).every(Number.isFinite);

/** Whether what is level or upright is so afterwards too. */
export const keepsUpright = (t: Rigid): boolean => Math.abs(t.a * t.b) < 1e-12;

export const shiftBy = (delta: Point): Rigid => ({ a: 1, b: 0, c: 0, d: 1, e: delta.x, f: delta.y });

/** About a point, radians anticlockwise. Quarter turns are exact. */
export const turnAbout = (centre: Point, angle: number): Rigid => {
  const [cos, sin] = [exact(Math.cos(angle)), exact(Math.sin(angle))];
  return withFixed({ a: cos, b: -sin, c: sin, d: cos, e: 0, f: 0 }, centre);
};

/** About the line through two points; null when they are one. Level and upright lines, and those half between, are exact. */
export const mirrorAbout = (from: Point, to: Point): Rigid | null => {
  if (!(distance(from, to) > SAME_POINT)) return null;
  const way = subtract(to, from);
  const l = length(way);
  const [ux, uy] = [way.x / l, way.y / l];
  const [cos, sin] = [exact(ux * ux - uy * uy), exact(2 * ux * uy)];
  return withFixed({ a: cos, b: sin, c: sin, d: -cos, e: 0, f: 0 }, from);
};

/** The same turn or mirroring, with one point left where it is. */
const withFixed = (t: Rigid, p: Point): Rigid => {
  const q = laid(t, p);
  return { ...t, e: p.x - q.x, f: p.y - q.y };
};

const exact = (value: number): number =>
  Math.abs(value - Math.round(value)) < 1e-14 ? Math.round(value) + 0 : value;
