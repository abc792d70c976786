import { distance, type Point } from '../../sketch/shape/point.ts';
import { type Path, signedDistance } from '../../sketch/shape/region.ts';
import { RAMP_FROM } from '../route/clearances.ts';
import type { Clearing } from './area.ts';
import { bitesAlong } from './bites.ts';
import { beginBetweenBridges, firstStretch, followOverBridges, liftsAt } from './bridges.ts';
import { lowCrossing } from './crossing.ts';
import { rampDown } from './entry.ts';
import { nearest } from './lap-order.ts';
import type { Lap } from './laps.ts';
import { sweptBy, type Way } from './overrun.ts';
import type { Pen } from './pen.ts';
import { fromFirstBite, type RunUpRoom, withShortRunUp } from './run-up.ts';
import type { KeepOut } from './scene.ts';
import { feedThrough, followThrough } from './through.ts';
import { isClosed, startNear, startOf } from './track.ts';
import { ceilingUnder, stockBetween, take, type Workpiece } from './workpiece.ts';

/** What all runs of a level have in common. */
export interface LevelRun {
  readonly pen: Pen;
  readonly clearing: Clearing;
  /** The tip's height, and that of the level before. */
  readonly z: number;
  readonly above: number;
  readonly keepOut: KeepOut;
}

/**
 * Runs laps, farthest from the walls first and then the nearest; gives the ways as they were gone. `standing` is the work
 * in which whatever may stand still stands, for the feed: `work` where that is so.
 */
export const runLaps = (
  level: LevelRun,
  work: Workpiece,
  laps: readonly Lap[],
  standing = work,
): readonly Way[] => {
  const { pen, z, clearing } = level;
  const ran: Way[] = [];
  let stock = standing;
  let left = [...laps];
  while (left.length > 0) {
    const ring = Math.max(...left.map((l) => l.ring));
    const lap = nearest(
      left.filter((l) => l.ring === ring),
      pen.at(),
    );
    left = left.filter((l) => l !== lap);
    const way = runLap(level, work, lap.path, stock);
    ran.push(way);
    // Over a bridge a way takes nothing.
    if (left.length > 0 && goesThrough(level) && liftsAt(clearing.bridges, z).length === 0)
      stock = take(stock, sweptBy([way], clearing.cutter.diameter / 2), z, 1e6);
  }
  return ran;
};

/** Whether the cutter goes faster where nothing stands. */
const goesThrough = ({ clearing: { entry } }: LevelRun): boolean =>
  entry.through !== undefined && entry.through > entry.feed;

/** Along one lap, through what is not in `standing` at the machine's fastest feed. */
export const runLap = (level: LevelRun, work: Workpiece, lap: Path, standing = work): Way => {
  const { pen, clearing, z, keepOut } = level;
  const { entry } = clearing;
  const at = pen.at();
  const lifts = liftsAt(clearing.bridges, z);
  const radius = clearing.cutter.diameter / 2;
  const room = { radius, standing: stockBetween(work, z, 1e6), keepOut: keepOut.all };
  const link = linkTo(level, work, lap, room);
  if (link !== null && at !== null) {
    pen.feedTo({ ...startOf(link), z: at.z }, entry.feed);
    followCuts(level, rampDown(pen, link, z, entry), standing);
    return { path: link };
  }
  const closed = isClosed(lap);
  const begun = !closed ? withShortRunUp(lap, room) : at !== null ? startNear(lap, at) : lap;
  const path = closed ? beginBetweenBridges(begun, lifts) : begun;
  const from = startOf(path);
  const ceiling = ceilingUnder(work, from, radius);
  // A path that begins over a bridge begins at the bridge's height.
  const first = firstStretch(path, lifts, z);
  pen.goTo(from, ceiling, first.height, lowCrossing(work, clearing, at, from, ceiling));
  let run = path;
  if (ceiling !== null && ceiling > first.height + 1e-6) {
    pen.feedTo({ ...from, z: Math.min(pen.at()!.z, ceiling + RAMP_FROM) }, entry.feed);
    // A bridge must not be ramped into: forth and back before the first one, then round.
    const ramped = rampDown(pen, first.path, first.height, entry);
    if (first.path === path) run = ramped;
  } else {
    const bare = (ceilingUnder(standing, from, radius) ?? first.height) <= first.height + 1e-6;
    pen.feedTo({ ...from, z: first.height }, bare ? feedThrough(entry) : entry.feed);
  }
  if (lifts.length > 0) followOverBridges(pen, run, entry, lifts, 'ramp', level);
  else followCuts(level, run, standing);
  return { path };
};

const followCuts = (level: LevelRun, run: Path, standing: Workpiece): void => {
  const { pen, clearing, z } = level;
  if (!goesThrough(level)) {
    pen.follow(run.segments, clearing.entry.feed);
    return;
  }
  const met = { radius: clearing.cutter.diameter / 2, standing: stockBetween(standing, z, 1e6) };
  followThrough(pen, run, bitesAlong(run, met), clearing.entry);
};

/**
 * The lap begun where the cutter can step over to it without lifting, at its own depth or at that of the level before,
 * to sink from there; null where it cannot.
 */
const linkTo = (
  { pen, clearing, z, keepOut }: LevelRun,
  work: Workpiece,
  lap: Path,
  room: RunUpRoom,
): Path | null => {
  const at = pen.at();
  if (at === null || at.z < z - 1e-9 || liftsAt(clearing.bridges, z).length > 0) return null;
  const path = isClosed(lap) ? startNear(lap, at) : fromFirstBite(lap, room);
  const from = startOf(path);
  if (distance(from, at) > clearing.terms.stepover * 1.2) return null;
  const { radius } = room;
  if (at.z > z + 1e-9) {
    // Sinking from there is only for where the cutter has to sink into the work, and nothing higher stands.
    const ceiling = ceilingUnder(work, from, radius) ?? z;
    if (ceiling <= z + 1e-6 || ceiling > at.z + 1e-6) return null;
  }
  return [0.25, 0.5, 0.75].every((t) => signedDistance(keepOut.all, between(at, from, t)) >= radius)
    ? path
    : null;
};

const between = (a: Point, b: Point, t: number): Point => ({
  x: a.x + (b.x - a.x) * t,
  y: a.y + (b.y - a.y) * t,
});
