import { describe, expect, it } from 'vitest';
import { countAir } from './bench/air.ts';

/** Seconds of air of pieces of a tenth of a millimetre and a second each: x cuts, a dot cuts nothing, | is a rapid. */
const airOf = (pieces: string): number => {
  const air = countAir();
  for (const piece of pieces) {
    if (piece === '|') air.lifted();
    else air.fed(0.1, 1, piece === 'x');
  }
  return air.seconds();
};

describe('time under feed that cuts nothing', () => {
  it.each([
    ['xxxx', 0],
    // The way in and the way out, however short.
    ['.x', 1],
    ['x.', 1],
    ['x.|', 1],
    ['..x...|.x', 6],
    // Between two cuts only what is longer than a shaving may be thin.
    ['x....x', 0],
    ['x.....x', 5],
    ['x..x..x....x', 0],
    ['....|....', 8],
  ])('of %s is %d', (pieces, seconds) => {
    expect(airOf(pieces)).toBe(seconds);
  });
});
