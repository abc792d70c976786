import type { Part } from '../../sketch/part/part.ts';
import type { Slab } from '../../sketch/part/solid.ts';
import type { Point } from '../../sketch/shape/point.ts';
import { type Contour, contourArea, type Region, regionBox } from '../../sketch/shape/region.ts';
import type { JobStep } from '../route/route.ts';
import type { Cleared } from './area.ts';
import { placeOf, type Scene, type Task } from './scene.ts';
import type { Workpiece } from './workpiece.ts';

/**
 * What job steps came to, by the value of everything they go by: an edit is planned anew only where it tells. A step
 * that leaves the same stock as before leaves those after it alone. Holds so many steps and forgets the eldest.
 */
export interface PlanMemory {
  /** The step's passes as they are known, or as `make` finds them from the scene and the work that it is given. */
  readonly recall: (scene: Scene, work: Workpiece, task: Task, make: PlanStep) => Cleared;
  /** Steps taken over and steps planned since the memory was made. */
  readonly counts: { readonly recalled: number; readonly made: number };
}

export type PlanStep = (scene: Scene, work: Workpiece) => Cleared;

const MOST_STEPS = 200;

export const planMemory = (most = MOST_STEPS): PlanMemory => {
  const known = new Map<string, Cleared>();
  const counts = { recalled: 0, made: 0 };
  return {
    counts,
    recall: (whole, work, task, make) => {
      const scene = seenBy(whole, task.step);
      const seen = { ...work, wanted: wantedFor(whole, work, task) };
      const key = keyOf(scene, seen, task);
      const found = known.get(key);
      const cleared = found ?? make(scene, seen);
      known.delete(key);
      known.set(key, cleared);
      if (known.size > most) known.delete(known.keys().next().value!);
      if (found === undefined) counts.made++;
      else counts.recalled++;
      return { ...cleared, work: { stock: cleared.work.stock, wanted: work.wanted } };
    },
  };
};

/** The step whose shape is cut: a release cuts that of the step it releases. */
const ofStep = (scene: Scene, step: JobStep): JobStep =>
  step.kind === 'release' ? (scene.steps.get(step.of) ?? step) : step;

/**
 * Forks, slots and pockets keep clear of the part as it is wanted; the others of its bare shape. Holes that lie out of
 * the cutter's reach are filled: they are no way out for it.
 */
const wantedFor = (scene: Scene, work: Workpiece, { step, cutter }: Task): readonly Slab[] => {
  const middles = middlesOf(scene.part, ofStep(scene, step));
  if (middles === null) return [];
  const { at, reach } = middles;
  const places = at.map((p) => placeOf(scene.frame, p));
  const room = reach + 1.5 * cutter.diameter;
  const near = (contour: Contour): boolean => {
    const box = regionBox({ contours: [contour] });
    if (box === null) return false;
    const low = (axis: 'x' | 'y'): number => Math.min(...places.map((p) => p[axis])) - room;
    const high = (axis: 'x' | 'y'): number => Math.max(...places.map((p) => p[axis])) + room;
    return (['x', 'y'] as const).every((a) => box.max[a] >= low(a) && box.min[a] <= high(a));
  };
  const filled = new Map<Region, Region>();
  return work.wanted.map((slab) => {
    const region = filled.get(slab.region) ?? {
      contours: slab.region.contours.filter((c) => contourArea(c) > 0 || near(c)),
    };
    filled.set(slab.region, region);
    return { ...slab, region };
  });
};

/** Two places between which an opening lies, and how far it reaches beyond; null for steps that cut none. */
const middlesOf = (part: Part, step: JobStep): { at: readonly Point[]; reach: number } | null => {
  switch (step.kind) {
    case 'fork': {
      const fork = part.forks.find((f) => f.name === step.fork);
      return { at: fork ? [fork.mouth] : [], reach: fork ? fork.depth + fork.width : 0 };
    }
    case 'slot': {
      const slot = part.slots.find((s) => s.name === step.slot);
      return { at: slot ? [slot.from, slot.to] : [], reach: (slot?.width ?? 0) / 2 };
    }
    case 'pocket': {
      const hole = part.holes.find((h) => h.name === step.hole);
      return { at: hole ? [hole.centre] : [], reach: hole ? 2 * hole.diameter + 10 : 0 };
    }
    default:
      return null;
  }
};

/** The scene with nothing in it but what the step may look at, so that nothing else can tell. */
const seenBy = (scene: Scene, step: JobStep): Scene => {
  const of = ofStep(scene, step);
  return {
    ...scene,
    part: partFor(scene.part, of),
    setup: { ...scene.setup, steps: [] },
    steps: new Map(of === step ? [] : [[of.name, of]]),
  };
};

const partFor = (part: Part, step: JobStep): Part => {
  const holes = 'holes' in step ? step.holes : step.kind === 'pocket' ? [step.hole] : [];
  return {
    ...part,
    name: '',
    holes: part.holes.filter((h) => holes.includes(h.name)),
    slots: part.slots.filter((s) => step.kind === 'slot' && s.name === step.slot),
    forks: part.forks.filter((f) => step.kind === 'fork' && f.name === step.fork),
    lands: step.kind === 'thin' ? part.lands : [],
  };
};

/** Texts of slabs, kept as long as the slabs are: the stock that a recalled step leaves is the very one that is known. */
const texts = new WeakMap<readonly Slab[], string>();

const textOf = (slabs: readonly Slab[]): string => {
  const text = texts.get(slabs) ?? JSON.stringify(slabs);
  texts.set(slabs, text);
  return text;
};

const keyOf = (scene: Scene, work: Workpiece, task: Task): string => {
  const { bare, steps, ...rest } = scene;
  const asked = JSON.stringify([rest, [...steps], task]);
  return [asked, textOf(bare), textOf(work.stock), textOf(work.wanted)].join('\n');
};
