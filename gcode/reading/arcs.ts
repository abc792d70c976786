import type { Point } from '../../sketch/shape/point.ts';
import type { FaultCode } from './faults.ts';

/**
 * How far the distances from an arc's centre to its two ends may differ: NISTIR 6556 section 3.5.3.2, 0.0002 inch
 * where inches are used and 0.002 mm where millimetres are; both given here in mm.
 */
export const arcTolerance = (unit: 'mm' | 'inch'): number => (unit === 'inch' ? 0.0002 * 25.4 : 0.002);

/** Two ends nearer than this are one, and the arc is a full turn. Coordinates come from decimals; mm. */
const SAME = 1e-9;

export interface ArcPath {
  readonly centre: Point;
  readonly sweep: number;
}

export interface ArcAnswer {
  /** Null when there is no arc to be had. */
  readonly path: ArcPath | null;
  readonly fault: { readonly code: FaultCode; readonly message: string } | null;
}

const amiss = (code: FaultCode, message: string, path: ArcPath | null = null): ArcAnswer => ({
  path,
  fault: { code, message },
});

/** Signed turn from one end to the other round the centre; a full turn when they are one. */
const sweepOf = (from: Point, to: Point, centre: Point, clockwise: boolean): number => {
  const full = clockwise ? -2 * Math.PI : 2 * Math.PI;
  if (Math.hypot(to.x - from.x, to.y - from.y) < SAME) return full;
  const turn =
    Math.atan2(to.y - centre.y, to.x - centre.x) - Math.atan2(from.y - centre.y, from.x - centre.x);
  if (clockwise) return turn >= 0 ? turn - 2 * Math.PI : turn;
  return turn <= 0 ? turn + 2 * Math.PI : turn;
};

const figure = (mm: number): string => mm.toFixed(4);

/** An arc given by its centre (section 3.5.3.2). All in mm. */
export const arcByCentre = (
  from: Point,
  to: Point,
  centre: Point,
  clockwise: boolean,
  tolerance: number,
): ArcAnswer => {
  const start = Math.hypot(from.x - centre.x, from.y - centre.y);
  const end = Math.hypot(to.x - centre.x, to.y - centre.y);
  if (start < SAME)
    return amiss('arc-zero-radius', 'The arc begins on its own centre: its radius is nought.');
  const path = { centre, sweep: sweepOf(from, to, centre, clockwise) };
  if (Math.abs(start - end) <= tolerance + SAME) return { path, fault: null };
  return amiss(
    'arc-radius-mismatch',
    `The arc's centre lies ${figure(start)} mm from its start and ${figure(end)} mm from its end: ` +
      `${figure(Math.abs(start - end))} apart, where the standard allows ${figure(tolerance)}.`,
    path,
  );
};

/** An arc given by its radius (section 3.5.3.1): the short way for a positive radius, the long way for a negative. */
export const arcByRadius = (
  from: Point,
  to: Point,
  radius: number,
  clockwise: boolean,
  tolerance: number,
): ArcAnswer => {
  const dx = to.x - from.x;
  const dy = to.y - from.y;
  const chord = Math.hypot(dx, dy);
  const size = Math.abs(radius);
  if (chord < SAME) {
    return amiss(
      'arc-radius-closed',
      'An arc by radius ends where it begins: its centre could lie anywhere.',
    );
  }
  if (size < SAME) return amiss('arc-zero-radius', 'The radius of the arc is nought.');
  if (chord / 2 > size + tolerance) {
    return amiss(
      'arc-radius-too-small',
      `A radius of ${figure(size)} mm does not span ends that are ${figure(chord)} mm apart.`,
    );
  }
  const rise = Math.sqrt(Math.max(0, size * size - (chord * chord) / 4));
  // The centre lies left of the chord for a short anticlockwise arc, and for a long clockwise one.
  const side = radius > 0 === clockwise ? -1 : 1;
  const centre = {
    x: from.x + dx / 2 - (side * rise * dy) / chord,
    y: from.y + dy / 2 + (side * rise * dx) / chord,
  };
  const sweep = sweepOf(from, to, centre, clockwise);
  const path = { centre, sweep };
  const degrees = (Math.abs(sweep) * 180) / Math.PI;
  if ((degrees > 165 && degrees < 195) || degrees > 345) {
    return amiss(
      'arc-ill-conditioned',
      `An arc by radius of ${degrees.toFixed(0)} degrees: a small error of its end moves its middle far. Give its centre.`,
      path,
    );
  }
  return { path, fault: null };
};
