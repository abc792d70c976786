import type { Face } from '../../sketch/part/part.ts';
import type { Point } from '../../sketch/shape/point.ts';
import { piece, type Segment, segmentBox, segmentLength } from '../../sketch/shape/segment.ts';
import { type Cutter, pointHeight } from '../machine/cutter.ts';
import type { Frame } from '../route/frame.ts';
import { type Stroke, strokeInPart } from './stroke.ts';

/**
 * One motion with the cutter that made it, in the part's coordinates (mm), as the exact checks see it.
 *
 * Heights are "up" heights of the tip at both ends: the part's z with the front up, its negative with the back up;
 * the cutter's body lies above its tip in that sense.
 */
export interface CutPath {
  /** Index of the setup, and of the pass within it. */
  readonly setup: number;
  readonly pass: number;
  readonly line: number;
  readonly face: Face;
  readonly rapid: boolean;
  readonly cutter: Cutter;
  /** In plan: a line (of no length for a plunge) or an arc. */
  readonly segment: Segment;
  readonly length: number;
  readonly u0: number;
  readonly u1: number;
  readonly radius: number;
  /** Height of the cone under the full diameter; 0 for a flat end. */
  readonly point: number;
  readonly box: { readonly x0: number; readonly y0: number; readonly x1: number; readonly y1: number };
}

export const upOf = (face: Face): 1 | -1 => (face === 'front' ? 1 : -1);

/** Puts a motion into the part's coordinates with its cutter. */
export const cutPath = (
  motion: Stroke & { readonly line: number },
  cutter: Cutter,
  frame: Frame,
  place: { readonly setup: number; readonly pass: number },
): CutPath => {
  const s = strokeInPart(motion, frame);
  const up = upOf(frame.face);
  const from: Point = { x: s.from.x, y: s.from.y };
  const to: Point = { x: s.to.x, y: s.to.y };
  const segment: Segment =
    s.kind === 'arc' && s.centre !== undefined && s.sweep !== undefined && s.sweep !== 0
      ? {
          kind: 'arc',
          from,
          to,
          centre: s.centre,
          sweep: Math.max(-2 * Math.PI, Math.min(2 * Math.PI, s.sweep)),
        }
      : { kind: 'line', from, to };
  const box = segmentBox(segment);
  return {
    ...place,
    line: motion.line,
    face: frame.face,
    rapid: motion.kind === 'rapid',
    cutter,
    segment,
    length: segmentLength(segment),
    u0: up * s.from.z,
    u1: up * s.to.z,
    radius: cutter.diameter / 2,
    point: cutter.kind === 'endmill' ? 0 : pointHeight(cutter),
    box: { x0: box.min.x, y0: box.min.y, x1: box.max.x, y1: box.max.y },
  };
};

export const lowestTip = (path: CutPath): number => Math.min(path.u0, path.u1);

/** Radius of the cutter at a height above its tip. */
export const radiusAbove = (path: CutPath, height: number): number =>
  path.point === 0 || height >= path.point ? path.radius : (path.radius * Math.max(0, height)) / path.point;

/** Up height of the tip a share `t` of the way along. */
export const tipAlong = (path: CutPath, t: number): number => path.u0 + (path.u1 - path.u0) * t;

/** The shares between which the tip is at or below an up height; null where it never is. */
export const sharesBelow = (path: CutPath, u: number): readonly [number, number] | null => {
  const { u0, u1 } = path;
  if (u0 <= u && u1 <= u) return [0, 1];
  if (u0 > u && u1 > u) return null;
  const t = (u - u0) / (u1 - u0);
  return u0 <= u ? [0, t] : [t, 1];
};

/** The stretch of the plan path between two shares. */
export const stretch = (path: CutPath, t0: number, t1: number): Segment => {
  if (t0 <= 0 && t1 >= 1) return path.segment;
  if (path.length < 1e-9) return path.segment;
  return piece(path.segment, t0, t1);
};
