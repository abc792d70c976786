import { difference, intersection, union } from '../../sketch/shape/boolean.ts';
import { offset } from '../../sketch/shape/offset.ts';
import { distance, type Point } from '../../sketch/shape/point.ts';
import { isEmpty, type Path, type Region, regionArea, signedDistance } from '../../sketch/shape/region.ts';
import { pointAlong } from '../../sketch/shape/segment.ts';
import { thicken } from '../../sketch/shape/thicken.ts';
import type { Cutter } from '../machine/cutter.ts';
import { AIR } from '../route/clearances.ts';
import type { MillingTerms } from '../route/route.ts';
import { type BridgeLift, beginBetweenBridges, followOverBridges, liftsAt } from './bridges.ts';
import { type EntryTerms, rampDown } from './entry.ts';
import { contourLaps, type Lap, wallLaps } from './laps.ts';
import { passLevels } from './levels.ts';
import type { HandBridge, Pass, PassKind } from './pass.ts';
import { leadIn, leadOut, type Pen, takePen } from './pen.ts';
import type { KeepOut } from './scene.ts';
import { oneWayStrokes } from './strokes.ts';
import { endOf, isClosed, startAt, startNear, startOf } from './track.ts';
import { ceilingUnder, stockBetween, take, type Workpiece } from './workpiece.ts';

/** An area to be cleared from the top of what stands there down to a floor. Program coordinates, mm. */
export interface Clearing {
  /** Where material is to go; what does not stand there is passed over. */
  readonly area: Region;
  readonly floor: number;
  /** What the cutter's body must not enter with its tip at a height. */
  readonly keepOut: (z: number) => KeepOut;
  readonly cutter: Cutter;
  readonly terms: MillingTerms;
  readonly entry: EntryTerms;
  readonly clearHeight: number;
  /** Laps round the walls, or strokes one way from a side. */
  readonly pattern:
    | { readonly kind: 'laps' }
    | { readonly kind: 'strokes'; readonly startFrom: 'left' | 'right' };
  /** Height of the material's underside there, when a web is to be reported; null otherwise. */
  readonly underside: number | null;
  readonly kind: PassKind;
  readonly bridges: readonly BridgeLift[];
}

/** The passes of a job step, the work after them, and what they leave standing on purpose. */
export interface Cleared {
  readonly passes: readonly Pass[];
  readonly work: Workpiece;
  readonly bridges?: readonly HandBridge[];
}

/** Less area than this, mm², is no work for a pass. */
const NO_AREA = 0.005;

/** Radius of the arc on which a finishing lap comes and goes, as a share of the cutter's radius. */
const LEAD_SHARE = 0.5;

/** Roughing passes by level, then the floor and the walls to size. */
export const clearArea = (start: Workpiece, clearing: Clearing): Cleared => {
  const { terms, floor } = clearing;
  const whole = difference(stockBetween(start, floor, 1e6), clearing.keepOut(floor).all);
  const target = intersection(whole, clearing.area);
  if (regionArea(target) < NO_AREA) return { passes: [], work: start };
  const top = topOver(start, target);
  const finishing = clearing.kind === 'rough';
  const floorAllowance = finishing ? Math.min(terms.floorAllowance, (top - floor) / 2) : 0;
  const wallAllowance = finishing ? terms.wallAllowance : 0;
  let work = start;
  let above = top;
  const passes: Pass[] = [];
  const cutLevel = (z: number, kind: PassKind): void => {
    const done = oneLevel(work, clearing, above, z, wallAllowance);
    if (done.moves.length > 0) passes.push({ kind, z, web: webUnder(clearing, z), moves: done.moves });
    work = done.work;
    above = z;
  };
  for (const z of passLevels(top, floor + floorAllowance, terms.stepDown, terms.levels))
    cutLevel(z, clearing.kind);
  if (floorAllowance > 0) cutLevel(floor, 'finish');
  if (wallAllowance > 0) {
    const done = finishWalls(work, clearing, target, top);
    if (done.moves.length > 0)
      passes.push({ kind: 'finish', z: floor, web: webUnder(clearing, floor), moves: done.moves });
    work = done.work;
  }
  return { passes, work };
};

