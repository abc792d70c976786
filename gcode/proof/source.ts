import type { Ending, Motion, Reading } from '../reading/motion.ts';
import { type ReadStep, readInSteps } from '../reading/read.ts';

/**
 * A program to be proven: its motions may be gone through from the start as often as one likes, some thousand at a time,
 * so that those of a million lines need never be in memory together.
 */
export interface ProgramSource {
  readonly steps: () => Generator<ReadStep, Ending>;
  /** What `ReadStep.read` comes to at the end. */
  readonly length: number;
}

export const textSource = (text: string): ProgramSource => ({
  steps: () => readInSteps(text),
  length: text.length,
});

const MOTIONS_A_STEP = 2000;

/** A program that has been read whole already, or was made of something else than text. */
export const readingSource = (reading: Reading): ProgramSource => ({
  steps: () => stepsOf(reading),
  length: reading.motions.length,
});

function* stepsOf({ motions, ...rest }: Reading): Generator<ReadStep, Ending> {
  for (let k = 0; k < motions.length; k += MOTIONS_A_STEP) {
    const some: readonly Motion[] = motions.slice(k, k + MOTIONS_A_STEP);
    yield { motions: some, labels: rest.labels, read: k + some.length };
  }
  return { count: motions.length, ...rest };
}
