import { difference, intersection } from '../../sketch/shape/boolean.ts';
import { offset } from '../../sketch/shape/offset.ts';
import { distance, type Point } from '../../sketch/shape/point.ts';
import { contains, isSmooth, type Path, type Region, signedDistance } from '../../sketch/shape/region.ts';
import { type Arc, pointAlong } from '../../sketch/shape/segment.ts';
import { AIR, BITE, RAMP_FROM } from '../route/clearances.ts';
import { type Clearing, closing } from './area.ts';
import { type BridgeLift, beginBetweenBridges, firstStretch, followOverBridges, liftsAt } from './bridges.ts';
import { lowCrossing } from './crossing.ts';
import { rampDown } from './entry.ts';
import { nearest } from './lap-order.ts';
import { type Lap, wallLaps } from './laps.ts';
import { withoutOverrun } from './overrun.ts';
import { withinOpening } from './peel-level.ts';
import { leadIn, leadOut, type Pen } from './pen.ts';
import { type RunUpRoom, withShortRunUp } from './run-up.ts';
import { withoutIdleEnd } from './tail.ts';
import { feedThrough } from './through.ts';
import { endOf, startAt, startOf } from './track.ts';
import { ceilingUnder, stockBetween, take, type Workpiece } from './workpiece.ts';

/** Radius of the arc on which a finishing lap comes and goes, as a share of the cutter's radius; more where more is left. */
const LEAD_SHARE = 0.3;
const GENTLE_LEAD_SHARE = 0.5;

/** Outline walls, fork cheeks, block shoulders: the ring along them once more, to size, at full depth. */
export const finishWalls = (
  pen: Pen,
  work: Workpiece,
  clearing: Clearing,
  target: Region,
  top: number,
): Workpiece => {
  const keepOut = clearing.keepOut(clearing.floor);
  const radius = clearing.cutter.diameter / 2;
  const terms = {
    radius,
    allowance: 0,
    stepover: clearing.terms.stepover,
    direction: clearing.terms.direction,
  };
  const reached = difference(target, closing(keepOut.all, radius, 0));
  const standing = stockBetween(work, clearing.floor, 1e6);
  const remains = intersection(standing, reached);
  const walls = isGentle(clearing)
    ? withinOpening(wallLaps(target, keepOut, terms), clearing, 0)
    : wallLaps(remains, keepOut, terms, true);
  const room = { radius, standing, keepOut: keepOut.all };
  const free = clearing.terms.direction === 'climb' ? 'left' : 'right';
  const clearOf = offset(keepOut.all, radius - 1e-4);
  let left = [...walls];
  while (left.length > 0) {
    const lap = nearest(left, pen.at());
    left = left.filter((l) => l !== lap);
    finishLap(pen, work, clearing, lap, clearOf, free, room);
  }
  const after = take(work, reached, clearing.floor, top);
  return withoutOverrun(after, clearing, walls, clearing.floor);
};

/** Under a limit of engagement a lap comes and goes on long arcs, for on short ones the rim meets more at once. */
const isGentle = ({ pattern }: Clearing): boolean => pattern.kind === 'peel' || pattern.kind === 'fronts';

