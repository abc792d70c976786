import type { IntPoint } from 'clipper-lib';
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

/** Closed polygons in image units, and the chords that they are made of. */
export interface Image {
  readonly paths: IntPoint[][];
  readonly chords: Chord[];
}

/** The point in the plane, mm, that a corner of the image stands for. */
export const fromImage = (p: IntPoint): Point => ({ x: p.X / IMAGE_SCALE, y: p.Y / IMAGE_SCALE });

/** The corner of the image that stands for a point. */
export const toImage = (p: Point): IntPoint => ({
  X: Math.round(p.x * IMAGE_SCALE),
  Y: Math.round(p.y * IMAGE_SCALE),
});

/** The integer image of closed contours: every line one chord, every arc as many as the chord tolerance asks for. */
export const imageOf = (contours: readonly Contour[]): Image => {
  const paths: IntPoint[][] = [];
  const chords: Chord[] = [];
  for (const contour of contours) {
    const path: IntPoint[] = [];
    for (const segment of contour.segments) chordSegment(segment, path, chords);
    if (path.length > 2) paths.push(path);
  }
  return { paths, chords };
};

const chordSegment = (segment: Segment, path: IntPoint[], chords: Chord[]): void => {
  if (segmentLength(segment) < SAME_POINT && distance(segment.from, segment.to) < SAME_POINT) return;
  let here = toImage(segment.from);
  const chordTo = (point: Point): void => {
    const next = toImage(point);
    if (next.X === here.X && next.Y === here.Y) return;
    path.push(here);
    chords.push({ ax: here.X, ay: here.Y, bx: next.X, by: next.Y, source: segment });
    here = next;
  };
  if (segment.kind === 'arc') for (const point of spokeEnds(segment)) chordTo(point);
  chordTo(segment.to);
};

/**
 * Where the spokes of a wheel cut an arc, in the order of its travel, its own ends left out. The wheel depends on the
 * circle alone, so that two arcs of one circle have the same chords wherever both run.
 */
const spokeEnds = (a: Arc): readonly Point[] => {
  const radius = radiusOf(a);
  const step = (2 * Math.PI) / spokeCount(radius);
  const start = angleOfStart(a);
  const low = Math.min(start, start + a.sweep);
  const high = Math.max(start, start + a.sweep);
  const clear = Math.min(step / 4, CLEAR / radius);
  const points: Point[] = [];
  for (let k = Math.ceil((low + clear) / step); k * step <= high - clear; k++)
    points.push(polar(a.centre, radius, k * step));
  return a.sweep > 0 ? points : points.reverse();
};

/** No spoke within this of an arc's end, mm: chords of a unit or two have no direction to speak of. */
const CLEAR = 10 / IMAGE_SCALE;

/**
 * How many spokes keep the chords of a circle within the tolerance: a multiple of four, so that the circle's extremes,
 * where upright and level lines touch it, are among them.
 */
const spokeCount = (radius: number): number => {
  const rounded = Math.round(radius / SAME_POINT) * SAME_POINT;
  const step = rounded > CHORD_TOLERANCE ? 2 * Math.acos(1 - CHORD_TOLERANCE / rounded) : Math.PI / 4;
  return 4 * Math.max(2, Math.ceil(Math.PI / 2 / step));
};
