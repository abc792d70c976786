import { describe, expect, it } from 'vitest';
import { difference, union } from '../sketch/shape/boolean.ts';
import { offset } from '../sketch/shape/offset.ts';
import { NOTHING, type Region, rectangle, regionArea, regionBox } from '../sketch/shape/region.ts';
import { cornersOf } from '../toolpath/passes/front-corners.ts';
import type { Cut } from '../toolpath/passes/fronts.ts';

// What wide rounds leave in the corners of a pocket, cut corner by corner: a pocket for the middle of a cutter of 6 mm
// with four corners alike, so that what is done in one is done in all.

const R = 3;
const at = (x: number, y: number) => ({ x, y });
const terms = { radius: R, engagement: Math.PI / 3, direction: 'climb' } as const;
const rounded = (region: Region, by: number): Region => offset(offset(region, -by), by);
const inCorners = (allowed: Region, unmet?: Region) => {
  const swept = rounded(allowed, 2);
  const standing = difference(offset(allowed, R), offset(swept, R));
  const left = unmet ?? difference(offset(allowed, R), offset(swept, R + 1e-3));
  return { swept, standing, left, done: cornersOf(swept, allowed, standing, terms, left, 7) };
};
const boxOf = ({ path }: Cut) => regionBox({ contours: [path] })!;
const POCKET = rectangle(at(0, 0), at(40, 30));

describe('the corners that wide rounds leave', () => {
  it('are cut within the limit, each alike, and nearly to their own sharpness', () => {
    const { standing, swept, done } = inCorners(POCKET);
    expect(regionArea(standing)).toBeGreaterThan(1);
    const cornerOf = (cut: Cut): string => {
      const { min, max } = boxOf(cut);
      return `${min.x > 30 ? 'right' : max.x < 10 ? 'left' : ''} ${min.y > 20 ? 'high' : max.y < 10 ? 'low' : ''}`;
    };
    const counts = new Map<string, number>();
    for (const cut of done.cuts) {
      counts.set(cornerOf(cut), (counts.get(cornerOf(cut)) ?? 0) + 1);
      expect(cut.front).toBeGreaterThanOrEqual(7);
      expect(Math.max(...cut.buried)).toBeLessThanOrEqual(terms.engagement);
      expect(Math.max(...cut.buried)).toBeGreaterThan(0);
    }
    expect([...counts.keys()].sort()).toEqual(['left high', 'left low', 'right high', 'right low']);
    expect(new Set(counts.values()).size).toBe(1);
    // Where the middle has been is that much more, and what stands in the four corners are films.
    expect(regionArea(done.swept)).toBeGreaterThan(
      regionArea(swept) + 0.9 * regionArea(difference(POCKET, swept)),
    );
    expect(regionArea(difference(standing, offset(done.swept, R)))).toBeLessThan(0.2);
  });

  it('that lie near each other are cut together, front by front', () => {
    // Two corners 5 mm apart: the windows about them, two radii wide, are one.
    const { done, standing } = inCorners(rectangle(at(0, 0), at(40, 5)));
    expect(regionArea(difference(standing, offset(done.swept, R)))).toBeLessThan(0.2);
    const [left, right] = [
      done.cuts.filter((cut) => boxOf(cut).max.x < 20),
      done.cuts.filter((cut) => boxOf(cut).min.x > 20),
    ];
    expect(left.length).toBeGreaterThan(0);
    expect(left.length).toBe(right.length);
    const lengths = (cuts: readonly Cut[]) =>
      cuts.map((cut) => boxOf(cut).min.y).filter((y) => y < 2.5).length;
    expect(lengths(left)).toBe(lengths(right));
    expect(lengths(left) * 2).toBe(left.length);
    const fronts = left.map((cut) => cut.front);
    expect(fronts).toEqual([...fronts].sort((a, b) => a - b));
  });

  it('are none where less than a thousandth of a square millimetre is left, or nothing', () => {
    const speck = inCorners(POCKET, rectangle(at(-3, -3), at(-2.97, -2.97)));
    expect(speck.done).toEqual({ cuts: [], swept: speck.swept });
    expect(inCorners(POCKET, NOTHING).done.cuts).toEqual([]);
    // One alone is cut alone.
    const { left } = inCorners(POCKET);
    const low = difference(
      left,
      union([rectangle(at(20, -9), at(60, 60)), rectangle(at(-9, 15), at(60, 60))]),
    );
    const { done } = inCorners(POCKET, low);
    expect(done.cuts.length).toBeGreaterThan(0);
    for (const cut of done.cuts) expect(boxOf(cut).max.x).toBeLessThan(10);
    // Far from all that is swept there is no way in.
    const far = cornersOf(rectangle(at(90, 90), at(99, 99)), POCKET, left, terms, low, 0);
    expect(far.cuts).toEqual([]);
  });
});
