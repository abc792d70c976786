import type { IntPoint } from 'clipper-lib';
import { distance, type Point } from './point.ts';
import type { Contour } from './region.ts';
import { pointAlong, radiusOf, type Segment, segmentLength } from './segment.ts';
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
  const count = segment.kind === 'line' ? 1 : chordCount(radiusOf(segment), segment.sweep);
  let ax = Math.round(segment.from.x * IMAGE_SCALE);
  let ay = Math.round(segment.from.y * IMAGE_SCALE);
  for (let i = 1; i <= count; i++) {
    const p = pointAlong(segment, i / count);
    const bx = Math.round(p.x * IMAGE_SCALE);
    const by = Math.round(p.y * IMAGE_SCALE);
    path.push({ X: ax, Y: ay });
    chords.push({ ax, ay, bx, by, source: segment });
    ax = bx;
    ay = by;
  }
};

/** Chords for an arc, so that none strays farther than the tolerance from it, and none spans more than a sixth of a turn. */
const chordCount = (radius: number, sweep: number): number => {
  const step = radius > CHORD_TOLERANCE ? 2 * Math.acos(1 - CHORD_TOLERANCE / radius) : Math.PI / 3;
  return Math.max(1, Math.ceil(Math.abs(sweep) / Math.min(step, Math.PI / 3)));
};
