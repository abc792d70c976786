import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { nextCorner } from '../sketch/draft/area-strokes.ts';
import { handlesOf } from '../sketch/draft/handles.ts';
import type { JsonObject } from '../sketch/draft/json.ts';
import { newDocument } from '../sketch/draft/new-part.ts';
import { sketch } from '../sketch/draft/pencil.ts';
import { valuesOf } from '../sketch/draft/quantity.ts';
import { moveByReference, referenceOf } from '../sketch/draft/reference.ts';
import { type Caught, loose, snap, snapDirection, snapRadius } from '../sketch/draft/snap.ts';
import { gridFor, snapField } from '../sketch/draft/snap-field.ts';
import { type Ground, type Stroke, TOOLS, type Tool } from '../sketch/draft/stroke.ts';
import { featuresAt, featuresIn, placedFeatures } from '../sketch/draft/under.ts';
import { readPart } from '../sketch/part/document.ts';
import { outlineOf } from '../sketch/part/outline.ts';
import type { Part } from '../sketch/part/part.ts';
import { distance, type Point } from '../sketch/shape/point.ts';
import './seed.ts';

const SAMPLES = ['vent-latch-lever', 'winch-bell-crank', 'shutter-link', 'bellows-lever', 'damper-yoke'];

const partOf = (document: JsonObject): Part => {
  const reading = readPart(document);
  if (!reading.ok) throw new Error(reading.findings[0]?.message);
  return reading.part;
};
const sample = (name: string): JsonObject => JSON.parse(readFileSync(`samples/${name}.json`, 'utf8'));

const fresh = newDocument('mm', 'x') as unknown as JsonObject;

const groundOf = (document: JsonObject, grid = 0.5): Ground => {
  const part = partOf(document);
  return {
    document,
    part,
    field: snapField(document, part, outlineOf(part), grid),
    reach: 1,
    values: valuesOf(document),
    usual: {},
  };
};

const stroke = (tool: Tool, ground: Ground, from: Point, to: Point, more: Partial<Stroke> = {}): Stroke => ({
  tool,
  from: snap(from, ground.reach, ground.field),
  to: tool === 'end' || tool === 'hole' ? loose(to) : snap(to, ground.reach, ground.field),
  tap: false,
  fixed: {},
  corners: [],
  ...more,
});

const drawn = (s: Stroke, ground: Ground): { document: JsonObject; part: Part; sizes: readonly string[] } => {
  const made = sketch(s, ground);
  if (!made.ok) throw new Error(made.message);
  return { document: made.document, part: partOf(made.document), sizes: made.sizes.map((x) => x.key) };
};

test('a lever is drawn with four strokes, to round figures', () => {
  let document: JsonObject = fresh;
  const go = (tool: Tool, from: Point, to: Point): void => {
    const ground = groundOf(document);
    document = drawn(stroke(tool, ground, from, to), ground).document;
  };
  go('end', { x: 9.9, y: 0.2 }, { x: 16.1, y: 0.3 });
  go('arm', { x: 11, y: 1 }, { x: 59.8, y: 0.3 });
  go('hole', { x: 10.2, y: 0.1 }, { x: 12.05, y: 0 });
  go('slot', { x: 25.1, y: 0 }, { x: 40.1, y: 0.2 });
  const part = partOf(document);
  expect(part.ends.map((e) => [e.centre.x, e.centre.y, e.radius])).toEqual([
    [10, 0, 6],
    [60, 0, 6],
  ]);
  expect(part.arms).toEqual([{ name: 'end 1 – end 2', from: 'end 1', to: 'end 2' }]);
  expect(part.holes[0]).toMatchObject({ centre: { x: 10, y: 0 }, diameter: 4 });
  expect(part.slots[0]).toMatchObject({ from: { x: 25, y: 0 }, to: { x: 40, y: 0 } });
});

test('what is dropped on a centre follows the formulas of that centre', () => {
  const document = sample('vent-latch-lever');
  const without = { ...document, holes: [] };
  const ground = groundOf(without);
  const made = sketch(stroke('hole', ground, { x: 66.4, y: 0.3 }, { x: 68.4, y: 0 }), ground);
  if (!made.ok) throw new Error(made.message);
  expect((made.document.holes as JsonObject[])[0]!.centre).toEqual(['overall - tip', 0]);
});

