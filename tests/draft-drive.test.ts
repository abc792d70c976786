import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { drive } from '../sketch/draft/drive.ts';
import { allFeatures, featureOf } from '../sketch/draft/features.ts';
import { getIn, type JsonObject, setIn } from '../sketch/draft/json.ts';
import { type Measure, type MeasuredPlace, measuredValue } from '../sketch/draft/measure.ts';
import { nameMeasure } from '../sketch/draft/name-measure.ts';
import { solve } from '../sketch/draft/solve.ts';
import { readPart } from '../sketch/part/document.ts';
import { anyDocument, partOf, sample, within } from './draft-documents.ts';
import './seed.ts';

const DEGREE = Math.PI / 180;
const centre = (feature: string): MeasuredPlace => ({ feature, point: 'centre' });
const between = (from: string, to: string, along: 'x' | 'y' | 'straight' = 'straight'): Measure => ({
  kind: 'between',
  from: centre(from),
  to: centre(to),
  along,
});
const field = (path: readonly (string | number)[], factor = 1): Measure => ({ kind: 'field', path, factor });

const driven = (document: JsonObject, measure: Measure, value: number, through?: string): JsonObject => {
  const result = drive(document, measure, value, through);
  if (!result.ok) throw new Error(result.message);
  return result.document;
};
const named = (document: JsonObject, measure: Measure, name: string): JsonObject => {
  const result = nameMeasure(document, measure, name);
  if (!result.ok) throw new Error(result.message);
  return result.document;
};
const dimension = (document: JsonObject, name: string) => getIn(document, ['dimensions', name]);
const at = (document: JsonObject, feature: string) =>
  getIn(document, [...featureOf(document, feature)!.path, 'centre']);

const plain: JsonObject = {
  format: 'leverwright-part',
  version: 1,
  name: 'Plain lever',
  unit: 'mm',
  bar: { length: 80, width: 40, thickness: 6, material: 'brass' },
  ends: [
    { name: 'big', centre: [0, 0], radius: 8 },
    { name: 'small', centre: [30, 0], radius: 5 },
    { name: 'high', centre: [3, 4], radius: 2 },
  ],
  arms: [{ from: 'big', to: 'small' }],
  plates: [
    {
      name: 'foot',
      rectangle: [
        [10, 6],
        [-8, -6],
      ],
    },
    {
      name: 'fin',
      corners: [
        [0, 0],
        [0, 9],
        [12, 0],
      ],
    },
  ],
  holes: [{ name: 'pin', purpose: 'reamed', centre: [30, 0], diameter: 4 }],
  forks: [{ name: 'fork', mouth: [-8, 0], direction: 0, width: 4, depth: 6 }],
};

describe('A measure is read off', () => {
  test('between places, in the unit of the program', () => {
    expect(measuredValue(sample('bellows-lever'), between('boss', 'toe'))).toBeCloseTo(57.15, 12);
    expect(measuredValue(plain, between('high', 'big', 'x'))).toBe(3);
    expect(measuredValue(plain, between('high', 'big', 'y'))).toBe(4);
    expect(measuredValue(plain, between('high', 'big'))).toBe(5);
    expect(measuredValue(plain, between('high', 'none'))).toBeNull();
  });

  test('between corners, numbered as the part has them', () => {
    for (const name of ['foot', 'fin']) {
      const { corners } = partOf(plain).plates.find((p) => p.name === name)!;
      corners.forEach((c, i) => {
        for (const axis of ['x', 'y'] as const) {
          const measure: Measure = {
            kind: 'between',
            from: centre('small'),
            to: { feature: name, point: i },
            along: axis,
          };
          expect(measuredValue(plain, measure)).toBe(Math.abs(c[axis] - { x: 30, y: 0 }[axis]));
        }
      });
    }
    const beyond: Measure = {
      kind: 'between',
      from: centre('small'),
      to: { feature: 'foot', point: 4 },
      along: 'x',
    };
    expect(measuredValue(plain, beyond)).toBeNull();
  });

  test('to the root of a fork, over all, as an angle, as a figure and its double', () => {
    const root: Measure = {
      kind: 'between',
      from: centre('small'),
      to: { feature: 'fork', point: 'root' },
      along: 'x',
    };
    expect(measuredValue(plain, root)).toBe(32);
    expect(measuredValue(plain, { kind: 'overall', along: 'x' })).toBe(43);
    expect(measuredValue(plain, { kind: 'overall', along: 'y' })).toBe(17);
    const angle: Measure = {
      kind: 'angle',
      vertex: centre('big'),
      from: centre('small'),
      to: centre('high'),
    };
    expect(measuredValue(plain, angle)).toBeCloseTo(Math.atan2(4, 3), 12);
    expect(measuredValue(plain, field(['ends', 0, 'radius'], 2))).toBe(16);
    expect(
      measuredValue(sample('winch-bell-crank'), {
        ...angle,
        vertex: centre('pivot end'),
        from: null,
        to: centre('pawl end'),
      }),
    ).toBeCloseTo(100 * DEGREE, 12);
  });
});

