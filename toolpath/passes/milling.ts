import { forkRegion, slotRegion } from '../../sketch/part/cut-outs.ts';
import type { Fork, Slot } from '../../sketch/part/part.ts';
import { difference, intersection } from '../../sketch/shape/boolean.ts';
import { offset } from '../../sketch/shape/offset.ts';
import { add, distance, type Point, scale } from '../../sketch/shape/point.ts';
import { disc, type Path, type Region, regionArea, signedDistance } from '../../sketch/shape/region.ts';
import { line } from '../../sketch/shape/segment.ts';
import { AIR, OVERCUT, SAME_WIDTH } from '../route/clearances.ts';
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
import { type BridgeLift, spreadBridges } from './bridges.ts';
import { cutCentreLine } from './centre-line.ts';
import { type Cleared, type Clearing, clearArea } from './clearing.ts';
import type { PassKind } from './pass.ts';
import { EVERYWHERE, keepOutOf, placeOf, type Scene, surfaceAt, type Task } from './scene.ts';
import { protectedAbove, regionInProgram, stockBetween, type Workpiece } from './workpiece.ts';

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

const base = (scene: Scene, task: Task, terms: MillingTerms) => ({
  cutter: task.cutter,
  terms,
  entry: task.entry,
  clearHeight: scene.clearHeight,
  bridges: [] as readonly BridgeLift[],
});

const laps = { kind: 'laps' } as const;

/** Height in program coordinates of a height of the part. */
const heightOf = (scene: Scene, z: number): number =>
  (scene.frame.face === 'front' ? 1 : -1) * (z - scene.frame.zero.z);

