import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { difference, intersection, union } from '../sketch/shape/boolean.ts';
import { disc, type Path, pathLength, rectangle, regionArea } from '../sketch/shape/region.ts';
import { line } from '../sketch/shape/segment.ts';
import { thicken } from '../sketch/shape/thicken.ts';
import { edgeOf, withoutIdleEnd, withoutTail } from '../toolpath/passes/tail.ts';

const stroke = (x0: number, x1: number, y: number): Path => ({
  segments: [line({ x: x0, y }, { x: x1, y })],
});

describe('a way over a target', () => {
  it('ends with the cutter’s middle over a straight edge, not a radius beyond it', () => {
    const target = rectangle({ x: 0, y: -20 }, { x: 40, y: 20 });
    const cut = withoutTail(stroke(-4, 44.6, 0), edgeOf(target), 4);
    expect(pathLength(cut)).toBeGreaterThan(44);
    expect(pathLength(cut)).toBeLessThan(44.5);
  });

  it('stays as it is where it ends on the target, or near it', () => {
    const target = rectangle({ x: 0, y: -20 }, { x: 40, y: 20 });
    for (const end of [30, 40, 43]) {
      const path = stroke(-4, end, 0);
      expect(withoutTail(path, edgeOf(target), 4)).toBe(path);
    }
  });

  it('sweeps all that it would have swept, but for a tenth of a millimetre at its sides', () => {
    const size = fc.double({ min: 3, max: 12, noNaN: true });
    let shorter = 0;
    let tried = 0;
    fc.assert(
      fc.property(
        size,
        size,
        fc.double({ min: -6, max: 6, noNaN: true }),
        fc.double({ min: 1, max: 5, noNaN: true }),
        (a, b, y, radius) => {
          const target = union([
            disc({ x: 0, y: 0 }, a),
            rectangle({ x: 0, y: -b / 2 }, { x: 20, y: b / 2 }),
            disc({ x: 20, y: 0 }, b),
          ]);
          const path = stroke(-30, 20 + b + radius + 0.6, y);
          const cut = withoutTail(path, edgeOf(target), radius);
          tried++;
          if (cut !== path) shorter++;
          // At the very side of its band the next way over the target cuts as well.
          const band = intersection(target, thicken(path, radius - 0.1));
          expect(regionArea(difference(band, thicken(cut, radius)))).toBeLessThan(2e-3);
        },
      ),
      { numRuns: 120, endOnFailure: true },
    );
    expect(shorter / tried).toBeGreaterThan(2 / 3);
  });

  it('ends a little behind the last place where it takes something', () => {
    const standing = rectangle({ x: 0, y: -20 }, { x: 20, y: 20 });
    // Its rim's sides leave the material when the middle is over its edge; looked at every 0.2, and 0.2 behind it.
    const cut = withoutIdleEnd(stroke(-4.6, 60, 0), { radius: 4, standing });
    expect(pathLength(cut)).toBeGreaterThan(24.7);
    expect(pathLength(cut)).toBeLessThan(25.1);
  });

  it('stays as it is where it takes something to its end, or nothing at all', () => {
    const standing = rectangle({ x: 0, y: -20 }, { x: 20, y: 20 });
    for (const path of [stroke(-4.6, 19, 0), stroke(-4.6, 20.3, 0), stroke(25, 60, 0)])
      expect(withoutIdleEnd(path, { radius: 4, standing })).toBe(path);
  });
});
