import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { clipOf, pasteClip } from '../sketch/draft/clip.ts';
import { allFeatures, featureOf } from '../sketch/draft/features.ts';
import { getIn, type JsonObject } from '../sketch/draft/json.ts';
import { levelThrough, mirrorFeatures, uprightThrough } from '../sketch/draft/mirror.ts';
import { moveFeatures } from '../sketch/draft/move.ts';
import { patternAlong, patternRound } from '../sketch/draft/pattern.ts';
import type { Relaid } from '../sketch/draft/relay.ts';
import { turnFeatures } from '../sketch/draft/turn.ts';
import { cutOutsOf } from '../sketch/part/cut-outs.ts';
import { readPart } from '../sketch/part/document.ts';
import { outlineOf } from '../sketch/part/outline.ts';
import type { Part } from '../sketch/part/part.ts';
import { difference } from '../sketch/shape/boolean.ts';
import { type Region, regionArea } from '../sketch/shape/region.ts';
import { anyDocument, partOf, sample, within } from './draft-documents.ts';
import './seed.ts';

const DEGREE = Math.PI / 180;
const ORIGIN = { x: 0, y: 0 };
type Done = Extract<Relaid, { ok: true }>;
const done = (result: Relaid): Done => {
  if (!result.ok) throw new Error(result.message);
  return result;
};
const value = (document: JsonObject, name: string, ...keys: (string | number)[]) =>
  getIn(document, [...featureOf(document, name)!.path, ...keys]);

const crank: JsonObject = {
  format: 'leverwright-part',
  version: 1,
  name: 'Crank',
  unit: 'mm',
  dimensions: { long: 30, half: 6 },
  bar: { length: 120, width: 120, thickness: 6, material: 'brass', corner: [-60, -60] },
  ends: [
    { name: 'hub', centre: [0, 0], radius: 9 },
    { name: 'tip', centre: ['long', 0], radius: 5 },
  ],
  arms: [{ from: 'hub', to: 'tip' }],
  plates: [
    {
      name: 'block',
      rectangle: [
        [20, '-half'],
        ['long', 'half'],
      ],
      cornerRadius: 1,
    },
  ],
  holes: [
    { name: 'bore', purpose: 'reamed', centre: [0, 0], diameter: 6 },
    { name: 'pin', purpose: 'clearance', centre: ['long', 0], diameter: 3 },
  ],
  slots: [{ name: 'slot', from: [12, 0], to: [16, 0], width: 3 }],
  forks: [{ name: 'fork', mouth: ['long + 5', 0], direction: 180, width: 3, depth: 6 }],
  lands: [
    { name: 'boss', area: { disc: { centre: [0, 0], radius: 9 } }, top: 6 },
    {
      name: 'flat',
      area: {
        corners: [
          [10, 3],
          [18, 3],
          [18, 8],
        ],
      },
      top: 5,
    },
    { name: 'all', area: 'whole', top: 5 },
  ],
};

