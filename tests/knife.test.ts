import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Knife, SAME_HEIGHT } from '../toolpath/removal/bite.ts';
import type { HeightMap } from '../toolpath/removal/height-map.ts';

/** Runs of cells that stand alike, long and short, some of them empty or at a zero with a sign. */
const stretch = fc.record({
  length: fc.integer({ min: 1, max: 40 }),
  top: fc.constantFrom(0, -0, 2, 2 + 1e-6, 5.5, 8),
  bottom: fc.constantFrom(0, -0, 1.5, 2, 3),
});
const cuts = fc.array(
  fc.record({ a: fc.nat(500), b: fc.nat(500), height: fc.constantFrom(0, 1e-6, 1, 2, 3.25, 5.5, 9) }),
  { minLength: 1, maxLength: 6 },
);

const mapOf = (stretches: readonly { length: number; top: number; bottom: number }[]): HeightMap => {
  const cells = stretches.flatMap(({ length, top, bottom }) => Array.from({ length }, () => [top, bottom]));
  const top = Float32Array.from(cells, ([t]) => t!);
  const bottom = Float32Array.from(cells, ([, b]) => b!);
  return { cell: 1, columns: cells.length, rows: 1, x0: 0, y0: 0, top, bottom };
};

/** The same cell by cell, as it is written down. */
const plainly = (map: HeightMap, front: boolean, first: number, last: number, height: number) => {
  const { top, bottom } = map;
  let [cells, opened] = [0, 0];
  const marked: number[] = [];
  for (let i = first; i <= last; i++) {
    const [high, low] = [top[i]!, bottom[i]!];
    const clear = front ? height >= high - SAME_HEIGHT : -height <= low + SAME_HEIGHT;
    if (high <= low || clear) continue;
    const left = front ? height - low : high + height;
    if (left <= SAME_HEIGHT) opened++;
    if (front) top[i] = left > SAME_HEIGHT ? height : low;
    else bottom[i] = left > SAME_HEIGHT ? -height : high;
    cells++;
    marked.push(i);
  }
  return { cells, opened, marked };
};

describe('the knife', () => {
  it('takes a run of cells down, or up, as if each were cut by itself', () => {
    fc.assert(
      fc.property(
        fc.array(stretch, { minLength: 1, maxLength: 10 }),
        cuts,
        fc.boolean(),
        (some, all, front) => {
          const map = mapOf(some);
          const other = mapOf(some);
          for (const { a, b, height } of all) {
            const first = Math.min(a, b) % map.columns;
            const last = Math.min(map.columns - 1, Math.max(a, b));
            const marks = new Int32Array(map.columns).fill(-1);
            const knife = new Knife(map, front ? 'front' : 'back', { marks, value: 7 });
            knife.cutRun(first, last, front ? height : -height);
            const { cells, opened, marked } = plainly(other, front, first, last, front ? height : -height);
            expect(knife.bite()).toMatchObject({ cells, opened });
            expect([...marks].flatMap((m, i) => (m === 7 ? [i] : []))).toEqual(marked);
            // To the last bit, but for the sign of a zero, which says nothing.
            for (const side of ['top', 'bottom'] as const)
              expect([...map[side]].map((z) => z + 0)).toEqual([...other[side]].map((z) => z + 0));
          }
        },
      ),
      { numRuns: 400 },
    );
  });
});
