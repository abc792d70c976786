import { readdirSync, readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type PartReading, readPart, writePart } from '../sketch/part/document.ts';
import { jsonFault } from '../sketch/part/json.ts';
import type { Part } from '../sketch/part/part.ts';

const folder = new URL('../samples/', import.meta.url);
const samples = readdirSync(folder).filter((f) => f.endsWith('.json') && !f.endsWith('.schema.json'));
const textOf = (file: string): string => readFileSync(new URL(file, folder), 'utf8');

/** A small sound file, with anything laid over it. */
const file = (over: Record<string, unknown> = {}): Record<string, unknown> => ({
  format: 'leverwright-part',
  version: 1,
  name: 'Test link',
  unit: 'mm',
  dimensions: { wide: 12, thick: 'wide/3', pin: 4 },
  bar: { length: 60, width: 'wide', thickness: 'thick', material: 'brass' },
  ends: [
    { name: 'left', centre: [0, 0], radius: 'wide/2' },
    { name: 'right', centre: [40, 0], radius: 5 },
  ],
  arms: [{ from: 'left', to: 'right' }],
  holes: [{ name: 'pin', purpose: 'reamed', centre: [0, 0], diameter: 'pin' }],
  ...over,
});
const good = (reading: PartReading): Extract<PartReading, { ok: true }> => {
  if (!reading.ok) throw new Error(reading.findings.map((f) => f.message).join('\n'));
  return reading;
};
const bad = (source: unknown, overrides?: Record<string, number>): string => {
  const reading = readPart(source, overrides);
  expect(reading.ok).toBe(false);
  expect(reading.findings.length).toBeGreaterThan(0);
  for (const f of reading.findings) expect(f.severity).toBe('error');
  return reading.findings.map((f) => `${f.code}: ${f.message}`).join('\n');
};

