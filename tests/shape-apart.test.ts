import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { difference, intersection, union } from '../sketch/shape/boolean.ts';
import { clipApart } from '../sketch/shape/clip-apart.ts';
import { clip, type Operation } from '../sketch/shape/clipping.ts';
import { clustersOf } from '../sketch/shape/clusters.ts';
import { knownBy } from '../sketch/shape/known.ts';
import { moveSideways, offset } from '../sketch/shape/offset.ts';
import {
  type Contour,
  contourArea,
  disc,
  perimeter,
  type Region,
  rectangle,
  regionArea,
  reverseContour,
} from '../sketch/shape/region.ts';
import { moveRegion } from '../sketch/shape/transform.ts';

const coordinate = (from: number, to: number) =>
  fc.integer({ min: from * 10, max: to * 10 }).map((n) => n / 10);

const discs = fc
  .tuple(coordinate(0, 60), coordinate(0, 40), fc.constantFrom(0.8, 1.5, 3, 3, 6))
  .map(([x, y, r]) => disc({ x: Math.round(x), y: Math.round(y) }, r));

const blocks = fc
  .tuple(coordinate(0, 50), coordinate(0, 30), coordinate(1, 25), coordinate(1, 25))
  .map(([x, y, w, h]) => rectangle({ x, y }, { x: x + w, y: y + h }));

const scattered = fc.array(fc.oneof(discs, discs, blocks), { minLength: 1, maxLength: 7 });

/** Discs and blocks in no order: those that run clockwise are holes, wherever they lie. */
const heaps = fc
  .array(fc.tuple(fc.oneof(discs, blocks), fc.boolean()), { minLength: 1, maxLength: 7 })
  .map((pieces) => pieces.flatMap(([r, hole]) => (hole ? r.contours.map(reverseContour) : r.contours)));

const operations = fc.constantFrom<Operation>('union', 'difference', 'intersection');

/** What lies in one and not in the other, by the image alone, mm². */
const differing = (a: Region, b: Region): number =>
  regionArea(clip(a.contours, b.contours, 'difference')) +
  regionArea(clip(b.contours, a.contours, 'difference'));

/** As much as chords may stray over all boundaries, mm². */
const straying = (...regions: readonly Region[]): number =>
  1e-6 + 0.002 * regions.reduce((sum, r) => sum + perimeter(r), 0);

/** Area and length of each contour, in an order that does not hang on where they came from. */
const figuresOf = (region: Region): readonly string[] =>
  region.contours
    .map((c) => `${contourArea(c).toFixed(6)} ${perimeter({ contours: [c] }).toFixed(6)}`)
    .sort();

describe('boolean work done apart for contours that lie apart', () => {
  it('is what the image makes of them all together, contour for contour', () => {
    let apart = 0;
    fc.assert(
      fc.property(
        heaps,
        heaps,
        operations,
        fc.constantFrom('nonzero' as const, 'positive' as const),
        (a, b, operation, winding) => {
          if (clustersOf(a, b).length > 1) apart++;
          const ours = clipApart(a, b, operation, winding);
          const theirs = clip(a, b, operation, winding);
          expect(figuresOf(ours)).toEqual(figuresOf(theirs));
          expect(differing(ours, theirs)).toBeLessThan(straying(ours, theirs));
        },
      ),
      { numRuns: 400 },
    );
    expect(apart).toBeGreaterThan(300);
  });

  it('counts how often others wind round what is near one another, and asks the image of circles that are hardly two', () => {
    const twins = [disc({ x: 20, y: 20 }, 3), disc({ x: 23, y: 20 }, 3)].flatMap((r) => r.contours);
    const holes = twins.map(reverseContour);
    const block = (d: number): Contour => rectangle({ x: -d, y: -d }, { x: 60 + d, y: 40 + d }).contours[0]!;
    for (const count of [1, 2, 3]) {
      const around = Array.from({ length: count }, (_, i) => block(i));
      for (const a of [
        [...around, ...holes],
        [...around, ...twins],
        [...around.map(reverseContour), ...twins],
      ])
        for (const winding of ['nonzero', 'positive'] as const)
          expect(figuresOf(clipApart(a, [], 'union', winding))).toEqual(
            figuresOf(clip(a, [], 'union', winding)),
          );
    }
    const [one, other] = [disc({ x: 5, y: 5 }, 3).contours, disc({ x: 5, y: 5 }, 3.008).contours];
    for (const operation of ['union', 'difference', 'intersection'] as const) {
      expect(figuresOf(clipApart(other, one, operation))).toEqual(figuresOf(clip(other, one, operation)));
      expect(figuresOf(clipApart(one, other, operation))).toEqual(figuresOf(clip(one, other, operation)));
    }
  });

  it('puts contours out in the order in which the image does', () => {
    let compared = 0;
    fc.assert(
      fc.property(scattered, scattered, (a, b) => {
        const [one, other] = [union(a), union(b)];
        const places = (r: Region): readonly string[] =>
          r.contours.map((c) => `${contourArea(c).toFixed(6)} ${c.segments.length}`);
        const ours = clipApart(one.contours, other.contours, 'union');
        const theirs = clip(one.contours, other.contours, 'union');
        if (clustersOf(one.contours, other.contours).length > 1) {
          compared++;
          expect(places(ours)).toEqual(places(theirs));
        }
      }),
      { numRuns: 300 },
    );
    expect(compared).toBeGreaterThan(20);
  });

  it('keeps the very contours that nothing comes near, whatever changes elsewhere', () => {
    const plate = rectangle({ x: 0, y: 0 }, { x: 60, y: 40 });
    const bossed = union([plate, disc({ x: 60, y: 20 }, 8), disc({ x: 10, y: 10 }, 2)]);
    for (const r of [2, 2.5]) {
      // Not free of one another, so that the image is asked.
      const holes = union([disc({ x: 20, y: 20 }, r), disc({ x: 22, y: 20 }, r)]);
      const cut = difference(bossed, holes);
      expect(cut.contours).toHaveLength(2);
      expect(cut.contours).toContain(bossed.contours[0]);
      expect(intersection(cut, bossed).contours).toContain(bossed.contours[0]);
      expect(union([cut, cut]).contours).toContain(bossed.contours[0]);
    }
  });

  it('lets a circle be that which it is, however often it is there, and turns it round as a hole', () => {
    const hole = disc({ x: 1 / 3, y: 0.1 }, 0.7);
    const plate = rectangle({ x: -5, y: -5 }, { x: 5, y: 5 });
    const holed = difference(plate, hole);
    const [made] = holed.contours.filter((c) => contourArea(c) < 0);
    expect(made!.segments).toEqual(reverseContour(hole.contours[0]!).segments);
    expect(union([holed, hole]).contours.length).toBe(1);
    expect(difference(holed, hole).contours.length).toBe(2);
    expect(intersection(holed, hole).contours).toEqual([]);
  });
});

