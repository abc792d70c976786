import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  type Camera,
  fitBox,
  panBy,
  toScreen,
  toSheet,
  type Viewport,
  zoomAt,
} from '../sketch/canvas/camera.ts';
import { dimensionsOf, figure } from '../sketch/canvas/dimensions.ts';
import { askedOf, placedDimensions } from '../sketch/canvas/draw-dimensions.ts';
import { type Placed, placeDimensions } from '../sketch/canvas/placement.ts';
import { outlineOfPatches, sectionOfSolid, threadsInSection } from '../sketch/canvas/section.ts';
import { getIn, type Json, type JsonObject, setIn } from '../sketch/draft/json.ts';
import { measuredValue } from '../sketch/draft/measure.ts';
import { readPart } from '../sketch/part/document.ts';
import { edgesFromAbove, edgesFromBelow } from '../sketch/part/edges.ts';
import type { Part } from '../sketch/part/part.ts';
import { outlineOf, solidOf } from '../sketch/part/solid.ts';
import { degrees, plain } from '../sketch/part/units.ts';
import type { Point } from '../sketch/shape/point.ts';
import { contains, disc, rectangle } from '../sketch/shape/region.ts';
import { pointAlong, segmentLength } from '../sketch/shape/segment.ts';
import { spansInside } from '../sketch/shape/spans.ts';
import { randomLever } from './random-lever.ts';
import { SAMPLES, samplePart, sampleText } from './samples.ts';

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

/** What a drawing of each sample should say, put together by hand from its numbers. Brackets: it follows from others. */
const SAID: Readonly<Record<(typeof SAMPLES)[number], readonly string[]>> = {
  // From the left edge: fork 12, thread 20, arm's wide round 23, block 28. The tip is 43 on from that round.
  'vent-latch-lever': [
    ...['43', '28', '15', '5', '12', '23', '20', '(70)', 'R5', 'R4', '2 × R4'],
    ...['⌀4 reamed through', 'M3 × 0.5 through'],
  ],
  'winch-bell-crank': [
    ...['26', '20', '100°', '(39)', '(32.2)', 'R8', 'R5', 'R4.5', 'R5'],
    ...['⌀6 reamed through', '2 × ⌀3.2 through'],
  ],
  'shutter-link': ['72', '26', '20', '(84)', 'R6', 'R6', '2 × ⌀4 reamed through', 'slot 5 wide through'],
  'bellows-lever': [
    ...['2.25', '0.6', '0.25', '0.5', '0.75', '0.975', '2.5', '(3.1)', 'R0.375', 'R0.25'],
    ...['2 × R0.0938', '8-32 UNC through', '⌀0.189 through'],
  ],
  'damper-yoke': [
    ...['48', '16', '8', '15', '36', '12', '22', '26', '(70)', 'R10', 'R6', '2 × R3'],
    ...['⌀4 through, counterbored ⌀7 × 1.5 deep', '4 BA × 7 deep', 'slot 5 wide through'],
  ],
};

test.each(SAMPLES)('the drawing of %s says what a careful hand would put, and nothing twice', (name) => {
  const part = samplePart(name);
  const said = dimensionsOf(part, outlineOf(part)).map((d) => d.text);
  expect([...said].sort()).toEqual([...SAID[name]].sort());
});

test.each(SAMPLES)('every figure on %s is what the document comes to by the measure it drives', (name) => {
  const part = samplePart(name);
  const document = JSON.parse(sampleText(name)) as JsonObject;
  let driving = 0;
  for (const d of dimensionsOf(part, outlineOf(part))) {
    if (d.measures === null) continue;
    const value = measuredValue(document, d.measures);
    expect(value, d.text).not.toBeNull();
    const text =
      d.kind === 'angle' ? `${plain(degrees(Math.abs(value!)), 2)}°` : figure(Math.abs(value!), part.unit);
    expect(d.text).toContain(text);
    driving++;
  }
  expect(driving).toBeGreaterThan(6);
});

/** A lever with nothing level about it: one leaning arm, a hole and a fork askew. */
const leaning = (): Part => {
  const far = { x: 40 * Math.cos(0.5), y: 40 * Math.sin(0.5) };
  const middle = { x: 15 * Math.cos(0.5), y: 15 * Math.sin(0.5) };
  return {
    ...samplePart('shutter-link'),
    bar: { ...samplePart('shutter-link').bar, width: 40 },
    ends: [
      { name: 'a', centre: { x: 0, y: 0 }, radius: 6 },
      { name: 'b', centre: far, radius: 6 },
    ],
    arms: [{ name: 'arm', from: 'a', to: 'b' }],
    holes: [
      { name: 'h', purpose: 'clearance', centre: middle, diameter: 3, depth: 4, from: 'back' },
      { name: 'i', purpose: 'clearance', centre: far, diameter: 3, depth: 4, from: 'back' },
    ],
    slots: [],
    forks: [
      {
        name: 'f',
        mouth: { x: -6, y: 0 },
        direction: 0.2,
        width: 2,
        depth: 5,
        root: { kind: 'round' },
      },
    ],
  };
};