const topOver = (work: Workpiece, target: Region): number =>
  work.stock.reduce(
    (top, slab) =>
      slab.top > top && regionArea(intersection(slab.region, target)) > NO_AREA ? slab.top : top,
    Number.NEGATIVE_INFINITY,
  );

/** What still holds underneath: the floor's web, or the bridges once the passes are below their tops. */
const webUnder = (clearing: Clearing, z: number): number | null => {
  if (clearing.underside === null) return null;
  const held = Math.max(z, ...clearing.bridges.map((bridge) => bridge.z));
  return Math.max(0, held - clearing.underside);
};

interface Level {
  readonly moves: Pass['moves'];
  readonly work: Workpiece;
}

const oneLevel = (
  work: Workpiece,
  clearing: Clearing,
  above: number,
  z: number,
  allowance: number,
): Level => {
  const keepOut = clearing.keepOut(z);
  const target = difference(intersection(stockBetween(work, z, above), clearing.area), keepOut.all);
  if (regionArea(target) < NO_AREA) return { moves: [], work };
  const radius = clearing.cutter.diameter / 2;
  const lapTerms = {
    radius,
    allowance,
    stepover: clearing.terms.stepover,
    direction: clearing.terms.direction,
  };
  const pen = takePen(clearing.clearHeight);
  const reached = difference(target, closing(keepOut.all, radius, allowance));
  if (clearing.pattern.kind === 'strokes') {
    const walls = wallLaps(reached, keepOut, lapTerms);
    runLaps(pen, work, clearing, walls, z, keepOut);
    let standing = take(work, sweptBy(walls, radius), z, above);
    for (const path of oneWayStrokes(reached, keepOut.all, lapTerms, clearing.pattern.startFrom)) {
      runLap(pen, standing, clearing, path, z);
      standing = take(standing, sweptBy([{ path }], radius), z, above);
    }
  } else {
    runLaps(pen, work, clearing, contourLaps(reached, keepOut, lapTerms), z, keepOut);
  }
  pen.lift();
  return { moves: pen.moves(), work: take(work, reached, z, above) };
};

/** Outline walls, fork cheeks, block shoulders: the ring along them once more, to size, at full depth. */
const finishWalls = (work: Workpiece, clearing: Clearing, target: Region, top: number): Level => {
  const keepOut = clearing.keepOut(clearing.floor);
  const radius = clearing.cutter.diameter / 2;
  const pen = takePen(clearing.clearHeight);
  const terms = {
    radius,
    allowance: 0,
    stepover: clearing.terms.stepover,
    direction: clearing.terms.direction,
  };
  const walls = wallLaps(target, keepOut, terms);
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
  const inward = fittingLead(
    (r) => leadIn(first, r, free),
    startOf(path),
    most,
    clearOf,
    standing,
    clearing.cutter.diameter / 2,
  );
  const outward = fittingLead(
    (r) => leadOut(last, r, free),
    endOf(path),
    most,
    clearOf,
    standing,
    clearing.cutter.diameter / 2,
  );
  const from = inward?.from ?? startOf(path);
  pen.goTo(from, ceilingUnder(work, from, clearing.cutter.diameter / 2), z);
  if (pen.at()!.z > z) pen.feedTo({ ...from, z }, clearing.entry.plungeFeed);
  if (inward) pen.follow([inward], clearing.entry.feed);
  followOverBridges(pen, path, clearing.entry, lifts);
  if (outward) pen.follow([outward], clearing.entry.feed);
  pen.lift();
};

/** The largest lead, down to a quarter of the wished radius, that stays clear of what the cutter must not enter. */
const fittingLead = (
  make: (radius: number) => ReturnType<typeof leadIn>,
  first: Point,
  most: number,
  clearOf: Region,
  standing: Region,
  radius: number,
): ReturnType<typeof leadIn> | null => {
  for (const share of [1, 0.7, 0.5, 0.25]) {
    const lead = make(most * share);
    const clear = [0, 0.25, 0.5, 0.75, 1].every((t) => signedDistance(clearOf, pointAlong(lead, t)) >= 0);
    // The far end of the lead must already be cut free: the cutter goes down there, or is lifted from there.
    const away = distance(lead.from, first) < distance(lead.to, first) ? lead.to : lead.from;
    if (clear && signedDistance(standing, away) >= radius - 1e-3) return lead;
  }
  return null;
};

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
  return startAt(path, best, longest > 0 ? 0.5 : 0);
};