describe('a part file becomes a part', () => {
  test('formulas are worked out, what is left out takes its usual value', () => {
    const { part, dimensions, findings } = good(readPart(file()));
    expect(findings).toEqual([]);
    expect(dimensions).toEqual({ wide: 12, thick: 4, pin: 4 });
    expect(part.bar).toEqual({
      length: 60,
      width: 12,
      thickness: 4,
      material: 'brass',
      // The outline runs from −6 to 45 and from −6 to 6: it lies in the middle of the bar.
      corner: { x: 19.5 - 30, y: -6 },
      sawn: 0,
    });
    expect(part.arms).toEqual([{ name: 'left – right', from: 'left', to: 'right' }]);
    expect(part.leastWall).toBe(0.8);
    expect(part.holes[0]).toEqual({
      name: 'pin',
      purpose: 'reamed',
      centre: { x: 0, y: 0 },
      diameter: 4,
      depth: null,
      from: 'front',
    });
    expect(part.plates).toEqual([]);
    expect(part.insideRadius).toBeUndefined();
  });

  test('inches become mm once, degrees become radians; names of dimensions stay in the file’s unit', () => {
    const inFile = (unit: string) =>
      good(
        readPart(
          file({
            unit,
            dimensions: { wide: 2, thick: 1, pin: 0.5, lean: 30 },
            bar: {
              length: 10,
              width: 5,
              thickness: 'thick',
              material: 'acetal',
              corner: [-3, -2.5],
              sawn: 0.1,
            },
            ends: [
              { name: 'left', centre: [0, 0], radius: 'wide/2' },
              { name: 'right', centre: ['4*cos(lean)', 0], radius: 0.5 },
            ],
            slots: [{ name: 's', from: [1, 0], to: [2, 0.1], width: 0.25, depth: 0.5, face: 'back' }],
            forks: [{ name: 'f', mouth: [-1, 0], direction: 'lean', width: 0.5, depth: 1 }],
            plates: [
              {
                name: 'p',
                rectangle: [
                  [1, 1],
                  [-1, -1],
                ],
                cornerRadius: 0.25,
              },
            ],
            lands: [{ name: 'l', area: { disc: { centre: [0, 1], radius: 2 } }, top: 0.9, bottom: 0.2 }],
            holes: [
              {
                name: 'c',
                purpose: 'counterbored',
                centre: [0, 0],
                diameter: 0.2,
                boreDiameter: 0.4,
                boreDepth: 0.3,
                depth: 0.7,
                from: 'back',
              },
              { name: 't', purpose: 'tapped', centre: [1, 0], thread: '8-32', drill: 0.136 },
            ],
            insideRadius: 0.1,
            leastWall: 0.05,
          }),
        ),
      );
    const inches = inFile('inch');
    const mm = inFile('mm');
    expect(inches.dimensions).toEqual(mm.dimensions);
    expect(inches.dimensions.lean).toBe(30);
    expect(inches.part.forks[0]!.direction).toBeCloseTo(Math.PI / 6, 12);
    expect(inches.part.ends[1]!.centre.x).toBeCloseTo(4 * Math.cos(Math.PI / 6) * 25.4, 9);
    // Every length of the one is 25.4 times that of the other; angles and the thread's own sizes are not.
    const kept = new Set(['direction', 'major', 'pitch', 'engagement']);
    const scaled = (value: unknown, key = ''): unknown => {
      if (typeof value === 'number') return kept.has(key) ? value : value * 25.4;
      if (Array.isArray(value)) return value.map((item) => scaled(item));
      if (typeof value !== 'object' || value === null) return value;
      return Object.fromEntries(Object.entries(value).map(([k, v]) => [k, scaled(v, k)]));
    };
    const strip = (part: Part): unknown => ({
      ...part,
      unit: '',
      holes: part.holes.map((h) => ({ ...h, engagement: 0 })),
    });
    const round = (value: unknown): unknown =>
      JSON.parse(JSON.stringify(value), (_, v) => (typeof v === 'number' ? Number(v.toFixed(9)) : v));
    expect(round(strip(inches.part))).toEqual(round(scaled(strip(mm.part))));
  });

  test('corners run anticlockwise whichever way they are given, rectangles too', () => {
    const corners = [
      [0, 0],
      [0, 5],
      [8, 5],
    ];
    const read = (plate: object) =>
      good(readPart(file({ plates: [{ name: 'p', ...plate }] }))).part.plates[0]!.corners;
    expect(read({ corners })).toEqual([
      { x: 8, y: 5 },
      { x: 0, y: 5 },
      { x: 0, y: 0 },
    ]);
    expect(read({ corners: [...corners].reverse() })).toEqual([
      { x: 8, y: 5 },
      { x: 0, y: 5 },
      { x: 0, y: 0 },
    ]);
    expect(
      read({
        rectangle: [
          [3, 5],
          [0, 1],
        ],
      }),
    ).toEqual([
      { x: 0, y: 1 },
      { x: 3, y: 1 },
      { x: 3, y: 5 },
      { x: 0, y: 5 },
    ]);
  });

  test('a tapped hole has its thread’s drill, or the one it asks for', () => {
    const hole = (over: object) =>
      good(
        readPart(file({ holes: [{ name: 'h', purpose: 'tapped', centre: [0, 0], thread: 'M3', ...over }] })),
      ).part.holes[0]!;
    expect(hole({})).toMatchObject({ designation: 'M3 × 0.5', diameter: 2.5, major: 3, pitch: 0.5 });
    expect(hole({ engagement: 0.7 })).toMatchObject({ diameter: 2.6 });
    expect(hole({ drill: 2.7 })).toMatchObject({
      diameter: 2.7,
      engagement: expect.closeTo(0.3 / (2 * 0.27063), 3),
    });
  });

  test('overrides set dimensions, and leave the document as it was', () => {
    const reading = good(readPart(file(), { wide: 15 }));
    expect(reading.part.bar.width).toBe(15);
    expect(reading.part.bar.thickness).toBe(5);
    expect(reading.dimensions.wide).toBe(15);
    expect(reading.document.dimensions!.wide).toBe(12);
    expect(bad(file(), { wid: 3 })).toContain('no dimension named “wid” to set; did you mean “wide”?');
    expect(bad(file(), { wide: Number.POSITIVE_INFINITY })).toContain('not a finite number');
    expect(bad(file(), JSON.parse('{"__proto__": 3}'))).toContain('no dimension named “__proto__”');
  });

  test('a route is carried, not read', () => {
    const route = { setups: [{ anything: [1, { at: 'all' }] }] };
    expect(good(readPart(file({ route }))).document.route).toEqual(route);
  });
});

