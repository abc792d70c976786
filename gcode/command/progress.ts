import type { Proof } from '../proof/proof.ts';
import type { ProofProgress } from '../proof/prove.ts';
import type { Doing } from '../survival/doing.ts';

/** A proof shorter than this needs no progress, ms; and how often it is told after that. */
const PATIENCE = 700;
const EVERY = 150;

const DOING = { reading: 'Reading', cutting: 'Cutting', comparing: 'Comparing' } as const;

/** Width of the bar, characters. */
const WIDTH = 30;

const barOf = (share: number, width: number): string => {
  const full = Math.round(width * share);
  return `[${'#'.repeat(full)}${'.'.repeat(width - full)}] ${Math.floor(100 * share)} %`;
};

/** One line of it: what is done, in which setup, a bar and the share. */
export const progressLine = ({ kind, setup, share }: ProofProgress): string =>
  `${`${DOING[kind]} setup ${setup}`.padEnd(20)} ${barOf(share, WIDTH)}`;

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

type Out = Pick<typeof process.stderr, 'isTTY' | 'write' | 'columns'>;

/** Where nobody looks on, long work says how far it is this often, ms: a log is not filled with it. */
const SELDOM = 10_000;

/**
 * Takes the steps of long work to the end. On a terminal one line says what is under way, how far and how long yet, written
 * over and wiped away at the end; elsewhere a line is added now and then.
 */
export const withDoing = <T>(
  steps: Generator<Doing, T>,
  out: Out = process.stderr,
  now: () => number = () => performance.now(),
): T => {
  let next = now() + (out.isTTY ? PATIENCE : SELDOM);
  let widest = 0;
  for (let step = steps.next(); ; step = steps.next()) {
    if (step.done) {
      if (widest > 0) out.write(`\r${' '.repeat(widest)}\r`);
      return step.value;
    }
    if (now() < next) continue;
    next = now() + (out.isTTY ? EVERY : SELDOM);
    if (!out.isTTY) {
      out.write(`${doingLine(step.value, false)}\n`);
      continue;
    }
    // A line that wraps could not be written over.
    const line = doingLine(step.value, true).slice(0, (out.columns ?? 80) - 1);
    widest = Math.max(widest, line.length);
    out.write(`\r${line.padEnd(widest)}`);
  }
};

const doingLine = ({ what, share, secondsLeft }: Doing, bar: boolean): string => {
  const far = share === null ? ' …' : bar ? ` ${barOf(share, WIDTH / 2)}` : `, ${Math.floor(100 * share)} %`;
  const left = secondsLeft === null ? '' : `, about ${timeLeft(secondsLeft)} left`;
  return bar ? `${what.slice(0, 28).padEnd(28)}${far}${left}` : `${what}${far}${left}`;
};

const timeLeft = (seconds: number): string =>
  seconds < 100 ? `${Math.max(1, Math.round(seconds))} s` : `${Math.round(seconds / 60)} min`;
