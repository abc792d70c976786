import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { difference, union } from '../sketch/shape/boolean.ts';
import { clip } from '../sketch/shape/clipping.ts';
import { plainDifference } from '../sketch/shape/plain-difference.ts';
import { disc, type Region, rectangle, regionArea } from '../sketch/shape/region.ts';

const PLATE = rectangle({ x: 0, y: 0 }, { x: 60, y: 40 });

const coordinate = (from: number, to: number) =>
  fc.integer({ min: from * 100, max: to * 100 }).map((n) => n / 100);

const randomDisc = fc
  .tuple(coordinate(-10, 70), coordinate(-10, 50), coordinate(0.5, 9))
  .map(([x, y, r]) => disc({ x, y }, r));

const randomBlock = fc
  .tuple(coordinate(-10, 60), coordinate(-10, 40), coordinate(0.5, 20), coordinate(0.5, 20))
  .map(([x, y, w, h]) => rectangle({ x, y }, { x: x + w, y: y + h }));

const cuts = fc.array(fc.oneof(randomDisc, randomBlock), { minLength: 1, maxLength: 6 });

const together = (regions: readonly Region[]): Region => ({ contours: regions.flatMap((r) => r.contours) });

/** What is in one and not in the other, by the image alone, mm². */
const differing = (a: Region, b: Region): number =>
  regionArea(clip(a.contours, b.contours, 'difference')) +
  regionArea(clip(b.contours, a.contours, 'difference'));

describe('a difference is known without an image where nothing is near', () => {
  test('holes that stand free are the very circles, turned round', () => {
    const hole = disc({ x: 20, y: 20 }, 5);
    const { holes, rest } = plainDifference(PLATE, hole);
    expect(rest).toEqual([]);
    expect(holes).toHaveLength(1);
    expect(holes[0]!.segments[0]).toMatchObject({ centre: { x: 20, y: 20 }, sweep: -2 * Math.PI });
    expect(regionArea(difference(PLATE, hole))).toBeCloseTo(2400 - 25 * Math.PI, 9);
  });

  test('what lies outside takes nothing away', () => {
    expect(plainDifference(PLATE, disc({ x: 80, y: 20 }, 5))).toEqual({ holes: [], rest: [] });
  });

  test('one that lies within a hole already there takes nothing away', () => {
    const ring = difference(PLATE, disc({ x: 20, y: 20 }, 8));
    expect(plainDifference(ring, disc({ x: 20, y: 20 }, 3))).toEqual({ holes: [], rest: [] });
  });

  test.each([
    ['crosses the edge', disc({ x: 0, y: 20 }, 5)],
    ['touches the edge', disc({ x: 5, y: 20 }, 5)],
    ['goes round another', together([disc({ x: 20, y: 20 }, 8), disc({ x: 20, y: 20 }, 3)])],
    ['crosses another', together([disc({ x: 20, y: 20 }, 8), disc({ x: 26, y: 20 }, 3)])],
    ['swallows all', disc({ x: 30, y: 20 }, 80)],
  ])('one that %s is left to the image', (_, cut) => {
    expect(plainDifference(PLATE, cut).rest.length).toBe(cut.contours.length);
  });

  test('one that swallows a hole is left to the image, which lets the smaller go', () => {
    const ring = difference(PLATE, disc({ x: 20, y: 20 }, 3));
    const cut = disc({ x: 20, y: 20 }, 8);
    expect(plainDifference(ring, cut).rest).toEqual(cut.contours);
    expect(difference(ring, cut).contours).toHaveLength(2);
  });

  test('plates with any discs and blocks cut out are as the image alone has them', () => {
    fc.assert(
      fc.property(cuts, cuts, (first, second) => {
        const stock = clip(PLATE.contours, union(first).contours, 'difference');
        const ours = difference(stock, together(second));
        const theirs = clip(stock.contours, union(second).contours, 'difference');
        return differing(ours, theirs) < 0.3;
      }),
      { numRuns: 300 },
    );
  });
});
