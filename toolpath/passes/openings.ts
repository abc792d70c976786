import { forkRegion, slotRegion } from '../../sketch/part/cut-outs.ts';
import type { Fork, Slot } from '../../sketch/part/part.ts';
import { intersection } from '../../sketch/shape/boolean.ts';
import { offset } from '../../sketch/shape/offset.ts';
import { add, distance, type Point, scale } from '../../sketch/shape/point.ts';
import { disc, type Path, signedDistance } from '../../sketch/shape/region.ts';
import { line } from '../../sketch/shape/segment.ts';
import { AIR, OVERCUT, SAME_WIDTH } from '../route/clearances.ts';
import type { ForkStep, MillingTerms, PocketStep, SlotStep } from '../route/route.ts';
import type { Cleared, Clearing } from './area.ts';
import { cutCentreLine } from './centre-line.ts';
import { clearArea } from './clearing.ts';
import { LEAD_ROOM, LEAST_LEFT } from './gentle-terms.ts';
import { base, laps, lowestIn, named } from './milling-terms.ts';
import type { PassKind } from './pass.ts';
import { canPeel, finishingAllowance, orbitOf, peelStep } from './peel.ts';
import { keepOutOf, placeOf, type Scene, surfaceAt, type Task } from './scene.ts';
import { betterBackward, forkLine, sidesOf } from './thin-side.ts';
import { protectedAbove, regionInProgram, stockBetween, type Workpiece } from './workpiece.ts';

/** A fork: on its centre line when the cutter is as wide as it is, else by laps. A web of nothing goes right through. */
export const fork = (
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
  const part = protectedAbove({ stock: [], wanted: scene.bare }, -1e6);
  const whole = regionInProgram(scene.frame, forkRegion(scene.part, feature));
  const area = intersection(whole, offset(part, task.cutter.diameter + 1));
  // The bar before the mouth is not cut any deeper than the fork itself asks for.
  const underside = lowestIn(work, intersection(whole, part));
  const floor = web > 0 ? underside + web : underside - OVERCUT;
  const rounded = feature.root.kind === 'round' || feature.root.cornerRadius > feature.width / 2 - SAME_WIDTH;
  if (rounded && Math.abs(feature.width - task.cutter.diameter) <= SAME_WIDTH) {
    const path = forkCentreLine(scene, work, feature, task.cutter.diameter / 2);
    const cut = { ...base(scene, task, terms), path, open: true, floor, underside, kind, terms };
    return ownUp(cutCentreLine(work, cut), step.engagement, task, feature.width);
  }
  const radius = task.cutter.diameter / 2;
  const pattern = forkPattern(scene, work, feature, step.engagement, radius);
  const cleared = clearArea(work, {
    ...base(scene, task, peeled(terms, pattern, radius)),
    area,
    floor,
    keepOut: keepOutOf(scene, work.wanted, floor),
    pattern,
    underside,
    kind,
  });
  return ownUp(cleared, step.engagement, task, feature.width);
};

/** An opening with no room for its cutter to go round in is cut all the same, and why its limit is not kept is said. */
const ownUp = (
  cleared: Cleared,
  engagement: number | null,
  { cutter }: Pick<Task, 'cutter'>,
  width: number,
): Cleared => {
  if (engagement === null || canPeel({ width, radius: cutter.diameter / 2 })) return cleared;
  const limit = Math.round((engagement * 180) / Math.PI);
  const why = `the ${cutter.name} has no room to go round in it, and is buried by more than the ${limit}° that are stated; a smaller cutter would do`;
  return { ...cleared, unkept: { at: null, why } };
};

/** A fork is peeled from outside the stock to the middle of its root, where it is wide enough beside the cutter. */
const forkPattern = (
  scene: Scene,
  work: Workpiece,
  feature: Fork,
  engagement: number | null,
  radius: number,
): Clearing['pattern'] => {
  const { width } = feature;
  if (engagement === null || !canPeel({ width, radius })) return laps;
  const [line] = forkCentreLine(scene, work, feature, width / 2).segments;
  const root: Peel['root'] =
    feature.root.kind === 'round' ? feature.root : { kind: 'square', corner: feature.root.cornerRadius };
  if (!line) return laps;
  // From the root outward where only so the loops press on the thicker tine.
  const { from, to } = forkLine(feature);
  const outward =
    root.kind === 'round' && betterBackward(sidesOf(scene.part, from, to, width, scene.frame.face));
  return outward
    ? { kind: 'peel', from: line.to, to: line.from, width, open: false, engagement, root }
    : { kind: 'peel', from: line.from, to: line.to, width, open: true, engagement, root };
};

