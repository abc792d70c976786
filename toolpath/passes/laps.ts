import { difference, union } from '../../sketch/shape/boolean.ts';
import { clipPath } from '../../sketch/shape/clip-path.ts';
import { offset } from '../../sketch/shape/offset.ts';
import { isEmpty, type Path, type Region, regionArea, reverseContour } from '../../sketch/shape/region.ts';
import { thicken } from '../../sketch/shape/thicken.ts';
import { AIR, BITE } from '../route/clearances.ts';
import type { KeepOut } from './scene.ts';
import { type Edge, edgeOf, withoutTail } from './tail.ts';
import { isClosed } from './track.ts';

/** One trip of the cutter's centre at one depth. Ring 0 runs along the walls, higher rings lie that many stepovers farther. */
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
export const contourLaps = (target: Region, keepOut: KeepOut, terms: LapTerms): readonly Lap[] => {
  if (isEmpty(keepOut.walls)) return [];
  const laps = ringsOver(target, keepOut, terms);
  if (terms.stepover <= terms.radius) return laps;
  // Rings farther apart than the radius leave pegs in their corners and ridges in the middle: once more over these.
  const swept = union(laps.map((lap) => thicken(lap.path, terms.radius)));
  const pegs = ringsOver(difference(target, swept), keepOut, { ...terms, stepover: terms.radius });
  const share = terms.radius / terms.stepover;
  return [...laps, ...pegs.map((lap) => ({ ...lap, ring: lap.ring * share }))].sort(
    (a, b) => b.ring - a.ring,
  );
};

const ringsOver = (target: Region, keepOut: KeepOut, terms: LapTerms): readonly Lap[] => {
  const laps: Lap[] = [];
  const edge = edgeOf(target);
  let left = target;
  for (let ring = 0; ring < MOST_RINGS && regionArea(left) > NOTHING_LEFT; ring++) {
    laps.unshift(...ringLaps(keepOut, terms, ring, lapZone(left, terms.radius), edge));
    // The next ring is only for what lies beyond this one's sweep.
    const swept = terms.allowance + 2 * terms.radius + ring * terms.stepover;
    left = difference(left, offset(keepOut.walls, swept));
  }
  return laps;
};

/** Less than this, mm², is left to no further ring. */
const NOTHING_LEFT = 1e-3;

/** More rings than any bar in a small machine asks for: a guard against a stepover of nothing. */
const MOST_RINGS = 400;

/** Only the laps along the walls; `whole`: they need go no farther than to sweep what of the target they come to. */
export const wallLaps = (target: Region, keepOut: KeepOut, terms: LapTerms, whole = false): readonly Lap[] =>
  isEmpty(target) || isEmpty(keepOut.walls)
    ? []
    : ringLaps(keepOut, terms, 0, lapZone(target, terms.radius), whole ? edgeOf(target) : null);

/**
 * Laps along what only bars the way, over what the other laps leave beside it: where these are cut short there, cusps
 * stand between their ends.
 */
export const barredLaps = (left: Region, keepOut: KeepOut, terms: LapTerms): readonly Lap[] => {
  const along = offset(keepOut.barred, terms.radius + terms.allowance);
  const walls = offset(keepOut.walls, terms.radius + terms.allowance);
  return runsAlong(along, walls, terms, lapZone(left, terms.radius)).map((path) => ({
    path,
    closed: isClosed(path),
    ring: 0,
  }));
};

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

/** `edge`: of a target that is cleared altogether, so that laps may end when they have swept it. */
const ringLaps = (
  keepOut: KeepOut,
  terms: LapTerms,
  ring: number,
  zone: LapZone,
  edge: Edge | null,
): Lap[] => {
  const walls = offset(keepOut.walls, terms.radius + terms.allowance + ring * terms.stepover);
  const barred = offset(keepOut.barred, terms.radius);
  return runsAlong(walls, barred, terms, zone).map((path) => {
    const closed = isClosed(path);
    return { path: closed || edge === null ? path : withoutTail(path, edge, terms.radius), closed, ring };
  });
};

/** The pieces of a region's contours, the way the cutter goes along them, that lie outside another and are of use. */
const runsAlong = (along: Region, outside: Region, terms: LapTerms, zone: LapZone): readonly Path[] =>
  along.contours.flatMap((contour) => {
    const run = terms.direction === 'climb' ? reverseContour(contour) : contour;
    const open = isEmpty(outside) ? [run] : clipPath(run, outside, 'outside');
    return open.flatMap((piece) => usefulPieces(piece, zone));
  });