describe('Mirroring', () => {
  test('in place about an upright line turns the fork round and keeps what it leaves', () => {
    const names = allFeatures(crank).map((f) => f.name);
    const { document, freed } = done(mirrorFeatures(crank, names, uprightThrough({ x: 10, y: 0 })));
    expect(value(document, 'hub', 'centre')).toEqual([20, 0]);
    expect(value(document, 'tip', 'centre')).toEqual([-10, 0]);
    expect(value(document, 'block', 'rectangle')).toEqual([
      [0, '-half'],
      [-10, 'half'],
    ]);
    expect(value(document, 'fork')).toMatchObject({ mouth: [-15, 0], direction: 0 });
    expect(value(document, 'all')).toBe(value(crank, 'all'));
    expect(freed).toContainEqual({ feature: 'tip', formula: 'long' });
    expect(freed.map((f) => f.formula)).not.toContain('half');
  });

  test('about its own middle leaves a feature and its formulas as they are', () => {
    const names = allFeatures(crank)
      .filter((f) => f.name !== 'flat')
      .map((f) => f.name);
    const { document, freed } = done(mirrorFeatures(crank, names, levelThrough(ORIGIN)));
    expect(document).toEqual(crank);
    expect(freed).toEqual([]);
  });

  test('takes along what sits on an end, and leaves it when told to', () => {
    const line = uprightThrough({ x: 10, y: 0 });
    const { document, names } = done(mirrorFeatures(crank, ['hub'], line));
    expect([...names].sort()).toEqual(['bore', 'boss', 'hub']);
    expect(value(document, 'bore', 'centre')).toEqual([20, 0]);
    const alone = done(mirrorFeatures(crank, ['hub'], line, { alone: true })).document;
    expect(value(alone, 'bore', 'centre')).toEqual([0, 0]);
  });

  test('a copy has fresh names, its arm its own end, and the pivot it shares', () => {
    const { document, names, leftOut } = done(
      mirrorFeatures(crank, ['hub – tip', 'pin', 'hub', 'all'], uprightThrough(ORIGIN), { copy: true }),
    );
    expect(names).toEqual(['tip 2', 'hub – tip 2', 'pin 2']);
    expect(value(document, 'tip 2', 'centre')).toEqual([-30, 0]);
    expect(value(document, 'hub – tip 2')).toEqual({ from: 'hub', to: 'tip 2' });
    expect(value(document, 'tip', 'centre')).toEqual(['long', 0]);
    expect(leftOut.map((l) => l.feature)).toEqual(['hub', 'all']);
  });

  test('keeps the formulas of sides that only change places', () => {
    const line = uprightThrough({ x: 10, y: 0 });
    const block = {
      name: 'block',
      rectangle: [
        [5, '-half'],
        ['long/2', 'half'],
      ],
    };
    const document = { ...crank, plates: [{ ...block }] };
    const across = done(mirrorFeatures(document, ['block'], line)).document;
    expect(across.plates).toEqual([block]);
    const off = done(mirrorFeatures(document, ['block'], levelThrough({ x: 0, y: 1 }))).document;
    expect(off.plates).toEqual([
      {
        name: 'block',
        rectangle: [
          [5, 8],
          ['long/2', -4],
        ],
      },
    ]);
    const half = done(turnFeatures(document, ['block'], { x: 12, y: 0 }, Math.PI)).document;
    expect(half.plates).toEqual([
      {
        name: 'block',
        rectangle: [
          [19, '-half'],
          [9, 'half'],
        ],
      },
    ]);
  });

  test('takes along one end of a slot, where only that sits on the end', () => {
    const slots = [{ name: 'slot', from: [0, 0], to: [6, 0], width: 3 }];
    const { document } = done(mirrorFeatures({ ...crank, slots }, ['hub'], uprightThrough({ x: 3, y: 0 })));
    expect(document.slots).toEqual([{ name: 'slot', from: [6, 0], to: [6, 0], width: 3 }]);
  });

  test('lays no copy upon another just like it, and ties arms to that', () => {
    const start = sample('shutter-link');
    const { document, names, leftOut } = done(
      mirrorFeatures(start, ['left end', 'body', 'left pin', 'travel'], uprightThrough(ORIGIN), {
        copy: true,
      }),
    );
    expect([names, document]).toEqual([[], start]);
    expect(leftOut).toEqual([
      { feature: 'left end', why: 'its copy would lie upon “right end”' },
      { feature: 'body', why: 'its copy would lie upon it' },
      { feature: 'left pin', why: 'its copy would lie upon “right pin”' },
      { feature: 'travel', why: 'its copy would lie upon it' },
    ]);
    const wider = {
      ...start,
      holes: [{ ...(start.holes as JsonObject[])[0], diameter: 5 }, (start.holes as JsonObject[])[1]!],
    } as JsonObject;
    expect(done(mirrorFeatures(wider, ['left pin'], uprightThrough(ORIGIN), { copy: true })).names).toEqual([
      'left pin 2',
    ]);
  });

  test('needs a line', () => {
    expect(mirrorFeatures(crank, ['hub'], [ORIGIN, ORIGIN])).toMatchObject({ ok: false });
  });
});

test('A place that is no number is no place to lay anything', () => {
  for (const x of [Number.NaN, Number.POSITIVE_INFINITY]) {
    for (const copy of [true, false]) {
      const bad = { x, y: 0 };
      expect(mirrorFeatures(crank, ['hub'], [bad, ORIGIN], { copy })).toMatchObject({ ok: false });
      expect(turnFeatures(crank, ['hub'], bad, 1, { copy })).toMatchObject({ ok: false });
      expect(turnFeatures(crank, ['hub'], ORIGIN, x, { copy })).toMatchObject({ ok: false });
      expect(patternAlong(crank, ['hub'], bad, 2)).toMatchObject({ ok: false });
      expect(patternRound(crank, ['hub'], bad, 2)).toMatchObject({ ok: false });
      expect(pasteClip(crank, clipOf(crank, ['pin']), bad)).toMatchObject({ ok: false });
      expect(moveFeatures(crank, ['hub'], bad).document).toBe(crank);
    }
  }
});

