import { difference, intersection, union } from '../../sketch/shape/boolean.ts';
import { offset } from '../../sketch/shape/offset.ts';
import { distance } from '../../sketch/shape/point.ts';
import { isEmpty, type Path, type Region, regionArea, signedDistance } from '../../sketch/shape/region.ts';
import { thicken } from '../../sketch/shape/thicken.ts';
import { AIR } from '../route/clearances.ts';
import { type Cleared, type Clearing, closing, type Level } from './area.ts';
import { beforeBridges, beginBetweenBridges, followOverBridges, liftsAt } from './bridges.ts';
import { rampDown } from './entry.ts';
import { finishWalls } from './finishing.ts';
import {
  bridgeLevels,
  type FrontMemory,
  frontMemory,
  frontsOf,
  gentleFinish,
  groundAt,
  runFronts,
  unkeptWords,
} from './front-level.ts';
import { nearest } from './lap-order.ts';
import { barredLaps, contourLaps, type Lap, type LapTerms, wallLaps } from './laps.ts';
import { passLevels } from './levels.ts';
import type { Pass, PassKind } from './pass.ts';
import { peelLevel, withinOpening } from './peel-level.ts';
import { type Pen, takePen } from './pen.ts';
import type { KeepOut } from './scene.ts';
import { oneWayStrokes } from './strokes.ts';
import { endOf, isClosed, reversePath, startNear, startOf } from './track.ts';
import { ceilingUnder, stockBetween, take, type Workpiece } from './workpiece.ts';

/** Less area than this, mm², is no work for a pass. */
const NO_AREA = 0.005;

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
  const memory = frontMemory();
  const cutLevel = (z: number, kind: PassKind): void => {
    const done = oneLevel(work, clearing, above, z, wallAllowance, memory);
    if (done.moves.length > 0) passes.push({ kind, z, web: webUnder(clearing, z), moves: done.moves });
    work = done.work;
    above = z;
  };
  const levels = passLevels(top, floor + floorAllowance, terms.stepDown, terms.levels);
  for (const z of bridgeLevels(levels, top, clearing)) cutLevel(z, clearing.kind);
  if (floorAllowance > 0) cutLevel(floor, 'finish');
  if (wallAllowance > 0) {
    const done = finishWalls(work, gentleFinish(clearing, wallAllowance), target, top);
    if (done.moves.length > 0)
      passes.push({ kind: 'finish', z: floor, web: webUnder(clearing, floor), moves: done.moves });
    work = done.work;
  }
  const unkept = unkeptWords(memory, clearing);
  return { passes, work, ...(unkept !== null && { unkept }) };
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

const oneLevel = (
  work: Workpiece,
  clearing: Clearing,
  above: number,
  z: number,
  allowance: number,
  memory: FrontMemory,
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
  const peeled =
    clearing.pattern.kind === 'peel' && peelLevel(pen, work, clearing, clearing.pattern, z, allowance);
  if (clearing.pattern.kind === 'peel' && !peeled) memory.unpeeled = true;
  if (peeled) {
    // What the loops leave between them on the walls.
    pen.lift();
    const walls = withinOpening(wallLaps(reached, keepOut, lapTerms), clearing, allowance);
    runLaps(pen, take(work, reached, z, above), clearing, walls, z, keepOut);
  } else if (clearing.pattern.kind === 'strokes') {
    const walls = wallLaps(reached, keepOut, lapTerms);
    runLaps(pen, work, clearing, walls, z, keepOut);
    const channel = sweptBy(walls, radius);
    let standing = take(work, channel, z, above);
    const { startFrom } = clearing.pattern;
    const strokes = oneWayStrokes(difference(reached, channel), keepOut.all, lapTerms, startFrom);
    const beside = besideBarred(reached, keepOut, lapTerms, [...walls, ...strokes.map((path) => ({ path }))]);
    for (const path of [...strokes, ...beside.map((lap) => oneWay(lap.path, startFrom))]) {
      runLap(pen, standing, clearing, path, z);
      standing = take(standing, sweptBy([{ path }], radius), z, above);
    }
  } else {
    let rest = reached;
    let stock = work;
    if (clearing.pattern.kind === 'fronts') {
      const plan = frontsOf(memory, groundAt(work, clearing, reached, keepOut, z), clearing, allowance);
      runFronts(pen, work, clearing, plan, z);
      if (plan.left === null) {
        pen.lift();
        return { moves: pen.moves(), work: take(work, reached, z, above) };
      }
      // Where the limit cannot be kept laps go on, and that is said.
      rest = intersection(reached, plan.unmet);
      stock = take(work, difference(reached, plan.unmet), z, above);
    }
    const laps = contourLaps(rest, keepOut, lapTerms);
    runLaps(pen, stock, clearing, laps, z, keepOut);
    const beside = besideBarred(rest, keepOut, lapTerms, laps);
    if (beside.length > 0)
      runLaps(pen, take(stock, sweptBy(laps, radius), z, above), clearing, beside, z, keepOut);
  }
  pen.lift();
  return { moves: pen.moves(), work: take(work, reached, z, above) };
};

/** Laps over what the others leave beside the jaws, where these bar their way. */
const besideBarred = (
  reached: Region,
  keepOut: KeepOut,
  terms: LapTerms,
  laps: readonly { readonly path: Path }[],
): readonly Lap[] => {
  const near = intersection(reached, offset(keepOut.barred, 2 * terms.radius + terms.allowance));
  if (isEmpty(near)) return [];
  const left = difference(near, sweptBy(laps, terms.radius));
  return regionArea(left) < NO_AREA ? [] : barredLaps(left, keepOut, terms);
};

/** A stroke the way all strokes go. */
const oneWay = (path: Path, startFrom: 'left' | 'right'): Path =>
  endOf(path).x > startOf(path).x === (startFrom === 'left') ? path : reversePath(path);

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
      followOverBridges(pen, link, clearing.entry, [], 'ramp');
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
    const way = beforeBridges(path, lifts);
    const ramped = rampDown(pen, way, z, clearing.entry);
    // A bridge must not be ramped into: forth and back before the first one, then round.
    run = way === path ? ramped : path;
  } else pen.feedTo({ ...from, z }, clearing.entry.plungeFeed);
  followOverBridges(pen, run, clearing.entry, lifts, 'ramp');
};
