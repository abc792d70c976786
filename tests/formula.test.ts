import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { workOut, workOutDimensions } from '../sketch/part/dimensions.ts';
import { isDimensionName } from '../sketch/part/formula.ts';

const names = new Map([
  ['wide', 15],
  ['thick', 9],
  ['fork_2', 5],
  ['höhe', 2.5],
]);
const value = (text: string): number => {
  const worked = workOut(text, names);
  if (!worked.ok) throw new Error(worked.message);
  return worked.value;
};
const refusal = (text: string): string => {
  const worked = workOut(text, names);
  return worked.ok ? `gave ${worked.value}` : worked.message;
};

describe('a formula is worked out as it is written in mathematics', () => {
  test.each([
    ['3/16', 0.1875],
    ['wide/2 - fork_2', 2.5],
    ['2 + 3 * 4', 14],
    ['(2 + 3) * 4', 20],
    ['10 - 4 - 3', 3],
    ['24 / 4 / 2', 3],
    ['2^3^2', 512],
    ['2**3', 8],
    ['-2^2', -4],
    ['(-2)^2', 4],
    ['2^-1', 0.5],
    ['--3', 3],
    ['+wide', 15],
    ['sin(30)', 0.5],
    ['cos(60)', 0.5],
    ['tan(45)', 1],
    ['sqrt(thick)', 3],
    ['min(wide, thick, 12)', 9],
    ['max(wide, thick, 12)', 15],
    ['abs(thick - wide)', 6],
    ['2 * pi', 2 * Math.PI],
    ['2π', null],
    ['2 × wide ÷ 3 − 1', 9],
    ['höhe + .5', 3],
    ['1e2', 100],
    ['  wide\n+ 1 ', 16],
  ])('%s', (text, expected) => {
    if (expected === null) expect(refusal(text)).toMatch(/cannot be read/);
    else expect(value(text)).toBeCloseTo(expected, 12);
  });
});

describe('a formula that cannot be worked out says why', () => {
  test.each([
    ['', /empty/],
    ['wid + 1', /no dimension named “wid”; did you mean “wide”\?/],
    ['quite_other', /no dimension named “quite_other”$/],
    ['1/0', /divides by nought/],
    ['1/(wide - 15)', /divides by nought/],
    ['sqrt(0 - 1)', /does not give a finite number/],
    ['10^400', /does not give a finite number/],
    ['sqr(4)', /did you mean “sqrt”/],
    ['sqrt', /needs its value in parentheses/],
    ['sqrt()', /one value, not 0/],
    ['sqrt(1, 2)', /one value, not 2/],
    ['(1 + 2', /a bracket is not closed$/],
    ['=3', /“=” does not belong where it stands$/],
    ['3x', /“3x” is neither a number nor a name$/],
    ['2 *', /nothing stands after “\*”$/],
    ['1 +', /cannot be read/],
    ['1 1/2', /side by side/],
    ['max(1 2)', /side by side/],
    ['3 mm', /leave the unit out/],
    ['3/4"', /leave the unit out/],
    ['3,5', /decimal point/],
    ['1; 2', /more than one value/],
    ['wide % 2', /the sign % has no meaning/],
    ['wide > 2', /the sign > has no meaning/],
    ['!wide', /the sign ! has no meaning/],
    ['wide ? 1 : 2', /other than arithmetic/],
    ['wide.constructor', /other than arithmetic/],
    ['[1]', /other than arithmetic/],
    ['"a"', /not a number/],
    ['true', /not a number/],
    ['this', /other than arithmetic/],
    ['constructor', /no dimension named/],
    ['toString()', /no function/],
    ['__proto__', /no dimension named/],
    [`${'('.repeat(300)}1${')'.repeat(300)}`, /longer than/],
    ['1 + '.repeat(200), /longer than/],
  ])('%s', (text, message) => {
    expect(refusal(text)).toMatch(message);
  });

  test('any text at all gives a finite number or a message, and is never run', () => {
    const bits = fc.constantFrom(
      'wide',
      '(',
      ')',
      '+',
      '-',
      '^',
      '**',
      ',',
      ' ',
      '1',
      '.',
      'sin',
      '[',
      '`',
      '"',
      '=>',
      'this',
      '\u2028',
      'π',
      ';',
      '?',
      ':',
      '{',
      '${',
      'import',
      '\\',
    );
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string(),
          fc.array(bits, { maxLength: 30 }).map((b) => b.join('')),
        ),
        (text) => {
          const worked = workOut(text, names);
          expect(worked.ok ? Number.isFinite(worked.value) : worked.message.length > 0).toBe(true);
        },
      ),
      { numRuns: 2000 },
    );
  });
});

type Tree =
  | { op: 'number'; value: number }
  | { op: 'name'; name: string }
  | { op: 'neg'; of: Tree }
  | { op: '+' | '-' | '*' | '/' | '^'; a: Tree; b: Tree }
  | { op: 'sqrt' | 'abs' | 'sin'; of: Tree };

