import { clipPath } from '../../sketch/shape/clip-path.ts';
import { offset } from '../../sketch/shape/offset.ts';
import { distance } from '../../sketch/shape/point.ts';
import {
  isEmpty,
  nearestBoundary,
  type Path,
  type Region,
  regionBox,
  reverseContour,
} from '../../sketch/shape/region.ts';
import { AIR, BITE } from '../route/clearances.ts';
import { isClosed } from './track.ts';

/** One trip of the cutter's centre at one depth. Ring 0 runs along the walls, higher rings lie farther from them. */
export interface Lap {
  readonly path: Path;
  readonly closed: boolean;
  readonly ring: number;
}

export interface LapTerms {
  readonly radius: number;
  /** Stock left on the walls, mm. */
  readonly allowance: number;
  readonly stepover: number;
  readonly direction: 'climb' | 'conventional';
}

/**
 * Contour-parallel laps that clear `target` without the cutter entering `keepOut`: farthest from the walls first.
 * A lap is kept only where the cutter is near the target, so that it begins and ends in the open where it can.
 * Climb: with the spindle turning clockwise the wall lies to the right of the travel.
 */
export const contourLaps = (target: Region, keepOut: Region, terms: LapTerms): readonly Lap[] => {
  if (isEmpty(target) || isEmpty(keepOut)) return [];
  const zone = lapZone(target, terms.radius);
  const laps: Lap[] = [];
  const last = Math.ceil(farthest(target, keepOut) / terms.stepover) + 1;
  for (let ring = 0; ring <= last; ring++) {
    const found = ringLaps(keepOut, terms, ring, zone);
    if (found.length === 0 && ring > 0) break;
    laps.unshift(...found);
  }
  return laps;
};

/** Only the laps along the walls. */
export const wallLaps = (target: Region, keepOut: Region, terms: LapTerms): readonly Lap[] =>
  isEmpty(target) || isEmpty(keepOut) ? [] : ringLaps(keepOut, terms, 0, lapZone(target, terms.radius));

/** Where the cutter's centre may be of use: `near` the target, and `touching` it. */
interface LapZone {
  readonly near: Region;
  readonly touching: Region;
}

export const lapZone = (target: Region, radius: number): LapZone => ({
  near: offset(target, radius + AIR),
  touching: offset(target, radius - BITE),
});

/** The pieces of a path that are of use to the target; a piece that never touches it is dropped. */
export const usefulPieces = (path: Path, zone: LapZone): readonly Path[] =>
  clipPath(path, zone.near, 'inside').filter((p) => clipPath(p, zone.touching, 'inside').length > 0);

const ringLaps = (keepOut: Region, terms: LapTerms, ring: number, zone: LapZone): Lap[] => {
  const walls = offset(keepOut, terms.radius + terms.allowance + ring * terms.stepover);
  return walls.contours.flatMap((contour) => {
    const run = terms.direction === 'climb' ? reverseContour(contour) : contour;
    return usefulPieces(run, zone).map((path) => ({ path, closed: isClosed(path), ring }));
  });
};

/** Greatest distance from the walls to any part of the target, mm (an upper bound). */
const farthest = (target: Region, keepOut: Region): number => {
  const box = regionBox(target)!;
  const corners = target.contours.flatMap((c) => c.segments.map((s) => s.from));
  const reach = corners.reduce((most, p) => Math.max(most, nearestBoundary(keepOut, p)?.distance ?? 0), 0);
  return Math.min(reach + distance(box.min, box.max) / 2, distance(box.min, box.max));
};