describe('Turning', () => {
  test('by quarters keeps rectangles; by less they become polygons', () => {
    const quarter = done(turnFeatures(crank, ['block', 'fork'], ORIGIN, 90 * DEGREE)).document;
    expect(value(quarter, 'block')).toEqual({
      name: 'block',
      rectangle: [
        [6, 20],
        [-6, 30],
      ],
      cornerRadius: 1,
    });
    expect(value(quarter, 'fork')).toMatchObject({ mouth: [0, 35], direction: -90 });
    const { document, freed } = done(turnFeatures(crank, ['block'], ORIGIN, 30 * DEGREE));
    expect(value(document, 'block', 'rectangle')).toBeUndefined();
    expect(value(document, 'block', 'corners')).toHaveLength(4);
    expect(value(document, 'block', 'corners', 0)).toEqual([20.320508, 4.803848]);
    expect(freed.map((f) => f.formula)).toEqual(['-half', 'long', 'half']);
  });

  test('a copy about a pivot hangs on the pivot', () => {
    const { document, names } = done(turnFeatures(crank, ['hub – tip'], ORIGIN, 90 * DEGREE, { copy: true }));
    expect(names).toEqual(['tip 2', 'hub – tip 2']);
    expect(value(document, 'tip 2', 'centre')).toEqual([0, 30]);
  });
});

describe('A pattern', () => {
  test('along a line goes on evenly and is named in order', () => {
    const { document, names } = done(patternAlong(crank, ['slot', 'pin'], { x: 0, y: 4 }, 3));
    expect(names).toEqual(['pin 2', 'slot 2', 'pin 3', 'slot 3']);
    expect(value(document, 'pin 3', 'centre')).toEqual(['long', 8]);
    expect(value(document, 'slot 2')).toMatchObject({ from: [12, 4], to: [16, 4] });
  });

  test('round a centre over a whole turn does not come back upon itself; over less it ends at the end', () => {
    const whole = done(patternRound(crank, ['pin'], ORIGIN, 4)).document;
    expect(['pin 2', 'pin 3', 'pin 4'].map((n) => value(whole, n, 'centre'))).toEqual([
      [0, 30],
      [-30, 0],
      [0, -30],
    ]);
    const half = done(patternRound(crank, ['pin'], ORIGIN, 3, Math.PI)).document;
    expect(value(half, 'pin 3', 'centre')).toEqual([-30, 0]);
  });

  test('of an arm round its pivot is a spider', () => {
    const { document } = done(patternRound(crank, ['hub – tip'], ORIGIN, 3));
    expect(document.arms).toEqual([
      { from: 'hub', to: 'tip' },
      { from: 'hub', to: 'tip 2' },
      { from: 'hub', to: 'tip 3' },
    ]);
    expect(readPart(document).ok).toBe(true);
  });

  test('of nonsense is refused, at once', () => {
    for (const result of [
      patternAlong(crank, ['pin'], ORIGIN, 3),
      patternAlong(crank, ['pin'], { x: 1, y: 0 }, 1),
      patternAlong(crank, ['pin'], { x: 1, y: 0 }, 2.5),
      patternAlong(crank, ['pin'], { x: 1, y: 0 }, 1e9),
      patternAlong(crank, ['pin'], { x: Number.NaN, y: 0 }, 2),
      patternRound(crank, ['pin'], ORIGIN, 3, 0),
      patternAlong(
        crank,
        allFeatures(crank).map((f) => f.name),
        { x: 1, y: 0 },
        60,
      ),
    ]) {
      expect(result).toMatchObject({ ok: false });
    }
  });
});

/** Outline and cuts of a part, one after the other. */
const regionsOf = (part: Part): readonly Region[] => [
  outlineOf(part),
  ...cutOutsOf(part)
    .filter((c) => c.kind !== 'fork')
    .map((c) => c.region),
];

