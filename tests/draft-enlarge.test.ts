import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type EnlargeOptions, enlargePart, scaleFor } from '../sketch/draft/enlarge.ts';
import type { JsonObject } from '../sketch/draft/json.ts';
import { workOut } from '../sketch/part/dimensions.ts';
import { readPart } from '../sketch/part/document.ts';
import { parseFormula } from '../sketch/part/formula.ts';
import { termOf, termText } from '../sketch/part/formula-tree.ts';
import type { Part } from '../sketch/part/part.ts';
import { differences, partOf, sample, samples } from './draft-documents.ts';
import './seed.ts';

const enlarged = (document: JsonObject, scale: number, options: EnlargeOptions = {}) => {
  const result = enlargePart(document, scale, options);
  if (!result.ok) throw new Error(result.message);
  return result;
};

/** Every length of a part multiplied; what belongs to a thread, angles, shares and the least wall are not. */
const times = (part: Part, k: number, height: number = k): unknown => {
  const kept = /direction$|leastWall$|(pitch|major|engagement)$/;
  const heights =
    /^\/(bar\/thickness|lands\/\d+\/(top|bottom)|holes\/\d+\/(depth|boreDepth)|slots\/\d+\/depth)$/;
  const walk = (value: unknown, path: string): unknown => {
    if (typeof value === 'number') return kept.test(path) ? value : value * (heights.test(path) ? height : k);
    if (Array.isArray(value)) return value.map((v, i) => walk(v, `${path}/${i}`));
    if (typeof value !== 'object' || value === null) return value;
    const tapped = (value as { purpose?: string }).purpose === 'tapped';
    return Object.fromEntries(
      Object.entries(value).map(([key, v]) => [
        key,
        tapped && key === 'diameter' ? v : walk(v, `${path}/${key}`),
      ]),
    );
  };
  return walk(part, '');
};

const expectTimes = (after: Part, before: Part, k: number, height: number = k, within = 1e-6): void => {
  for (const [path, d] of differences(after, times(before, k, height))) expect(d, path).toBeLessThan(within);
};

describe('A formula', () => {
  test.each([
    'a + b - c',
    'a - (b - c)',
    'a*(b + 2)/c',
    'a/(b*c)',
    '-a^2',
    '(-a)^2',
    '2^3^b',
    'a*-b',
    '--a',
    'sqrt(a^2 + b^2)',
    'min(a, b, 3)*pi',
    '-(a + b)',
    'a - -b',
    '1e-3*a',
    '2 × a ÷ b − 1',
  ])('%s comes out of its tree worth the same', (text) => {
    const formula = parseFormula(text);
    const term = formula.ok ? termOf(formula.value) : null;
    if (term === null) throw new Error('it was not read');
    const values = new Map(Object.entries({ a: 3, b: 2, c: 5 }));
    expect(workOut(termText(term), values)).toEqual(workOut(text, values));
  });
});

