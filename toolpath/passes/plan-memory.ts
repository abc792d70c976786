import type { Part } from '../../sketch/part/part.ts';
import { sharedWith } from '../../sketch/part/sharing.ts';
import type { Slab } from '../../sketch/part/solid.ts';
import { type Contour, contourArea, type Region, regionBox } from '../../sketch/shape/region.ts';
import type { JobStep } from '../route/route.ts';
import type { Cleared } from './area.ts';
import { farFromOpening, ofStep } from './opening-reach.ts';
import type { Scene, Task } from './scene.ts';
import type { Workpiece } from './workpiece.ts';

/**
 * What job steps came to, by the value of everything they go by: an edit is planned anew only where it tells. A step
 * that leaves the same stock as before leaves those after it alone. Holds so many steps and forgets the eldest.
 */
export interface PlanMemory {
  /** The part with every feature that is as it was in the last part planned the very object that it was there. */
  readonly shared: (part: Part) => Part;
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
  let last: Part | null = null;
  return {
    counts,
    shared: (part) => {
      last = sharedWith(last, part);
      return last;
    },
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

/**
 * Forks, slots and pockets keep clear of the part as it is wanted; the others of its bare shape. Holes that lie out of
 * the cutter's reach are filled: they are no way out for it.
 */
const wantedFor = (scene: Scene, work: Workpiece, { step, cutter }: Task): readonly Slab[] => {
  const far = farFromOpening(scene, ofStep(scene, step), cutter.diameter);
  if (far === null) return [];
  const filled = new Map<Region, Region>();
  return work.wanted.map((slab) => {
    const region = filled.get(slab.region) ?? {
      contours: slab.region.contours.filter((c) => contourArea(c) > 0 || !far(regionBox({ contours: [c] })!)),
    };
    filled.set(slab.region, region);
    return { ...slab, region };
  });
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
  const text = texts.get(slabs) ?? slabs.map(slabText).join('\n');
  texts.set(slabs, text);
  return text;
};

const slabText = ({ bottom, top, region }: Slab): string =>
  [JSON.stringify([bottom, top]), ...region.contours.map(contourText)].join(' ');

/** Most contours of slabs are those of the slabs before an edit, and have been written out for these. */
const contourTexts = new WeakMap<Contour, string>();

const contourText = (contour: Contour): string => {
  const text = contourTexts.get(contour) ?? JSON.stringify(contour.segments);
  contourTexts.set(contour, text);
  return text;
};

const keyOf = (scene: Scene, work: Workpiece, task: Task): string => {
  const { bare, steps, ...rest } = scene;
  const asked = JSON.stringify([rest, [...steps], task]);
  // Of a bar no slab's text has any, so that each list ends where it does.
  return [asked, textOf(bare), textOf(work.stock), textOf(work.wanted)].join(' | ');
};
