import { inOrderOfSweep, throughImage } from './clip-apart.ts';
import { type Cluster, clustersOf } from './clusters.ts';
import { CLEAR } from './framed.ts';
import { knownBy } from './known.ts';
import { plainOffset } from './plain-offset.ts';
import { cross, dot, length, type Point, polar, subtract } from './point.ts';
import { type Contour, isEmpty, NOTHING, type Region } from './region.ts';
import {
  angleOfStart,
  directionAlong,
  type Line,
  line,
  radiusOf,
  type Segment,
  segmentLength,
} from './segment.ts';
import { SAME_POINT } from './tolerance.ts';

/** Turns smaller than this are noise of a smooth joint, radians. */
const SMOOTH = 1e-7;

/** Turns nearer than this to half a turn may be half a turn to either side, radians. */
const BACK = 1e-3;

/**
 * The region grown (distance > 0) or shrunk (distance < 0) by a distance in mm, corners rounded about their points.
 * Straight pieces stay straight, round pieces stay round about the same centre.
 *
 * Where closed forms say all (`plainOffset`) they do, without clipping. Else each contour is moved sideways exactly,
 * corners joined by arcs or through the corner itself, and of the tangle that makes what it winds round anticlockwise
 * is kept: everything overrun has a winding of nothing or less.
 */
export const offset = (region: Region, distance: number): Region => {
  if (isEmpty(region)) return NOTHING;
  if (Math.abs(distance) < 1e-9) return region;
  const clusters = clustersOf(region.contours, [], 2 * Math.abs(distance) + CLEAR);
  const alone = clusters.length === 1;
  const parts = clusters.map((cluster) => clusterOffset(cluster, distance, alone));
  if (alone) return parts[0]!.region;
  if (parts.some(({ plain }) => !plain))
    return { contours: inOrderOfSweep(parts.map((part) => part.region.contours)) };
  // In closed form every contour has one that it goes over into, and these stand in the same order.
  const over = new Map(
    clusters.flatMap(({ subject }, k) => subject.map((c, i) => [c, parts[k]!.region.contours[i]!])),
  );
  return { contours: region.contours.map((c) => over.get(c)!) };
};

interface Offset {
  readonly region: Region;
  readonly plain: boolean;
}

/** The offset of contours that no other comes near; `alone` where there are no others. */
const clusterOffset = ({ subject, about }: Cluster, distance: number, alone: boolean): Offset =>
  moved.of(subject, `${distance} ${alone ? 'alone' : about.subject}`, () => {
    const plain = plainOffset({ contours: subject }, distance, alone ? null : about.subject);
    if (plain !== null) return { region: plain, plain: true };
    const sideways = subject.map((contour) => moveSideways(contour, distance));
    const contours = throughImage({ subject: sideways, clipping: [], about }, 'union', 'positive');
    return { region: { contours }, plain: false };
  });

/** Offsets of contours by the contours. */
const moved = knownBy<Contour, Offset>();

/** The raw offset of a closed contour to its right (distance > 0) or left: crosses itself where it is overrun. */
export const moveSideways = (contour: Contour, distance: number): Contour => {
  // A segment of no length has no side to move to.
  const segments = contour.segments.filter((s) => segmentLength(s) > SAME_POINT);
  const moved: Segment[] = [];
  segments.forEach((segment, i) => {
    const next = segments[(i + 1) % segments.length]!;
    moved.push(...moveSegment(segment, distance), ...joint(segment, next, distance));
  });
  return { segments: withoutSpikes(moved) };
};

/**
 * Lines that run out and straight back are taken as far as they get: a corner gone through on the way to an arc moved
 * past its centre makes them, and of what winds round nothing they only burden the clipping.
 */
const withoutSpikes = (segments: readonly Segment[]): readonly Segment[] => {
  const kept: Segment[] = [];
  for (const segment of segments) {
    const last = kept[kept.length - 1];
    if (last?.kind === 'line' && segment.kind === 'line' && turnsBack(last, segment)) {
      kept[kept.length - 1] = line(last.from, segment.to);
    } else kept.push(segment);
  }
  return kept;
};

const turnsBack = (a: Line, b: Line): boolean => {
  const u = subtract(a.from, a.to);
  const v = subtract(b.to, b.from);
  return dot(u, v) > 0 && Math.abs(cross(u, v)) < SAME_POINT * Math.max(length(u), length(v));
};

const moveSegment = (s: Segment, d: number): readonly Segment[] => {
  if (s.kind === 'line') {
    const t = directionAlong(s, 0);
    return [
      line({ x: s.from.x + t.y * d, y: s.from.y - t.x * d }, { x: s.to.x + t.y * d, y: s.to.y - t.x * d }),
    ];
  }
  const grown = radiusOf(s) + (s.sweep > 0 ? d : -d);
  const start = angleOfStart(s);
  const from = polar(s.centre, grown, start);
  const to = polar(s.centre, grown, start + s.sweep);
  if (grown > 0) return [{ kind: 'arc', from, to, centre: s.centre, sweep: s.sweep }];
  // Moved past its own centre, an arc overruns its sector and no more: what lies beyond is nearer to its neighbours.
  return [line(from, s.centre), line(s.centre, to)];
};

const joint = (a: Segment, b: Segment, d: number): readonly Segment[] => {
  const u = directionAlong(a, 1);
  const v = directionAlong(b, 0);
  const corner = a.to;
  let turn = Math.atan2(cross(u, v), dot(u, v));
  if (Math.abs(turn) < SMOOTH) return [];
  // Of a path that doubles back, at a cusp or the end of a slit, noise decides to which side it turns: it is gone
  // round in full, which is never wrong, for all within the distance of a corner is overrun.
  if (Math.abs(turn) > Math.PI - BACK && turn * d < 0) turn += d > 0 ? 2 * Math.PI : -2 * Math.PI;
  const beside = (t: Point): Point => ({ x: corner.x + t.y * d, y: corner.y - t.x * d });
  const from = beside(u);
  const to = beside(v);
  if (turn * d > 0) return [{ kind: 'arc', from, to, centre: corner, sweep: turn }];
  return [line(from, corner), line(corner, to)];
};

/**
 * The region grown or shrunk by `step`, twice `step` and so on, `count` times: each from the one before, which is the
 * same – what is within a of what is within b is within a + b – and mostly simpler. What has vanished stays so.
 */
export const offsets = (region: Region, step: number, count: number): readonly Region[] => {
  const found: Region[] = [];
  let last = region;
  for (let k = 0; k < count; k++) {
    last = offset(last, step);
    found.push(last);
  }
  return found;
};
