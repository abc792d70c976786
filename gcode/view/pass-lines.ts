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

/** First and last line of each pass, from 1; 0 for a pass without motions. */
export const linesOf = (
  passes: readonly (readonly Motion[])[],
): readonly { readonly first: number; readonly last: number }[] =>
  passes.map((motions) => ({ first: motions[0]?.line ?? 0, last: motions.at(-1)?.line ?? 0 }));
