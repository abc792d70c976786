import type { Point, Point3 } from '../../sketch/shape/point.ts';
import { type Frame, toPart } from '../route/frame.ts';

/** One motion of a cutter's tip, in a setup's program coordinates: straight, or an arc (helix) in the XY plane. */
export interface Stroke {
  readonly kind: 'rapid' | 'feed' | 'arc';
  readonly from: Point3;
  readonly to: Point3;
  readonly centre?: Point;
  /** Radians, positive anticlockwise. */
  readonly sweep?: number;
}

/** The same motion in the part's coordinates. Turned over, an arc runs the other way round. */
export const strokeInPart = <S extends Stroke>(stroke: S, frame: Frame): S => {
  const turned: S = { ...stroke, from: toPart(frame, stroke.from), to: toPart(frame, stroke.to) };
  if (stroke.centre === undefined || stroke.sweep === undefined) return turned;
  const centre = toPart(frame, { ...stroke.centre, z: 0 });
  return {
    ...turned,
    centre: { x: centre.x, y: centre.y },
    sweep: frame.face === 'front' ? stroke.sweep : -stroke.sweep,
  };
};
