import type { Bar } from '../../sketch/part/part.ts';
import type { Point } from '../../sketch/shape/point.ts';
import { directionAlong, pointAlong, type Segment, segmentLength } from '../../sketch/shape/segment.ts';

/** Distance between places judged on a wall, mm. */
const SPACING = 0.1;

export interface WallPlace {
  readonly place: Point;
  readonly outward: Point;
}

/** A place on a wall that is judged. */
export interface Sample extends WallPlace {
  /** Of the bar's material outside the wall, mm. */
  readonly room: number;
}

export const samplesOn = (segment: Segment, before: Segment): readonly WallPlace[] => {
  const count = Math.max(1, Math.ceil(segmentLength(segment) / SPACING));
  const right = (d: Point): Point => ({ x: d.y, y: -d.x });
  const samples: WallPlace[] = [];
  const u = right(directionAlong(before, 1));
  const v = right(directionAlong(segment, 0));
  const l = Math.hypot(u.x + v.x, u.y + v.y);
  samples.push({
    place: segment.from,
    outward: l < 1e-9 ? v : { x: (u.x + v.x) / l, y: (u.y + v.y) / l },
  });
  for (let k = 0; k < count; k++) {
    const t = (k + 0.5) / count;
    samples.push({ place: pointAlong(segment, t), outward: right(directionAlong(segment, t)) });
  }
  return samples;
};

/** Length of the bar's material outside a wall along its normal, before anything was cut, mm. */
export const roomOutside = (bar: Bar, p: Point, n: Point): number => {
  const x0 = bar.corner.x - bar.sawn;
  const x1 = bar.corner.x + bar.length + bar.sawn;
  const y0 = bar.corner.y;
  const y1 = bar.corner.y + bar.width;
  const alongX = n.x > 1e-9 ? (x1 - p.x) / n.x : n.x < -1e-9 ? (x0 - p.x) / n.x : Number.POSITIVE_INFINITY;
  const alongY = n.y > 1e-9 ? (y1 - p.y) / n.y : n.y < -1e-9 ? (y0 - p.y) / n.y : Number.POSITIVE_INFINITY;
  return Math.min(alongX, alongY);
};