describe('A root of a curve is found', () => {
  test.each<[string, (x: number) => number, number, number | null]>([
    ['straight', (x) => 3 * x - 12, 1, 4],
    ['bent', (x) => x * x - 2, 1, Math.SQRT2],
    ['held by a bound', (x) => Math.max(x, 5) - 7, 4.99995, 7],
    ['flat where it begins', (x) => Math.max(x, 5) - 7, 2, null],
    ['without a root', (x) => x * x + 1, 1, null],
  ])('%s', (_, curve, start, expected) => {
    const found = solve(curve, start);
    if (expected === null) expect(found).toBeNull();
    else expect(found).toBeCloseTo(expected, 9);
  });
});

describe('A measure drives', () => {
  test('the centre distance of an inch lever by its named dimension', () => {
    const document = driven(sample('bellows-lever'), between('boss', 'toe'), 2.5 * 25.4);
    expect(dimension(document, 'centres')).toBe(2.5);
    expect(partOf(document).holes[1]!.centre.x).toBeCloseTo(63.5, 9);
  });

  test('two ends that lean on one dimension from both sides', () => {
    const document = driven(sample('shutter-link'), between('left end', 'right end'), 80);
    expect(dimension(document, 'centres')).toBe(80);
  });

  test('the length of a leaning arm, and its angle, each by its own dimension', () => {
    const crank = sample('winch-bell-crank');
    const longer = driven(crank, between('pivot end', 'pawl end'), 22.5);
    expect(longer.dimensions).toEqual({ ...(crank.dimensions as object), short: 22.5 });
    const angle: Measure = {
      kind: 'angle',
      vertex: centre('pivot end'),
      from: centre('cable end'),
      to: centre('pawl end'),
    };
    const wider = driven(crank, angle, 120 * DEGREE);
    expect(wider.dimensions).toEqual({ ...(crank.dimensions as object), lean: 120 });
    expect(driven(crank, angle, -170 * DEGREE).dimensions).toMatchObject({ lean: 190 });
  });

  test('by one of several only when told which', () => {
    const latch = sample('vent-latch-lever');
    const asked = drive(latch, between('neck', 'tip'), 45);
    expect(asked).toMatchObject({ ok: false, ask: ['overall', 'tip'] });
    const longer = driven(latch, between('neck', 'tip'), 45, 'overall');
    expect(dimension(longer, 'overall')).toBe(72);
    expect(drive(latch, between('neck', 'tip'), 45, 'wide')).toMatchObject({ ok: false });
    expect(drive(latch, between('neck', 'tip'), 45, 'none')).toMatchObject({ ok: false });
  });

  test('a figure: set where it is a number, by its dimension where it is a formula', () => {
    const latch = sample('vent-latch-lever');
    expect(driven(latch, field(['holes', 0, 'diameter']), 5).holes).toMatchObject([{ diameter: 5 }, {}]);
    expect(dimension(driven(latch, field(['ends', 1, 'radius'], 2), 9), 'tip')).toBe(4.5);
    const bellows = sample('bellows-lever');
    const wider = driven(bellows, field(['ends', 0, 'radius']), 12.7);
    expect(dimension(wider, 'wide')).toBe(1);
    expect(getIn(wider, ['ends', 0, 'radius'])).toBe('wide/2');
    expect(driven(plain, field(['forks', 0, 'direction']), 30 * DEGREE).forks).toMatchObject([
      { direction: 30 },
    ]);
    const thinner = driven(bellows, field(['lands', 0, 'top']), 2.54);
    expect(thinner.dimensions).toMatchObject({ thick: 0.2, web: 'thick/2' });
    const top = drive(sample('damper-yoke'), field(['lands', 0, 'top']), 8);
    expect(top).toMatchObject({ ok: false, ask: ['thick', 'body'] });
  });

  test('the second place, with what belongs to it, along the line', () => {
    const result = drive(plain, between('big', 'small'), 40);
    expect(result).toMatchObject({ ok: true, changed: ['“small” moved 10 mm, and with it “pin”.'] });
    const document = driven(plain, between('big', 'small'), 40);
    expect([at(document, 'small'), at(document, 'pin')]).toEqual([
      [40, 0],
      [40, 0],
    ]);
    expect(at(driven(plain, between('big', 'high'), 10), 'high')).toEqual([6, 8]);
    expect(at(driven(plain, between('small', 'high', 'x'), 20), 'high')).toEqual([10, 4]);
  });

  test('an end together with a hole that is measured to', () => {
    const document = driven(plain, between('big', 'pin'), 40);
    expect(at(document, 'small')).toEqual([40, 0]);
  });

  test('the first place where the second is held by what cannot bring it about', () => {
    const held = setIn(setIn(plain, ['dimensions'], { n: 30 }), ['ends', 1, 'centre', 0], 'min(n, 30)');
    const document = driven(held as JsonObject, between('big', 'small'), 40);
    expect(at(document, 'big')).toEqual([-10, 0]);
    expect(at(document, 'small')).toEqual(['min(n, 30)', 0]);
  });

  test('a corner, a depth by the root, an angle by turning, and the whole', () => {
    const corner: Measure = {
      kind: 'between',
      from: { feature: 'foot', point: 0 },
      to: { feature: 'foot', point: 1 },
      along: 'x',
    };
    expect(getIn(driven(plain, corner, 20), ['plates', 0, 'rectangle'])).toEqual([
      [12, 6],
      [-8, -6],
    ]);
    const root: Measure = {
      kind: 'between',
      from: centre('small'),
      to: { feature: 'fork', point: 'root' },
      along: 'x',
    };
    expect(driven(plain, root, 30).forks).toMatchObject([{ depth: 8 }]);
    const angle: Measure = { kind: 'angle', vertex: centre('big'), from: null, to: centre('high') };
    expect(at(driven(plain, angle, 90 * DEGREE), 'high')).toEqual([0, 5]);
    expect(at(driven(plain, { kind: 'overall', along: 'x' }, 50), 'small')).toEqual([37, 0]);
    const square = [
      [0, 0],
      [9, 0],
      [9, 9],
      [0, 9],
    ];
    const alone = { ...plain, ends: [], arms: [], plates: [{ name: 'square', corners: square }] };
    const taller = driven(alone, { kind: 'overall', along: 'y' }, 12);
    expect(getIn(taller, ['plates', 0, 'corners'])).toEqual([
      [0, 0],
      [9, 0],
      [9, 12],
      [0, 12],
    ]);
    expect(
      dimension(driven(sample('vent-latch-lever'), { kind: 'overall', along: 'x' }, 80), 'overall'),
    ).toBe(80);
  });

  test('nothing that cannot be, and says why', () => {
    const why = (measure: Measure, value: number): string => {
      const result = drive(plain, measure, value);
      return result.ok ? 'done' : result.message;
    };
    expect(why(between('big', 'small'), -1)).toMatch(/negative/);
    expect(why(between('big', 'small'), Number.NaN)).toMatch(/finite/);
    expect(why(between('big', 'none'), 1)).toMatch(/nothing here/);
    expect(why(between('small', 'pin'), 3)).toMatch(/lie on each other/);
    const two = ['left', 'right'].map((name, i) => ({
      name,
      corners: [
        [10 * i, 0],
        [10 * i + 10, 0],
        [10 * i + 10, 9],
        [10 * i, 9],
      ],
    }));
    const twins = drive({ ...plain, ends: [], arms: [], plates: two }, { kind: 'overall', along: 'y' }, 12);
    expect(twins.ok ? 'done' : twins.message).toMatch(/follows from several/);
    const latch = sample('vent-latch-lever');
    expect(drive(latch, field(['ends', 1, 'radius']), -1)).toMatchObject({ ok: false });
    expect(drive(plain, between('big', 'small'), 30)).toEqual({ ok: true, document: plain, changed: [] });
  });

  test('to the value that was asked for, whatever the document', () => {
    const some = anyDocument.chain((document) => {
      const part = partOf(document);
      const places = allFeatures(document)
        .filter((f) => f.kind === 'ends' || f.kind === 'holes')
        .map((f) => f.name);
      const figures = [
        ...part.ends.map((_, i) => field(['ends', i, 'radius'], 2)),
        ...part.forks.flatMap((_, i) => [field(['forks', i, 'width']), field(['forks', i, 'depth'])]),
        ...part.slots.map((_, i) => field(['slots', i, 'width'])),
        field(['bar', 'length']),
        field(['bar', 'thickness']),
      ];
      const two = fc
        .tuple(fc.constantFrom(...places), fc.constantFrom(...places), fc.constantFrom('x', 'y', 'straight'))
        .map(([a, b, along]) => between(a, b, along as 'x'));
      const measure = fc.oneof(two, fc.constantFrom(...figures));
      return fc.tuple(fc.constant(document), measure, within(0.5, 90));
    });
    let done = 0;
    fc.assert(
      fc.property(some, ([document, measure, value]) => {
        const wanted = Number(value.toFixed(3));
        const first = drive(document, measure, wanted);
        for (const result of first.ok || !first.ask
          ? [first]
          : first.ask.map((name) => drive(document, measure, wanted, name))) {
          if (!result.ok) continue;
          expect(measuredValue(result.document, measure)).toBeCloseTo(wanted, 3);
          expect(readPart(result.document).ok).toBe(true);
          done++;
        }
      }),
    );
    expect(done).toBeGreaterThan(50);
  });
});