/** What a cutter cannot get out of the corners of a region when it keeps `allowance` away from it, and the region. */
const closing = (keepOut: Region, radius: number, allowance: number): Region =>
  isEmpty(keepOut) ? keepOut : offset(offset(keepOut, radius + allowance), -radius);

const sweptBy = (laps: readonly { readonly path: Path }[], radius: number): Region =>
  laps.length === 0 ? { contours: [] } : union(laps.map((lap) => thicken(lap.path, radius)));

const runLaps = (
  pen: Pen,
  work: Workpiece,
  clearing: Clearing,
  laps: readonly Lap[],
  z: number,
  keepOut: KeepOut,
): void => {
  let left = [...laps];
  while (left.length > 0) {
    const ring = Math.max(...left.map((l) => l.ring));
    const lap = nearest(
      left.filter((l) => l.ring === ring),
      pen.at(),
    );
    left = left.filter((l) => l !== lap);
    const link = linkTo(pen, clearing, lap, z, keepOut);
    if (link) {
      pen.feedTo({ ...startOf(link), z }, clearing.entry.feed);
      followOverBridges(pen, link, clearing.entry, []);
    } else runLap(pen, work, clearing, lap.path, z);
  }
};

/** The lap begun where the cutter can step over to it without lifting; null where it cannot. */
const linkTo = (pen: Pen, clearing: Clearing, lap: Lap, z: number, keepOut: KeepOut): Path | null => {
  const at = pen.at();
  if (at === null || Math.abs(at.z - z) > 1e-9 || liftsAt(clearing.bridges, z).length > 0) return null;
  const path = lap.closed ? startNear(lap.path, at) : lap.path;
  const from = startOf(path);
  const gap = distance(from, at);
  if (gap > clearing.terms.stepover * 1.2) return null;
  const radius = clearing.cutter.diameter / 2;
  const clear = [0.25, 0.5, 0.75].every((t) => {
    const p = { x: at.x + (from.x - at.x) * t, y: at.y + (from.y - at.y) * t };
    return signedDistance(keepOut.all, p) >= radius;
  });
  return clear ? path : null;
};

const runLap = (pen: Pen, work: Workpiece, clearing: Clearing, lap: Path, z: number): void => {
  const closed = isClosed(lap);
  const at = pen.at();
  const lifts = liftsAt(clearing.bridges, z);
  const begun = closed && at !== null ? startNear(lap, at) : lap;
  const path = closed ? beginBetweenBridges(begun, lifts) : begun;
  const from = startOf(path);
  const ceiling = ceilingUnder(work, from, clearing.cutter.diameter / 2);
  pen.goTo(from, ceiling, z);
  const height = pen.at()!.z;
  let run = path;
  if (ceiling !== null && ceiling > z + 1e-6) {
    pen.feedTo({ ...from, z: Math.min(height, ceiling + AIR / 4) }, clearing.entry.plungeFeed);
    // A bridge must not be ramped into: down in one place between bridges, then round.
    if (lifts.length > 0) pen.feedTo({ ...from, z }, clearing.entry.plungeFeed);
    else run = rampDown(pen, path, z, clearing.entry);
  } else pen.feedTo({ ...from, z }, clearing.entry.plungeFeed);
  followOverBridges(pen, run, clearing.entry, lifts);
};

const nearest = (laps: readonly Lap[], at: Point | null): Lap => {
  if (at === null) return laps[0]!;
  return laps.reduce((best, lap) => (gapTo(lap, at) < gapTo(best, at) ? lap : best));
};

const gapTo = (lap: Lap, at: Point): number =>
  lap.closed
    ? distance(startOf(startNear(lap.path, at)), at)
    : Math.min(distance(startOf(lap.path), at), distance(endOf(lap.path), at) + 1e3);
