import type { Bar, Face } from '../../sketch/part/part.ts';
import type { Point3 } from '../../sketch/shape/point.ts';
import type { Datum } from './route.ts';

/**
 * How a setup's program coordinates lie in the part's. Turning over is half a turn about the X axis:
 * X keeps its sense, Y and Z change theirs. Z zero is the top of the work.
 */
export interface Frame {
  readonly face: Face;
  /** The program's zero in the part's coordinates, mm. */
  readonly zero: Point3;
}

/** The frame of a setup: its zero is a corner (or the middle) of the bar to length, on the face that is up. */
export const frameOf = (bar: Bar, face: Face, datum: Datum): Frame => {
  const sense = face === 'front' ? 1 : -1;
  const middle = { x: bar.corner.x + bar.length / 2, y: bar.corner.y + bar.width / 2 };
  const z = face === 'front' ? bar.thickness : 0;
  if (datum === 'centre') return { face, zero: { ...middle, z } };
  const x = datum.startsWith('left') ? bar.corner.x : bar.corner.x + bar.length;
  const near = middle.y - (sense * bar.width) / 2;
  const far = middle.y + (sense * bar.width) / 2;
  return { face, zero: { x, y: datum.endsWith('near') ? near : far, z } };
};

export const toProgram = (f: Frame, p: Point3): Point3 => {
  const sense = f.face === 'front' ? 1 : -1;
  return { x: p.x - f.zero.x, y: sense * (p.y - f.zero.y), z: sense * (p.z - f.zero.z) };
};

export const toPart = (f: Frame, p: Point3): Point3 => {
  const sense = f.face === 'front' ? 1 : -1;
  return { x: p.x + f.zero.x, y: sense * p.y + f.zero.y, z: sense * p.z + f.zero.z };
};
