import type { Hole } from '../../sketch/part/part.ts';
import type { Point } from '../../sketch/shape/point.ts';
import { disc } from '../../sketch/shape/region.ts';
import { pointHeight } from '../machine/cutter.ts';
import { BREAKTHROUGH } from '../route/clearances.ts';
import type { DrillStep, ReamStep, SpotStep, TapStep } from '../route/route.ts';
import type { Cleared } from './area.ts';
import type { Pass } from './pass.ts';
import { takePen } from './pen.ts';
import { placeOf, type Scene, surfaceAt, type Task, undersideAt } from './scene.ts';
import { LEAST_PECK } from './term-checks.ts';
import { visitingOrder } from './visiting-order.ts';
import { ceilingUnder, take, type Workpiece } from './workpiece.ts';

export type HoleStep = SpotStep | DrillStep | ReamStep | TapStep;

/** A spot is this share of its hole's diameter wide, so that the drill's lips cut and the mouth is not marked. */
const SPOT_SHARE = 0.85;

/** A reamer stops this long at the bottom, s; a spot this long, so that the cone is round. */
const DWELL = 0.3;

/** Pecks made longer are so much longer still, lest the digits of a program bring the last one back, mm. */
const TO_ROUND = 0.005;

/** Holes of one job step in a short order, with the depth that the tool's point needs. */
export const holeStep = (scene: Scene, work: Workpiece, task: Task<HoleStep>): Cleared => {
  const { step } = task;
  const holes = step.holes.map((name) => {
    const hole = scene.part.holes.find((h) => h.name === name);
    if (!hole) throw new RangeError(`the part has no hole "${name}"`);
    return hole;
  });
  if (step.kind === 'tap') return { passes: [tapByHand(scene, step, holes)], work };
  const pen = takePen(scene.clearHeight);
  let after = work;
  let deepest = 0;
  for (const { hole, at } of shortOrder(scene, holes)) {
    const surface = ceilingUnder(after, at, 1e-3) ?? surfaceAt(scene, at) ?? 0;
    const tip = tipHeight(scene, after, task, hole, at);
    pen.lift();
    pen.goTo(at, surface, surface);
    const clear = pen.at()!.z;
    pen.add({
      kind: 'drill',
      at,
      clear,
      depth: tip,
      peck: step.kind === 'drill' ? pecksFor(step.peck, clear - tip) : 0,
      dwell: step.kind === 'drill' ? 0 : DWELL,
      feed: task.entry.plungeFeed,
    });
    deepest = Math.min(deepest, tip);
    if (step.kind !== 'spot') {
      const full = tip + pointHeight(task.cutter);
      after = take(after, disc(at, task.cutter.diameter / 2), full, Math.max(surface, full));
    }
  }
  pen.lift();
  return { passes: [{ kind: 'rough', z: deepest, web: null, moves: pen.moves() }], work: after };
};

/** The peck for so much way down, mm: as asked for, but longer by a trifle where the last would only wear the drill. */
const pecksFor = (peck: number, way: number): number => {
  const whole = Math.floor(way / peck);
  const last = way - whole * peck;
  return whole >= 1 && last > 1e-6 && last < LEAST_PECK ? way / whole + TO_ROUND : peck;
};

const tipHeight = (scene: Scene, work: Workpiece, task: Task<HoleStep>, hole: Hole, at: Point): number => {
  const { step, cutter } = task;
  const surface = ceilingUnder(work, at, hole.diameter / 2 + 0.5) ?? surfaceAt(scene, at) ?? 0;
  if (step.kind === 'spot') {
    const across = Math.min(hole.diameter * SPOT_SHARE, cutter.diameter);
    return surface - across / 2 / Math.tan(cutter.pointAngle / 2);
  }
  if (hole.depth !== null) {
    const full = (surfaceAt(scene, at) ?? surface) - hole.depth;
    // A reamer is kept off the drill's cone.
    return step.kind === 'ream' ? full : full - pointHeight(cutter);
  }
  const beside = { x: at.x + hole.diameter / 2 + 0.05, y: at.y };
  const under = undersideAt(work, at) ?? undersideAt(work, beside) ?? surface;
  return under - pointHeight(cutter) - BREAKTHROUGH;
};

const tapByHand = (scene: Scene, step: TapStep, holes: readonly Hole[]): Pass => {
  const pen = takePen(scene.clearHeight);
  const list = holes.map((h) => (h.purpose === 'tapped' ? `${h.name} ${h.designation}` : h.name)).join(', ');
  const at = placeOf(scene.frame, holes[0]!.centre);
  pen.add({ kind: 'rapid', to: { ...at, z: scene.clearHeight } });
  pen.add({ kind: 'stop', message: `${step.name}: tap by hand ${list}, oil, back off to break the chip` });
  return { kind: 'rough', z: scene.clearHeight, web: null, moves: pen.moves() };
};

/** By the shortest way, begun at its left end. */
const shortOrder = (scene: Scene, holes: readonly Hole[]): readonly { hole: Hole; at: Point }[] => {
  const all = holes.map((hole) => ({ hole, at: placeOf(scene.frame, hole.centre) }));
  const order = visitingOrder(all.map((h) => h.at)).map((i) => all[i]!);
  const [first, last] = [order[0]?.at, order.at(-1)?.at];
  const begins = !first || !last || first.x < last.x || (first.x === last.x && first.y <= last.y);
  return begins ? order : order.reverse();
};
