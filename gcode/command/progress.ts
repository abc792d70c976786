import type { Proof } from '../proof/proof.ts';
import type { ProofProgress } from '../proof/prove.ts';

/** A proof shorter than this needs no progress, ms; and how often it is told after that. */
const PATIENCE = 700;
const EVERY = 150;

const DOING = { reading: 'Reading', cutting: 'Cutting', comparing: 'Comparing' } as const;

/** Width of the bar, characters. */
const WIDTH = 30;

/** One line of it: what is done, in which setup, a bar and the share. */
export const progressLine = ({ kind, setup, share }: ProofProgress): string => {
  const full = Math.round(WIDTH * share);
  const bar = `${'#'.repeat(full)}${'.'.repeat(WIDTH - full)}`;
  return `${`${DOING[kind]} setup ${setup}`.padEnd(20)} [${bar}] ${Math.floor(100 * share)} %`;
};

/**
 * Takes a proof's steps to the end. Where a person looks on – the error stream is a terminal – and it takes a while, a
 * line there says how far it is, and is wiped away at the end. Ctrl+C stops it like anything else.
 */
export const withProgress = (
  steps: Generator<ProofProgress, Proof>,
  out: Pick<typeof process.stderr, 'isTTY' | 'write'> = process.stderr,
  now: () => number = () => performance.now(),
): Proof => {
  let next = now() + PATIENCE;
  let told = false;
  for (let step = steps.next(); ; step = steps.next()) {
    if (step.done) {
      if (told) out.write(`\r${' '.repeat(WIDTH + 30)}\r`);
      return step.value;
    }
    if (!out.isTTY || now() < next) continue;
    next = now() + EVERY;
    told = true;
    out.write(`\r${progressLine(step.value)}`);
  }
};