test('a leaning arm has its angle to the level, and what lies on it is given along it', () => {
  const part = leaning();
  const all = dimensionsOf(part, outlineOf(part));
  const arm = all.find((d) => d.feature === 'arm' && d.kind === 'angle')!;
  expect(arm.text).toBe('28.65°');
  expect(arm).toMatchObject({ vertex: { x: 0, y: 0 }, from: 0 });
  expect(arm.kind === 'angle' && arm.sweep).toBeCloseTo(0.5, 9);
  const hole = all.filter((d) => d.feature === 'h' && d.kind === 'linear');
  expect(hole.map((d) => d.text)).toEqual(['15']);
  expect(hole[0]).toMatchObject({ along: { x: expect.closeTo(Math.cos(0.5), 9) } });
  expect(all.some((d) => d.text === '2 × ⌀3 × 4 deep from the back')).toBe(true);
  expect(all.find((d) => d.feature === 'f' && d.kind === 'angle')).toMatchObject({
    text: '11.46°',
    measures: { kind: 'field', path: ['forks', 0, 'direction'], factor: 1 },
  });
});

test('an arm that closes a ring follows from the others, and is in brackets', () => {
  const part: Part = {
    ...leaning(),
    forks: [],
    holes: [],
    ends: [
      { name: 'a', centre: { x: 0, y: 0 }, radius: 4 },
      { name: 'b', centre: { x: 30, y: 0 }, radius: 4 },
      { name: 'c', centre: { x: 0, y: 40 }, radius: 4 },
    ],
    arms: [
      { name: 'ab', from: 'a', to: 'b' },
      { name: 'bc', from: 'b', to: 'c' },
      { name: 'ca', from: 'c', to: 'a' },
    ],
  };
  const said = dimensionsOf(part, outlineOf(part)).filter((d) => d.kind !== 'note');
  expect(said.map((d) => [d.feature, d.text])).toEqual([
    ['ab', '30'],
    ['ca', '40'],
    ['bc', '(50)'],
    ['', '(38)'],
    ['', '(48)'],
  ]);
  expect(said.find((d) => d.feature === 'bc')!.measures).toBeNull();
});

test('level and upright lengths never close a ring: none follows from others', () => {
  fc.assert(
    fc.property(randomLever, (document) => {
      const read = readPart(document);
      fc.pre(read.ok);
      if (!read.ok) return;
      for (const axis of ['x', 'y'] as const) {
        const places: number[][] = [];
        const groupOf = (v: number): number[] => {
          const known = places.find((g) => g.some((w) => Math.abs(w - v) < 1e-3));
          if (known) return known;
          places.push([v]);
          return places.at(-1)!;
        };
        for (const d of dimensionsOf(read.part, outlineOf(read.part))) {
          if (d.kind !== 'linear' || d.text.startsWith('(') || Math.abs(d.along[axis]) < 1 - 1e-9) continue;
          if (d.measures?.kind === 'field' && d.measures.path.at(-1) === 'width') continue;
          const [a, b] = [groupOf(d.from[axis]), groupOf(d.to[axis])];
          expect(a, `${d.feature} ${d.text}`).not.toBe(b);
          a.push(...b);
          places.splice(places.indexOf(b), 1);
        }
      }
    }),
    { numRuns: 60 },
  );
});

const lettering = (t: string): number => 7 * t.length;
const cameraOn = (part: Part): Camera => {
  const { bar } = part;
  const far = { x: bar.corner.x + bar.length, y: bar.corner.y + bar.width };
  return fitBox({ min: bar.corner, max: far }, viewport, false, bar.corner.y + bar.width / 2);
};

