import fc from 'fast-check';
import { expect, test } from 'vitest';
import { type Camera, fitBox, toScreen, toSheet, type Viewport, zoomAt } from '../sketch/canvas/camera.ts';
import { dimensionsOf } from '../sketch/canvas/dimensions.ts';
import { askedOf } from '../sketch/canvas/draw-dimensions.ts';
import { type Placed, placeDimensions } from '../sketch/canvas/placement.ts';
import { outlineOfPatches, sectionOfSolid } from '../sketch/canvas/section.ts';
import { getIn, type Json, setIn } from '../sketch/draft/json.ts';
import { edgesFromAbove, edgesFromBelow } from '../sketch/part/edges.ts';
import type { Part } from '../sketch/part/part.ts';
import { outlineOf, solidOf } from '../sketch/part/solid.ts';
import type { Point } from '../sketch/shape/point.ts';
import { contains, disc, rectangle } from '../sketch/shape/region.ts';
import { pointAlong, segmentLength } from '../sketch/shape/segment.ts';
import { spansInside } from '../sketch/shape/spans.ts';
import { SAMPLES, samplePart } from './samples.ts';

const viewport: Viewport = {
  width: 1440,
  height: 900,
  covered: { left: 22, top: 118, right: 458, bottom: 338 },
};
const mm = fc.double({ min: -200, max: 200, noNaN: true });
const camera = fc.record<Camera>({
  scale: fc.double({ min: 0.6, max: 300, noNaN: true }),
  centre: fc.record({ x: mm, y: mm }),
  turned: fc.boolean(),
  axis: mm,
});

test('a place goes to its pixel and back, turned over or not', () => {
  fc.assert(
    fc.property(camera, mm, mm, (c, x, y) => {
      const back = toSheet(c, viewport, toScreen(c, viewport, { x, y }));
      expect(back.x).toBeCloseTo(x, 6);
      expect(back.y).toBeCloseTo(y, 6);
    }),
  );
});

test('zooming leaves the place under the pointer where it is', () => {
  const pixel = fc.record({ x: fc.integer({ min: 0, max: 1440 }), y: fc.integer({ min: 0, max: 900 }) });
  fc.assert(
    fc.property(camera, pixel, fc.double({ min: 0.2, max: 5, noNaN: true }), (c, at, factor) => {
      const place = toSheet(c, viewport, at);
      const after = toScreen(zoomAt(c, viewport, at, factor), viewport, place);
      expect(after.x).toBeCloseTo(at.x, 5);
      expect(after.y).toBeCloseTo(at.y, 5);
    }),
  );
});

/** A part's measures laid out in a window, as the sheet does it. */
const laidOut = (
  part: Part,
  view: Viewport,
  turned: boolean,
): { placed: readonly Placed[]; free: { min: Point; max: Point } } => {
  const { bar } = part;
  const outline = outlineOf(part);
  const far = { x: bar.corner.x + bar.length, y: bar.corner.y + bar.width };
  const c = fitBox({ min: bar.corner, max: far }, view, turned, bar.corner.y + bar.width / 2);
  const at = (p: Point): Point => toScreen(c, view, p);
  const asked = dimensionsOf(part, outline).map((d) => askedOf(d, c, view));
  const free = {
    min: { x: view.covered.left + 6, y: view.covered.top + 6 },
    max: { x: view.width - view.covered.right - 6, y: view.height - view.covered.bottom - 6 },
  };
  const chain = outline.contours[0]!.segments.flatMap((s) => {
    const n = Math.max(1, Math.ceil((segmentLength(s) * c.scale) / 14));
    return Array.from({ length: n }, (_, i) => at(pointAlong(s, i / n)));
  });
  const placed = placeDimensions(asked, {
    outline: chain,
    free,
    kept: [],
    lines: [],
    widthOf: (t) => 7 * t.length,
  });
  return { placed, free };
};

/** A label's box: level letters only, upright ones turned on their side. */
const boxOf = ({ label }: Placed): { min: Point; max: Point } | null => {
  const long = 7 * label.text.length;
  const upright = Math.abs(Math.abs(label.turn) - 90) < 1;
  if (!upright && Math.abs(label.turn) > 1) return null;
  const [w, h] = upright ? [16, long] : [long, 16];
  return {
    min: { x: label.at.x - w / 2, y: label.at.y - h / 2 },
    max: { x: label.at.x + w / 2, y: label.at.y + h / 2 },
  };
};

