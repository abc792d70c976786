import type { PlannedSetup } from '../../toolpath/passes/pass.ts';
import type { Motion, Reading } from '../reading/motion.ts';

/**
 * The motions of a program as read back, pass by pass. The writer puts a label before each pass; a motion belongs to
 * the last label above it. Motions above the first label go with the first pass.
 */
export const motionsByPass = (setup: PlannedSetup, reading: Reading): readonly (readonly Motion[])[] => {
  const passes: Motion[][] = setup.steps.flatMap((s) => s.passes.map(() => []));
  for (const motion of reading.motions) passes[Math.max(0, motion.label)]?.push(motion);
  return passes;
};

/** First and last line of each pass, from 1: from its label to its last motion. */
export const linesOf = (reading: Reading): readonly { readonly first: number; readonly last: number }[] => {
  const last = reading.labels.map((label) => label.line);
  for (const motion of reading.motions) if (motion.label >= 0) last[motion.label] = motion.line;
  return reading.labels.map((label, i) => ({ first: label.line, last: last[i] ?? label.line }));
};
