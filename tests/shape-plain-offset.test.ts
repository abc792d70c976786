import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { outlineOf } from '../sketch/part/solid.ts';
import { difference, union } from '../sketch/shape/boolean.ts';
import { clip } from '../sketch/shape/clipping.ts';
import { boxGap, keepApart } from '../sketch/shape/gap.ts';
import { moveSideways, offset, offsets } from '../sketch/shape/offset.ts';
import { plainOffset } from '../sketch/shape/plain-offset.ts';
import { disc, perimeter, type Region, rectangle, regionArea, segmentsOf } from '../sketch/shape/region.ts';
import { nearestOn, pointAlong, type Segment, segmentBox } from '../sketch/shape/segment.ts';
import { SAMPLES, samplePart } from './samples.ts';
import { forks, levers, simpleShapes } from './shape-samples.ts';

/** By clipping alone. */
const clipped = (region: Region, d: number): Region =>
  clip(
    region.contours.map((c) => moveSideways(c, d)),
    [],
    'union',
    'positive',
  );

const shapes = fc.oneof(levers, forks, simpleShapes);
const distances = fc.double({ min: -6, max: 8, noNaN: true }).filter((d) => Math.abs(d) > 1e-3);

describe('an offset in closed form', () => {
  it('is what clipping finds', () => {
    let closed = 0;
    fc.assert(
      fc.property(shapes, distances, (shape, d) => {
        const plain = plainOffset(shape, d);
        if (plain === null) return;
        closed++;
        const other = clipped(shape, d);
        // Chords stray by 0.001 mm at most.
        const most = 0.002 * (perimeter(plain) + perimeter(other)) + 1e-3;
        expect(Math.abs(regionArea(plain) - regionArea(other))).toBeLessThan(most);
        expect(regionArea(difference(plain, other)) + regionArea(difference(other, plain))).toBeLessThan(
          most,
        );
        expect(plain.contours.length).toBe(other.contours.length);
      }),
      { numRuns: 400 },
    );
    expect(closed).toBeGreaterThan(150);
  });

  it('is left to clipping where something is overrun', () => {
    const bar = rectangle({ x: 0, y: 0 }, { x: 20, y: 4 });
    expect(plainOffset(bar, -2.1)).toBeNull();
    expect(plainOffset(disc({ x: 0, y: 0 }, 2), -2)).toBeNull();
    const two: Region = {
      contours: [...disc({ x: 0, y: 0 }, 3).contours, ...disc({ x: 10, y: 0 }, 3).contours],
    };
    expect(plainOffset(two, 1.9)?.contours.length).toBe(2);
    expect(plainOffset(two, 2.1)).toBeNull();
    // A region twice over is none.
    expect(
      plainOffset(
        { contours: [...disc({ x: 0, y: 0 }, 5).contours, ...disc({ x: 0, y: 0 }, 2).contours] },
        0.5,
      ),
    ).toBeNull();
  });

  it('of every sample inward, lap by lap, is the offset by the sum of the steps', () => {
    for (const name of SAMPLES) {
      const outline = outlineOf(samplePart(name));
      const step = -0.3;
      offsets(outline, step, 20).forEach((lap, k) => {
        const whole = clipped(outline, (k + 1) * step);
        const apart = regionArea(difference(lap, whole)) + regionArea(difference(whole, lap));
        expect(apart).toBeLessThan(0.003 * perimeter(whole) + 1e-3);
        for (const s of segmentsOf(lap)) {
          for (const t of [0.1, 0.5, 0.9]) {
            const p = pointAlong(s, t);
            const near = Math.min(...segmentsOf(outline).map((o) => nearestOn(o, p).distance));
            expect(near).toBeCloseTo(-(k + 1) * step, 4);
          }
        }
      });
    }
  });

  it('goes on where clipping has parted the region', () => {
    const dumbbell = union([
      rectangle({ x: -20, y: -1 }, { x: 20, y: 1 }),
      disc({ x: -20, y: 0 }, 5),
      disc({ x: 20, y: 0 }, 5),
    ]);
    expect(plainOffset(dumbbell, -1.2)).toBeNull();
    const parted = offset(dumbbell, -1.2);
    expect(parted.contours.length).toBe(2);
    expect(regionArea(plainOffset(parted, -0.8)!)).toBeCloseTo(regionArea(clipped(dumbbell, -2)), 2);
  });
});

describe('segments kept apart', () => {
  const place = fc.record({
    x: fc.double({ min: -9, max: 9, noNaN: true }),
    y: fc.double({ min: -9, max: 9, noNaN: true }),
  });
  const segment: fc.Arbitrary<Segment> = fc.oneof(
    fc.tuple(place, place).map(([from, to]): Segment => ({ kind: 'line', from, to })),
    fc
      .tuple(
        place,
        fc.double({ min: 0.5, max: 6, noNaN: true }),
        fc.double({ min: -3, max: 3, noNaN: true }),
        fc.double({ min: 0.2, max: 6, noNaN: true }),
        fc.boolean(),
      )
      .map(([centre, r, start, turn, left]): Segment => {
        const sweep = left ? turn : -turn;
        const at = (t: number) => ({ x: centre.x + r * Math.cos(t), y: centre.y + r * Math.sin(t) });
        return { kind: 'arc', centre, sweep, from: at(start), to: at(start + sweep) };
      }),
  );

  it('are so just when no place of one is nearer to the other, and their boxes are never farther apart', () => {
    fc.assert(
      fc.property(segment, segment, (a, b) => {
        let near = Number.POSITIVE_INFINITY;
        for (let k = 0; k <= 2000; k++) near = Math.min(near, nearestOn(b, pointAlong(a, k / 2000)).distance);
        // Places 0.02 mm apart may miss the nearest by so much where the two cross.
        expect(keepApart(a, b, near + 0.001)).toBe(false);
        if (near > 0.05) expect(keepApart(a, b, near - 0.02)).toBe(true);
        expect(boxGap(segmentBox(a), segmentBox(b))).toBeLessThanOrEqual(near + 1e-9);
      }),
      { numRuns: 500 },
    );
  });
});