const finishLap = (
  pen: Pen,
  work: Workpiece,
  clearing: Clearing,
  lap: Lap,
  clearOf: Region,
  free: 'left' | 'right',
  about: RunUpRoom,
): void => {
  const z = clearing.floor;
  const { radius, standing } = about;
  const gentle = isGentle(clearing);
  const lifts = liftsAt(clearing.bridges, z);
  const path = lap.closed
    ? beginBetweenBridges(beginOnLongest(lap.path), lifts)
    : gentle
      ? lap.path
      : withoutIdleEnd(withShortRunUp(lap.path, about), about);
  const first = path.segments[0]!;
  const last = path.segments[path.segments.length - 1]!;
  const most = gentle
    ? radius * GENTLE_LEAD_SHARE
    : Math.max(radius * LEAD_SHARE, 1.5 * clearing.terms.wallAllowance);
  const room = { clearOf, standing, lifts, radius };
  // A lap that begins beside the work needs no arc; one that ends past the end of its wall a short one.
  const open = !gentle && !lap.closed && signedDistance(standing, startOf(path)) >= radius + AIR / 4;
  // It goes down clear of what it will cut, and only has to have parted from the wall when it is lifted.
  const { wallAllowance } = clearing.terms;
  const inward = open
    ? null
    : fittingLead((r) => leadIn(first, r, free, wallAllowance + AIR), startOf(path), SHARES, most, room);
  const shares = gentle || lap.closed ? SHARES : SHARES.slice(-1);
  const outward = fittingLead(
    (r) => leadOut(last, r, free, wallAllowance + AIR / 2),
    endOf(path),
    shares,
    most,
    room,
  );
  const from = inward?.from ?? startOf(path);
  const ceiling = ceilingUnder(work, from, radius);
  const height = inward ? z : firstStretch(path, lifts, z).height;
  pen.goTo(from, ceiling, height, lowCrossing(work, clearing, pen.at(), from, ceiling));
  if (!lap.closed && ceiling !== null && signedDistance(standing, from) < radius - BITE) {
    // No room for an arc where it begins in the middle of a wall.
    pen.feedTo({ ...from, z: Math.min(pen.at()!.z, ceiling + RAMP_FROM) }, clearing.entry.feed);
    rampDown(pen, firstStretch(path, lifts, z).path, height, clearing.entry);
  } else if (pen.at()!.z > height) {
    const bare = ceiling === null || ceiling <= height + 1e-6;
    pen.feedTo({ ...from, z: height }, bare ? feedThrough(clearing.entry) : clearing.entry.plungeFeed);
  }
  if (inward) pen.follow([inward], clearing.entry.feed);
  followOverBridges(pen, path, clearing.entry, lifts, 'straight', { z, above: Number.POSITIVE_INFINITY });
  if (outward) pen.follow([outward], clearing.entry.feed);
};

interface LeadRoom {
  /** Where the cutter's middle must not be. */
  readonly clearOf: Region;
  readonly standing: Region;
  readonly lifts: readonly BridgeLift[];
  readonly radius: number;
}

/** Leads are tried with these shares of the wished radius, the largest first. */
const SHARES = [1, 0.7, 0.5, 0.25] as const;

/** The largest lead that stays clear of what the cutter must not enter. */
const fittingLead = (
  make: (radius: number) => Arc,
  first: Point,
  shares: readonly number[],
  most: number,
  { clearOf, standing, lifts, radius }: LeadRoom,
): Arc | null => {
  for (const share of shares) {
    const lead = make(most * share);
    const clear = [0, 0.25, 0.5, 0.75, 1]
      .map((t) => pointAlong(lead, t))
      .every((p) => signedDistance(clearOf, p) >= 0 && lifts.every((lift) => !contains(lift.strip, p)));
    // The far end of the lead must already be cut free: the cutter goes down there, or is lifted from there.
    const away = distance(lead.from, first) < distance(lead.to, first) ? lead.to : lead.from;
    if (clear && signedDistance(standing, away) >= radius - 1e-3) return lead;
  }
  return null;
};

/**
 * A closed lap begun on its longest line: at the line's start where the lap comes to it without a corner, so that no
 * piece of the lap is cut in two, else in its middle, away from the corner.
 */
const beginOnLongest = (path: Path): Path => {
  let best = 0;
  let longest = -1;
  path.segments.forEach((s, i) => {
    const l = s.kind === 'line' ? distance(s.from, s.to) : 0;
    if (l > longest) {
      longest = l;
      best = i;
    }
  });
  const smooth = isSmooth(path.segments.at(best - 1)!, path.segments[best]!);
  return startAt(path, best, longest > 0 && !smooth ? 0.5 : 0);
};