const square = (scene: Scene, work: Workpiece, task: Task, step: SquareStep): Cleared => {
  const { bar } = scene.part;
  const floor = heightOf(scene, step.floor);
  const left = bar.corner.x - scene.frame.zero.x;
  const tall = 1e3;
  const toLength: Region = {
    contours: [
      {
        segments: [
          line({ x: left, y: -tall }, { x: left + bar.length, y: -tall }),
          line({ x: left + bar.length, y: -tall }, { x: left + bar.length, y: tall }),
          line({ x: left + bar.length, y: tall }, { x: left, y: tall }),
          line({ x: left, y: tall }, { x: left, y: -tall }),
        ],
      },
    ],
  };
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
  const groove = step.clear === 'all' ? null : grooveRound(wanted, task.cutter.diameter, terms.wallAllowance);
  const clearing: Clearing = {
    ...base(scene, task, groove ? { ...terms, stepover: Math.min(terms.stepover, groove.room) } : terms),
    area: groove?.area ?? EVERYWHERE,
    floor,
    keepOut: keepOutOf(scene, scene.bare, floor),
    pattern: laps,
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
  const width = task.cutter.diameter + terms.wallAllowance + groove.room;
  const bridges = clearing.bridges.map(({ at, outward, length, z }) => ({
    at,
    outward,
    // Where it meets the part the round cutter leaves a fillet of its own radius to either side.
    length: length + task.cutter.diameter,
    width,
    height: z - underside,
  }));
  return { ...cleared, bridges };
};

/** A groove wide enough for the cutter, its allowance, and `room` for a finishing lap to come and go on an arc. */
const grooveRound = (wanted: Region, diameter: number, allowance: number): { area: Region; room: number } => {
  const room = Math.max(0.8, diameter * 0.25);
  return { area: difference(offset(wanted, diameter + allowance + room), wanted), room };
};

const fork = (
  scene: Scene,
  work: Workpiece,
  task: Task,
  step: ForkStep,
  terms: MillingTerms,
  kind: PassKind,
  web: number,
): Cleared => {
  const feature = named(scene.part.forks, step.fork, 'fork');
  // A fork opens into the air or into the groove round the part, and no farther into the bar.
  const mouthRoom = offset(protectedAbove({ stock: [], wanted: scene.bare }, -1e6), task.cutter.diameter + 1);
  const area = intersection(regionInProgram(scene.frame, forkRegion(scene.part, feature)), mouthRoom);
  const underside = lowestIn(work, area);
  const floor = web > 0 ? underside + web : underside - OVERCUT;
  const rounded = feature.root.kind === 'round' || feature.root.cornerRadius > feature.width / 2 - SAME_WIDTH;
  if (rounded && Math.abs(feature.width - task.cutter.diameter) <= SAME_WIDTH) {
    const path = forkCentreLine(scene, work, feature, task.cutter.diameter / 2);
    return cutCentreLine(work, {
      ...base(scene, task, terms),
      path,
      open: true,
      floor,
      underside,
      kind,
      terms,
    });
  }
  return clearArea(work, {
    ...base(scene, task, terms),
    area,
    floor,
    keepOut: keepOutOf(scene, work.wanted, floor),
    pattern: laps,
    underside,
    kind,
  });
};

/** From outside the stock straight in to the middle of the root. */
const forkCentreLine = (scene: Scene, work: Workpiece, feature: Fork, radius: number): Path => {
  const d = { x: Math.cos(feature.direction), y: Math.sin(feature.direction) };
  const root = placeOf(scene.frame, add(feature.mouth, scale(d, feature.depth - feature.width / 2)));
  const mouth = placeOf(scene.frame, feature.mouth);
  const out = scale({ x: mouth.x - root.x, y: mouth.y - root.y }, 1 / distance(mouth, root));
  const standing = stockBetween(work, -1e6, 1e6);
  const first = add(mouth, scale(out, radius + AIR));
  let from: Point = first;
  const open = (p: Point): boolean => signedDistance(standing, p) >= radius + AIR / 2;
  for (let i = 0; i < 4 * radius && !open(from); i++) from = add(from, scale(out, 0.5));
  if (!open(from)) from = first;
  return { segments: [line(from, root)] };
};

const slot = (
  scene: Scene,
  work: Workpiece,
  task: Task,
  step: SlotStep,
  terms: MillingTerms,
  kind: PassKind,
  web: number,
): Cleared => {
  const feature = named(scene.part.slots, step.slot, 'slot');
  const area = regionInProgram(scene.frame, slotRegion(feature));
  const underside = lowestIn(work, area);
  const through = feature.depth === null;
  const floor = through
    ? web > 0
      ? underside + web
      : underside - OVERCUT
    : surfaceOf(scene, feature) - (feature.depth ?? 0);
  const below = through ? underside : null;
  if (Math.abs(feature.width - task.cutter.diameter) <= SAME_WIDTH) {
    const path = { segments: [line(placeOf(scene.frame, feature.from), placeOf(scene.frame, feature.to))] };
    return cutCentreLine(work, {
      ...base(scene, task, terms),
      path,
      open: false,
      floor,
      underside: below,
      kind,
      terms,
    });
  }
  return clearArea(work, {
    ...base(scene, task, terms),
    area,
    floor,
    keepOut: keepOutOf(scene, work.wanted, floor),
    pattern: laps,
    underside: below,
    kind,
  });
};

const surfaceOf = (scene: Scene, feature: Slot): number => {
  const middle = { x: (feature.from.x + feature.to.x) / 2, y: (feature.from.y + feature.to.y) / 2 };
  return surfaceAt(scene, placeOf(scene.frame, middle)) ?? 0;
};

const roundPocket = (scene: Scene, work: Workpiece, task: Task, step: PocketStep): Cleared => {
  const hole = named(scene.part.holes, step.hole, 'hole');
  const at = placeOf(scene.frame, hole.centre);
  const bored = hole.purpose === 'counterbored';
  const area = disc(at, (bored ? hole.boreDiameter : hole.diameter) / 2);
  const depth = bored ? hole.boreDepth : hole.depth;
  const floor = depth === null ? lowestIn(work, area) - OVERCUT : (surfaceAt(scene, at) ?? 0) - depth;
  return clearArea(work, {
    ...base(scene, task, step),
    area,
    floor,
    keepOut: keepOutOf(scene, work.wanted, floor),
    pattern: laps,
    underside: null,
    kind: 'rough',
  });
};

const thin = (scene: Scene, work: Workpiece, task: Task, step: ThinStep): Cleared => {
  const floors = step.lands.map((name) => {
    const land = named(scene.part.lands, name, 'land');
    return heightOf(scene, scene.frame.face === 'front' ? land.top : land.bottom);
  });
  const floor = Math.min(...floors);
  const all = protectedAbove({ stock: [], wanted: scene.bare }, -1e6);
  return clearArea(work, {
    ...base(scene, task, step),
    area: step.reach === null ? EVERYWHERE : offset(all, step.reach),
    floor,
    keepOut: keepOutOf(scene, scene.bare, floor),
    pattern: { kind: 'strokes', startFrom: step.startFrom },
    underside: null,
    kind: 'rough',
  });
};

const release = (scene: Scene, work: Workpiece, task: Task, step: ReleaseStep): Cleared => {
  const of = scene.steps.get(step.of);
  if (of === undefined) throw new RangeError(`"${step.name}" releases "${step.of}", which is no job step`);
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
      throw new RangeError(`"${step.name}" releases "${step.of}", which leaves no web`);
  }
};

const lowestIn = (work: Workpiece, area: Region): number => {
  const bottoms = work.stock
    .filter((slab) => regionArea(intersection(slab.region, area)) > 0.005)
    .map((slab) => slab.bottom);
  return bottoms.length > 0 ? Math.min(...bottoms) : 0;
};

const named = <T extends { readonly name: string }>(
  features: readonly T[],
  name: string,
  kind: string,
): T => {
  const found = features.find((f) => f.name === name);
  if (!found) throw new RangeError(`the part has no ${kind} "${name}"`);
  return found;
};