describe('a file that is not right says where', () => {
  test.each<[string, Record<string, unknown>, RegExp]>([
    ['another format', { format: 'drawing' }, /not a part file: it should say "format": "leverwright-part"/],
    ['a newer version', { version: 2 }, /file-newer: The file is of version 2; this program reads version 1/],
    ['no version', { version: undefined }, /file-version/],
    ['a version in words', { version: '1' }, /file-version/],
    ['a strange key', { bananas: 1 }, /The file has a key “bananas” that is not known/],
    ['a misspelt key', { hole: [] }, /The file has a key “hole” that is not known; did you mean “holes”\?/],
    [
      'a misspelt key in a thing',
      { ends: [{ name: 'e', center: [0, 0], radius: 1 }] },
      /End “e” lacks “centre”/,
    ],
    [
      'a key too many in a thing',
      { ends: [{ name: 'e', centre: [0, 0], radius: 1, radios: 2 }] },
      /End “e” has a key “radios” that is not known/,
    ],
    [
      'a key too many in the bar',
      { bar: { length: 1, width: 1, thickness: 1, material: 'brass', colour: 1 } },
      /“bar” has a key “colour”/,
    ],
    ['an unknown unit', { unit: 'cm' }, /“unit” should be one of "mm", "inch", not the text “cm”/],
    [
      'an unknown material',
      { bar: { length: 1, width: 1, thickness: 1, material: 'cheese' } },
      /“bar material” should be one of .*not the text “cheese”/,
    ],
    [
      'an unknown purpose',
      { holes: [{ name: 'h', purpose: 'drilled', centre: [0, 0], diameter: 1 }] },
      /“purpose” of hole “h” should be one of/,
    ],
    [
      'a list where a number should be',
      { ends: [{ name: 'e', centre: [0, 0], radius: [1] }] },
      /“radius” of end “e” should be a number or a formula, not a list of 1/,
    ],
    [
      'null for a number',
      { ends: [{ name: 'e', centre: [0, null], radius: 1 }] },
      /“centre 2” of end “e” should be a number or a formula, not nothing/,
    ],
    [
      'three coordinates',
      { ends: [{ name: 'e', centre: [0, 0, 0], radius: 1 }] },
      /“centre 3” of end “e” should be a shorter list/,
    ],
    [
      'two shapes for a plate',
      {
        plates: [
          {
            name: 'p',
            rectangle: [
              [0, 0],
              [1, 1],
            ],
            corners: [
              [0, 0],
              [1, 0],
              [0, 1],
            ],
          },
        ],
      },
      /Plate “p”: exactly one of “corners”, “rectangle” is wanted/,
    ],
    [
      'no shape for a land',
      { lands: [{ name: 'l', area: { cornerRadius: 1 } }] },
      /“area” of land “l”.*exactly one of/,
    ],
    [
      'a polygon of two corners',
      {
        plates: [
          {
            name: 'p',
            corners: [
              [0, 0],
              [1, 0],
            ],
          },
        ],
      },
      /at least three corners/,
    ],
    ['a nameless end', { ends: [{ name: '  ', centre: [0, 0], radius: 1 }] }, /at least one letter/],
    [
      'one name twice',
      {
        ends: [
          { name: 'e', centre: [0, 0], radius: 1 },
          { name: 'e', centre: [3, 0], radius: 1 },
        ],
        arms: [],
      },
      /name-twice: The name “e” stands twice, for an end and an end/,
    ],
    [
      'one name for two kinds',
      { holes: [{ name: 'left', purpose: 'reamed', centre: [0, 0], diameter: 1 }] },
      /“left” stands twice, for an end and a hole/,
    ],
    [
      'a formula gone wrong',
      { ends: [{ name: 'e', centre: ['wid', 0], radius: 1 }] },
      /The centre in x of “e”: in “wid”: there is no dimension named “wid”; did you mean “wide”\?/,
    ],
    ['a ring', { dimensions: { a: 'b', b: 'a' } }, /a → b → a/],
    ['a dimension that cannot be named so', { dimensions: { 'a b': 1 } }, /cannot be named “a b”/],
    [
      'an unknown thread',
      { holes: [{ name: 'h', purpose: 'tapped', centre: [0, 0], thread: 'M3.1' }] },
      /Hole “h”: M3.1 is not a size/,
    ],
    [
      'too much engagement',
      { holes: [{ name: 'h', purpose: 'tapped', centre: [0, 0], thread: 'M3', engagement: 75 }] },
      /must be a share from 0.4 to 1/,
    ],
    [
      'a square root without radius',
      { forks: [{ name: 'f', mouth: [0, 0], direction: 0, width: 1, depth: 1, root: 'square' }] },
      /no corner radius/,
    ],
    [
      'a round root with radius',
      { forks: [{ name: 'f', mouth: [0, 0], direction: 0, width: 1, depth: 1, cornerRadius: 1 }] },
      /round root and a corner radius/,
    ],
    [
      'a size of nought',
      { ends: [{ name: 'e', centre: [0, 0], radius: 0 }], arms: [] },
      /The radius of “e” is 0 mm: it must be at least 0.01 mm/,
    ],
    [
      'a negative size',
      { ends: [{ name: 'e', centre: [0, 0], radius: '-wide' }], arms: [] },
      /The radius of “e” is -12 mm/,
    ],
    [
      'a huge size',
      { ends: [{ name: 'e', centre: [0, 0], radius: 2001 }], arms: [] },
      /The radius of “e” is 2001 mm: nothing beyond 2000 mm/,
    ],
    [
      'a huge place',
      { ends: [{ name: 'e', centre: [0, -1e300], radius: 1 }], arms: [] },
      /centre in y of “e”.*nothing beyond/,
    ],
    [
      'a huge formula',
      { ends: [{ name: 'e', centre: [0, '10^300*10^300'], radius: 1 }], arms: [] },
      /does not give a finite number/,
    ],
    ['a negative wall', { leastWall: -1 }, /least wall is -1 mm: it cannot be negative/],
    [
      'no thickness',
      { bar: { length: 1, width: 1, thickness: '0*2', material: 'brass' } },
      /bar’s thickness is 0 mm/,
    ],
    [
      'five hundred and one features',
      { ends: Array.from({ length: 501 }, (_, i) => ({ name: `e${i}`, centre: [i, 0], radius: 1 })) },
      /at most 500/,
    ],
    [
      'six hundred in two lists',
      {
        arms: [],
        ends: Array.from({ length: 300 }, (_, i) => ({ name: `e${i}`, centre: [i, 0], radius: 1 })),
        lands: Array.from({ length: 300 }, (_, i) => ({ name: `l${i}`, area: 'whole' })),
      },
      /too-many-features/,
    ],
  ])('%s', (_, over, message) => {
    expect(bad(file(over))).toMatch(message);
  });

  test.each([null, 3, [], undefined, true, () => 1, Symbol('x'), new Map()])(
    'a value that is no file: %s',
    (value) => {
      expect(bad(value)).toContain('file-not-a-part');
    },
  );

  test('hostile values do not make it throw', () => {
    const ring: Record<string, unknown> = file();
    ring.bar = ring;
    bad(ring);
    const trap = file();
    Object.defineProperty(trap, 'bar', {
      enumerable: true,
      get: () => {
        throw new Error('boo');
      },
    });
    expect(bad(trap)).toContain('file-unreadable');
    expect(
      bad(
        new Proxy(
          {},
          {
            get: () => {
              throw new Error('boo');
            },
          },
        ),
      ),
    ).toContain('file-unreadable');
  });

  test('keys that belong to every object are unknown keys like any other', () => {
    for (const key of ['toString', 'constructor', '__proto__', 'hasOwnProperty']) {
      const text = JSON.stringify(file()).replace('"name":"Test link"', `"name":"x","${key}":1`);
      expect(bad(text)).toContain(`“${key}”`);
    }
    for (const key of ['__proto__', 'constructor', 'prototype']) {
      const text = JSON.stringify(file()).replace('"wide":12', `"wide":12,"${key}":1`);
      expect(bad(text)).toContain(`cannot be named “${key}”`);
    }
  });

  test('names are text and nothing but text', () => {
    for (const name of [
      '<script>alert(1)</script>',
      'a) G0 X0 (',
      'line\nbreak',
      '"; drop',
      '\u0024{1}',
      '🔧',
      '\u202e',
      'x'.repeat(120),
    ]) {
      const { part, document } = good(readPart(JSON.stringify(file({ name }))));
      expect(part.name).toBe(name);
      expect(good(readPart(writePart(document))).document).toEqual(document);
    }
    // In a message a name stays on one line.
    const message = bad(file({ ends: [{ name: 'a\nb', centre: [0, 0], radius: -1 }], arms: [] }));
    expect(message).toContain('“a b”');
  });
});