test.each(SAMPLES)('the measures of %s stand clear of each other and on the sheet', (name) => {
  const part = samplePart(name);
  for (const turned of [false, true]) {
    const { placed, free } = laidOut(part, viewport, turned);
    expect(placed.length).toBeGreaterThan(4);
    const boxes = placed.flatMap((p) => boxOf(p) ?? []);
    for (const [i, a] of boxes.entries()) {
      expect(a.min.x).toBeGreaterThanOrEqual(free.min.x);
      expect(a.max.x).toBeLessThanOrEqual(free.max.x);
      expect(a.min.y).toBeGreaterThanOrEqual(free.min.y);
      expect(a.max.y).toBeLessThanOrEqual(free.max.y);
      for (const b of boxes.slice(i + 1)) {
        const apart = a.max.x <= b.min.x || b.max.x <= a.min.x || a.max.y <= b.min.y || b.max.y <= a.min.y;
        expect(apart, JSON.stringify([a, b])).toBe(true);
      }
    }
  }
});

test('a stepped block has its step drawn from the front, and hidden from the back', () => {
  const low = rectangle({ x: 0, y: 0 }, { x: 10, y: 5 });
  const high = rectangle({ x: 0, y: 0 }, { x: 4, y: 5 });
  const solid = {
    slabs: [
      { bottom: 0, top: 2, region: low },
      { bottom: 2, top: 6, region: high },
    ],
  };
  const total = (segments: readonly Parameters<typeof segmentLength>[0][]): number =>
    segments.reduce((sum, s) => sum + segmentLength(s), 0);
  const front = edgesFromAbove(solid.slabs);
  expect(total(front.visible)).toBeCloseTo(30 + 5, 6);
  expect(front.hidden).toEqual([]);
  const back = edgesFromBelow(solid.slabs);
  expect(total(back.visible)).toBeCloseTo(30, 6);
  expect(total(back.hidden)).toBeCloseTo(5, 6);
});

test('a line across a disc lies inside it between the chord’s ends', () => {
  fc.assert(
    fc.property(
      fc.double({ min: 1, max: 40, noNaN: true }),
      fc.double({ min: -0.99, max: 0.99, noNaN: true }),
      fc.double({ min: 0, max: Math.PI, noNaN: true }),
      (r, share, angle) => {
        const u = { x: Math.cos(angle), y: Math.sin(angle) };
        const off = { x: -u.y * share * r, y: u.x * share * r };
        const from = { x: off.x - u.x * 2 * r, y: off.y - u.y * 2 * r };
        const to = { x: off.x + u.x * 2 * r, y: off.y + u.y * 2 * r };
        const [span, ...more] = spansInside(disc({ x: 0, y: 0 }, r), from, to);
        const half = r * Math.sqrt(1 - share * share);
        expect(more).toEqual([]);
        expect(span![0]).toBeCloseTo(2 * r - half, 6);
        expect(span![1]).toBeCloseTo(2 * r + half, 6);
      },
    ),
  );
});

test.each(SAMPLES)('the section of %s holds the metal that is counted point by point', (name) => {
  const part = samplePart(name);
  const solid = solidOf(part);
  const { bar } = part;
  const y = bar.corner.y + bar.width * 0.47;
  const cut = { from: { x: bar.corner.x - 3, y }, to: { x: bar.corner.x + bar.length + 3, y } };
  const area = sectionOfSolid(solid, cut).reduce((sum, p) => sum + (p.to - p.from) * (p.top - p.bottom), 0);
  const step = 0.02;
  let counted = 0;
  for (const slab of solid.slabs) {
    for (let x = cut.from.x + step / 2; x < cut.to.x; x += step) {
      if (contains(slab.region, { x, y })) counted += step * (slab.top - slab.bottom);
    }
  }
  expect(area).toBeGreaterThan(0);
  // Each end of each stretch may be half a step out.
  expect(Math.abs(counted - area)).toBeLessThan(12 * step * bar.thickness * 0.5);
});

test('the outline of two patches that touch leaves out the line between them', () => {
  const lines = outlineOfPatches([
    { from: 0, to: 4, bottom: 0, top: 2 },
    { from: 0, to: 4, bottom: 2, top: 3 },
  ]);
  const length = lines.reduce((sum, l) => sum + Math.abs(l.to.s - l.from.s) + Math.abs(l.to.z - l.from.z), 0);
  expect(length).toBeCloseTo(2 * (4 + 3), 9);
});

test('a value that is put into a document is found there, and nothing else is changed', () => {
  const key = fc.oneof(fc.constantFrom('a', 'b', 'c'), fc.nat(3));
  fc.assert(
    fc.property(
      fc.jsonValue() as fc.Arbitrary<Json>,
      fc.array(key, { minLength: 1, maxLength: 4 }),
      fc.integer(),
      (root, path, value) => {
        const before = JSON.stringify(root);
        const after = setIn(root, path, value);
        expect(getIn(after, path)).toBe(value);
        expect(JSON.stringify(root)).toBe(before);
      },
    ),
  );
});