test('a typed size stays whatever the pencil does, and may be a formula', () => {
  const ground = groundOf({ ...fresh, dimensions: { boss: 7 } });
  for (const to of [20, 30]) {
    const s = stroke('end', ground, { x: 10, y: 0 }, { x: to, y: 0 }, { fixed: { radius: 'boss', y: 1.25 } });
    const made = sketch(s, ground);
    if (!made.ok) throw new Error(made.message);
    expect((made.document.ends as JsonObject[])[0]).toEqual({
      name: 'end 1',
      centre: [10, 1.25],
      radius: 'boss',
    });
    expect(made.sizes.filter((x) => x.fixed).map((x) => x.key)).toEqual(['radius', 'y']);
  }
});

test('an arm pulled into the void makes its end there; by a typed length and angle exactly there', () => {
  const ground = groundOf({
    ...fresh,
    ends: [{ name: 'boss', centre: [20, 0], radius: 5 }],
  });
  const s = stroke('arm', ground, { x: 21, y: 1 }, { x: 50, y: 3 }, { fixed: { length: 30, angle: 60 } });
  const { part } = drawn(s, ground);
  expect(part.ends[1]!.centre.x).toBeCloseTo(20 + 15, 6);
  expect(part.ends[1]!.centre.y).toBeCloseTo(30 * Math.sin(Math.PI / 3), 6);
  expect(part.arms).toHaveLength(1);
});

test('strokes that mean nothing are told and draw nothing', () => {
  const ground = groundOf({ ...fresh, ends: [{ name: 'a', centre: [20, 0], radius: 5 }] });
  const said = (tool: Tool, from: Point, to: Point, more: Partial<Stroke> = {}): string => {
    const made = sketch(stroke(tool, ground, from, to, more), ground);
    return made.ok ? 'drawn' : made.message;
  };
  expect(said('arm', { x: 50, y: 8 }, { x: 60, y: 8 })).toMatch(/inside one/);
  expect(said('arm', { x: 20, y: 0 }, { x: 21, y: 0 })).toMatch(/another end/);
  expect(said('plate', { x: 10, y: 0 }, { x: 30, y: 0 })).toMatch(/across and up/);
  expect(said('land', { x: 60, y: 8 }, { x: 60, y: 8 }, { tap: true })).toMatch(/Drag/);
  const joined = groundOf({
    ...fresh,
    ends: [
      { name: 'a', centre: [20, 0], radius: 5 },
      { name: 'b', centre: [50, 0], radius: 5 },
    ],
    arms: [{ from: 'b', to: 'a' }],
  });
  const twice = sketch(stroke('arm', joined, { x: 20, y: 0 }, { x: 50, y: 0 }), joined);
  expect(twice).toMatchObject({ ok: false, message: expect.stringContaining('joins these two already') });
});

test('corners set one by one make a polygon; a tap on an end makes a land of it that follows it', () => {
  const document = sample('vent-latch-lever');
  const ground = groundOf(document);
  const at = (x: number, y: number): Caught => loose({ x, y });
  const three = sketch(
    {
      tool: 'land',
      from: at(30, -5),
      to: at(40, 5),
      tap: false,
      fixed: { top: 5 },
      corners: [at(30, -5), at(40, -5)],
    },
    ground,
  );
  if (!three.ok) throw new Error(three.message);
  expect((three.document.lands as JsonObject[]).at(-1)).toEqual({
    name: 'land 1',
    area: {
      corners: [
        [30, -5],
        [40, -5],
        [40, 5],
      ],
    },
    top: 5,
  });
  const tip = sketch(stroke('land', ground, { x: 67, y: 1 }, { x: 67, y: 1 }, { tap: true }), ground);
  if (!tip.ok) throw new Error(tip.message);
  expect((tip.document.lands as JsonObject[]).at(-1)!.area).toEqual({
    disc: { centre: ['overall - tip', 0], radius: 'tip' },
  });
});