describe('an offset of contours that lie apart', () => {
  const holed = fc
    .tuple(scattered, scattered)
    .map(([a, b]) => difference(union([...a, rectangle({ x: -30, y: 0 }, { x: -10, y: 40 })]), union(b)));

  it('is that of them all together', () => {
    fc.assert(
      fc.property(
        holed,
        fc.double({ min: -3, max: 3, noNaN: true }).filter((d) => Math.abs(d) > 1e-3),
        (region, d) => {
          const ours = offset(region, d);
          const theirs = clip(
            region.contours.map((c) => moveSideways(c, d)),
            [],
            'union',
            'positive',
          );
          expect(differing(ours, theirs)).toBeLessThan(straying(ours, theirs));
        },
      ),
      { numRuns: 200 },
    );
  });

  it('keeps the very contours when one changes that is far from them', () => {
    const plate = rectangle({ x: 0, y: 0 }, { x: 60, y: 40 });
    const grown = [2, 2.5].map((r) => offset(difference(plate, disc({ x: 30, y: 20 }, r)), 1));
    expect(grown[0]!.contours[0]).toBe(grown[1]!.contours[0]);
    expect(grown[0]!.contours[1]).not.toEqual(grown[1]!.contours[1]);
    // Grown by more than the room between them, the two are one matter.
    expect(offset(difference(plate, disc({ x: 30, y: 20 }, 2)), 3).contours).toHaveLength(1);
  });
});

describe('what is known of objects', () => {
  const contour = (): Contour => ({ segments: [...disc({ x: 0, y: 0 }, 1).contours[0]!.segments] });

  it('is known of these objects in this order, with all else that it hangs on, and of no others', () => {
    const known = knownBy<Contour, number>();
    let made = 0;
    const ask = (objects: readonly Contour[], also = ''): number => known.of(objects, also, () => ++made);
    const [a, b] = [contour(), contour()];
    expect(ask([a, b])).toBe(1);
    expect(ask([a, b])).toBe(1);
    expect(ask([b, a])).toBe(2);
    expect(ask([a, b], 'grown')).toBe(3);
    expect(ask([a])).toBe(4);
    expect(ask([a, contour()])).toBe(5);
    expect(ask([a, a])).toBe(6);
    expect(ask([a])).toBe(4);
    expect(ask([])).not.toBe(ask([]));
  });

  it('tells moves apart by the sign of nothing', () => {
    const { contours } = disc({ x: -1, y: -0 }, 1);
    const right = moveRegion({ contours }, { by: { x: 0, y: 0 } });
    const same = moveRegion({ contours }, { by: { x: 0, y: 0 } });
    const left = moveRegion({ contours }, { by: { x: -0, y: -0 } });
    expect(same.contours[0]).toBe(right.contours[0]);
    expect(Object.is(right.contours[0]!.segments[0]!.from.y, 0)).toBe(true);
    expect(Object.is(left.contours[0]!.segments[0]!.from.y, -0)).toBe(true);
  });
});