test('a sheet that is pushed along takes its measures with it; another scale places them anew', () => {
  const part = samplePart('damper-yoke');
  const drawing = { part, outline: outlineOf(part) };
  const c = cameraOn(part);
  const before = placedDimensions(c, viewport, drawing, { widthOf: lettering });
  expect(placedDimensions({ ...c }, viewport, drawing, { widthOf: lettering })).toBe(before);
  const after = placedDimensions(panBy(c, 31, -12), viewport, drawing, { widthOf: lettering });
  for (const [i, d] of after.entries()) {
    expect(d.box.min.x - before[i]!.box.min.x).toBeCloseTo(31, 6);
    expect(d.box.max.y - before[i]!.box.max.y).toBeCloseTo(-12, 6);
    expect(d.placed.label.at.x - before[i]!.placed.label.at.x).toBeCloseTo(31, 6);
  }
  const nearer = placedDimensions({ ...c, scale: c.scale * 1.5 }, viewport, drawing, { widthOf: lettering });
  expect(nearer[0]!.placed.label.at).not.toEqual(before[0]!.placed.label.at);
});

test('a figure’s box holds its figure, upright or turned, and only what is asked for is placed', () => {
  const part = samplePart('winch-bell-crank');
  const drawing = { part, outline: outlineOf(part) };
  const all = placedDimensions(cameraOn(part), viewport, drawing, { widthOf: lettering });
  for (const { box, placed } of all) {
    const { at, turn, width } = placed.label;
    const [c, s] = [Math.cos((turn * Math.PI) / 180), Math.sin((turn * Math.PI) / 180)];
    for (const along of [-width / 2, width / 2]) {
      expect(at.x + c * along).toBeGreaterThanOrEqual(box.min.x);
      expect(at.x + c * along).toBeLessThanOrEqual(box.max.x);
      expect(at.y + s * along).toBeGreaterThanOrEqual(box.min.y);
      expect(at.y + s * along).toBeLessThanOrEqual(box.max.y);
    }
  }
  const some = placedDimensions(cameraOn(part), viewport, drawing, {
    widthOf: lettering,
    only: ['pawl end'],
  });
  // Its radius, the arm to it, the angle of that arm.
  expect(some.map((d) => d.dimension.text).sort()).toEqual(['100°', '20', 'R4.5']);
});

/** A part with the things the samples have not: leaning arms at one end, a round land, rounded corners, a leaning slot. */
const ODD = {
  format: 'leverwright-part',
  version: 1,
  name: 'Odd crank',
  unit: 'mm',
  bar: { length: 90, width: 90, thickness: 6, material: 'brass', corner: [-45, -45] },
  ends: [
    { name: 'hub', centre: [0, 0], radius: 9 },
    { name: 'low', centre: [30, 10], radius: 5 },
    { name: 'high', centre: [10, 30], radius: 5 },
  ],
  arms: [
    { name: 'first', from: 'hub', to: 'low' },
    { name: 'second', from: 'high', to: 'hub' },
  ],
  plates: [
    {
      name: 'tail',
      rectangle: [
        [-30, -8],
        [-2, 5],
      ],
      cornerRadius: 3,
    },
  ],
  holes: [
    { name: 'bore', purpose: 'reamed', centre: [0, 0], diameter: 6 },
    { name: 'oil', purpose: 'clearance', centre: [-12, 1], diameter: 2, depth: 3 },
  ],
  slots: [{ name: 'key', from: [-25, -3], to: [-20, -1], width: 2.5, depth: 2, face: 'back' }],
  lands: [{ name: 'boss', area: { disc: { centre: [0, 0], radius: 7.5 } }, top: 6 }],
} satisfies JsonObject;

test('what the samples have not is measured and driven as well', () => {
  const read = readPart(ODD);
  if (!read.ok) throw new Error(read.findings.map((f) => f.message).join(' '));
  const all = dimensionsOf(read.part, outlineOf(read.part));
  const said = all.map((d) => d.text);
  // tan⁻¹(10/30) to the level; from there to tan⁻¹(30/10); √1000 along each arm.
  expect(said.filter((t) => t.endsWith('°'))).toEqual(['18.43°', '53.13°', '21.8°']);
  expect(said.filter((t) => t === '31.62').length).toBe(2);
  // The tail is 28 by 13, its edge the datum across; its lower edge and the oil hole lie off the hub's centre line.
  for (const t of ['28', '13', '30', '18', '8', '1', '5', '3', '5.39']) expect(said).toContain(t);
  for (const t of ['⌀15', 'R9', '2 × R3', '⌀2 × 3 deep', 'slot 2.5 wide × 2 deep from the back']) {
    expect(said).toContain(t);
  }
  for (const d of all) {
    if (!d.measures) continue;
    const value = Math.abs(measuredValue(ODD, d.measures)!);
    const text = d.kind === 'angle' ? `${plain(degrees(value), 2)}°` : figure(value, 'mm');
    expect(d.text).toContain(text);
  }
  const round = all.find((d) => d.text === '⌀15')!;
  expect(measuredValue(ODD, round.measures!)).toBe(15);
});

