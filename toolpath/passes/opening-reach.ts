import type { Part } from '../../sketch/part/part.ts';
import type { Box, Point } from '../../sketch/shape/point.ts';
import type { JobStep } from '../route/route.ts';
import { placeOf, type Scene } from './scene.ts';

/** The step whose shape is cut: a release cuts that of the step it releases. */
export const ofStep = (scene: Scene, step: JobStep): JobStep =>
  step.kind === 'release' ? (scene.steps.get(step.of) ?? step) : step;

/**
 * Whether what lies in a box of program coordinates is out of reach of a cutter that cuts a fork, slot or pocket; null
 * for steps that cut none.
 */
export const farFromOpening = (
  scene: Scene,
  step: JobStep,
  diameter: number,
): ((box: Box) => boolean) | null => {
  const middles = middlesOf(scene.part, step);
  if (middles === null) return null;
  const places = middles.at.map((p) => placeOf(scene.frame, p));
  const room = middles.reach + 1.5 * diameter;
  const low = (axis: 'x' | 'y'): number => Math.min(...places.map((p) => p[axis])) - room;
  const high = (axis: 'x' | 'y'): number => Math.max(...places.map((p) => p[axis])) + room;
  return (box) => (['x', 'y'] as const).some((a) => box.max[a] < low(a) || box.min[a] > high(a));
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
