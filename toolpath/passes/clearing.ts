import { difference, intersection } from '../../sketch/shape/boolean.ts';
import { offset } from '../../sketch/shape/offset.ts';
import { isEmpty, type Path, type Region, regionArea } from '../../sketch/shape/region.ts';
import { type Cleared, type Clearing, closing } from './area.ts';
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
import { barredLaps, contourLaps, type Lap, type LapTerms, wallLaps } from './laps.ts';
import { passLevels } from './levels.ts';
import { sweptBy, type Way, withoutOverrun } from './overrun.ts';
import type { Pass, PassKind } from './pass.ts';
import { peelLevel, withinOpening } from './peel-level.ts';
import { type Pen, takePen } from './pen.ts';
import { type LevelRun, runLap, runLaps } from './runs.ts';
import type { KeepOut } from './scene.ts';
import { oneWayStrokes } from './strokes.ts';
import { withoutIdleEnd } from './tail.ts';
import { endOf, reversePath, startOf } from './track.ts';
import { stockBetween, take, type Workpiece } from './workpiece.ts';

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
  const pen = takePen(clearing.clearHeight);
  const note = (kind: PassKind, z: number, before: number): void => {
    const moves = pen.moves().slice(before);
    if (moves.length > 0) passes.push({ kind, z, web: webUnder(clearing, z), moves });
  };
  const cutLevel = (z: number, kind: PassKind): void => {
    const before = pen.moves().length;
    work = oneLevel(pen, work, clearing, above, z, wallAllowance, memory);
    above = z;
    note(kind, z, before);
  };
  const levels = passLevels(top, floor + floorAllowance, terms.stepDown, terms.levels);
  for (const z of bridgeLevels(levels, top, clearing)) cutLevel(z, clearing.kind);
  if (floorAllowance > 0) cutLevel(floor, 'finish');
  if (wallAllowance > 0) {
    const before = pen.moves().length;
    work = finishWalls(pen, work, gentleFinish(clearing, wallAllowance), target, top);
    note('finish', floor, before);
  }
  const unkept = unkeptWords(memory, clearing);
  return { passes: liftedAtLast(passes, pen), work, ...(unkept !== null && { unkept }) };
};

/** The passes with the way up at the end of the last: between them the cutter may have stayed down. */
const liftedAtLast = (passes: readonly Pass[], pen: Pen): readonly Pass[] => {
  const before = pen.moves().length;
  pen.lift();
  return passes.map((pass, i) =>
    i < passes.length - 1 ? pass : { ...pass, moves: [...pass.moves, ...pen.moves().slice(before)] },
  );
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
  pen: Pen,
  work: Workpiece,
  clearing: Clearing,
  above: number,
  z: number,
  allowance: number,
  memory: FrontMemory,
): Workpiece => {
  const keepOut = clearing.keepOut(z);
  const target = difference(intersection(stockBetween(work, z, above), clearing.area), keepOut.all);
  if (regionArea(target) < NO_AREA) return work;
  const radius = clearing.cutter.diameter / 2;
  const lapTerms = {
    radius,
    allowance,
    stepover: clearing.terms.stepover,
    direction: clearing.terms.direction,
  };
  const level: LevelRun = { pen, clearing, z, above, keepOut };
  const reached = difference(target, closing(keepOut.all, radius, allowance));
  const ran: Way[] = [];
  const peeled =
    clearing.pattern.kind === 'peel' && peelLevel(pen, work, clearing, clearing.pattern, z, allowance);
  if (clearing.pattern.kind === 'peel' && !peeled) memory.unpeeled = true;
  if (peeled) {
    // What the loops leave between them on the walls.
    pen.lift();
    const walls = withinOpening(wallLaps(reached, keepOut, lapTerms), clearing, allowance);
    runLaps(level, take(work, reached, z, above), walls, work);
  } else if (clearing.pattern.kind === 'strokes') {
    const walls = wallLaps(reached, keepOut, lapTerms, true);
    ran.push(...runLaps(level, work, walls));
    const channel = sweptBy(walls, radius);
    let standing = take(work, channel, z, above);
    let left = difference(reached, channel);
    const { startFrom } = clearing.pattern;
    const strokes = oneWayStrokes(left, keepOut.all, lapTerms, startFrom);
    const beside = besideBarred(reached, keepOut, lapTerms, [...walls, ...strokes.map((path) => ({ path }))]);
    for (const path of [...strokes, ...beside.map((lap) => oneWay(lap.path, startFrom))]) {
      const swept = sweptBy([{ path }], radius);
      // What the strokes before it have taken on their way needs none of its own.
      if (regionArea(intersection(left, swept)) < NO_AREA) continue;
      const met = { radius, standing: stockBetween(standing, z, 1e6) };
      ran.push(runLap(level, standing, withoutIdleEnd(path, met)));
      standing = take(standing, swept, z, above);
      left = difference(left, swept);
    }
  } else {
    let rest = reached;
    let stock = work;
    if (clearing.pattern.kind === 'fronts') {
      const plan = frontsOf(memory, groundAt(work, clearing, reached, keepOut, z), clearing, allowance);
      runFronts(pen, work, clearing, plan, z);
      if (plan.left === null) return take(work, reached, z, above);
      // Where the limit cannot be kept laps go on, and that is said.
      rest = intersection(reached, plan.unmet);
      stock = take(work, difference(reached, plan.unmet), z, above);
    }
    const laps = contourLaps(rest, keepOut, lapTerms);
    ran.push(...runLaps(level, stock, laps, work));
    const beside = besideBarred(rest, keepOut, lapTerms, laps);
    if (beside.length > 0)
      ran.push(...runLaps(level, take(stock, sweptBy(laps, radius), z, above), beside, work));
  }
  return withoutOverrun(take(work, reached, z, above), clearing, ran, z);
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
