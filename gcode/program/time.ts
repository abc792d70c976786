import type { Point, Point3 } from '../../sketch/shape/point.ts';
import type { MachineProfile } from '../../toolpath/machine/profile.ts';
import type { PlannedSetup, PlannedStep } from '../../toolpath/passes/pass.ts';
import { uprightSteps } from './pecks.ts';
import { type Block, unfoldStep } from './unfold.ts';

/** Allowed for each change of cutter with its setting of Z, and for each stop for work by hand, s. Common practice, no source. */
export const STOP_ALLOWANCE = 60;

/** A job step's blocks beside the step. */
export interface UnfoldedStep {
  readonly planned: PlannedStep;
  readonly passes: readonly (readonly Block[])[];
  /** Whether another tool must be put in the spindle first. */
  readonly change: boolean;
}

/** A hand tap is never in the spindle. */
export const isByHand = (planned: PlannedStep): boolean =>
  planned.cutter.kind === 'tap' || planned.step.kind === 'tap';

/** All job steps of a setup as blocks, each going on from the one before. */
export const unfoldSetup = (setup: PlannedSetup): readonly UnfoldedStep[] => {
  const known = unfolded.get(setup);
  if (known !== undefined) return known;
  const steps = stepsOf(setup);
  unfolded.set(setup, steps);
  return steps;
};

/** The head of a program asks for them twice, and its body once more. */
const unfolded = new WeakMap<PlannedSetup, readonly UnfoldedStep[]>();

const stepsOf = (setup: PlannedSetup): readonly UnfoldedStep[] => {
  let place: Point | null = null;
  let fitted: number | null = null;
  return setup.steps.map((planned) => {
    const { passes, place: end } = unfoldStep(setup, planned, place);
    place = end ?? place;
    const change = !isByHand(planned) && fitted !== planned.cutter.number;
    // The cutter is taken out for work by hand.
    fitted = isByHand(planned) ? null : planned.cutter.number;
    return { planned, passes, change };
  });
};

/** Length of a block's path, mm: at feed, and by rapid. Seconds that it waits. */
const spent = (block: Block): { readonly feed: number; readonly rapid: number; readonly wait: number } => {
  switch (block.kind) {
    case 'rapid':
    case 'feed': {
      const length = Math.hypot(
        block.to.x - block.from.x,
        block.to.y - block.from.y,
        block.to.z - block.from.z,
      );
      return block.kind === 'feed'
        ? { feed: length, rapid: 0, wait: 0 }
        : { feed: 0, rapid: length, wait: 0 };
    }
    case 'arc': {
      const radius = Math.hypot(block.from.x - block.centre.x, block.from.y - block.centre.y);
      const length = Math.hypot(radius * block.sweep, block.to.z - block.from.z);
      return { feed: length, rapid: 0, wait: 0 };
    }
    case 'drill': {
      let z = block.clear;
      let feed = 0;
      const across = Math.hypot(block.at.x - block.from.x, block.at.y - block.from.y);
      let rapid = across + block.travel - block.clear;
      let wait = 0;
      for (const step of uprightSteps(block)) {
        if (step.kind === 'dwell') wait += step.seconds;
        else {
          if (step.kind === 'feed') feed += Math.abs(step.z - z);
          else rapid += Math.abs(step.z - z);
          z = step.z;
        }
      }
      return { feed, rapid, wait };
    }
    case 'stop':
      return { feed: 0, rapid: 0, wait: STOP_ALLOWANCE };
  }
};

/**
 * About how long the program of a setup runs, s: lengths over feeds, rapids at the machine's rate, dwells, and a minute
 * for each change of cutter and each stop. Starting and stopping of the slides is not reckoned in.
 */
export const programTime = (setup: PlannedSetup, profile: MachineProfile): number => {
  let seconds = 0;
  for (const { passes, change } of unfoldSetup(setup)) {
    if (change) seconds += STOP_ALLOWANCE;
    for (const block of passes.flat()) {
      const { feed, rapid, wait } = spent(block);
      if (feed > 0 && block.kind !== 'rapid' && block.kind !== 'stop') seconds += (feed / block.feed) * 60;
      seconds += (rapid / profile.feed.rapid) * 60 + wait;
    }
  }
  return seconds;
};

/** The box that holds every motion of the cutter's tip, mm; null when nothing moves. */
export const motionBox = (setup: PlannedSetup): { readonly min: Point3; readonly max: Point3 } | null => {
  const points = unfoldSetup(setup).flatMap(({ passes }) => passes.flat().flatMap(extremes));
  if (points.length === 0) return null;
  const of = (pick: (...values: number[]) => number): Point3 => ({
    x: points.reduce((v, p) => pick(v, p.x), points[0]!.x),
    y: points.reduce((v, p) => pick(v, p.y), points[0]!.y),
    z: points.reduce((v, p) => pick(v, p.z), points[0]!.z),
  });
  return { min: of(Math.min), max: of(Math.max) };
};

const extremes = (block: Block): Point3[] => {
  switch (block.kind) {
    case 'rapid':
    case 'feed':
      return [block.from, block.to];
    case 'arc': {
      const radius = Math.hypot(block.from.x - block.centre.x, block.from.y - block.centre.y);
      const start = Math.atan2(block.from.y - block.centre.y, block.from.x - block.centre.x);
      const low = Math.min(start, start + block.sweep);
      const high = Math.max(start, start + block.sweep);
      const points: Point3[] = [block.from, block.to];
      for (let k = Math.ceil(low / (Math.PI / 2)); k * (Math.PI / 2) <= high; k++) {
        const angle = (k * Math.PI) / 2;
        points.push({
          x: block.centre.x + radius * Math.cos(angle),
          y: block.centre.y + radius * Math.sin(angle),
          z: block.to.z,
        });
      }
      return points;
    }
    case 'drill':
      return [
        { ...block.at, z: block.travel },
        { ...block.at, z: block.depth },
      ];
    case 'stop':
      return [];
  }
};
