import { clipPath } from '../../sketch/shape/clip-path.ts';
import { offset } from '../../sketch/shape/offset.ts';
import { isEmpty, type Path, type Region, regionBox } from '../../sketch/shape/region.ts';
import { line } from '../../sketch/shape/segment.ts';
import { type LapTerms, lapZone, usefulPieces } from './laps.ts';
import { edgeOf, withoutTail } from './tail.ts';

/** Overlap of the outermost stroke past the target's edge, mm. */
const PAST_EDGE = 0.5;

/** A single stroke may do with as much less: this much more than the target in all, mm. */
const LEAST_OVER = 0.2;

/**
 * Straight strokes along X over a target, all one way from the side named, so that the feed never pulls the work
 * out of the jaws. Climb: what is still to be cut lies to the right of the travel.
 */
export const oneWayStrokes = (
  target: Region,
  keepOut: Region,
  terms: LapTerms,
  startFrom: 'left' | 'right',
): readonly Path[] => {
  const box = regionBox(target);
  if (box === null) return [];
  const zone = lapZone(target, terms.radius);
  const edge = edgeOf(target);
  const walls = isEmpty(keepOut) ? keepOut : offset(keepOut, terms.radius + terms.allowance);
  const reach = terms.radius + 2;
  // Travelling to the right, the right-hand side is lower Y: climb then works from high Y to low.
  const downward = (startFrom === 'left') === (terms.direction === 'climb');
  return strokePositions(box.min.y, box.max.y, terms, downward).flatMap((y) => {
    const left = { x: box.min.x - reach, y };
    const right = { x: box.max.x + reach, y };
    const stroke: Path = { segments: [startFrom === 'left' ? line(left, right) : line(right, left)] };
    const open = isEmpty(walls) ? [stroke] : clipPath(stroke, walls, 'outside');
    return open
      .flatMap((path) => usefulPieces(path, zone))
      .map((path) => withoutTail(path, edge, terms.radius));
  });
};

const strokePositions = (
  low: number,
  high: number,
  terms: LapTerms,
  downward: boolean,
): readonly number[] => {
  const inset = terms.radius - PAST_EDGE;
  const first = low + inset;
  const last = high - inset;
  if (last - first <= 2 * PAST_EDGE - LEAST_OVER) return [(low + high) / 2];
  const count = Math.ceil((last - first) / terms.stepover);
  const positions = Array.from({ length: count + 1 }, (_, i) => first + ((last - first) * i) / count);
  return downward ? positions.reverse() : positions;
};