test('the next corner is where the pencil says, or as far and at the angle that is typed, or at a typed place', () => {
  const ground = groundOf({ ...fresh, dimensions: { leg: 8 } });
  const at = (x: number, y: number): Caught => loose({ x, y });
  const next = (fixed: Stroke['fixed']) => {
    const stroke: Stroke = {
      tool: 'plate',
      from: at(10, 0),
      to: at(13, 4),
      tap: false,
      fixed,
      corners: [at(0, 0), at(10, 0)],
    };
    return { ...nextCorner(stroke, ground), made: sketch(stroke, ground) };
  };
  expect(next({}).point).toEqual({ x: 13, y: 4 });
  expect(next({}).made).toMatchObject({
    sizes: [
      { key: 'side', value: 5, fixed: false },
      { key: 'angle', value: expect.closeTo(53.1301, 3) },
      { key: 'x', value: 13 },
      { key: 'y', value: 4 },
    ],
  });
  expect(next({ side: 10 }).point.x).toBeCloseTo(16, 9);
  expect(next({ side: 10 }).point.y).toBeCloseTo(8, 9);
  expect(next({ side: 'leg', angle: 90 }).point.x).toBeCloseTo(10, 9);
  expect(next({ side: 'leg', angle: 90 }).point.y).toBeCloseTo(8, 9);
  expect(next({ y: 'leg / 2 + 1' })).toMatchObject({ point: { x: 13, y: 5 }, stated: [13, 'leg / 2 + 1'] });
  // Two corners are no plate yet, and their sizes are shown all the same.
  const second: Stroke = {
    tool: 'land',
    from: at(0, 0),
    to: at(3, 4),
    tap: false,
    fixed: {},
    corners: [at(0, 0)],
  };
  expect(sketch(second, ground)).toMatchObject({ ok: false, sizes: [{ key: 'side', value: 5 }, {}, {}, {}] });
});

test('a fork goes square in from the edge it opens at', () => {
  const ground = groundOf(sample('shutter-link'));
  const { part } = drawn(stroke('fork', ground, { x: -41.9, y: 0.2 }, { x: -37, y: 0.4 }), ground);
  expect(part.forks[0]!.mouth.x).toBeCloseTo(-42, 6);
  expect(part.forks[0]!.direction).toBeCloseTo(0, 9);
  expect(part.forks[0]!.depth).toBeCloseTo(5, 6);
});

test('things catch in order: a centre, an edge in line with one, the edge, in line, evenly, the grid', () => {
  const document = {
    ...fresh,
    ends: [
      { name: 'a', centre: [10, 0], radius: 6 },
      { name: 'b', centre: [30, 0], radius: 6 },
    ],
  };
  const { field } = groundOf(document, 1);
  const at = (x: number, y: number, reach = 1) => snap({ x, y }, reach, field);
  expect(at(10.4, 0.5)).toMatchObject({ point: { x: 10, y: 0 }, words: 'centre of a' });
  // On the bar’s lower edge, over the centre of a.
  expect(at(10.3, -10.2)).toMatchObject({ point: { x: 10, y: -10 } });
  expect(at(23.37, -10.2)).toMatchObject({ point: { x: 23.37, y: -10 }, words: 'on the edge' });
  expect(at(10.3, 7.6)).toMatchObject({ point: { x: 10, y: 8 }, words: expect.stringContaining('in line') });
  expect(at(50.3, 0.4)).toMatchObject({
    point: { x: 50, y: 0 },
    words: expect.stringContaining('evenly'),
  });
  expect(at(47.4, 6.6)).toMatchObject({ point: { x: 47, y: 7 }, words: null, spot: null });
});

test('radii catch on others, on what they touch, and on round diameters; directions on steps of 15°', () => {
  const { field } = groundOf({ ...fresh, ends: [{ name: 'a', centre: [10, 0], radius: 6 }] }, 1);
  expect(snapRadius({ x: 40, y: 0 }, 6.2, 1, field)).toEqual({ radius: 6, words: 'as large as a' });
  // A hole that would be as large as an end leaves no wall: that is not caught.
  expect(snapRadius({ x: 40, y: 0 }, 6.2, 1, field, 'hole').words).not.toBe('as large as a');
  expect(snapRadius({ x: 20, y: 0 }, 4.2, 1, field)).toEqual({ radius: 4, words: 'touching a' });
  expect(snapRadius({ x: 40, y: -7 }, 3.2, 1, field)).toEqual({ radius: 3, words: 'touching an edge' });
  expect(snapRadius({ x: 60, y: 0 }, 2.6, 0.1, field)).toEqual({ radius: 2.5, words: null });
  expect(snapDirection(Math.PI / 4 + 0.03, null)).toBeCloseTo(Math.PI / 4, 12);
  expect(snapDirection(0.2, null)).toBe(0.2);
  expect(snapDirection(1.65, 1.7)).toBe(1.7);
  expect(gridFor(8, 'mm')).toBe(1);
  // On a tablet's width a lever is not left with fives.
  expect(gridFor(5, 'mm')).toBe(2);
  expect(gridFor(100, 'mm')).toBe(0.1);
  expect(gridFor(8, 'inch')).toBeCloseTo(25.4 / 16, 9);
});

