import { add, cross, dot, length, type Point, scale, subtract } from '../shape/point.ts';
import { line, type Segment } from '../shape/segment.ts';
import { type Affine, apply, applyLinear } from './affine.ts';

/** A piece of a drawing before it is lines and arcs. */
export type Curve =
  | { readonly kind: 'line'; readonly from: Point; readonly to: Point }
  | { readonly kind: 'cubic'; readonly p: readonly [Point, Point, Point, Point] }
  /** centre + u cos θ + v sin θ from `start` on by `sweep`; u and v are conjugate half axes. */
  | {
      readonly kind: 'oval';
      readonly centre: Point;
      readonly u: Point;
      readonly v: Point;
      readonly start: number;
      readonly sweep: number;
      /** Where it begins and ends, kept so that neighbours meet to the last digit. */
      readonly from: Point;
      readonly to: Point;
    };

export const transformed = (c: Curve, m: Affine): Curve => {
  switch (c.kind) {
    case 'line':
      return { kind: 'line', from: apply(m, c.from), to: apply(m, c.to) };
    case 'cubic':
      return { kind: 'cubic', p: [apply(m, c.p[0]), apply(m, c.p[1]), apply(m, c.p[2]), apply(m, c.p[3])] };
    case 'oval':
      return {
        ...c,
        centre: apply(m, c.centre),
        u: applyLinear(m, c.u),
        v: applyLinear(m, c.v),
        from: apply(m, c.from),
        to: apply(m, c.to),
      };
  }
};

/** The point a share t (0 to 1) of the parameter on. */
export const curveAt = (c: Curve, t: number): Point => {
  switch (c.kind) {
    case 'line':
      return add(scale(c.from, 1 - t), scale(c.to, t));
    case 'cubic': {
      const s = 1 - t;
      const [k0, k1, k2, k3] = [s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t];
      const [a, b, d, e] = c.p;
      return { x: k0 * a.x + k1 * b.x + k2 * d.x + k3 * e.x, y: k0 * a.y + k1 * b.y + k2 * d.y + k3 * e.y };
    }
    case 'oval': {
      if (t <= 0) return c.from;
      if (t >= 1) return c.to;
      const angle = c.start + c.sweep * t;
      return add(c.centre, add(scale(c.u, Math.cos(angle)), scale(c.v, Math.sin(angle))));
    }
  }
};

/** The derivative by the share t; may vanish. */
export const slopeAt = (c: Curve, t: number): Point => {
  switch (c.kind) {
    case 'line':
      return subtract(c.to, c.from);
    case 'cubic': {
      const s = 1 - t;
      const [a, b, d, e] = c.p;
      const by = (k: 'x' | 'y'): number =>
        3 * (s * s * (b[k] - a[k]) + 2 * s * t * (d[k] - b[k]) + t * t * (e[k] - d[k]));
      return { x: by('x'), y: by('y') };
    }
    case 'oval': {
      const angle = c.start + c.sweep * t;
      return scale(add(scale(c.u, -Math.sin(angle)), scale(c.v, Math.cos(angle))), c.sweep);
    }
  }
};

/** The line or arc that a curve exactly is, or null: straight ones, and ovals that are round. */
export const exactly = (c: Curve): Segment | null => {
  if (c.kind === 'line') return line(c.from, c.to);
  if (c.kind === 'oval') {
    const r = length(c.u);
    const isRound = Math.abs(length(c.v) - r) < 1e-9 * r && Math.abs(dot(c.u, c.v)) < 1e-9 * r * r;
    if (!isRound) return null;
    const sweep = cross(c.u, c.v) > 0 ? c.sweep : -c.sweep;
    return { kind: 'arc', from: c.from, to: c.to, centre: c.centre, sweep };
  }
  const [a, b, d, e] = c.p;
  const chord = subtract(e, a);
  const l = length(chord);
  if (l === 0) return null;
  const isOn = (p: Point): boolean => {
    const w = subtract(p, a);
    const along = dot(w, chord) / l;
    return Math.abs(cross(w, chord)) / l < 1e-9 * l && along >= -1e-9 * l && along <= l * (1 + 1e-9);
  };
  return isOn(b) && isOn(d) ? line(a, e) : null;
};

/** A quadratic curve as a cubic, exactly. */
export const quadratic = (a: Point, b: Point, c: Point): Curve => ({
  kind: 'cubic',
  p: [a, add(a, scale(subtract(b, a), 2 / 3)), add(c, scale(subtract(b, c), 2 / 3)), c],
});

const FULL = 2 * Math.PI;

/** An upright ellipse all round. */
export const ellipse = (centre: Point, rx: number, ry: number): Curve => {
  const from = { x: centre.x + rx, y: centre.y };
  return {
    kind: 'oval',
    centre,
    u: { x: rx, y: 0 },
    v: { x: 0, y: ry },
    start: 0,
    sweep: FULL,
    from,
    to: from,
  };
};

/**
 * An elliptical arc by its ends (SVG 2, appendix B.2.4: conversion from endpoint to centre parameterization; radii too
 * small are grown, B.2.5). `turn` is in degrees.
 */
export const arcByEnds = (
  from: Point,
  to: Point,
  radii: Point,
  turn: number,
  large: boolean,
  positive: boolean,
): Curve | null => {
  if (from.x === to.x && from.y === to.y) return null;
  let [rx, ry] = [Math.abs(radii.x), Math.abs(radii.y)];
  if (rx === 0 || ry === 0) return { kind: 'line', from, to };
  const phi = (turn * Math.PI) / 180;
  const [cos, sin] = [Math.cos(phi), Math.sin(phi)];
  const [hx, hy] = [(from.x - to.x) / 2, (from.y - to.y) / 2];
  const x = cos * hx + sin * hy;
  const y = -sin * hx + cos * hy;
  const over = (x / rx) ** 2 + (y / ry) ** 2;
  if (over > 1) {
    rx *= Math.sqrt(over);
    ry *= Math.sqrt(over);
  }
  const short = rx * rx * y * y + ry * ry * x * x;
  const k = Math.sqrt(Math.max(0, (rx * rx * ry * ry - short) / short)) * (large === positive ? -1 : 1);
  const [cx, cy] = [(k * rx * y) / ry, (-k * ry * x) / rx];
  const start = Math.atan2((y - cy) / ry, (x - cx) / rx);
  const end = Math.atan2((-y - cy) / ry, (-x - cx) / rx);
  let sweep = end - start;
  if (positive && sweep < 0) sweep += FULL;
  if (!positive && sweep > 0) sweep -= FULL;
  return {
    kind: 'oval',
    centre: {
      x: cos * cx - sin * cy + (from.x + to.x) / 2,
      y: sin * cx + cos * cy + (from.y + to.y) / 2,
    },
    u: { x: rx * cos, y: rx * sin },
    v: { x: -ry * sin, y: ry * cos },
    start,
    sweep,
    from,
    to,
  };
};
