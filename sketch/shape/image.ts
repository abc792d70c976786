import type { IntPoint } from 'clipper-lib';
import { type Node, nodesOf } from './nodes.ts';
import { distance, type Point, polar } from './point.ts';
import type { Contour } from './region.ts';
import { type Arc, angleOfStart, radiusOf, type Segment, segmentLength } from './segment.ts';
import { CHORD_TOLERANCE, IMAGE_SCALE, SAME_POINT } from './tolerance.ts';

/** One chord of the integer image, and the exact segment that it stands for. Ends in image units. */
export interface Chord {
  readonly ax: number;
  readonly ay: number;
  readonly bx: number;
  readonly by: number;
  readonly source: Segment;
}

/** Closed polygons in image units, those of the subject and those it is clipped by, and the chords of all. */
export interface Image {
  readonly subject: IntPoint[][];
  readonly clipping: IntPoint[][];
  readonly chords: Chord[];
}

/** The point in the plane, mm, that a corner of the image stands for. */
export const fromImage = (p: IntPoint): Point => ({ x: p.X / IMAGE_SCALE, y: p.Y / IMAGE_SCALE });

/** The corner of the image that stands for a point. */
export const toImage = (p: Point): IntPoint => ({
  X: Math.round(p.x * IMAGE_SCALE),
  Y: Math.round(p.y * IMAGE_SCALE),
});

/**
 * The integer image of closed contours. Arcs become chords within the chord tolerance. Wherever two segments meet, the
 * exact meeting is a corner of both, so that the image crosses itself where the truth does: a line that cuts an arc at
 * a shallow angle would else cross its chords far from where it crosses the arc.
 */
export const imageOf = (subject: readonly Contour[], clipping: readonly Contour[]): Image => {
  const contours = [...subject, ...clipping].map((c) => c.segments.filter(isLongEnough));
  const nodes = nodesOf(contours.flat());
  const chords: Chord[] = [];
  let next = 0;
  const paths = contours.map((segments) => {
    const path: IntPoint[] = [];
    for (const segment of segments) chordSegment(segment, nodes[next++]!, path, chords);
    return path;
  });
  const full = (path: IntPoint[]): boolean => path.length > 2;
  return {
    subject: paths.slice(0, subject.length).filter(full),
    clipping: paths.slice(subject.length).filter(full),
    chords,
  };
};

const isLongEnough = (s: Segment): boolean =>
  distance(s.from, s.to) >= SAME_POINT || segmentLength(s) >= SAME_POINT;

const chordSegment = (segment: Segment, nodes: readonly Node[], path: IntPoint[], chords: Chord[]): void => {
  const stops = [...nodes];
  if (segment.kind === 'arc') addChordEnds(segment, stops);
  stops.sort((a, b) => a.share - b.share);
  stops.push({ share: 1, point: segment.to });
  let here = toImage(segment.from);
  path.push(here);
  stops.forEach(({ point }, i) => {
    const next = toImage(point);
    if (next.X === here.X && next.Y === here.Y) return;
    chords.push({ ax: here.X, ay: here.Y, bx: next.X, by: next.Y, source: segment });
    if (i < stops.length - 1) path.push(next);
    here = next;
  });
};

/**
 * The ends of an arc's chords: where the spokes of a wheel cut the circle. The wheel depends on the circle alone, so
 * that two arcs of one circle have the same chords wherever both run; a spoke close to a meeting is left out.
 */
const addChordEnds = (a: Arc, stops: Node[]): void => {
  const radius = radiusOf(a);
  const step = (2 * Math.PI) / spokes(radius);
  const start = angleOfStart(a);
  const low = Math.min(start, start + a.sweep);
  const high = Math.max(start, start + a.sweep);
  const clear = Math.min(step / 4, CLEAR / radius);
  const taken = stops.map((s) => start + s.share * a.sweep);
  for (let k = Math.ceil((low + clear) / step); k * step <= high - clear; k++) {
    const angle = k * step;
    if (taken.some((t) => Math.abs(t - angle) < clear)) continue;
    stops.push({ share: (angle - start) / a.sweep, point: polar(a.centre, radius, angle) });
  }
};

/** No spoke within this of a meeting, mm. */
const CLEAR = 10 / IMAGE_SCALE;

/** How many spokes keep the chords of a circle within the tolerance: a multiple of four, so that the circle's extremes are among them. */
const spokes = (radius: number): number => {
  const rounded = Math.round(radius / SAME_POINT) * SAME_POINT;
  const step = rounded > CHORD_TOLERANCE ? 2 * Math.acos(1 - CHORD_TOLERANCE / rounded) : Math.PI / 4;
  return 4 * Math.max(2, Math.ceil(Math.PI / 2 / step));
};