describe('text that is not JSON is told by line and column', () => {
  test.each([
    ['', 'Line 1, column 1: the text ends where a value should stand.'],
    ['{\n  "a": 1,\n}', 'Line 3, column 1: unexpected "}" where a key in double quotes should stand.'],
    ['{\n  "a": 1\n  "b": 2}', 'Line 3, column 3: unexpected "\\"" where a comma or "}" should stand.'],
    ["{'a': 1}", 'Line 1, column 2: unexpected "\'" where a key in double quotes should stand.'],
    ['{"a" 1}', 'Line 1, column 6: unexpected "1" where a colon should follow the key "a".'],
    ['{"a": [1, 2', 'Line 1, column 12: the text ends where a comma or "]" should stand.'],
    ['{"a": 01}', 'Line 1, column 8: unexpected "1" where a comma or "}" should stand.'],
    ['{"a": .5}', 'Line 1, column 7: unexpected "." where a value should stand.'],
    ['{"a": NaN}', 'Line 1, column 7: unexpected "N" where a value should stand.'],
    ['{"a": "x', 'Line 1, column 7: a text in quotes is not closed.'],
    ['{"a": "x\ny"}', 'Line 1, column 9: a line break or control character stands inside a text in quotes.'],
    ['{"a": "\\q"}', 'Line 1, column 9: an unknown escape after a backslash.'],
    ['{"a": 1} x', 'Line 1, column 10: unexpected "x" after the end of the document.'],
    ['{\r\n"a": 1,\r\n"a": 2}', 'Line 3, column 1: the key "a" stands twice in one object.'],
    ['{\r"a": 1,\r}', 'Line 3, column 1: unexpected "}" where a key in double quotes should stand.'],
    ['{"a": {"\\u0062": 1, "b": 2}}', 'Line 1, column 21: the key "b" stands twice in one object.'],
    ['['.repeat(100000), 'Line 1, column 66: nested more than 64 deep.'],
  ])('%j', (text, message) => {
    expect(bad(text)).toBe(`file-not-json: ${message}`);
  });

  test('it takes for JSON just what JSON.parse takes, but for keys that stand twice', () => {
    const sound = JSON.stringify(file());
    const mutation = fc.record({
      at: fc.nat(sound.length - 1),
      cut: fc.nat(3),
      put: fc.oneof(
        fc.constantFrom(
          '',
          ',',
          '"',
          '{',
          '}',
          '[',
          ']',
          ':',
          '1',
          '-',
          '.',
          'e',
          '\\',
          '\n',
          'null',
          '\u0001',
          'é',
        ),
        fc.string({ maxLength: 3 }),
      ),
    });
    let faults = 0;
    fc.assert(
      fc.property(fc.array(mutation, { minLength: 1, maxLength: 3 }), (mutations) => {
        let text = sound;
        for (const m of mutations) text = text.slice(0, m.at) + m.put + text.slice(m.at + m.cut);
        let parses = true;
        try {
          JSON.parse(text);
        } catch {
          parses = false;
        }
        const fault = jsonFault(text);
        if (fault?.message.includes('stands twice')) return;
        expect(fault === null, text).toBe(parses);
        if (fault !== null) faults++;
        readPart(text);
      }),
      { numRuns: 3000 },
    );
    expect(faults).toBeGreaterThan(500);
    fc.assert(
      fc.property(fc.jsonValue({ maxDepth: 6 }), (value) => jsonFault(JSON.stringify(value)) === null),
    );
  });

  test('a byte-order mark is no fault', () => {
    good(readPart(`\ufeff${JSON.stringify(file())}`));
  });
});

