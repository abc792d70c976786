import { expect, test } from 'vitest';
import { fitBox, type Viewport } from '../../sketch/canvas/camera.ts';
import { type PlacedDimension, placedDimensions } from '../../sketch/canvas/draw-dimensions.ts';
import { DASH, WEIGHT } from '../../sketch/canvas/ink.ts';
import { type Asked, placeDimensions } from '../../sketch/canvas/placement.ts';
import { outlineOf } from '../../sketch/part/solid.ts';
import { dot, type Point, subtract } from '../../sketch/shape/point.ts';
import { sideOf } from '../../sketch/view/second-view-choice.tsx';
import { SAMPLES, samplePart } from '../samples.ts';

/**
 * The drawing against the standards of technical drawing. The rules and figures are from memory of ISO 128-2:2020
 * (lines), ISO 129-1:2018 (dimensions) and ISO 5456-2:1996 (views).
 */

const viewport: Viewport = {
  width: 1440,
  height: 900,
  covered: { left: 22, top: 118, right: 458, bottom: 338 },
};

const laidOut = (name: (typeof SAMPLES)[number]): readonly PlacedDimension[] => {
  const part = samplePart(name);
  const { bar } = part;
  const far = { x: bar.corner.x + bar.length, y: bar.corner.y + bar.width };
  const camera = fitBox({ min: bar.corner, max: far }, viewport, false, 0);
  return placedDimensions(
    camera,
    viewport,
    { part, outline: outlineOf(part) },
    { widthOf: (t) => 7 * t.length },
  );
};

test('ISO 128-2: two weights, one twice the other', () => {
  expect(WEIGHT.heavy / WEIGHT.thin).toBeCloseTo(2, 9);
});

test('ISO 128-2: a gap is three weights, a dash twelve, a long dash twice that: four to one and eight to one', () => {
  const [dash, gap] = DASH.hidden;
  expect(dash / gap).toBeGreaterThanOrEqual(3);
  expect(dash / gap).toBeLessThanOrEqual(5);
  for (const [long, first, dot, second] of [DASH.centre, DASH.phantom]) {
    expect(long).toBe(2 * dash);
    expect(first).toBe(gap);
    expect(second).toBe(gap);
    // A dot is half a weight; on a screen it needs a pixel or two to be one.
    expect(dot).toBeLessThanOrEqual(gap);
  }
});

test.each(SAMPLES)('ISO 129-1 on %s: figures are read from below or from the right', (name) => {
  for (const { placed } of laidOut(name)) {
    expect(placed.label.turn).toBeGreaterThanOrEqual(-90.001);
    expect(placed.label.turn).toBeLessThan(89.999);
  }
});

test.each(SAMPLES)(
  'ISO 129-1 on %s: a figure stands above or in its line, never crossed by another line',
  (name) => {
    const all = laidOut(name);
    for (const a of all) {
      if (a.placed.label.turn !== 0) continue;
      const inner = {
        min: { x: a.box.min.x + 4, y: a.box.min.y + 3 },
        max: { x: a.box.max.x - 4, y: a.box.max.y - 3 },
      };
      for (const b of all) {
        if (a === b) continue;
        const [line] = b.placed.lines;
        if (b.dimension.kind !== 'angle')
          expect(crossesBox(line!, inner), `${b.dimension.text} over ${a.dimension.text}`).toBe(false);
      }
    }
  },
);

const crossesBox = ([p, q]: readonly [Point, Point], box: { min: Point; max: Point }): boolean => {
  const steps = 400;
  return Array.from({ length: steps + 1 }, (_, i) => i / steps).some((t) => {
    const x = p.x + (q.x - p.x) * t;
    const y = p.y + (q.y - p.y) * t;
    return x > box.min.x && x < box.max.x && y > box.min.y && y < box.max.y;
  });
};

test.each(SAMPLES)('ISO 129-1 on %s: no dimension line lies along another', (name) => {
  const lines = laidOut(name).flatMap(({ dimension, placed }) =>
    dimension.kind === 'linear' ? [placed.lines[0]!] : [],
  );
  for (const [i, [a, b]] of lines.entries()) {
    const d = subtract(b, a);
    const long = Math.hypot(d.x, d.y);
    const u = { x: d.x / long, y: d.y / long };
    for (const [p, q] of lines.slice(i + 1)) {
      const aside = (r: Point): number => Math.abs(u.x * (r.y - a.y) - u.y * (r.x - a.x));
      if (aside(p) > 6 || aside(q) > 6) continue;
      const [from, to] = [dot(subtract(p, a), u), dot(subtract(q, a), u)].sort((x, y) => x - y);
      expect(Math.min(long, to!) - Math.max(0, from!)).toBeLessThanOrEqual(4);
    }
  }
});

