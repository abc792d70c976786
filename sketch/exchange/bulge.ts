import { distance, type Point } from '../shape/point.ts';
import { line, type Segment } from '../shape/segment.ts';

/** A bulge smaller than this leaves no arc that could be told from a line. */
const STRAIGHT = 1e-9;

/**
 * The segment between two corners of a polyline. The bulge is the tangent of a quarter of the arc's sweep, positive
 * when it runs anticlockwise (DXF reference, group code 42).
 */
export const bulged = (from: Point, to: Point, bulge: number): Segment => {
  if (Math.abs(bulge) < STRAIGHT || distance(from, to) === 0) return line(from, to);
  // The centre lies on the chord's middle normal, half a chord times (1 − b²) / 2b to the left.
  const k = (1 - bulge * bulge) / (4 * bulge);
  const centre = {
    x: (from.x + to.x) / 2 - (to.y - from.y) * k,
    y: (from.y + to.y) / 2 + (to.x - from.x) * k,
  };
  return { kind: 'arc', from, to, centre, sweep: 4 * Math.atan(bulge) };
};