describe('A measure is given a name', () => {
  test('a figure takes it, and its own formula becomes the dimension’s', () => {
    const document = named(plain, field(['ends', 0, 'radius'], 2), 'boss');
    expect(document.dimensions).toEqual({ boss: 16 });
    expect(getIn(document, ['ends', 0, 'radius'])).toBe('boss/2');
    const bellows = named(sample('bellows-lever'), field(['ends', 0, 'radius'], 2), 'boss');
    expect(dimension(bellows, 'boss')).toBe('(wide/2)*2');
    expect(partOf(bellows).ends).toEqual(partOf(sample('bellows-lever')).ends);
  });

  test('a distance drives its arm from then on, and what belongs to it', () => {
    const document = named(plain, between('big', 'small'), 'centres');
    expect([at(document, 'small'), at(document, 'pin')]).toEqual([
      ['centres', 0],
      ['centres', 0],
    ]);
    expect(partOf(document)).toEqual(partOf(plain));
    const longer = driven(document, between('big', 'small'), 42);
    expect(longer.dimensions).toEqual({ centres: 42 });
    expect(partOf(longer).holes[0]!.centre).toEqual({ x: 42, y: 0 });
  });

  test('backward, from what is not at nought, and by a formula', () => {
    expect(at(named(plain, between('small', 'big', 'x'), 'c'), 'big')).toEqual(['30 - c', 0]);
    expect(at(named(plain, between('small', 'high', 'y'), 'c'), 'high')).toEqual([3, 'c']);
    const crank = named(sample('winch-bell-crank'), between('pawl end', 'pivot end', 'x'), 'c');
    expect(at(crank, 'pivot end')).toEqual(['short*cos(lean) + c', 0]);
    expect(at(crank, 'pivot')).toEqual(['short*cos(lean) + c', 0]);
  });

  test('a leaning distance and an angle', () => {
    const document = named(plain, between('big', 'high'), 'reach');
    expect(at(document, 'high')).toEqual(['reach*cos(53.130102)', 'reach*sin(53.130102)']);
    const longer = driven(document, between('big', 'high'), 10);
    expect(partOf(longer).ends[2]!.centre.x).toBeCloseTo(6, 5);
    const angle: Measure = {
      kind: 'angle',
      vertex: centre('big'),
      from: centre('small'),
      to: centre('high'),
    };
    const turning = named(plain, angle, 'lean');
    expect(at(turning, 'high')).toEqual(['5*cos(lean)', '5*sin(lean)']);
    expect(dimension(turning, 'lean')).toBe(53.130102);
    expect(dimension(driven(turning, angle, Math.PI / 2), 'lean')).toBe(90);
  });

  test('not when the name is no name or taken, or when nothing could be driven', () => {
    const why = (document: JsonObject, measure: Measure, name: string): string => {
      const result = nameMeasure(document, measure, name);
      return result.ok ? 'done' : result.message;
    };
    expect(why(plain, between('big', 'small'), 'sin')).toMatch(/cannot be named/);
    expect(why(plain, between('big', 'small'), '__proto__')).toMatch(/cannot be named/);
    expect(why(sample('vent-latch-lever'), field(['holes', 0, 'diameter']), 'wide')).toMatch(/already/);
    expect(why(sample('vent-latch-lever'), between('neck', 'tip'), 'c')).toMatch(/held by formulas/);
    expect(why(plain, { kind: 'overall', along: 'x' }, 'c')).toMatch(/overall/);
    const long = setIn(
      setIn(plain, ['dimensions'], { n: 0 }),
      ['ends', 0, 'centre', 0],
      `n${' + 0*n'.repeat(64)}`,
    );
    expect(readPart(long).ok).toBe(true);
    expect(why(long as JsonObject, between('big', 'small'), 'a_rather_long_name')).toMatch(/longer than 400/);
    expect(why(plain, between('small', 'pin'), 'c')).not.toBe('done');
  });
});