/** The two parts cover the same to within what six decimals can say. */
const expectSame = (a: Part, b: Part): void => {
  const [as, bs] = [regionsOf(a), regionsOf(b)];
  expect(as.length).toBe(bs.length);
  as.forEach((region, i) => {
    const [a, b] = [region, bs[i]!];
    expect(regionArea(difference(a, b)) + regionArea(difference(b, a))).toBeLessThan(0.01);
  });
};

const someOf = anyDocument.chain((document) =>
  fc.tuple(
    fc.constant(document),
    fc.subarray(
      allFeatures(document).map((f) => f.name),
      { minLength: 1 },
    ),
    fc.oneof(
      within(-Math.PI, Math.PI),
      fc.integer({ min: -12, max: 12 }).map((n) => 15 * n * DEGREE),
    ),
    fc.record({ x: fc.integer({ min: -30, max: 30 }), y: fc.integer({ min: -30, max: 30 }) }),
    fc.boolean(),
  ),
);

/** The greatest distance between what two parts' features stand at. */
const strayed = (a: Part, b: Part): number =>
  Math.max(
    0,
    ...[
      ...a.ends.map((e, i) => [e.centre, b.ends[i]!.centre] as const),
      ...a.holes.map((h, i) => [h.centre, b.holes[i]!.centre] as const),
      ...a.slots.flatMap((s, i) => [[s.from, b.slots[i]!.from] as const, [s.to, b.slots[i]!.to] as const]),
      ...a.forks.map((f, i) => [f.mouth, b.forks[i]!.mouth] as const),
      ...a.forks.map((f, i) => {
        const way = (d: number) => ({ x: 50 * Math.cos(d), y: 50 * Math.sin(d) });
        return [way(f.direction), way(b.forks[i]!.direction)] as const;
      }),
    ].map(([p, q]) => Math.hypot(p.x - q.x, p.y - q.y)),
  );

describe('Whatever is laid elsewhere', () => {
  test('comes back when it is mirrored twice', () => {
    fc.assert(
      fc.property(someOf, ([document, names, angle, at, alone]) => {
        const line = [at, { x: at.x + Math.cos(angle), y: at.y + Math.sin(angle) }] as const;
        const once = done(mirrorFeatures(document, names, line, { alone })).document;
        expect(readPart(once).ok).toBe(true);
        const twice = done(mirrorFeatures(once, names, line, { alone })).document;
        expect(strayed(partOf(twice), partOf(document))).toBeLessThan(2e-4);
      }),
    );
  });

  test('comes back when it is turned there and back, with its outline', () => {
    fc.assert(
      fc.property(someOf, ([document, names, angle, at, alone]) => {
        const there = done(turnFeatures(document, names, at, angle, { alone })).document;
        expect(readPart(there).ok).toBe(true);
        const back = done(turnFeatures(there, names, at, -angle, { alone })).document;
        expect(strayed(partOf(back), partOf(document))).toBeLessThan(2e-4);
      }),
    );
    fc.assert(
      fc.property(someOf, ([document, , angle, at]) => {
        const names = allFeatures(document).map((f) => f.name);
        const there = done(turnFeatures(document, names, at, angle)).document;
        const back = done(turnFeatures(there, names, at, -angle)).document;
        expectSame(partOf(back), partOf(document));
        const area = (d: JsonObject): number => regionArea(outlineOf(partOf(d)));
        expect(area(there)).toBeCloseTo(area(document), 1);
      }),
      { numRuns: 25 },
    );
  });

  test('as a copy leaves the original as it is, and can be read', () => {
    fc.assert(
      fc.property(someOf, ([document, names, angle, at]) => {
        const result = done(turnFeatures(document, names, at, angle, { copy: true }));
        expect(readPart(result.document).ok).toBe(true);
        for (const f of allFeatures(document)) expect(value(result.document, f.name)).toBe(f.value);
        const now = allFeatures(result.document).map((f) => f.name);
        expect(new Set(now).size).toBe(now.length);
        expect(now.length).toBe(allFeatures(document).length + result.names.length);
      }),
    );
  });

  test('takes the sample apart and puts it together again', () => {
    const start = sample('vent-latch-lever');
    const all = allFeatures(start).map((f) => f.name);
    const once = done(mirrorFeatures(start, all, uprightThrough({ x: 35, y: 0 }))).document;
    expectSame(
      partOf(done(mirrorFeatures(once, all, uprightThrough({ x: 35, y: 0 }))).document),
      partOf(start),
    );
    expect(partOf(once).ends.map((e) => e.centre.x)).toEqual([47, 4]);
  });
});