test('ISO 129-1: of lengths from one edge the shorter stands nearer to the part', () => {
  const outline = [
    { x: 300, y: 300 },
    { x: 800, y: 300 },
    { x: 800, y: 420 },
    { x: 300, y: 420 },
  ];
  const along = { x: 1, y: 0 };
  const asked = [400, 250, 150, 330].map(
    (long): Asked => ({
      kind: 'linear',
      feature: '',
      from: { x: 300, y: 300 },
      to: { x: 300 + long, y: 300 },
      along,
      text: String(long),
    }),
  );
  const placed = placeDimensions(asked, {
    outline,
    kept: [],
    lines: [],
    free: { min: { x: 0, y: 0 }, max: { x: 1100, y: 600 } },
    widthOf: (t) => 7 * t.length,
  });
  const byLength = placed
    .map((p) => ({ long: Number(p.label.text), y: p.label.at.y }))
    .sort((a, b) => a.long - b.long);
  for (const side of [(y: number) => y < 300, (y: number) => y > 420]) {
    const reach = byLength.filter((p) => side(p.y)).map((p) => Math.abs(p.y - 360));
    expect([...reach].sort((a, b) => a - b)).toEqual(reach);
    expect(new Set(reach).size).toBe(reach.length);
  }
  expect(byLength.every((p) => p.y < 300 || p.y > 420)).toBe(true);
});

test.each(SAMPLES)(
  'ISO 129-1 on %s: heads touch what is measured, square to it; extension lines run a little past',
  (name) => {
    const part = samplePart(name);
    for (const { dimension: d, placed } of laidOut(name)) {
      if (d.kind !== 'linear') continue;
      const [line, ...extensions] = placed.lines;
      const u = { x: d.along.x, y: -d.along.y };
      const apart = Math.abs(dot(subtract(placed.arrows[1]!.tip, placed.arrows[0]!.tip), u));
      const { bar } = part;
      const scale = fitBox(
        { min: bar.corner, max: { x: bar.corner.x + bar.length, y: bar.corner.y + bar.width } },
        viewport,
        false,
        0,
      ).scale;
      expect(apart / scale).toBeCloseTo(Math.abs(dot(subtract(d.to, d.from), d.along)), 6);
      for (const [from, to] of extensions) {
        const way = subtract(to, from);
        expect(Math.abs(dot(way, u))).toBeLessThan(1e-6);
        // Past the dimension line by about eight weights of a thin line, as drawn: 5 pixels.
        const n = { x: -u.y, y: u.x };
        expect(Math.abs(dot(subtract(to, line![0]), n))).toBeCloseTo(5, 6);
      }
    }
  },
);

test('ISO 129-1: an angle is an arc about its vertex with a head at either leg, its figure over the arc', () => {
  const angle = laidOut('winch-bell-crank').find((d) => d.dimension.kind === 'angle')!;
  const [arc] = angle.placed.arcs;
  expect(Math.abs(arc!.sweep)).toBeCloseTo((100 * Math.PI) / 180, 6);
  for (const { tip, direction } of angle.placed.arrows) {
    const out = subtract(tip, arc!.centre);
    expect(Math.hypot(out.x, out.y)).toBeCloseTo(arc!.radius, 6);
    // A head lies along the arc.
    expect(dot(out, { x: Math.cos(direction), y: Math.sin(direction) })).toBeCloseTo(0, 6);
  }
  expect(angle.placed.label.text).toMatch(/°$/);
});

test('ISO 129-1: ⌀ before a diameter, R before a radius, brackets round what follows from other measures', () => {
  const texts = SAMPLES.flatMap((name) => laidOut(name).map((d) => d.dimension.text));
  expect(texts).toContain('(70)');
  expect(texts).toContain('⌀4 reamed through');
  expect(texts).toContain('2 × ⌀3.2 through');
  expect(texts).toContain('R10');
});

test('ISO 5456-2: under the plan stands the lower edge in third angle, the upper one in first', () => {
  expect(sideOf('edge', 'third angle')).toBe('lower edge');
  expect(sideOf('edge', 'first angle')).toBe('upper edge');
});
