import { difference } from '../../sketch/shape/boolean.ts';
import { offset } from '../../sketch/shape/offset.ts';
import { distance, type Point } from '../../sketch/shape/point.ts';
import { contains, isSmooth, type Path, type Region, signedDistance } from '../../sketch/shape/region.ts';
import { type Arc, pointAlong } from '../../sketch/shape/segment.ts';
import { type Clearing, closing, type Level } from './area.ts';
import { type BridgeLift, beginBetweenBridges, followOverBridges, liftsAt } from './bridges.ts';
import { nearest } from './lap-order.ts';
import { type Lap, wallLaps } from './laps.ts';
import { withinOpening } from './peel-level.ts';
import { leadIn, leadOut, type Pen, takePen } from './pen.ts';
import { endOf, startAt, startOf } from './track.ts';
import { ceilingUnder, stockBetween, take, type Workpiece } from './workpiece.ts';

/** Radius of the arc on which a finishing lap comes and goes, as a share of the cutter's radius. */
const LEAD_SHARE = 0.5;

/** Outline walls, fork cheeks, block shoulders: the ring along them once more, to size, at full depth. */
export const finishWalls = (work: Workpiece, clearing: Clearing, target: Region, top: number): Level => {
  const keepOut = clearing.keepOut(clearing.floor);
  const radius = clearing.cutter.diameter / 2;
  const pen = takePen(clearing.clearHeight);
  const terms = {
    radius,
    allowance: 0,
    stepover: clearing.terms.stepover,
    direction: clearing.terms.direction,
  };
  const walls = withinOpening(wallLaps(target, keepOut, terms), clearing, 0);
  const free = clearing.terms.direction === 'climb' ? 'left' : 'right';
  const clearOf = offset(keepOut.all, radius - 1e-4);
  let left = [...walls];
  while (left.length > 0) {
    const lap = nearest(left, pen.at());
    left = left.filter((l) => l !== lap);
    finishLap(pen, work, clearing, lap, clearOf, free);
  }
  pen.lift();
  return {
    moves: pen.moves(),
    work: take(work, difference(target, closing(keepOut.all, radius, 0)), clearing.floor, top),
  };
};

const finishLap = (
  pen: Pen,
  work: Workpiece,
  clearing: Clearing,
  lap: Lap,
  clearOf: Region,
  free: 'left' | 'right',
): void => {
  const z = clearing.floor;
  const lifts = liftsAt(clearing.bridges, z);
  const path = lap.closed ? beginBetweenBridges(beginOnLongest(lap.path), lifts) : lap.path;
  const first = path.segments[0]!;
  const last = path.segments[path.segments.length - 1]!;
  const most = clearing.cutter.diameter * 0.5 * LEAD_SHARE;
  const standing = stockBetween(work, z, 1e6);
  const room = { clearOf, standing, lifts, radius: clearing.cutter.diameter / 2 };
  const inward = fittingLead((r) => leadIn(first, r, free), startOf(path), most, room);
  const outward = fittingLead((r) => leadOut(last, r, free), endOf(path), most, room);
  const from = inward?.from ?? startOf(path);
  pen.goTo(from, ceilingUnder(work, from, clearing.cutter.diameter / 2), z);
  if (pen.at()!.z > z) pen.feedTo({ ...from, z }, clearing.entry.plungeFeed);
  if (inward) pen.follow([inward], clearing.entry.feed);
  followOverBridges(pen, path, clearing.entry, lifts, 'straight');
  if (outward) pen.follow([outward], clearing.entry.feed);
  pen.lift();
};

interface LeadRoom {
  /** Where the cutter's middle must not be. */
  readonly clearOf: Region;
  readonly standing: Region;
  readonly lifts: readonly BridgeLift[];
  readonly radius: number;
}

/** The largest lead, down to a quarter of the wished radius, that stays clear of what the cutter must not enter. */
const fittingLead = (
  make: (radius: number) => Arc,
  first: Point,
  most: number,
  { clearOf, standing, lifts, radius }: LeadRoom,
): Arc | null => {
  for (const share of [1, 0.7, 0.5, 0.25]) {
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