test('any JSON value whatever is read or refused, never worse', () => {
  const seed = file({
    slots: [{ name: 's', from: [10, 0], to: [20, 0], width: 4 }],
    forks: [{ name: 'f', mouth: [45, 0], direction: 180, width: 4, depth: 6 }],
    lands: [
      {
        name: 'l',
        area: {
          rectangle: [
            [10, -9],
            [30, 9],
          ],
        },
        top: 3,
      },
    ],
    plates: [
      {
        name: 'p',
        corners: [
          [0, 0],
          [5, 0],
          [5, 5],
        ],
      },
    ],
  });
  const paths: (string | number)[][] = [];
  const walk = (value: unknown, path: (string | number)[]): void => {
    if (path.length > 0) paths.push(path);
    if (typeof value !== 'object' || value === null) return;
    for (const [k, v] of Object.entries(value)) walk(v, [...path, Array.isArray(value) ? Number(k) : k]);
  };
  walk(seed, []);
  fc.assert(
    fc.property(
      fc.constantFrom(...paths),
      fc.oneof(
        fc.jsonValue({ maxDepth: 2 }),
        fc.constantFrom(-1, 0, 1e308, 'pi', 'wide', 'x', '', [0, 0], {}, null),
      ),
      (path, value) => {
        const copy = structuredClone(seed) as Record<string | number, unknown>;
        let at = copy;
        for (const key of path.slice(0, -1)) at = at[key] as typeof copy;
        at[path.at(-1)!] = value;
        const reading = readPart(JSON.parse(JSON.stringify(copy)));
        if (!reading.ok) for (const f of reading.findings) expect(f.message).toMatch(/^[^\n]+[.?!…]$/);
      },
    ),
    { numRuns: 1500 },
  );
});

describe('writing', () => {
  test.each(samples)('%s is written as it is stored, and reads back the same', (name) => {
    const text = textOf(name);
    const { document } = good(readPart(text));
    expect(writePart(document)).toBe(text);
  });

  test('keys come in one order however they were given; the second writing is as the first', () => {
    const backwards = Object.fromEntries(Object.entries(file()).reverse());
    const one = writePart(good(readPart(file())).document);
    const other = writePart(good(readPart(backwards)).document);
    expect(other).toBe(one);
    expect(writePart(good(readPart(one)).document)).toBe(one);
    expect(one.endsWith('}\n')).toBe(true);
  });
});
