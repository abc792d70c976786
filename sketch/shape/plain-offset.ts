import { isSameCurve } from './curve.ts';
import { boxGap, keepApart } from './gap.ts';
import { intersections } from './intersections.ts';
import { type Box, cross, dot, type Point, polar } from './point.ts';
import { type Contour, type Region, windingNumber } from './region.ts';
import {
  angleOfStart,
  directionAlong,
  line,
  nearestOn,
  piece,
  pointAlong,
  radiusOf,
  type Segment,
  segmentBox,
  segmentLength,
} from './segment.ts';
import { SAME_POINT } from './tolerance.ts';

/** Turns smaller than this are noise of a smooth joint, radians. */
const SMOOTH = 1e-7;
/** Turns nearer than this to half a turn are left to the clipping, radians. */
const BACK = 1e-3;
/** An arc left smaller than this is as good as gone, mm. */
const SMALLEST_RADIUS = 1e-4;
/** More segments than this are not compared each with each. */
const MOST_SEGMENTS = 160;

/** A piece of the moved boundary and the segments of the old one that it lies at the distance from. */
interface Moved {
  readonly segment: Segment;
  readonly sources: readonly number[];
}

/**
 * The region grown (distance > 0) or shrunk (distance < 0) in closed form, or null where that is not all there is to it.
 *
 * Every segment is moved sideways; outward corners are rounded about their points; at inward corners the two moved
 * neighbours are cut where they meet once, and what is cut off is nearer to the neighbour than the distance. So all of
 * the true boundary is among what is left, and all that is left is true when none of it is nearer to any segment than
 * the distance: that is looked at exactly, each with each. Where something else is overrun – an arc vanishes, an arm
 * is pinched, corners eat one another – the answer is null, and clipping must say what remains.
 *
 * `about` is how often contours farther off than all this wind round these; null where there are none.
 */
export const plainOffset = (region: Region, distance: number, about: number | null = null): Region | null => {
  const old: Segment[] = [];
  const moved: Moved[] = [];
  const contours: Contour[] = [];
  for (const [k, contour] of region.contours.entries()) {
    if ((about !== null || region.contours.length > 1) && !isNestedWell(region, k, about ?? 0)) return null;
    const segments = merged(contour.segments.filter((s) => segmentLength(s) > SAME_POINT));
    if (segments.length === 0 || old.length + segments.length > MOST_SEGMENTS) return null;
    const pieces = moveContour(segments, distance, old.length);
    if (pieces === null) return null;
    old.push(...segments);
    moved.push(...pieces);
    contours.push({ segments: pieces.map((p) => p.segment) });
  }
  return keepsApart(moved, old, Math.abs(distance)) ? { contours } : null;
};

/** Neighbours that go on along one line or circle made one. */
const merged = (segments: readonly Segment[]): readonly Segment[] => {
  const kept: Segment[] = [];
  for (const segment of segments) {
    const last = kept.at(-1);
    const one = last && goingOn(last, segment);
    if (one) kept[kept.length - 1] = one;
    else kept.push(segment);
  }
  const one = kept.length > 1 ? goingOn(kept.at(-1)!, kept[0]!) : null;
  return one ? [one, ...kept.slice(1, -1)] : kept;
};

const goingOn = (a: Segment, b: Segment): Segment | null => {
  if (a.kind !== b.kind || !isSameCurve(a, b)) return null;
  if (a.kind === 'line' || b.kind === 'line') {
    return dot(directionAlong(a, 1), directionAlong(b, 0)) > 0 ? line(a.from, b.to) : null;
  }
  if (a.sweep > 0 !== b.sweep > 0) return null;
  const sweep = a.sweep + b.sweep;
  if (Math.abs(sweep) > 2 * Math.PI - 1e-9) {
    return { ...a, to: a.from, sweep: sweep > 0 ? 2 * Math.PI : -2 * Math.PI };
  }
  return { ...a, to: b.to, sweep };
};

/** Whether a contour bounds material where there is none round it, or a hole in what is there once. */
const isNestedWell = ({ contours }: Region, k: number, about: number): boolean => {
  const own = contours[k]!;
  const others = { contours: contours.filter((_, i) => i !== k) };
  const first = own.segments[0];
  if (first === undefined) return false;
  const area = windingOf(own);
  return about + windingNumber(others, pointAlong(first, 0.5)) === (area > 0 ? 0 : 1);
};

