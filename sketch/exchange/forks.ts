import {
  add,
  angleOf,
  cross,
  distance,
  dot,
  midpoint,
  type Point,
  scale,
  subtract,
  unit,
} from '../shape/point.ts';
import type { Contour } from '../shape/region.ts';
import { type Arc, arc, directionAlong, line, radiusOf, type Segment } from '../shape/segment.ts';
import { runsOn } from './shapes.ts';

/** A slot open at the edge, as it was found in an outline. */
export interface FoundFork {
  readonly mouth: Point;
  /** Inward, radians. */
  readonly direction: number;
  readonly width: number;
  readonly depth: number;
  readonly root: 'round' | 'square';
  readonly cornerRadius: number;
}

/**
 * Takes the forks out of an outline (anticlockwise): two parallel sides that run inward to a round root, or to a
 * square one with round corners or sharp. The gap is closed by what was there on both sides if that is one curve.
 */
export const withoutForks = (
  contour: Contour,
  tolerance: number,
): { readonly contour: Contour; readonly forks: readonly FoundFork[] } => {
  let segments = contour.segments;
  const forks: FoundFork[] = [];
  for (let tries = 0; tries < 20; tries++) {
    const found = findFork(segments, tolerance);
    if (found === null) break;
    forks.push(found.fork);
    segments = found.rest;
  }
  return { contour: { segments }, forks };
};

const findFork = (
  segments: readonly Segment[],
  tolerance: number,
): { readonly fork: FoundFork; readonly rest: readonly Segment[] } | null => {
  const n = segments.length;
  for (let i = 0; i < n; i++) {
    for (const count of [1, 3]) {
      if (n < count + 4) continue;
      const at = (k: number): Segment => segments[(i + k) % n]!;
      const root = Array.from({ length: count }, (_, k) => at(k + 1));
      const fork = forkOf(at(0), root, at(count + 1), tolerance);
      if (fork === null) continue;
      const others = Array.from({ length: n - count - 2 }, (_, k) => at(count + 2 + k));
      const rest = bridged(others, tolerance);
      if (rest !== null) return { fork, rest };
    }
  }
  return null;
};

const forkOf = (
  into: Segment,
  root: readonly Segment[],
  out: Segment,
  tolerance: number,
): FoundFork | null => {
  if (into.kind !== 'line' || out.kind !== 'line') return null;
  const u = directionAlong(into, 0);
  const v = directionAlong(out, 0);
  if (dot(u, v) > -1 + 1e-4 || Math.abs(cross(u, v)) > 3e-3) return null;
  // The outline runs anticlockwise, so there is air to the right of its way in: the way out must lie there.
  const right = { x: u.y, y: -u.x };
  const width = dot(subtract(out.from, into.to), right);
  if (!(width > tolerance)) return null;
  const length = (s: Segment): number => distance(s.from, s.to);
  const inner = rootOf(root, into, out, width, tolerance);
  if (inner === null) return null;
  // The mouth lies where the longer side begins.
  const start = Math.min(dot(subtract(into.from, into.to), u), dot(subtract(out.to, into.to), u));
  if (-start < Math.min(length(into), length(out)) * 0.5) return null;
  const side = add(into.to, scale(u, start));
  const mouth = add(side, scale(right, width / 2));
  return {
    mouth,
    direction: angleOf(u),
    width,
    depth: -start + inner.reach,
    root: inner.root,
    cornerRadius: inner.radius,
  };
};

/** What closes a fork's inner end, and how far it reaches beyond the ends of the sides; null for no root. */
const rootOf = (
  root: readonly Segment[],
  into: Segment,
  out: Segment,
  width: number,
  tolerance: number,
): { readonly root: 'round' | 'square'; readonly radius: number; readonly reach: number } | null => {
  const concave = (s: Segment, turn: number): s is Arc => s.kind === 'arc' && Math.abs(s.sweep - turn) < 0.02;
  const [first, middle, last] = root;
  if (root.length === 1) {
    if (concave(first!, -Math.PI) && runsOn(into, first, 0.02) && runsOn(first, out, 0.02)) {
      return { root: 'round', radius: width / 2, reach: width / 2 };
    }
    const isAcross =
      first!.kind === 'line' && Math.abs(dot(directionAlong(first!, 0), directionAlong(into, 0))) < 3e-3;
    return isAcross ? { root: 'square', radius: 0, reach: 0 } : null;
  }
  if (!concave(first!, -Math.PI / 2) || !concave(last!, -Math.PI / 2) || middle!.kind !== 'line') return null;
  const r = radiusOf(first);
  if (Math.abs(radiusOf(last) - r) > 2 * tolerance) return null;
  return runsOn(into, first, 0.02) && runsOn(last, out, 0.02)
    ? { root: 'square', radius: r, reach: r }
    : null;
};

/** A chain closed again over the gap between its last segment and its first. */
const bridged = (chain: readonly Segment[], tolerance: number): readonly Segment[] | null => {
  const first = chain[0];
  const last = chain[chain.length - 1];
  if (first === undefined || last === undefined) return null;
  if (last.kind === 'arc' && first.kind === 'arc' && sameCircle(last, first, tolerance)) {
    const whole = arc(last.from, first.to, midpoint(last.centre, first.centre), last.sweep > 0);
    return chain.length === 1 ? null : [...chain.slice(1, -1), whole];
  }
  if (last.kind === 'line' && first.kind === 'line' && chain.length > 1) {
    const u = unit(subtract(last.to, last.from));
    const onward = [first.from, first.to].every(
      (p) => Math.abs(cross(u, subtract(p, last.from))) <= 4 * tolerance && dot(u, subtract(p, last.to)) > 0,
    );
    if (onward) return [...chain.slice(1, -1), line(last.from, first.to)];
  }
  return [...chain, line(last.to, first.from)];
};

const sameCircle = (a: Arc, b: Arc, tolerance: number): boolean =>
  a.sweep > 0 === b.sweep > 0 &&
  distance(a.centre, b.centre) <= 10 * tolerance &&
  Math.abs(radiusOf(a) - radiusOf(b)) <= 10 * tolerance;
