import { add, distance, dot, leftOf, type Point, scale, subtract, unit } from '../shape/point.ts';
import { arc, line, nearestOn, pointAlong, type Segment, segmentLength } from '../shape/segment.ts';
import { type Curve, curveAt, exactly, slopeAt } from './curves.ts';

/** Lines and arcs that stand for a curve, and the greatest distance between the two, mm. */
export interface Fitted {
  readonly segments: readonly Segment[];
  readonly worst: number;
}

/** Halvings before a cusp is given up on and bridged straight. */
const DEEPEST = 14;
/** Places at which a candidate is held against the curve, and at which the result is measured. */
const TRIED = 12;
const MEASURED = 40;
/** Of the tolerance, what a candidate may use: between its samples it may be a little worse. */
const SHARE = 0.8;

/**
 * Follows a curve by lines and arcs that turn smoothly into one another (biarcs after Bolton 1975: two arcs that touch,
 * with the curve's own directions at its ends), halving it until all lies within the tolerance. Lines and round ovals
 * come back exactly.
 */
export const fitCurve = (curve: Curve, tolerance: number): Fitted => {
  const exact = exactly(curve);
  if (exact !== null) return { segments: [exact], worst: 0 };
  const segments: Segment[] = [];
  let worst = 0;
  const follow = (t0: number, t1: number, depth: number): void => {
    const pieces = stretch(curve, t0, t1, tolerance * SHARE, depth >= DEEPEST);
    if (pieces === null) {
      follow(t0, (t0 + t1) / 2, depth + 1);
      follow((t0 + t1) / 2, t1, depth + 1);
      return;
    }
    if (pieces.length > 0) worst = Math.max(worst, strayOf(curve, t0, t1, pieces, MEASURED));
    segments.push(...pieces);
  };
  // An oval all round has no chord; and nothing with more than half a turn in it is worth trying.
  const first =
    curve.kind === 'oval' ? Math.max(1, Math.ceil(Math.abs(curve.sweep) / (Math.PI / 2) - 1e-9)) : 1;
  for (let i = 0; i < first; i++) follow(i / first, (i + 1) / first, 0);
  return { segments, worst };
};

const stretch = (
  c: Curve,
  t0: number,
  t1: number,
  within: number,
  last: boolean,
): readonly Segment[] | null => {
  const [from, to] = [curveAt(c, t0), curveAt(c, t1)];
  if (distance(from, to) < 1e-9) return last || isStill(c, t0, t1) ? [] : null;
  const chord = [line(from, to)];
  if (last || strayOf(c, t0, t1, chord, TRIED) < within / 100) return chord;
  const pair = biarc(from, directionAt(c, t0, t1), to, directionAt(c, t1, t0));
  if (pair === null) return null;
  // A pair that goes the long way round passes by the curve's places and is none.
  const length = pair.reduce((sum, s) => sum + segmentLength(s), 0);
  if (length > 1.2 * runOf(c, t0, t1) + within) return null;
  return strayOf(c, t0, t1, pair, TRIED) <= within ? pair : null;
};

const isStill = (c: Curve, t0: number, t1: number): boolean => runOf(c, t0, t1) < 1e-6;

/** Length of a stretch by its chords. */
const runOf = (c: Curve, t0: number, t1: number): number => {
  let sum = 0;
  let before = curveAt(c, t0);
  for (let i = 1; i <= TRIED; i++) {
    const p = curveAt(c, t0 + ((t1 - t0) * i) / TRIED);
    sum += distance(before, p);
    before = p;
  }
  return sum;
};

/** Greatest distance between a stretch of a curve and segments, looked at from both. */
const strayOf = (c: Curve, t0: number, t1: number, segments: readonly Segment[], count: number): number => {
  const places = Array.from({ length: count + 1 }, (_, i) => curveAt(c, t0 + ((t1 - t0) * i) / count));
  const off = (p: Point, from: readonly Segment[]): number =>
    from.reduce((least, s) => Math.min(least, nearestOn(s, p).distance), Number.POSITIVE_INFINITY);
  const there = places.reduce((worst, p) => Math.max(worst, off(p, segments)), 0);
  if (count > TRIED) return there;
  const chords = places.slice(1).map((p, i) => line(places[i]!, p));
  // The chords lie inside the curve by their own sagitta; a middle of ours farther off than that has strayed.
  const back = segments.reduce((worst, s) => {
    const p = pointAlong(s, 0.5);
    const sagitta = segmentLength(s) / 100;
    return Math.max(worst, Math.max(0, off(p, chords) - sagitta));
  }, 0);
  return Math.max(there, back);
};

/** Unit direction of travel at t on the side of `other`, also where the slope vanishes. */
const directionAt = (c: Curve, t: number, other: number): Point => {
  const slope = slopeAt(c, t);
  const near = curveAt(c, t + (other - t) * 1e-3);
  const chord = other > t ? subtract(near, curveAt(c, t)) : subtract(curveAt(c, t), near);
  return Math.hypot(slope.x, slope.y) > 1e-9 * Math.hypot(chord.x, chord.y) * 1e3 ? unit(slope) : unit(chord);
};

/** Two arcs from p along u to q along v that touch each other; one may be straight. Null where there are none. */
const biarc = (p: Point, u: Point, q: Point, v: Point): readonly Segment[] | null => {
  const w = subtract(q, p);
  const t = add(u, v);
  const k = 2 * (1 - dot(u, v));
  const reach =
    k > 1e-12 ? (-dot(w, t) + Math.sqrt(dot(w, t) ** 2 + k * dot(w, w))) / k : dot(w, w) / (4 * dot(w, v));
  if (!(reach > 0) || !Number.isFinite(reach)) return null;
  const joint = scale(add(add(p, q), scale(subtract(u, v), reach)), 0.5);
  const first = touching(p, u, joint, true);
  const second = touching(q, v, joint, false);
  return first === null || second === null ? null : [first, second];
};

/** The arc (or line) that has direction u at p and its other end at q; `leaving` p, or arriving there from q. */
const touching = (p: Point, u: Point, q: Point, leaving: boolean): Segment | null => {
  const w = subtract(q, p);
  const l2 = dot(w, w);
  if (l2 < 1e-18) return null;
  const across = dot(w, leftOf(u));
  const [from, to] = leaving ? [p, q] : [q, p];
  // Flatter than this, an arc's centre is too far off to be reckoned with.
  if (Math.abs(across) < 1e-7 * Math.sqrt(l2) || Math.abs(across) < 1e-9) return line(from, to);
  const radius = l2 / (2 * across);
  const centre = add(p, scale(leftOf(u), radius));
  return arc(from, to, centre, radius > 0);
};