const point = fc.record({
  x: fc.double({ min: -30, max: 110, noNaN: true }),
  y: fc.double({ min: -40, max: 40, noNaN: true }),
});

test('no stroke anywhere throws, and whatever it draws can be read', () => {
  fc.assert(
    fc.property(
      fc.constantFrom(...SAMPLES),
      fc.constantFrom(...TOOLS),
      point,
      point,
      fc.boolean(),
      fc.double({ min: 0.05, max: 6, noNaN: true }),
      (name, tool, from, to, tap, reach) => {
        const ground = { ...groundOf(sample(name), 0.1), reach };
        const made = sketch(stroke(tool, ground, from, to, { tap }), ground);
        if (!made.ok) return made.message.length > 0;
        const reading = readPart(made.document);
        if (!reading.ok) throw new Error(`${tool}: ${reading.findings[0]?.message}`);
        return made.names.length > 0 && made.sizes.every((s) => s.label !== '');
      },
    ),
    { numRuns: 300 },
  );
});

test('a handle goes where it is pulled, and what a formula holds stays', () => {
  for (const name of SAMPLES) {
    const document = sample(name);
    const part = partOf(document);
    const { field } = groundOf(document, 0.1);
    for (const f of placedFeatures(part)) {
      for (const handle of handlesOf(document, part, f.name)) {
        const to = { x: handle.at.x + 0.3, y: handle.at.y + 0.2 };
        const next = handle.pull(document, loose(to), { ...field, rims: [], edges: [] }, 0.01);
        if (!handle.free) {
          expect(next, `${name} ${handle.key}`).toBe(document);
          continue;
        }
        const reading = readPart(next);
        if (!reading.ok) continue;
        const after = handlesOf(next, reading.part, f.name).find((h) => h.key === handle.key)!;
        if (handle.kind === 'place') {
          const free = handle.held.length === 0;
          if (free) expect(distance(after.at, to), `${name} ${handle.key}`).toBeLessThan(1e-5);
          else expect(distance(after.at, handle.at)).toBeLessThan(0.301);
        } else expect(next, `${name} ${handle.key}`).not.toBe(document);
      }
    }
  }
});

test('every feature is under the pencil at its own place, the smallest first; a box takes what it holds', () => {
  for (const name of SAMPLES) {
    const part = partOf(sample(name));
    for (const f of placedFeatures(part)) {
      if (f.kind === 'arm') continue;
      expect(featuresAt(part, f.at, 0.1), `${name} ${f.name}`).toContain(f.name);
    }
  }
  const part = partOf(sample('vent-latch-lever'));
  expect(featuresAt(part, { x: 66, y: 0 }, 0.1)).toEqual(['latch pin', 'tip', 'neck – tip', 'body']);
  expect(featuresAt(part, { x: 66, y: 30 }, 0.1)).toEqual([]);
  expect(featuresIn(part, { min: { x: 60, y: -5 }, max: { x: 70, y: 5 } })).toEqual(['tip', 'latch pin']);
});

test('a place seen from another is the place it is given', () => {
  const document = sample('shutter-link');
  const loosened = {
    ...document,
    holes: [{ name: 'pin', purpose: 'reamed', centre: [-36, 0], diameter: 4 }],
  };
  fc.assert(
    fc.property(
      fc.double({ min: -20, max: 20, noNaN: true }),
      fc.constantFrom('across', 'up', 'distance'),
      (value, key) => {
        const wanted = key === 'distance' ? Math.abs(value) : value;
        const moved = moveByReference(loosened, partOf(loosened), 'pin', 'right end', key, wanted);
        const now = referenceOf(partOf(moved.document), 'pin', 'right end')!;
        return Math.abs(now[key] - wanted) < 2e-6;
      },
    ),
    { numRuns: 60 },
  );
  const quarter = moveByReference(loosened, partOf(loosened), 'pin', 'right end', 'angle', Math.PI / 2);
  const after = partOf(quarter.document).holes[0]!.centre;
  expect(after.x).toBeCloseTo(36, 6);
  expect(after.y).toBeCloseTo(72, 6);
});