const strength = { '+': 1, '-': 1, '*': 2, '/': 2, neg: 3, '^': 4 } as const;
const strengthOf = (t: Tree): number => (t.op in strength ? strength[t.op as keyof typeof strength] : 9);
/** Text with no more parentheses than the rules of precedence need. */
const written = (t: Tree): string => {
  const inside = (part: Tree, least: number): string =>
    strengthOf(part) < least ? `(${written(part)})` : written(part);
  switch (t.op) {
    case 'number':
      return String(t.value);
    case 'name':
      return t.name;
    case 'neg':
      return `-${inside(t.of, 3)}`;
    case '^':
      return `${inside(t.a, 5)}^${inside(t.b, 3)}`;
    case '+':
    case '*':
      return `${inside(t.a, strength[t.op])}${t.op}${inside(t.b, strength[t.op] + 1)}`;
    case '-':
    case '/':
      return `${inside(t.a, strength[t.op])} ${t.op} ${inside(t.b, strength[t.op] + 1)}`;
    default:
      return `${t.op}(${written(t.of)})`;
  }
};
const reckoned = (t: Tree): number => {
  switch (t.op) {
    case 'number':
      return t.value;
    case 'name':
      return names.get(t.name)!;
    case 'neg':
      return -reckoned(t.of);
    case '+':
      return reckoned(t.a) + reckoned(t.b);
    case '-':
      return reckoned(t.a) - reckoned(t.b);
    case '*':
      return reckoned(t.a) * reckoned(t.b);
    case '/': {
      const under = reckoned(t.b);
      return under === 0 ? Number.NaN : reckoned(t.a) / under;
    }
    case '^':
      return reckoned(t.a) ** reckoned(t.b);
    case 'sqrt':
      return Math.sqrt(reckoned(t.of));
    case 'abs':
      return Math.abs(reckoned(t.of));
    case 'sin':
      return Math.sin((reckoned(t.of) * Math.PI) / 180);
  }
};
const { tree } = fc.letrec<{ tree: Tree; leaf: Tree }>((tie) => ({
  leaf: fc.oneof(
    fc.integer({ min: 0, max: 999 }).map((n): Tree => ({ op: 'number', value: n / 8 })),
    fc.constantFrom(...names.keys()).map((name): Tree => ({ op: 'name', name })),
  ),
  tree: fc.oneof(
    { maxDepth: 5, depthSize: 'small' },
    tie('leaf'),
    fc.record({
      op: fc.constantFrom('+', '-', '*', '/', '^'),
      a: tie('tree'),
      b: tie('tree'),
    }) as fc.Arbitrary<Tree>,
    fc.record({ op: fc.constantFrom('sqrt', 'abs', 'sin', 'neg'), of: tie('tree') }) as fc.Arbitrary<Tree>,
  ),
}));

test('random formulas agree with a reckoning by the tree they were written from', () => {
  let finite = 0;
  fc.assert(
    fc.property(tree, (t) => {
      const text = written(t);
      fc.pre(text.length <= 400);
      const expected = reckoned(t);
      const worked = workOut(text, names);
      expect(worked.ok, text).toBe(Number.isFinite(expected) && !dividesByNought(t));
      if (worked.ok) {
        finite++;
        expect(worked.value, text).toBe(expected);
      }
    }),
    { numRuns: 2000 },
  );
  expect(finite).toBeGreaterThan(500);
});

const dividesByNought = (t: Tree): boolean => {
  if (t.op === 'number' || t.op === 'name') return false;
  if ('of' in t) return dividesByNought(t.of);
  return (t.op === '/' && reckoned(t.b) === 0) || dividesByNought(t.a) || dividesByNought(t.b);
};

describe('named dimensions', () => {
  const work = (stated: Record<string, number | string>, overrides: Record<string, number> = {}) =>
    workOutDimensions(new Map(Object.entries(stated)), new Map(Object.entries(overrides)));

  test('lean on one another in any order', () => {
    const { values, findings } = work({ c: 'a + b', b: 'a * 2', a: 3 });
    expect(findings).toEqual([]);
    expect(Object.fromEntries(values)).toEqual({ a: 3, b: 6, c: 9 });
  });

  test('a ring is shown, once, and what hangs on it is not reported again', () => {
    const { findings } = work({ a: 'b', b: 'c + 1', c: 'a', d: 'a', e: 1 });
    expect(findings.map((f) => f.message)).toEqual([
      'These dimensions lean on each other in a ring: a → b → c → a.',
    ]);
    expect(work({ a: 'a + 1' }).findings[0]!.message).toContain('a → a');
    // The tail that leads into the ring is no part of it.
    expect(work({ tail: 'a', a: 'b', b: 'a' }).findings[0]!.message).toContain(': a → b → a.');
  });

  test('overrides take the place of numbers and formulas, and break a ring', () => {
    expect(Object.fromEntries(work({ a: 3, b: 'a * 2' }, { a: 5 }).values)).toEqual({ a: 5, b: 10 });
    expect(Object.fromEntries(work({ a: 'b', b: 'a' }, { a: 5 }).values)).toEqual({ a: 5, b: 5 });
  });

  test('an override of nothing, or with nothing, is an error', () => {
    expect(work({ thick: 3 }, { thik: 4 }).findings[0]!.message).toBe(
      'There is no dimension named “thik” to set; did you mean “thick”?',
    );
    expect(work({ thick: 3 }, { thick: Number.NaN }).findings[0]!.code).toBe('dimension-not-finite');
  });

  test('a chain of five hundred is worked out', () => {
    const chain = Object.fromEntries(
      Array.from({ length: 500 }, (_, i) => [`d${i}`, i === 499 ? 1 : `d${i + 1} + 1`]),
    );
    expect(work(chain).values.get('d0')).toBe(500);
  });

  test.each([
    'pi',
    'sin',
    'true',
    'this',
    '__proto__',
    'constructor',
    '1a',
    'a b',
    'a-b',
    '',
    'a.b',
    'x'.repeat(41),
    '$a',
  ])('“%s” cannot be a name', (name) => {
    expect(isDimensionName(name)).toBe(false);
  });
  test.each(['a', '_a', 'toe2', 'toString', 'höhe', 'Länge_2'])('“%s” can be a name', (name) => {
    expect(isDimensionName(name)).toBe(true);
  });
});
