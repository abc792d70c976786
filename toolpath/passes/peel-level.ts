import { clipPath } from '../../sketch/shape/clip-path.ts';
import { offset } from '../../sketch/shape/offset.ts';
import { distance, type Point } from '../../sketch/shape/point.ts';
import { arc, type Segment } from '../../sketch/shape/segment.ts';
import { AIR } from '../route/clearances.ts';
import type { Clearing } from './area.ts';
import { sinkRound } from './entry.ts';
import type { Lap } from './laps.ts';
import { canPeel, finishingAllowance, orbitOf, type PeelTerms, peelLoops, peelOpening } from './peel.ts';
import { peelCorners } from './peel-corners.ts';
import type { Pen } from './pen.ts';
import { evenly, followFed, loopsFed } from './tooth-load.ts';
import { isClosed, startOf } from './track.ts';
import { ceilingUnder, type Workpiece } from './workpiece.ts';

type Peel = Extract<Clearing['pattern'], { kind: 'peel' }>;

/** The hole a closed slot is begun by has this share of the cutter's radius about its middle. */
const HOLE_SHARE = 0.6;
/** What is left in corners that no finishing lap could take within the limit, mm: less than the text's own rounding shows. */
const TO_SIZE = 0.002;
/** Laps along an opening's walls may stray this far from where they are, mm. */
const STRAY = 0.005;

/**
 * One level of a slot peeled: down beyond the edge of an open one, or by a helix in the first end of a closed one, then
 * loop by loop and into the corners of a square root. False, and nothing done, where the limit cannot be kept with
 * this cutter.
 */
export const peelLevel = (
  pen: Pen,
  work: Workpiece,
  clearing: Clearing,
  pattern: Peel,
  z: number,
  allowance: number,
): boolean => {
  const radius = clearing.cutter.diameter / 2;
  const { direction } = clearing.terms;
  const terms: PeelTerms = { ...pattern, width: pattern.width - 2 * allowance, radius, direction };
  const loops = canPeel(terms) ? peelLoops(terms) : null;
  const hole = Math.min(orbitOf(terms), HOLE_SHARE * radius);
  // Where the bar reaches farther than the mouth the way down has to be made there as well.
  const open = pattern.open && !stands(work, pattern.from, terms.width / 2, z);
  const opening = open ? [] : peelOpening(terms, hole);
  const first = (opening?.[0] ?? loops?.[0])?.from;
  if (loops === null || opening === null || first === undefined) return false;
  const corners = cornersOf(pattern, terms, allowance, loops);
  if (corners === null) return false;
  const ceiling = ceilingUnder(work, first, radius);
  pen.goTo(first, ceiling, z);
  if (ceiling !== null && ceiling > z + 1e-6) {
    const height = pen.at()!.z;
    pen.feedTo({ ...first, z: Math.min(height, ceiling + AIR / 4) }, clearing.entry.plungeFeed);
    const round = { segments: [circleThrough(first, pattern.from, direction === 'climb')] };
    const left = sinkRound(pen, round, z, clearing.entry);
    // Once more round at the full depth, and on to where the opening begins.
    pen.follow(left.segments, clearing.entry.feed);
    pen.follow(arcBetween(startOf(left), first, pattern.from, direction === 'climb'), clearing.entry.feed);
  } else pen.feedTo({ ...first, z }, clearing.entry.plungeFeed);
  const fed = [
    ...evenly(opening, terms.engagement),
    ...loopsFed(loops, radius, terms.engagement),
    ...evenly(corners, terms.engagement),
  ];
  followFed(pen, fed, clearing.entry);
  return true;
};

/** Whether anything stands above a height within a round. */
const stands = (work: Workpiece, at: Point, radius: number, z: number): boolean =>
  (ceilingUnder(work, at, radius) ?? z) > z + 1e-6;

/** The way into both corners of a square root; nothing for a round one, null where the limit is too small. */
const cornersOf = (
  { root, engagement }: Peel,
  terms: PeelTerms,
  allowance: number,
  loops: readonly Segment[],
): readonly Segment[] | null => {
  if (root.kind === 'round') return [];
  // A finishing lap that turns into a corner is buried all round: such a corner is cut to size by the loops.
  const orbit = Math.max(0, root.corner - terms.radius);
  const bears = orbit > allowance + 0.02 && finishingAllowance(engagement, terms.radius, orbit) >= allowance;
  const left = bears ? allowance : Math.min(allowance, TO_SIZE);
  return peelCorners({ ...terms, corner: root.corner - left, beyond: allowance - left }, loops.at(-1)!.to);
};

/** Laps only where they run along an opening, not round the ends of its walls, where there may be more than a lap can take. */
export const withinOpening = (
  laps: readonly Lap[],
  clearing: Clearing,
  allowance: number,
): readonly Lap[] => {
  if (clearing.pattern.kind !== 'peel') return laps;
  const room = offset(clearing.area, STRAY - allowance - clearing.cutter.diameter / 2);
  return laps.flatMap((lap) =>
    clipPath(lap.path, room, 'inside').map((path) => ({ ...lap, path, closed: isClosed(path) })),
  );
};

const circleThrough = (at: Point, centre: Point, anticlockwise: boolean): Segment =>
  arc(at, at, centre, anticlockwise);

/** The rest of a round from one place of it to another; nothing where they are one. */
const arcBetween = (from: Point, to: Point, centre: Point, anticlockwise: boolean): readonly Segment[] =>
  distance(from, to) < 1e-6 ? [] : [arc(from, to, centre, anticlockwise)];
