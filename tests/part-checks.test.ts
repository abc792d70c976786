import { readdirSync, readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { checkPart } from '../sketch/part/checks.ts';
import { readPart } from '../sketch/part/document.ts';
import type { Finding, Part } from '../sketch/part/part.ts';
import { regionSeparation, segmentSeparation } from '../sketch/part/separation.ts';
import { disc, rectangle } from '../sketch/shape/region.ts';
import { type Arc, pointAlong, type Segment } from '../sketch/shape/segment.ts';

/** A sound block of 60 × 20 × 8 with an arm to a tip, and anything laid over it. */
const file = (over: Record<string, unknown> = {}): Record<string, unknown> => ({
  format: 'leverwright-part',
  version: 1,
  name: 'Test lever',
  unit: 'mm',
  bar: { length: 110, width: 24, thickness: 8, material: 'brass', corner: [-10, -12] },
  ends: [
    { name: 'root', centre: [50, 0], radius: 10 },
    { name: 'tip', centre: [85, 0], radius: 6 },
  ],
  arms: [{ name: 'arm', from: 'root', to: 'tip' }],
  plates: [
    {
      name: 'block',
      rectangle: [
        [0, -10],
        [50, 10],
      ],
    },
  ],
  ...over,
});
const partOf = (over: Record<string, unknown> = {}): Part => {
  const reading = readPart(file(over));
  if (!reading.ok) throw new Error(reading.findings.map((f) => f.message).join('\n'));
  return reading.part;
};
const check = (over: Record<string, unknown> = {}): readonly Finding[] => checkPart(partOf(over));
const codes = (findings: readonly Finding[]): string[] => [...new Set(findings.map((f) => f.code))];
const hole = (over: Record<string, unknown> = {}) => ({
  holes: [{ name: 'pin', purpose: 'reamed', centre: [20, 0], diameter: 4, ...over }],
});
const fork = (over: Record<string, unknown> = {}) => ({
  forks: [{ name: 'fork', mouth: [0, 0], direction: 0, width: 5, depth: 12, ...over }],
});
const slot = (over: Record<string, unknown> = {}) => ({
  slots: [{ name: 'slot', from: [20, 0], to: [35, 0], width: 5, ...over }],
});
const land = (over: Record<string, unknown> = {}) => ({
  lands: [
    {
      name: 'body',
      area: {
        rectangle: [
          [15, -15],
          [40, 15],
        ],
      },
      top: 6,
      bottom: 2,
      ...over,
    },
  ],
});

describe('a sound part has nothing to say', () => {
  test.each<[string, Record<string, unknown>]>([
    ['the plain lever', {}],
    ['a hole', hole()],
    ['a wall of just the least', hole({ centre: [20, 10 - 2 - 0.8] })],
    ['a fork', fork()],
    ['tines of just the least', fork({ width: 20 - 1.6, depth: 14 })],
    ['a slot', slot()],
    ['a land', land()],
    ['a counterbore', hole({ purpose: 'counterbored', boreDiameter: 7, boreDepth: 3 })],
    ['blind cuts', { ...hole({ depth: 3 }), ...slot({ from: [30, -2], to: [40, 2], depth: 2 }) }],
    [
      'a hole from the front over one from the back',
      {
        holes: [
          { name: 'a', purpose: 'clearance', centre: [20, 0], diameter: 4, depth: 2 },
          { name: 'b', purpose: 'clearance', centre: [21, 0], diameter: 4, depth: 2, from: 'back' },
        ],
      },
    ],
  ])('%s', (_, over) => {
    expect(check(over)).toEqual([]);
  });

  const folder = new URL('../samples/', import.meta.url);
  test.each(readdirSync(folder).filter((f) => f.endsWith('.json') && !f.endsWith('.schema.json')))(
    '%s',
    (name) => {
      const reading = readPart(readFileSync(new URL(name, folder), 'utf8'));
      expect(reading.findings).toEqual([]);
      expect(reading.ok && checkPart(reading.part)).toEqual([]);
    },
  );
});

describe('an impossible part names the feature and the number', () => {
  test.each<[string, Record<string, unknown>, string, RegExp]>([
    ['no outline', { ends: [], arms: [], plates: [] }, 'no-outline', /no outline/],
    [
      'an arm to nowhere',
      { arms: [{ name: 'arm', from: 'root', to: 'tap' }] },
      'arm-names-no-end',
      /Arm “arm”.*“tap”.*did you mean “tip”/,
    ],
    [
      'an arm to itself',
      { arms: [{ name: 'arm', from: 'root', to: 'root' }] },
      'arm-to-itself',
      /from “root” to itself/,
    ],
    [
      'an end within an end',
      {
        ends: [
          { name: 'root', centre: [50, 0], radius: 10 },
          { name: 'tip', centre: [53, 0], radius: 6 },
        ],
      },
      'end-within-end',
      /end “tip” \(radius 6 mm\) lies within end “root” \(radius 10 mm\), 3 mm apart. Set the centres more than 4 mm apart/,
    ],
    [
      'an end outside the bar',
      {
        ends: [
          { name: 'root', centre: [50, 0], radius: 10 },
          { name: 'tip', centre: [96, 0], radius: 6 },
        ],
      },
      'outside-bar',
      /End “tip” reaches 2 mm beyond the bar on the right/,
    ],
    [
      'a plate outside the bar',
      {
        plates: [
          {
            name: 'block',
            rectangle: [
              [0, -13],
              [50, 10],
            ],
          },
        ],
      },
      'outside-bar',
      /Plate “block” reaches 1 mm beyond the bar at the bottom/,
    ],
    [
      'a corner radius too large',
      {
        plates: [
          {
            name: 'block',
            rectangle: [
              [0, -10],
              [50, 10],
            ],
            cornerRadius: 10.5,
          },
        ],
      },
      'plate-corner-radius-too-large',
      /“block” cannot take corners of radius 10.5 mm.*10 mm at most/,
    ],
    [
      'a plate that crosses itself',
      {
        plates: [
          {
            name: 'bow',
            corners: [
              [0, -10],
              [50, 10],
              [50, -10],
              [0, 9],
            ],
          },
        ],
      },
      'plate-crosses-itself',
      /sides of plate “bow” cross/,
    ],
    [
      'a plate without area',
      {
        plates: [
          {
            name: 'line',
            corners: [
              [0, 0],
              [5, 5],
              [10, 10],
            ],
          },
        ],
      },
      'plate-without-area',
      /“line” has no area/,
    ],
    [
      'two pieces',
      { arms: [], plates: [] },
      'outline-in-pieces',
      /falls into 2 pieces: “(root|tip)” \| “(root|tip)”/,
    ],
    [
      'a hole that breaks the edge',
      hole({ centre: [20, 9] }),
      'breaks-the-edge',
      /Hole “pin” breaks through the part’s edge/,
    ],
    ['a hole that touches the edge', hole({ centre: [20, 8] }), 'breaks-the-edge', /Hole “pin”/],
    [
      'a hole outside',
      hole({ centre: [70, 11], diameter: 1 }),
      'outside-the-part',
      /Hole “pin” lies outside the part/,
    ],
    [
      'a thin wall',
      hole({ centre: [20, 7.5] }),
      'wall-too-thin',
      /Hole “pin” leaves a wall of 0.5 mm to the edge, thinner than the 0.8 mm asked for: move it 0.3 mm inward/,
    ],
    [
      'a counterbore that breaks the edge',
      hole({ purpose: 'counterbored', centre: [20, 6], boreDiameter: 9, boreDepth: 2 }),
      'breaks-the-edge',
      /The counterbore of hole “pin”/,
    ],
    [
      'a counterbore smaller than its hole',
      hole({ purpose: 'counterbored', boreDiameter: 4, boreDepth: 2 }),
      'counterbore-too-small',
      /is 4 mm: it must be larger than the hole’s 4 mm/,
    ],
    [
      'a counterbore as deep as its hole',
      hole({ purpose: 'counterbored', boreDiameter: 6, boreDepth: 3, depth: 3 }),
      'counterbore-too-deep',
      /3 mm against 3 mm/,
    ],
    [
      'a counterbore through',
      hole({ purpose: 'counterbored', boreDiameter: 6, boreDepth: 8 }),
      'deeper-than-the-part',
      /8 mm deep, but the part is 8 mm thick/,
    ],
    [
      'two holes in one',
      {
        holes: [
          { name: 'a', purpose: 'reamed', centre: [20, 0], diameter: 4 },
          { name: 'b', purpose: 'reamed', centre: [23, 0], diameter: 4 },
        ],
      },
      'cuts-overlap',
      /Hole “a” and hole “b” run into each other/,
    ],
    [
      'a hole within a hole',
      {
        holes: [
          { name: 'a', purpose: 'reamed', centre: [20, 0], diameter: 8 },
          { name: 'b', purpose: 'reamed', centre: [20.5, 0], diameter: 2 },
        ],
      },
      'cuts-overlap',
      /“a”.*“b”/,
    ],
    [
      'two holes too near',
      {
        holes: [
          { name: 'a', purpose: 'reamed', centre: [20, 0], diameter: 4 },
          { name: 'b', purpose: 'reamed', centre: [24.5, 0], diameter: 4 },
        ],
      },
      'wall-too-thin',
      /Hole “a” and hole “b” leave a wall of 0.5 mm.*move them 0.3 mm apart/,
    ],
    ['a slot over the edge', slot({ to: [35, 8] }), 'breaks-the-edge', /Slot “slot”/],
    [
      'a hole in a slot',
      { ...slot(), ...hole({ centre: [28, 2] }) },
      'cuts-overlap',
      /Slot “slot” and hole “pin”/,
    ],
    [
      'a hole in the root of a fork',
      { ...fork(), ...hole({ centre: [13, 0] }) },
      'cuts-overlap',
      /Fork “fork” and hole “pin”/,
    ],
    [
      'a hole too near a fork',
      { ...fork(), ...hole({ centre: [14.5, 0] }) },
      'wall-too-thin',
      /Fork “fork” and hole “pin” leave a wall of 0.5 mm/,
    ],
    [
      'a blind hole too deep',
      hole({ depth: 9 }),
      'deeper-than-the-part',
      /Hole “pin” is 9 mm deep, but the part is 8 mm thick there/,
    ],
    [
      'a blind hole too deep for a land',
      { ...land(), ...hole({ depth: 5 }) },
      'deeper-than-the-part',
      /5 mm deep, but the part is 4 mm thick there/,
    ],
    [
      'a blind slot too deep',
      { ...land(), ...slot({ depth: 4 }) },
      'deeper-than-the-part',
      /Slot “slot” is 4 mm deep/,
    ],
    [
      'a fork as wide as all',
      { plates: [], forks: [{ name: 'fork', mouth: [91, 0], direction: 180, width: 12, depth: 8 }] },
      'fork-wider-than-end',
      /Fork “fork” is 12 mm wide and leaves nothing of end “tip”, 12 mm across. Make the fork at most 10.4 mm wide/,
    ],
    [
      'a fork with thin tines',
      fork({ width: 19, depth: 20 }),
      'tine-too-thin',
      /its left tine .* is 0.5 mm, thinner than the 0.8 mm asked for. Make the fork 18.4 mm wide/,
    ],
    [
      'a fork with thin tines on a round end',
      { forks: [{ name: 'fork', mouth: [91, 0], direction: 180, width: 11, depth: 14 }] },
      'tine-too-thin',
      /is 0.416 mm, thinner than the 0.8 mm asked for. Make the fork 10.232 mm wide or the radius of “tip” 6.384 mm/,
    ],
    [
      'a fork with one tine',
      fork({ mouth: [0, 8.5], depth: 20 }),
      'fork-without-tine',
      /no tine on its left/,
    ],
    [
      'a fork along the wrong way',
      fork({ direction: 180 }),
      'fork-root-outside',
      /root of fork “fork” does not lie within the part.*180°/,
    ],
    [
      'a fork shallower than its root',
      fork({ width: 10, depth: 4 }),
      'fork-too-shallow',
      /4 mm deep, less than its root’s radius of 5 mm/,
    ],
    [
      'a fork with root corners too round',
      fork({ root: 'square', cornerRadius: 2.6 }),
      'fork-corner-radius-too-large',
      /at most 2.5 mm/,
    ],
    [
      'a fork nearly through',
      {
        plates: [
          {
            name: 'block',
            rectangle: [
              [0, -10],
              [50, 10],
            ],
          },
        ],
        ends: [],
        arms: [],
        ...fork({ depth: 49.5 }),
      },
      'fork-root-wall-too-thin',
      /leaves a wall of 0.5 mm at its root.*0.3 mm shallower/,
    ],
    [
      'a land upside down',
      land({ top: 2, bottom: 6 }),
      'land-leaves-nothing',
      /its top \(2 mm\) must lie above its bottom \(6 mm\)/,
    ],
    ['a land of no height', land({ top: 2, bottom: 2 }), 'land-leaves-nothing', /“body”/],
    ['a land too thin', land({ top: 2.5, bottom: 2 }), 'land-too-thin', /“body” is 0.5 mm thick/],
    ['a land above the bar', land({ top: 9 }), 'land-above-bar', /top at 9 mm, 1 mm above the bar’s front/],
    ['a land below the bar', land({ bottom: -0.5 }), 'land-below-bar', /0.5 mm below the bar’s back/],
    [
      'lands that part company',
      {
        lands: [
          { name: 'low', area: 'whole', top: 3 },
          {
            name: 'high',
            area: {
              rectangle: [
                [30, -20],
                [100, 20],
              ],
            },
            bottom: 5,
          },
        ],
      },
      'part-in-pieces',
      /falls into 2 pieces/,
    ],
    [
      'a part cut in two by two cuts',
      { ...fork({ depth: 25 }), ...slot({ from: [22, 0], to: [40, 0] }) },
      'cuts-overlap',
      /“fork”.*“slot”/,
    ],
    [
      'a tap drill without thread',
      hole({ purpose: 'tapped', thread: 'M3', diameter: undefined, drill: 3 }),
      'tap-drill-too-large',
      /Hole “pin”, M3 × 0.5: a drill of 3 mm leaves no thread/,
    ],
    [
      'a tap drill too small',
      hole({ purpose: 'tapped', thread: 'M3', diameter: undefined, drill: 2.4 }),
      'tap-drill-too-small',
      /leaves 111 % of the thread.*Drill at least 2.459 mm/,
    ],
  ])('%s', (_, over, code, message) => {
    const findings = check(JSON.parse(JSON.stringify(over)));
    const found = findings.filter((f) => f.code === code);
    expect(found.length, codes(findings).join()).toBeGreaterThan(0);
    expect(found.map((f) => f.message).join('\n')).toMatch(message);
    for (const f of found) expect(f.severity).toBe('error');
  });

  test.each<[string, Record<string, unknown>, string, RegExp]>([
    ['a fork’s mouth inside', fork({ mouth: [3, 0] }), 'fork-mouth-inside', /lies 3 mm inside the edge/],
    ['a fork’s mouth outside', fork({ mouth: [-2, 0] }), 'fork-mouth-outside', /2 mm outside the edge/],
    [
      'a drill point that shows',
      hole({ depth: 7.5 }),
      'drill-point-breaks-through',
      /stops 0.5 mm short of the far side.*about 1.202 mm long/,
    ],
    [
      'few threads',
      { ...land({ top: 4, bottom: 2.8 }), ...hole({ purpose: 'tapped', thread: 'M3', diameter: undefined }) },
      'few-threads',
      /only 2.4 turns of thread in 1.2 mm/,
    ],
    [
      'a shallow thread',
      hole({ purpose: 'tapped', thread: 'M3', diameter: undefined, drill: 2.85 }),
      'thread-shallow',
      /leaves only 28 % of the thread/,
    ],
    [
      'a land outside',
      land({
        area: {
          rectangle: [
            [0, 15],
            [5, 20],
          ],
        },
      }),
      'land-outside',
      /“body” lies outside the part/,
    ],
    [
      'a blind slot over a step',
      { ...land(), ...slot({ from: [30, 0], to: [46, 0], depth: 1 }) },
      'slot-across-a-step',
      /across a step/,
    ],
    [
      'two floors close together',
      {
        holes: [
          { name: 'a', purpose: 'clearance', centre: [20, 0], diameter: 4, depth: 4 },
          { name: 'b', purpose: 'clearance', centre: [21, 0], diameter: 4, depth: 3.5, from: 'back' },
        ],
      },
      'floor-too-thin',
      /0.5 mm between their floors/,
    ],
  ])('warned of: %s', (_, over, code, message) => {
    const findings = check(JSON.parse(JSON.stringify(over)));
    expect(codes(findings)).toContain(code);
    expect(findings.find((f) => f.code === code)!.message).toMatch(message);
    expect(findings.every((f) => f.severity === 'warning')).toBe(true);
  });

  test('lengths are told in the unit of the file', () => {
    const inch = (mm: number): number => mm / 25.4;
    const part = partOf({ ...hole({ centre: [20, 7.5] }) });
    const [finding] = checkPart({ ...part, unit: 'inch' });
    expect(finding!.message).toContain(`a wall of ${inch(0.5).toFixed(4)} in`);
    expect(finding!.at!.y).toBeCloseTo(9.5, 6);
  });

  test('sizes that no part has stop a part that came from elsewhere, too', () => {
    const part = partOf();
    expect(codes(checkPart({ ...part, ends: [{ ...part.ends[0]!, radius: Number.NaN }] }))).toEqual([
      'size-not-finite',
    ]);
    expect(codes(checkPart({ ...part, bar: { ...part.bar, width: -1 } }))).toEqual(['size-not-positive']);
  });
});

test('the check never throws on a part that was read, and every finding names something', () => {
  const number = fc.oneof(
    fc.integer({ min: -30, max: 120 }),
    fc.integer({ min: 1, max: 300 }).map((n) => n / 10),
  );
  const size = fc.integer({ min: 1, max: 250 }).map((n) => n / 10);
  const point = fc.tuple(number, number);
  const any = fc.record({
    ends: fc.array(fc.record({ centre: point, radius: size }), { maxLength: 4 }),
    arms: fc.array(fc.tuple(fc.nat(4), fc.nat(4)), { maxLength: 3 }),
    plates: fc.array(
      fc.record({ corners: fc.array(point, { minLength: 3, maxLength: 6 }), cornerRadius: size }),
      { maxLength: 2 },
    ),
    holes: fc.array(fc.record({ centre: point, diameter: size, depth: size }), { maxLength: 2 }),
    slots: fc.array(fc.record({ from: point, to: point, width: size }), { maxLength: 2 }),
    forks: fc.array(fc.record({ mouth: point, direction: number, width: size, depth: size }), {
      maxLength: 2,
    }),
    lands: fc.array(
      fc.record({ corners: fc.array(point, { minLength: 3, maxLength: 5 }), top: number, bottom: number }),
      { maxLength: 2 },
    ),
    insideRadius: fc.constantFrom(0, 2),
  });
  const seen = new Set<string>();
  fc.assert(
    fc.property(any, (g) => {
      const name = (kind: string) => (item: object, i: number) => ({ name: `${kind}${i}`, ...item });
      const reading = readPart(
        file({
          ends: g.ends.map(name('e')),
          arms: g.arms
            .map(([a, b]) => ({ from: `e${a}`, to: `e${b}` }))
            .filter((a, i, all) => all.findIndex((b) => b.from === a.from && b.to === a.to) === i),
          plates: g.plates.map(name('p')),
          holes: g.holes.map((h, i) => ({ name: `h${i}`, purpose: 'reamed', ...h })),
          slots: g.slots.map(name('s')),
          forks: g.forks.map(name('f')),
          lands: g.lands.map(({ corners, top, bottom }, i) => ({
            name: `l${i}`,
            area: { corners },
            top,
            bottom,
          })),
          insideRadius: g.insideRadius,
        }),
      );
      if (!reading.ok) return;
      for (const f of checkPart(reading.part)) {
        seen.add(f.code);
        expect(f.message).toMatch(/^[^\n]+[.?]$/);
        expect(f.message).not.toMatch(/NaN|undefined|Infinity|\[object/);
      }
    }),
    { numRuns: 800 },
  );
  expect(seen.size).toBeGreaterThan(12);
});

describe('shortest way between two pieces of boundary', () => {
  const number = fc.integer({ min: -1000, max: 1000 }).map((n) => n / 100);
  const point = fc.record({ x: number, y: number });
  const aSegment: fc.Arbitrary<Segment> = fc.oneof(
    fc
      .tuple(point, point)
      .filter(([a, b]) => a.x !== b.x || a.y !== b.y)
      .map(([from, to]): Segment => ({ kind: 'line', from, to })),
    fc
      .record({
        centre: point,
        radius: fc.integer({ min: 10, max: 800 }),
        start: number,
        sweep: fc.integer({ min: 10, max: 628 }),
        left: fc.boolean(),
      })
      .map(({ centre, radius, start, sweep, left }): Segment => {
        const turn = ((left ? 1 : -1) * sweep) / 100;
        const at = (angle: number) => ({
          x: centre.x + (radius / 100) * Math.cos(angle),
          y: centre.y + (radius / 100) * Math.sin(angle),
        });
        return { kind: 'arc', from: at(start), to: at(start + turn), centre, sweep: turn } satisfies Arc;
      }),
  );

  test('is never longer than the nearest of many pairs of points, and not shorter than these allow', () => {
    fc.assert(
      fc.property(aSegment, aSegment, (a, b) => {
        const found = segmentSeparation(a, b);
        const n = 120;
        let least = Number.POSITIVE_INFINITY;
        for (let i = 0; i <= n; i++) {
          const p = pointAlong(a, i / n);
          for (let j = 0; j <= n; j++) {
            const q = pointAlong(b, j / n);
            least = Math.min(least, Math.hypot(p.x - q.x, p.y - q.y));
          }
        }
        expect(found.distance).toBeLessThanOrEqual(least + 1e-6);
        // Points lie at most half a step (length up to 50 mm) from the true nearest on each.
        expect(found.distance).toBeGreaterThanOrEqual(least - 0.45);
        expect(Math.hypot(found.from.x - found.to.x, found.from.y - found.to.y)).toBeCloseTo(
          found.distance,
          6,
        );
        expect(segmentSeparation(b, a).distance).toBeCloseTo(found.distance, 6);
      }),
      { numRuns: 600 },
    );
  });

  test('of two circles about one centre', () => {
    const ring = (r: number) => disc({ x: 1, y: 2 }, r).contours[0]!.segments[0]!;
    expect(segmentSeparation(ring(10), ring(2)).distance).toBeCloseTo(8, 9);
    expect(segmentSeparation(ring(2), ring(10)).distance).toBeCloseTo(8, 9);
  });

  test('of discs and rectangles, by hand', () => {
    expect(regionSeparation(disc({ x: 0, y: 0 }, 2), disc({ x: 7, y: 0 }, 3))!.distance).toBeCloseTo(2, 9);
    expect(regionSeparation(disc({ x: 0, y: 0 }, 2), disc({ x: 0.5, y: 0 }, 9))!.distance).toBe(0);
    expect(
      regionSeparation(disc({ x: 0, y: 0 }, 2), rectangle({ x: 4, y: 3 }, { x: 9, y: 9 }))!.distance,
    ).toBeCloseTo(3, 9);
  });
});