test('of a plate with hundreds of holes the sizes are drawn, and no more than can be read', () => {
  const holes = Array.from({ length: 400 }, (_, i) => ({
    ...samplePart('shutter-link').holes[0]!,
    name: `hole ${i}`,
    centre: { x: (i % 20) * 8 + Math.sin(i), y: Math.floor(i / 20) * 8 + Math.cos(i) },
  }));
  const corners = [
    { x: -6, y: -6 },
    { x: 170, y: -6 },
    { x: 170, y: 170 },
    { x: -6, y: 170 },
  ];
  const part: Part = {
    ...samplePart('shutter-link'),
    ends: [],
    arms: [],
    slots: [],
    holes,
    plates: [{ name: 'plate', corners, cornerRadius: 0 }],
  };
  const drawing = { part, outline: outlineOf(part) };
  expect(dimensionsOf(part, drawing.outline).length).toBeGreaterThan(700);
  const all = placedDimensions(cameraOn(part), viewport, drawing, { widthOf: lettering });
  expect(all.length).toBeLessThanOrEqual(60);
  const texts = all.map((d) => d.dimension.text);
  expect(texts).toContain('400 × ⌀4 reamed through');
  // A picked hole is drawn with all that is said of it.
  const one = placedDimensions(cameraOn(part), viewport, drawing, { widthOf: lettering, only: ['hole 399'] });
  expect(one.length).toBe(3);
});

test('a thread that is cut through has its outside in the section, as deep as it is tapped', () => {
  const part = samplePart('damper-yoke');
  const cut = { from: { x: -5, y: 0 }, to: { x: 80, y: 0 } };
  // 4 BA is 3.6 over its crests (BS 93, value from memory); at x = 22, 7 deep from the front of 10.
  const lines = threadsInSection(part, cut);
  expect(lines.map((l) => [l.from.s, l.from.z, l.to.z])).toEqual([
    [expect.closeTo(5 + 22 - 1.8, 6), 3, 10],
    [expect.closeTo(5 + 22 + 1.8, 6), 3, 10],
  ]);
  // Cut a millimetre off its axis the chord is narrower; beside it there is none.
  const off = threadsInSection(part, { from: { x: -5, y: 1 }, to: { x: 80, y: 1 } });
  expect(off[1]!.from.s - off[0]!.from.s).toBeCloseTo(2 * Math.sqrt(1.8 ** 2 - 1), 6);
  expect(threadsInSection(part, { from: { x: -5, y: 2 }, to: { x: 80, y: 2 } })).toEqual([]);
});

test.each([
  { width: 1440, height: 900, covered: { left: 22, top: 178, right: 458, bottom: 338 } },
  { width: 1024, height: 768, covered: { left: 22, top: 178, right: 410, bottom: 322 } },
  { width: 390, height: 844, covered: { left: 8, top: 176, right: 8, bottom: 328 } },
] satisfies readonly Viewport[])('no two figures of any lever touch, $width wide', (window) => {
  fc.assert(
    fc.property(randomLever, (document) => {
      const read = readPart(document);
      fc.pre(read.ok);
      if (!read.ok) return;
      const { part } = read;
      const { bar } = part;
      const far = { x: bar.corner.x + bar.length, y: bar.corner.y + bar.width };
      const camera = fitBox({ min: bar.corner, max: far }, window, false, 0);
      const drawing = { part, outline: outlineOf(part) };
      const boxes = placedDimensions(camera, window, drawing, { widthOf: lettering }).map(({ placed }) => {
        const { at, turn, width } = placed.label;
        const [c, s] = [Math.cos((turn * Math.PI) / 180), Math.sin((turn * Math.PI) / 180)];
        // A figure that leans is looked at in squares of its own height.
        const count = Math.max(1, Math.ceil(width / 14));
        const half = Math.abs(turn) < 0.01 ? [width / 2, 7] : [7, 7];
        return Array.from({ length: Math.abs(turn) < 0.01 ? 1 : count }, (_, i) => {
          const along = Math.abs(turn) < 0.01 ? 0 : ((i + 0.5) / count - 0.5) * width;
          return { x: at.x + c * along, y: at.y + s * along, w: half[0]!, h: half[1]! };
        });
      });
      for (const [i, a] of boxes.entries()) {
        for (const b of boxes.slice(i + 1)) {
          const touch = a.some((p) =>
            b.some((q) => Math.abs(p.x - q.x) < p.w + q.w && Math.abs(p.y - q.y) < p.h + q.h),
          );
          expect(touch).toBe(false);
        }
      }
    }),
    { numRuns: 60 },
  );
});
