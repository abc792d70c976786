import type { Point } from '../../sketch/shape/point.ts';
import { contains, type Region, regionBox, segmentsOf } from '../../sketch/shape/region.ts';
import {
  type Arc,
  type Line,
  nearestOn,
  radiusOf,
  type Segment,
  segmentBox,
  shareOfArc,
} from '../../sketch/shape/segment.ts';

/** A region with the boxes of its segments, so that what lies far away is passed over quickly. */
export interface IndexedRegion {
  readonly region: Region;
  readonly segments: readonly Segment[];
  /** x0, y0, x1, y1 of each segment. */
  readonly boxes: Float64Array;
  readonly box: readonly [number, number, number, number] | null;
}

export const indexRegion = (region: Region): IndexedRegion => {
  const segments = segmentsOf(region);
  const boxes = new Float64Array(segments.length * 4);
  segments.forEach((s, i) => {
    const b = segmentBox(s);
    boxes.set([b.min.x, b.min.y, b.max.x, b.max.y], i * 4);
  });
  const b = regionBox(region);
  return { region, segments, boxes, box: b === null ? null : [b.min.x, b.min.y, b.max.x, b.max.y] };
};

/** Nearest approach of a path to a region's boundary within a reach: distance, place on the path, place on the wall. */
export interface Approach {
  readonly distance: number;
  readonly onPath: Point;
  readonly onWall: Point;
}

/** Closed form: the least of end points, common normals and crossings. Null when nothing is within `reach`. */
export const nearestApproach = (path: Segment, wall: IndexedRegion, reach: number): Approach | null => {
  const b = segmentBox(path);
  let best: Approach | null = null;
  let limit = reach;
  for (let i = 0; i < wall.segments.length; i++) {
    const o = i * 4;
    if (
      wall.boxes[o]! > b.max.x + limit ||
      wall.boxes[o + 2]! < b.min.x - limit ||
      wall.boxes[o + 1]! > b.max.y + limit ||
      wall.boxes[o + 3]! < b.min.y - limit
    )
      continue;
    const near = between(path, wall.segments[i]!);
    if (near.distance <= limit) {
      best = near;
      limit = near.distance;
    }
  }
  return best;
};

/** Distance from a point to the boundary (mm), Infinity beyond `reach`. */
export const wallDistance = (wall: IndexedRegion, p: Point, reach: number): number => {
  let limit = reach;
  let found = Number.POSITIVE_INFINITY;
  for (let i = 0; i < wall.segments.length; i++) {
    const o = i * 4;
    if (
      wall.boxes[o]! > p.x + limit ||
      wall.boxes[o + 2]! < p.x - limit ||
      wall.boxes[o + 1]! > p.y + limit ||
      wall.boxes[o + 3]! < p.y - limit
    )
      continue;
    const d = nearestOn(wall.segments[i]!, p).distance;
    if (d <= limit) {
      found = d;
      limit = d;
    }
  }
  return found;
};

/** Distance to the boundary, negative inside. */
export const signedWallDistance = (wall: IndexedRegion, p: Point): number => {
  const d = wallDistance(wall, p, Number.POSITIVE_INFINITY);
  return contains(wall.region, p) ? -d : d;
};

/** Nearest places of two segments. */
const between = (a: Segment, b: Segment): Approach => {
  const crossing = crossingOf(a, b);
  if (crossing !== null) return { distance: 0, onPath: crossing, onWall: crossing };
  let best: Approach = {
    distance: Number.POSITIVE_INFINITY,
    onPath: a.from,
    onWall: b.from,
  };
  const fromPath = (p: Point): void => {
    const near = nearestOn(b, p);
    if (near.distance < best.distance) best = { distance: near.distance, onPath: p, onWall: near.point };
  };
  const fromWall = (p: Point): void => {
    const near = nearestOn(a, p);
    if (near.distance < best.distance) best = { distance: near.distance, onPath: near.point, onWall: p };
  };
  fromPath(a.from);
  fromPath(a.to);
  fromWall(b.from);
  fromWall(b.to);
  // A common normal of two round or straight pieces passes through the centre of every round one.
  if (a.kind === 'line' && b.kind === 'arc') fromPath(nearestOn(a, b.centre).point);
  if (a.kind === 'arc' && b.kind === 'line') fromWall(nearestOn(b, a.centre).point);
  if (a.kind === 'arc' && b.kind === 'arc') {
    const d = Math.hypot(b.centre.x - a.centre.x, b.centre.y - a.centre.y);
    if (d > 1e-9) {
      const ux = (b.centre.x - a.centre.x) / d;
      const uy = (b.centre.y - a.centre.y) / d;
      for (const side of [radiusOf(a), -radiusOf(a)]) {
        const p = { x: a.centre.x + ux * side, y: a.centre.y + uy * side };
        if (shareOfArc(a, p) !== null) fromPath(p);
      }
    }
  }
  return best;
};

const crossingOf = (a: Segment, b: Segment): Point | null => {
  if (a.kind === 'line') return b.kind === 'line' ? crossLines(a, b) : crossLineArc(a, b);
  return b.kind === 'line' ? crossLineArc(b, a) : crossArcs(a, b);
};

const crossLines = (a: Line, b: Line): Point | null => {
  const ax = a.to.x - a.from.x;
  const ay = a.to.y - a.from.y;
  const bx = b.to.x - b.from.x;
  const by = b.to.y - b.from.y;
  const d = ax * by - ay * bx;
  if (Math.abs(d) < 1e-14) return null;
  const cx = b.from.x - a.from.x;
  const cy = b.from.y - a.from.y;
  const s = (cx * by - cy * bx) / d;
  const t = (cx * ay - cy * ax) / d;
  return s < 0 || s > 1 || t < 0 || t > 1 ? null : { x: a.from.x + ax * s, y: a.from.y + ay * s };
};

const crossLineArc = (a: Line, b: Arc): Point | null => {
  const dx = a.to.x - a.from.x;
  const dy = a.to.y - a.from.y;
  const l = Math.hypot(dx, dy);
  if (l < 1e-12) return null;
  const fx = a.from.x - b.centre.x;
  const fy = a.from.y - b.centre.y;
  const along = -(fx * dx + fy * dy) / l;
  const off2 = fx * fx + fy * fy - along * along;
  const half2 = radiusOf(b) ** 2 - off2;
  if (half2 < 0) return null;
  for (const s of [along - Math.sqrt(half2), along + Math.sqrt(half2)]) {
    if (s < 0 || s > l) continue;
    const p = { x: a.from.x + (dx / l) * s, y: a.from.y + (dy / l) * s };
    if (shareOfArc(b, p) !== null) return p;
  }
  return null;
};

const crossArcs = (a: Arc, b: Arc): Point | null => {
  const ra = radiusOf(a);
  const rb = radiusOf(b);
  const dx = b.centre.x - a.centre.x;
  const dy = b.centre.y - a.centre.y;
  const d = Math.hypot(dx, dy);
  if (d < 1e-12 || d > ra + rb || d < Math.abs(ra - rb)) return null;
  const along = (d * d + ra * ra - rb * rb) / (2 * d);
  const half = Math.sqrt(Math.max(0, ra * ra - along * along));
  for (const side of [half, -half]) {
    const p = {
      x: a.centre.x + (dx * along - dy * side) / d,
      y: a.centre.y + (dy * along + dx * side) / d,
    };
    if (shareOfArc(a, p) !== null && shareOfArc(b, p) !== null) return p;
  }
  return null;
};