type Peel = Extract<Clearing['pattern'], { kind: 'peel' }>;

/** Terms under which the finishing lap keeps the limit as well: it may find less on the walls, or have nothing to do. */
const peeled = (terms: MillingTerms, pattern: Clearing['pattern'], radius: number): MillingTerms => {
  if (pattern.kind !== 'peel') return terms;
  const { width, engagement, root } = pattern;
  const straight = finishingAllowance(LEAD_ROOM * engagement, radius, Number.POSITIVE_INFINITY);
  // The corners of a square root are cut to size where they must be: there the loops' own step says how much.
  const most =
    root.kind === 'round'
      ? finishingAllowance(LEAD_ROOM * engagement, radius, orbitOf({ width, radius }))
      : Math.min(straight, 0.4 * (peelStep({ ...pattern, radius, direction: terms.direction }) ?? 0));
  const left = Math.min(terms.wallAllowance, most);
  return { ...terms, wallAllowance: left < LEAST_LEFT ? 0 : left };
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

/** A closed slot, likewise. */
export const slot = (
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
    const cut = { ...base(scene, task, terms), path, open: false, floor, underside: below, kind, terms };
    return ownUp(cutCentreLine(work, cut), step.engagement, task, feature.width);
  }
  const radius = task.cutter.diameter / 2;
  const sides = sidesOf(scene.part, feature.from, feature.to, feature.width, scene.frame.face);
  const ends = betterBackward(sides) ? [feature.to, feature.from] : [feature.from, feature.to];
  const [from, to] = ends.map((p) => placeOf(scene.frame, p)) as [Point, Point];
  const pattern = closedPattern(from, to, feature.width, step.engagement, radius);
  const cleared = clearArea(work, {
    ...base(scene, task, peeled(terms, pattern, radius)),
    area,
    floor,
    keepOut: keepOutOf(scene, work.wanted, floor),
    pattern,
    underside: below,
    kind,
  });
  return ownUp(cleared, step.engagement, task, feature.width);
};

/** A closed slot is peeled from one end's middle to the other's, a round pocket from its middle outward. */
const closedPattern = (
  from: Point,
  to: Point,
  width: number,
  engagement: number | null,
  radius: number,
): Clearing['pattern'] =>
  engagement === null || !canPeel({ width, radius })
    ? laps
    : { kind: 'peel', from, to, width, open: false, engagement, root: { kind: 'round' } };

const surfaceOf = (scene: Scene, feature: Slot): number => {
  const middle = { x: (feature.from.x + feature.to.x) / 2, y: (feature.from.y + feature.to.y) / 2 };
  return surfaceAt(scene, placeOf(scene.frame, middle)) ?? 0;
};

/** A counterbore, or a hole milled round. */
export const roundPocket = (scene: Scene, work: Workpiece, task: Task, step: PocketStep): Cleared => {
  const hole = named(scene.part.holes, step.hole, 'hole');
  const at = placeOf(scene.frame, hole.centre);
  const bored = hole.purpose === 'counterbored';
  const diameter = bored ? hole.boreDiameter : hole.diameter;
  const area = disc(at, diameter / 2);
  const radius = task.cutter.diameter / 2;
  const pattern = closedPattern(at, at, diameter, step.engagement, radius);
  const depth = bored ? hole.boreDepth : hole.depth;
  const floor = depth === null ? lowestIn(work, area) - OVERCUT : (surfaceAt(scene, at) ?? 0) - depth;
  const cleared = clearArea(work, {
    ...base(scene, task, peeled(step, pattern, radius)),
    area,
    floor,
    keepOut: keepOutOf(scene, work.wanted, floor),
    pattern,
    underside: null,
    kind: 'rough',
  });
  return ownUp(cleared, step.engagement, task, diameter);
};
