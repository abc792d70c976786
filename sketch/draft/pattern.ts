import { length, type Point, scale } from '../shape/point.ts';
import { SAME_POINT } from '../shape/tolerance.ts';
import type { JsonObject } from './json.ts';
import { copies, type Relaid } from './relay.ts';
import { type Rigid, shiftBy, turnAbout } from './rigid.ts';

/** More than this of one thing is a slip of the pen. */
const MOST = 500;

/** Features repeated along a line: `count` of each, the first among them, every one a step (mm) from the one before. */
export const patternAlong = (
  document: JsonObject,
  names: readonly string[],
  step: Point,
  count: number,
): Relaid => {
  if (!(length(step) > SAME_POINT)) return no('A step to repeat by is wanted.');
  return repeated(document, names, count, (n) => shiftBy(scale(step, n)));
};

/**
 * Features repeated round a centre, mm: `count` of each, the first among them, spread evenly over the total angle,
 * radians anticlockwise. Over a whole turn the last stands one step before the first; over less, at the very end.
 */
export const patternRound = (
  document: JsonObject,
  names: readonly string[],
  centre: Point,
  count: number,
  total: number = 2 * Math.PI,
): Relaid => {
  if (!Number.isFinite(total) || Math.abs(total) < 1e-9) return no('An angle to spread them over is wanted.');
  const whole = Math.abs(Math.abs(total) - 2 * Math.PI) < 1e-9;
  const step = total / (whole ? count : count - 1);
  return repeated(document, names, count, (n) => turnAbout(centre, n * step));
};

const no = (message: string): Relaid => ({ ok: false, message });

const repeated = (
  document: JsonObject,
  names: readonly string[],
  count: number,
  way: (n: number) => Rigid,
): Relaid => {
  if (!Number.isInteger(count) || count < 2) return no('A pattern has at least two of a thing.');
  if (count > MOST) return no(`A pattern may have at most ${MOST} of a thing.`);
  return copies(
    document,
    names,
    Array.from({ length: count - 1 }, (_, i) => way(i + 1)),
  );
};