/** Sign of a contour's sense, by its turning. */
const windingOf = (contour: Contour): number =>
  contour.segments.reduce((sum, s) => {
    const chord = s.from.x * s.to.y - s.from.y * s.to.x;
    if (s.kind === 'line') return sum + chord;
    const r = radiusOf(s);
    return sum + chord + r * r * (s.sweep - Math.sin(s.sweep));
  }, 0);

const moveContour = (segments: readonly Segment[], d: number, offset: number): readonly Moved[] | null => {
  const n = segments.length;
  const raw: Segment[] = [];
  for (const segment of segments) {
    const one = moveSegment(segment, d);
    if (one === null) return null;
    raw.push(one);
  }
  /** Shares at which each moved segment begins and ends. */
  const from = new Float64Array(n);
  const to = new Float64Array(n).fill(1);
  const corners: (Segment | null)[] = [];
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    const [a, b] = [segments[i]!, segments[j]!];
    const [u, v] = [directionAlong(a, 1), directionAlong(b, 0)];
    const turn = Math.atan2(cross(u, v), dot(u, v));
    corners.push(null);
    if (Math.abs(turn) < SMOOTH || Math.abs(turn * d) < SAME_POINT / 2) continue;
    if (Math.abs(turn) > Math.PI - BACK) return null;
    if (turn * d > 0) {
      corners[i] = {
        kind: 'arc',
        from: beside(a.to, u, d),
        to: beside(a.to, v, d),
        centre: a.to,
        sweep: turn,
      };
      continue;
    }
    if (i === j) return null;
    const met = intersections(raw[i]!, raw[j]!);
    if (met.length !== 1) return null;
    const { shareA, shareB } = met[0]!;
    const far = (s: Segment, t: number, other: Segment): boolean =>
      nearestOn(other, pointAlong(s, t)).distance > Math.abs(d) + SAME_POINT;
    if (far(raw[i]!, (1 + shareA) / 2, b) || far(raw[j]!, shareB / 2, a)) return null;
    to[i] = shareA;
    from[j] = shareB;
  }
  const pieces: Moved[] = [];
  for (let i = 0; i < n; i++) {
    if (to[i]! - from[i]! <= 1e-9) return null;
    const own = raw[i]!;
    const segment = from[i] === 0 && to[i] === 1 ? own : piece(own, from[i]!, to[i]!);
    if (segmentLength(segment) < SAME_POINT) return null;
    pieces.push({ segment, sources: [offset + i] });
    const corner = corners[i];
    if (corner) pieces.push({ segment: corner, sources: [offset + i, offset + ((i + 1) % n)] });
  }
  return closed(pieces);
};

const beside = (corner: Point, t: Point, d: number): Point => ({
  x: corner.x + t.y * d,
  y: corner.y - t.x * d,
});

const moveSegment = (s: Segment, d: number): Segment | null => {
  if (s.kind === 'line') {
    const t = directionAlong(s, 0);
    return line(beside(s.from, t, d), beside(s.to, t, d));
  }
  const grown = radiusOf(s) + (s.sweep > 0 ? d : -d);
  if (grown < SMALLEST_RADIUS) return null;
  const start = angleOfStart(s);
  const from = polar(s.centre, grown, start);
  const whole = Math.abs(s.sweep) > 2 * Math.PI - 1e-9;
  const to = whole ? from : polar(s.centre, grown, start + s.sweep);
  return { kind: 'arc', from, to, centre: s.centre, sweep: s.sweep };
};

/** Each piece begun where the one before ends: the last bits of the two may differ. */
const closed = (pieces: readonly Moved[]): readonly Moved[] =>
  pieces.length === 1
    ? pieces
    : pieces.map((p, i) => {
        const { to } = pieces.at(i - 1)!.segment;
        return { ...p, segment: { ...p.segment, from: to } };
      });

/** Whether no moved piece is nearer to any old segment than the distance; its own sources are at it by construction. */
const keepsApart = (moved: readonly Moved[], old: readonly Segment[], distance: number): boolean => {
  const boxes: readonly Box[] = old.map(segmentBox);
  const least = distance - SAME_POINT;
  return moved.every(({ segment, sources }) => {
    const box = segmentBox(segment);
    return old.every(
      (s, i) => sources.includes(i) || boxGap(box, boxes[i]!) >= least || keepApart(segment, s, least),
    );
  });
};