describe('A part at another scale', () => {
  test('keeps its formulas, with the bare lengths in them scaled', () => {
    const { document, worked, kept } = enlarged(sample('bellows-lever'), 2);
    expect(document.dimensions).toEqual({
      wide: '6/4',
      thick: '2/4',
      centres: 4.5,
      cheek: 1.2,
      toe: '2/4',
      fork: '2/4',
      forkDeep: 1,
      web: 'thick/2',
      pinDrill: 0.377953,
    });
    expect(document.lands).toEqual([
      {
        name: 'waist',
        area: {
          rectangle: [
            ['wide/2', '-wide'],
            ['centres - toe - 0.2', 'wide'],
          ],
        },
        top: 'web',
      },
    ]);
    expect(worked).toEqual([]);
    expect(kept).toEqual(['The thread 8-32 UNC of “set screw” stays.']);
  });

  test('leaves angles', () => {
    const { document, kept } = enlarged(sample('winch-bell-crank'), 3);
    expect(document.dimensions).toMatchObject({ lean: 100, short: 60 });
    expect(kept).toEqual(['The dimension “lean” stays at 100: it is no length that grows with the part.']);
  });

  test('takes for an angle what stands in a cosine, wherever else it stands', () => {
    const document: JsonObject = {
      ...sample('winch-bell-crank'),
      insideRadius: 'lean/20',
    };
    const { document: next } = enlarged(document, 2);
    expect(next.dimensions).toMatchObject({ lean: 100 });
    expect(next.insideRadius).toBe('lean/10');
    const bar = { ...(document.bar as JsonObject), sawn: 'lean/100' };
    const sawn = enlarged({ ...document, bar }, 2);
    expect(sawn.worked).toEqual([]);
    expect(sawn.document.bar).toMatchObject({ sawn: 'lean/50' });
    expectTimes(partOf(sawn.document), partOf({ ...document, bar }), 2);
  });

  test('may keep the thickness of its bar, with all heights and depths', () => {
    const before = sample('damper-yoke');
    const { document } = enlarged(before, 0.5, { keepThickness: true });
    expect(document.dimensions).toMatchObject({ thick: 10, body: 4, wide: 10, long: 32 });
    expectTimes(partOf(document), partOf(before), 0.5, 1);
  });

  test('turns into numbers what no formula gives at every scale, and says so', () => {
    const document: JsonObject = {
      ...sample('vent-latch-lever'),
      insideRadius: 'neck*tip/5',
      leastWall: 'wide/15',
      route: { adjust: { spot: { speed: 900 } } },
    };
    const { document: next, worked, kept } = enlarged(document, 2);
    expect(worked).toEqual([]);
    expect(next.insideRadius).toBe('neck*tip/10');
    expect(next.leastWall).toBe('wide/30');
    const product = enlarged({ ...document, insideRadius: 'neck*tip*sin(10)' }, 2);
    expect(product.worked.map((w) => w.formula)).toContain('neck*tip*sin(10)');
    expect(kept).toContain('The least wall stays as it is.');
    expect(kept).toContain('The route’s own lengths stay as they are.');
  });

  test('is found by the length that one dimension is to have', () => {
    const document = sample('winch-bell-crank');
    expect(scaleFor(document, 'long', 39)).toBe(1.5);
    expect(enlarged(document, scaleFor(document, 'long', 39)!).document.dimensions).toMatchObject({
      long: 39,
      short: 30,
    });
    for (const [name, wanted] of [
      ['lean', 50],
      ['none', 1],
      ['long', 0],
      ['long', -1],
    ] as const) {
      expect(scaleFor(document, name, wanted)).toBeNull();
    }
  });

  test('is refused at a scale that is none', () => {
    for (const scale of [0, -1, Number.NaN, Number.POSITIVE_INFINITY, 1e5]) {
      expect(enlargePart(sample('damper-yoke'), scale)).toMatchObject({ ok: false });
    }
    const start = sample('damper-yoke');
    expect(enlarged(start, 1).document).toBe(start);
  });

  test.each(samples)('%s: is the same part, every length multiplied', (_, document) => {
    for (const scale of [2, 0.5, 0.1, 1 / 3, 12, Math.PI]) {
      const { document: next, worked } = enlarged(document, scale);
      expect(worked).toEqual([]);
      expectTimes(partOf(next), partOf(document), scale, scale, 1e-4);
      const back = enlarged(next, 1 / scale).document;
      expectTimes(partOf(back), partOf(document), 1, 1, 2e-4 / Math.min(1, scale));
    }
  });

  /** Formulas over lengths a and b, an angle c and a count n; not all of them are lengths at every scale. */
  const formula: fc.Arbitrary<string> = fc.letrec<{ any: string; leaf: string }>((tie) => ({
    leaf: fc.oneof(
      fc.constantFrom('a', 'b', 'c', 'n', 'd', 'pi'),
      fc.integer({ min: 1, max: 40 }).map((i) => String(i / 4)),
    ),
    any: fc.oneof(
      { depthSize: 'small', withCrossShrink: true },
      tie('leaf'),
      fc
        .tuple(tie('any'), fc.constantFrom('+', '-', '*', '/'), tie('any'))
        .map(([x, sign, y]) => `(${x})${sign}(${y})`),
      fc.tuple(tie('any'), tie('any')).map(([x, y]) => `max(${x}, ${y})`),
      tie('any').map((x) => `-(${x})`),
      tie('any').map((x) => `(${x})*cos(c)`),
      tie('any').map((x) => `sqrt((${x})^2)`),
      tie('any').map((x) => `abs(${x})/n`),
    ),
  })).any;

  test('of any formulas is that part, every length multiplied', () => {
    let kept = 0;
    let all = 0;
    const many = fc.tuple(formula, formula, formula, formula, fc.constantFrom(2, 0.5, 4, 0.25));
    fc.assert(
      fc.property(many, ([x, y, r, d, scale]) => {
        const document: JsonObject = {
          format: 'leverwright-part',
          version: 1,
          name: 'Random',
          unit: 'mm',
          dimensions: { a: 12, b: '7.5', c: 30, n: 3, d },
          bar: { length: 'a', width: 'b', thickness: 6, material: 'brass' },
          ends: [{ name: 'end', centre: [x, y], radius: 4 }],
          insideRadius: `abs(${r})`,
          forks: [{ name: 'fork', mouth: [0, 0], direction: 'c', width: 4, depth: 8 }],
        };
        const before = readPart(document);
        if (!before.ok) return;
        const result = enlarged(document, scale);
        const after = readPart(result.document);
        // A part that was near the largest that is read may have outgrown it.
        if (!after.ok) {
          expect(after.findings[0]?.code).toMatch(/size/);
          return;
        }
        expectTimes(after.part, before.part, scale, scale, 1e-3);
        all++;
        if (result.worked.length === 0) kept++;
      }),
      { numRuns: 500 },
    );
    expect(all).toBeGreaterThan(100);
    expect(kept).toBeGreaterThan(all / 4);
  });
});
