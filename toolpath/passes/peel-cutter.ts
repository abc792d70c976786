import type { Part } from '../../sketch/part/part.ts';
import type { Cutter } from '../machine/cutter.ts';
import type { ForkStep, JobStep, PocketStep, SlotStep } from '../route/route.ts';

/** A job step that can be peeled. */
export type PeelableStep = ForkStep | SlotStep | PocketStep;

export const isPeelable = (step: JobStep): step is PeelableStep =>
  step.kind === 'fork' || step.kind === 'slot' || step.kind === 'pocket';

/** What is opened: its width, and the sharpest corner the cutter has to get into (Infinity for none), mm. */
export interface Opening {
  readonly width: number;
  readonly corner: number;
}

/** The opening that a job step cuts; null where the part no longer has it. */
export const openingOf = (part: Part, step: PeelableStep): Opening | null => {
  switch (step.kind) {
    case 'fork': {
      const fork = part.forks.find((f) => f.name === step.fork);
      if (!fork) return null;
      const corner = fork.root.kind === 'square' ? fork.root.cornerRadius : Number.POSITIVE_INFINITY;
      return { width: fork.width, corner };
    }
    case 'slot': {
      const slot = part.slots.find((s) => s.name === step.slot);
      return slot ? { width: slot.width, corner: Number.POSITIVE_INFINITY } : null;
    }
    case 'pocket': {
      const hole = part.holes.find((h) => h.name === step.hole);
      if (!hole) return null;
      const width = hole.purpose === 'counterbored' ? hole.boreDiameter : hole.diameter;
      return { width, corner: Number.POSITIVE_INFINITY };
    }
  }
};

/**
 * Cutters up to this share of the opening's width leave loops worth the name, and room enough to go round. Common
 * practice, no source.
 */
const SHARE = 0.75;

/** The largest owned endmill with which an opening can be peeled down to a depth, mm; null where none can. */
export const peelingCutter = (
  cutters: readonly Cutter[],
  { width, corner }: Opening,
  depth: number,
): Cutter | null =>
  cutters
    .filter((c) => c.kind === 'endmill' && c.fluteLength >= depth && c.diameter <= SHARE * width)
    .filter((c) => c.diameter / 2 <= corner)
    .reduce<Cutter | null>((best, c) => (best === null || c.diameter > best.diameter ? c : best), null);
