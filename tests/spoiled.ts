import fc from 'fast-check';

/** Texts spoiled as disks, networks and hands spoil them. */

const NUMBERS = [
  '1e9',
  '-1e9',
  '0',
  '-0',
  '1e-9',
  '1e308',
  '1e400',
  '99999999999999999999',
  '-1',
  '0.0000001',
];

type Spoil = (text: string, at: number, other: number) => string;

const TEXT_SPOILS: readonly Spoil[] = [
  // Cut short.
  (t, at) => t.slice(0, at),
  // A bit turned over.
  (t, at, other) =>
    t.slice(0, at) + String.fromCharCode(t.charCodeAt(at) ^ (1 << (other % 7))) + t.slice(at + 1),
  // A stretch lost, doubled, or put elsewhere.
  (t, at, other) => t.slice(0, at) + t.slice(at + (other % 40)),
  (t, at, other) => t.slice(0, at + (other % 40)) + t.slice(at),
  (t, at, other) => t.slice(0, at) + t.slice(other, other + 30) + t.slice(at),
  // A number that nobody means.
  (t, at, other) => {
    const numbers = [...t.matchAll(/-?\d+(?:\.\d+)?/g)];
    const one = numbers[at % Math.max(1, numbers.length)];
    return one
      ? t.slice(0, one.index) + NUMBERS[other % NUMBERS.length] + t.slice(one.index + one[0].length)
      : t;
  },
  // Other line ends, and a mark in front.
  (t) => `\ufeff${t.replaceAll('\n', '\r\n')}`,
  (t, at) => `${t.slice(0, at)}\0${t.slice(at)}`,
];

/** One of the texts, spoiled up to three times. */
export const spoiled = (texts: readonly string[]): fc.Arbitrary<string> =>
  fc
    .record({
      text: fc.constantFrom(...texts),
      spoils: fc.array(
        fc.record({
          how: fc.integer({ min: 0, max: TEXT_SPOILS.length - 1 }),
          at: fc.nat(1_000_000),
          other: fc.nat(1_000_000),
        }),
        { minLength: 1, maxLength: 3 },
      ),
    })
    .map(({ text, spoils }) =>
      spoils.reduce((t, s) => {
        const length = Math.max(1, t.length);
        return TEXT_SPOILS[s.how]!(t, s.at % length, s.other % length);
      }, text),
    );

const WORDS = 'GMFSTXYZIJKRPLQNHDO'.split('');
const VALUES = [
  '0',
  '1',
  '2',
  '3',
  '4',
  '17',
  '20',
  '21',
  '28',
  '30',
  '38.2',
  '43',
  '53',
  '59.3',
  '81',
  '83',
  '99',
  '-5',
  '.',
  '-',
  '',
  '1e9',
  '1000000000',
  '0.0001',
  '3.14159',
  '#1',
  '[1/0]',
];

/** Lines that look like a program and may be anything. */
export const hostileProgram: fc.Arbitrary<string> = fc
  .array(
    fc.oneof(
      fc
        .array(
          fc.tuple(fc.constantFrom(...WORDS), fc.constantFrom(...VALUES)).map(([w, v]) => w + v),
          { maxLength: 7 },
        )
        .map((words) => words.join(' ')),
      fc.constantFrom(
        '(open',
        '((nested) comment)',
        '(a) (b)',
        ')',
        '%',
        '/G1 X1',
        ';',
        'G2 X0 Y0 I0 J0',
        'G1',
        'O100 sub',
        'N1 N2 G0',
        '\t \t',
      ),
      fc.string({ maxLength: 30 }),
    ),
    { maxLength: 25 },
  )
  .chain((lines) => fc.constantFrom('\n', '\r\n', '\r').map((end) => lines.join(end)));
