import { difference } from '../../sketch/shape/boolean.ts';
import { offset } from '../../sketch/shape/offset.ts';
import { type Region, rectangle } from '../../sketch/shape/region.ts';
import { OVERCUT, RAIL } from '../route/clearances.ts';
import type {
  ForkStep,
  MillingTerms,
  OutlineStep,
  PocketStep,
  ReleaseStep,
  SlotStep,
  SquareStep,
  ThinStep,
} from '../route/route.ts';
import type { Cleared, Clearing } from './area.ts';
import { spreadBridges } from './bridges.ts';
import { clearArea } from './clearing.ts';
import { shortOfBridge } from './front-level.ts';
import { gentleTerms, patternOf, roomOutside } from './gentle-terms.ts';
import { base, heightOf, laps, lowestIn, named } from './milling-terms.ts';
import { fork, roundPocket, slot } from './openings.ts';
import type { PassKind } from './pass.ts';
import { EVERYWHERE, keepOutOf, type Scene, type Task } from './scene.ts';
import { protectedAbove, type Workpiece } from './workpiece.ts';

export type MillingStep =
  | SquareStep
  | OutlineStep
  | ForkStep
  | SlotStep
  | PocketStep
  | ThinStep
  | ReleaseStep;

/** Passes of a milling job step, and the work after it. Throws a RangeError that names what the route has wrong. */
export const millStep = (scene: Scene, work: Workpiece, task: Task<MillingStep>): Cleared => {
  const { step } = task;
  switch (step.kind) {
    case 'square':
      return square(scene, work, task, step);
    case 'outline':
      return outline(scene, work, task, step, step, 'rough');
    case 'fork':
      return fork(scene, work, task, step, step, 'rough', step.web);
    case 'slot':
      return slot(scene, work, task, step, step, 'rough', step.web);
    case 'pocket':
      return roundPocket(scene, work, task, step);
    case 'thin':
      return thin(scene, work, task, step);
    case 'release':
      return release(scene, work, task, step);
  }
};

const square = (scene: Scene, work: Workpiece, task: Task, step: SquareStep): Cleared => {
  const { bar } = scene.part;
  const floor = heightOf(scene, step.floor);
  const left = bar.corner.x - scene.frame.zero.x;
  const tall = 1e3;
  const toLength = rectangle({ x: left, y: -tall }, { x: left + bar.length, y: tall });
  return clearArea(work, {
    ...base(scene, task, step),
    area: EVERYWHERE,
    floor,
    keepOut: keepOutOf(scene, scene.bare, floor, toLength),
    pattern: laps,
    underside: null,
    kind: 'rough',
  });
};

const outline = (
  scene: Scene,
  work: Workpiece,
  task: Task,
  step: OutlineStep,
  terms: MillingTerms,
  kind: PassKind,
): Cleared => {
  const web = kind === 'release' ? 0 : step.web;
  const underside = lowestIn(work, EVERYWHERE);
  const planned = heightOf(scene, step.floor);
  const through = planned <= underside + 1e-6;
  const floor = through ? underside + (web > 0 ? web : -OVERCUT) : planned;
  const wanted = protectedAbove({ stock: [], wanted: scene.bare }, floor);
  const { diameter } = task.cutter;
  const keepOut = keepOutOf(scene, scene.bare, floor);
  const gentle = gentleTerms(terms, step.engagement, keepOut(floor), diameter / 2);
  const wish = step.engagement === null ? null : roomOutside(scene, wanted);
  const groove = step.clear === 'all' ? null : grooveRound(wanted, diameter, gentle.wallAllowance, wish);
  const clearing: Clearing = {
    ...base(scene, task, groove ? { ...gentle, stepover: Math.min(terms.stepover, groove.room) } : gentle),
    area: groove?.area ?? EVERYWHERE,
    floor,
    keepOut,
    pattern: patternOf(step.engagement, laps, groove?.room ?? null),
    underside: through ? underside : null,
    kind,
    bridges: step.bridges
      ? spreadBridges(
          wanted,
          { count: step.bridges.count, length: step.bridges.length, top: underside + step.bridges.height },
          task.cutter.diameter / 2,
        )
      : [],
  };
  const cleared = clearArea(work, clearing);
  if (!groove || clearing.bridges.length === 0) return cleared;
  const width = diameter + gentle.wallAllowance + groove.room;
  const bridges = clearing.bridges.map(({ at, outward, length, z }) => ({
    at,
    outward,
    // Where it meets the part the round cutter leaves a fillet of its own radius to either side.
    length: length + diameter + 2 * shortOfBridge(gentle.wallAllowance, clearing.pattern),
    width,
    height: z - underside,
  }));
  return { ...cleared, bridges };
};

/** How much wider than its cutter a groove is that is peeled, as a share of the diameter. Common practice, no source. */
const PEELED_ROOM = 0.6;

/**
 * A groove wide enough for the cutter, its allowance, and `room` for a finishing lap to come and go on an arc; for one
 * that is peeled as much more as the bar outside gives (mm from the part), the rail that the jaws hold left alone.
 */
const grooveRound = (
  wanted: Region,
  diameter: number,
  allowance: number,
  outside: number | null,
): { area: Region; room: number } => {
  const least = Math.max(0.8, diameter * 0.25);
  const most = outside === null ? 0 : Math.min(PEELED_ROOM * diameter, outside - RAIL - diameter - allowance);
  const room = Math.max(least, most);
  return { area: difference(offset(wanted, diameter + allowance + room), wanted), room };
};

const thin = (scene: Scene, work: Workpiece, task: Task, step: ThinStep): Cleared => {
  const floors = step.lands.map((name) => {
    const land = named(scene.part.lands, name, 'land');
    return heightOf(scene, scene.frame.face === 'front' ? land.top : land.bottom);
  });
  const floor = Math.min(...floors);
  const all = protectedAbove({ stock: [], wanted: scene.bare }, -1e6);
  const keepOut = keepOutOf(scene, scene.bare, floor);
  return clearArea(work, {
    ...base(scene, task, gentleTerms(step, step.engagement, keepOut(floor), task.cutter.diameter / 2)),
    area: step.reach === null ? EVERYWHERE : offset(all, step.reach),
    floor,
    keepOut,
    pattern: patternOf(step.engagement, { kind: 'strokes', startFrom: step.startFrom }),
    underside: null,
    kind: 'rough',
  });
};

const release = (scene: Scene, work: Workpiece, task: Task, step: ReleaseStep): Cleared => {
  const of = scene.steps.get(step.of);
  if (of === undefined) throw new RangeError(`it releases "${step.of}", which is no job step`);
  const terms = (from: MillingTerms): MillingTerms => ({
    ...from,
    stepDown: step.stepDown,
    levels: { kind: 'equal' },
    wallAllowance: 0,
    floorAllowance: 0,
  });
  switch (of.kind) {
    case 'fork':
      return fork(scene, work, task, of, terms(of), 'release', 0);
    case 'slot':
      return slot(scene, work, task, of, terms(of), 'release', 0);
    case 'outline':
      return outline(scene, work, task, of, terms(of), 'release');
    default:
      throw new RangeError(`it releases "${step.of}", which leaves no web`);
  }
};
