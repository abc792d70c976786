import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Motion, Reading } from '../../gcode/reading/motion.ts';
import { readProgram } from '../../gcode/reading/read.ts';

/**
 * Source of every figure here: T. Kramer, F. Proctor, E. Messina, "The NIST RS274NGC Interpreter - Version 3",
 * NISTIR 6556, 2000. The section is named beside each check.
 */

const codesOf = (reading: Reading): string[] => reading.faults.map((f) => f.code);
const triple = (p: { x: number; y: number; z: number }): number[] => [p.x, p.y, p.z];

/** A program that stands at a place with the spindle turning, then does `lines`. */
const from = (x: number, y: number, z: number, ...lines: string[]): string =>
  ['G21 G17 G90 G94', 'T1 M6', 'S500 M3 F100', `G0 X${x} Y${y} Z${z}`, ...lines, 'M2', ''].join('\n');

/** The motions that `lines` make, from a place. */
const moves = (x: number, y: number, z: number, ...lines: string[]): readonly Motion[] => {
  const reading = readProgram(from(x, y, z, ...lines));
  expect(reading.faults).toEqual([]);
  return reading.motions.filter((m) => m.line >= 5);
};

const strokes = (motions: readonly Motion[]): unknown[] =>
  motions.map((m) => [m.kind, ...triple(m.to).map((v) => Math.round(v * 1e9) / 1e9)]);

/** Table 4, without the codes that this reader refuses (they are checked below). */
const G_GROUPS: Record<string, string[]> = {
  '1 motion': ['G0', 'G1', 'G2', 'G3', 'G80', 'G81', 'G82', 'G83', 'G85', 'G86', 'G89'],
  '3 distance': ['G90', 'G91'],
  '6 units': ['G20', 'G21'],
  '8 tool length': ['G43', 'G49'],
  '10 return': ['G98', 'G99'],
  '12 coordinate system': ['G54', 'G55', 'G56', 'G57', 'G58', 'G59', 'G59.1', 'G59.2', 'G59.3'],
  '13 path control': ['G61', 'G61.1', 'G64'],
};
const G_ALONE = ['G17', 'G94', 'G40', 'G4'];
const G_REFUSED = ['G18', 'G19', 'G93', 'G41', 'G42', 'G10', 'G28', 'G30', 'G38.2', 'G84', 'G87', 'G88'];
const G_OFFSETS = ['G92', 'G92.1', 'G92.2', 'G92.3'];
const M_GROUPS: Record<string, string[]> = {
  '4 stopping': ['M0', 'M1', 'M2', 'M30', 'M60'],
  '7 spindle': ['M3', 'M4', 'M5'],
  '8 coolant': ['M7', 'M8', 'M9'],
  '9 overrides': ['M48', 'M49'],
};

describe('modal groups, section 3.4 table 4 and section 3.3.5', () => {
  const pairs = (groups: Record<string, string[]>): { a: string; b: string; same: boolean }[] => {
    const all = Object.entries(groups).flatMap(([group, codes]) => codes.map((code) => ({ group, code })));
    return all.flatMap((a, i) =>
      all.slice(i + 1).map((b) => ({ a: a.code, b: b.code, same: a.group === b.group })),
    );
  };

  it('two codes of one group may not share a line, two of different groups may', () => {
    for (const groups of [G_GROUPS, M_GROUPS]) {
      const list = pairs(groups);
      expect(list.length).toBeGreaterThan(30);
      for (const { a, b, same } of list) {
        const found = codesOf(readProgram(`${a} ${b}\nM2\n`)).includes('same-group');
        expect(found, `${a} with ${b}`).toBe(same);
      }
    }
  });

  it('M6 shares a line with every other M group, and four M words are the most', () => {
    for (const code of Object.values(M_GROUPS).flat()) {
      expect(codesOf(readProgram(`T1 M6 ${code}\n`))).not.toContain('same-group');
    }
    expect(codesOf(readProgram('T1 M6 M3 M8 M48\nM2\n'))).not.toContain('too-many-m-words');
    expect(codesOf(readProgram('T1 M6 M3 M8 M48 M1\nM2\n'))).toContain('too-many-m-words');
  });

  it('knows every code of tables 5 and 7 and no other', () => {
    const read = [...Object.values(G_GROUPS).flat(), ...G_ALONE];
    const refused = [...G_REFUSED, ...G_OFFSETS];
    const known = new Set([...read, ...refused, 'G53']);
    for (const code of read) {
      expect(codesOf(readProgram(`${code}\n`)), code).not.toContain('unknown-code');
      expect(codesOf(readProgram(`${code}\n`)), code).not.toContain('unsupported-code');
    }
    for (const code of refused) {
      expect(codesOf(readProgram(`${code}\n`)), code).toContain('unsupported-code');
    }
    // G73, G90.1 and G91.1 are read though the standard lacks them, and are said to be outside it.
    for (const code of ['G73', 'G90.1', 'G91.1']) {
      expect(codesOf(readProgram(`${code}\n`)), code).toContain('outside-standard');
      known.add(code);
    }
    for (let tenths = 0; tenths < 1500; tenths++) {
      const code = `G${tenths / 10}`;
      if (!known.has(code)) expect(codesOf(readProgram(`${code}\n`)), code).toContain('unknown-code');
    }
    const knownM = new Set([...Object.values(M_GROUPS).flat(), 'M6']);
    for (let m = 0; m < 150; m++) {
      expect(codesOf(readProgram(`M${m}\n`)).includes('unknown-code'), `M${m}`).toBe(!knownM.has(`M${m}`));
    }
  });

  it('motion codes hold from line to line', () => {
    expect(strokes(moves(0, 0, 5, 'G1 X1', 'Y2', 'G0 X3', 'Y4'))).toEqual([
      ['feed', 1, 0, 5],
      ['feed', 1, 2, 5],
      ['rapid', 3, 2, 5],
      ['rapid', 3, 4, 5],
    ]);
  });

  it('after G80 axis words are an error, section 3.5.15', () => {
    expect(codesOf(readProgram(from(0, 0, 5, 'G80', 'X1')))).toEqual(['axis-without-motion']);
    expect(codesOf(readProgram(from(0, 0, 5, 'G80 X1')))).toEqual(['axis-without-motion']);
  });
});

describe('numbers, section 3.3.2.1', () => {
  it('spaces and tabs may stand anywhere: the example of section 3.3', () => {
    expect(strokes(moves(9, 9, 5, 'g0x +0. 12 34y 7'))).toEqual([['rapid', 0.1234, 7, 5]]);
    expect(strokes(moves(9, 9, 5, 'G\t0 X\t-\t1 2 . 5'))).toEqual([['rapid', -12.5, 9, 5]]);
  });

  it.each([
    ['341', 341],
    ['-0.8807', -0.8807],
    ['.5', 0.5],
    ['5.', 5],
    ['+5', 5],
    ['-.25', -0.25],
    ['00012.5000', 12.5],
    ['0.1234567890123456789', 0.123456789012],
  ])('reads %s', (text, value) => {
    expect(strokes(moves(9, 9, 5, `G0 X${text}`))).toEqual([['rapid', Math.round(value * 1e9) / 1e9, 9, 5]]);
  });

  it.each(['', '.', '-', '+.', '+-1', '1.2.3', '1-2', '1e3', '--1'])('refuses X%s', (text) => {
    const reading = readProgram(from(9, 9, 5, `G0 X${text}`));
    expect(reading.faults.length).toBeGreaterThan(0);
    expect(reading.motions.filter((m) => m.line === 5)).toEqual([]);
  });

  it('a number that should be whole may be 0.0001 off, and no more', () => {
    expect(codesOf(readProgram('G1.00001 X1 Y1 Z1\nM2\n'))).not.toContain('unknown-code');
    expect(codesOf(readProgram('M2.00009\n'))).toEqual([]);
    expect(codesOf(readProgram('M2.0002\n'))).toContain('unknown-code');
  });
});

describe('lines, section 3.3', () => {
  it('256 characters are allowed', () => {
    const line = (length: number): string => `G0 X1 (${'a'.repeat(length - 8)})`;
    expect(line(256)).toHaveLength(256);
    expect(codesOf(readProgram(from(0, 0, 5, line(256))))).toEqual([]);
    expect(codesOf(readProgram(from(0, 0, 5, line(257))))).toEqual(['line-too-long']);
  });

  it('line numbers have up to five digits and stand first, section 3.3.1', () => {
    for (const text of ['N0 G0 X1', 'N99999 G0 X1', '/N5 G0 X1', 'n00009g0x1']) {
      expect(codesOf(readProgram(from(0, 0, 5, text))), text).not.toContain('line-number');
    }
    for (const text of ['N000009 G0 X1', 'G0 N5 X1', 'N1 N2 G0 X1', 'N1.5 G0 X1', 'N-5 G0 X1']) {
      expect(codesOf(readProgram(from(0, 0, 5, text))), text).toContain('line-number');
    }
  });

  it('comments end at the first right parenthesis and do not nest, section 3.3.4', () => {
    expect(codesOf(readProgram(from(0, 0, 5, 'G80 M5 (stop motion)')))).toEqual([]);
    expect(codesOf(readProgram(from(0, 0, 5, 'G0 X1 (a (b) c)')))).toEqual(['comment-nested']);
    expect(codesOf(readProgram(from(0, 0, 5, 'G0 X1 (a')))).toEqual(['comment-unclosed']);
    expect(codesOf(readProgram(from(0, 0, 5, 'G0 X1 )')))).toEqual(['illegal-character']);
  });

  it('words may be put in any order without a change of meaning, section 3.3.6', () => {
    const words = ['G1', 'G91', 'X3', 'Y-2', 'F250', 'S900', 'M4', 'T7'];
    const meaning = (order: string[]): unknown => {
      const { motions, faults } = readProgram(from(1, 2, 3, order.join(' ')));
      return { motions, faults };
    };
    const plain = meaning(words);
    fc.assert(
      fc.property(fc.shuffledSubarray(words, { minLength: words.length }), (order) => {
        expect(meaning(order)).toEqual(plain);
      }),
    );
  });

  it('for other letters than G and M a line has one word only, section 3.3.5', () => {
    for (const letter of 'FSTXYZ') {
      expect(codesOf(readProgram(from(0, 0, 5, `G0 X1 ${letter}1 ${letter}1`))), letter).toContain(
        'repeated-word',
      );
    }
  });

  it('percent signs mark the ends; what follows the second is not read, section 3.1', () => {
    const reading = readProgram('%\nG21 G0 X1 Y1 Z1\n%\nG0 X99\n');
    expect(codesOf(reading)).toEqual([]);
    expect(reading.ended).toBe(true);
    expect(reading.motions.every((m) => m.to.x === 1)).toBe(true);
    expect(codesOf(readProgram('%\nG21 G0 X1 Y1 Z1\nM2\n'))).toEqual(['percent-unclosed']);
    expect(codesOf(readProgram('G21 G0 X1 Y1 Z1\n'))).toEqual(['no-end']);
  });

  it('nothing after M2 or M30 is run, section 3.6.1', () => {
    for (const end of ['M2', 'M30']) {
      const reading = readProgram(`G21 G0 X1 Y1 Z1\n${end}\nG0 X5\n`);
      expect(reading.motions.some((m) => m.to.x === 5)).toBe(false);
      expect(codesOf(reading)).toEqual(['motion-after-end']);
    }
  });
});

describe('order of execution, section 3.8 table 8', () => {
  const last = (...lines: string[]): Motion => {
    const { motions } = readProgram(from(0, 0, 5, ...lines));
    return motions[motions.length - 1]!;
  };

  it('feed and speed (3, 4), tool (5, 6) and spindle (7) come before the motion (20)', () => {
    expect(last('X1 G1 F77 S321').feed).toBe(77);
    expect(last('G1 X1 S321').speed).toBe(321);
    expect(last('G1 X1 T9 M6 M3')).toMatchObject({ tool: 9, speed: 500 });
    expect(last('G1 X1 M5').speed).toBe(0);
  });

  it('a tool change stops the spindle, section 3.6.3', () => {
    expect(last('T2 M6', 'G1 X1').speed).toBe(0);
    expect(last('T2 M6', 'M3', 'G1 X1')).toMatchObject({ tool: 2, speed: 500 });
    expect(last('T2', 'G1 X1').tool).toBe(1);
  });

  it('units (12) and distance mode (17) come before the motion', () => {
    expect(last('G0 X1 G20').to.x).toBe(25.4);
    expect(last('G0 X1', 'X1 G91').to.x).toBe(2);
  });

  it('the feed (3) is set before the units (12), so it is read in the old one, and that is said', () => {
    const reading = readProgram(from(0, 0, 5, 'G20 G1 X1 F100'));
    expect(reading.motions[reading.motions.length - 1]!.feed).toBe(100);
    expect(codesOf(reading)).toContain('units-changed');
  });

  it('the stop (21) comes last', () => {
    const moving = readProgram('G21 G0 X1 Y1 Z1\nX5 M30\n');
    expect(moving.motions.map((m) => m.to.x)).toEqual([1, 5]);
    expect(moving.ended).toBe(true);
  });
});

describe('arcs, section 3.5.3', () => {
  it('centre format: the example of section 3.5.3.2', () => {
    const [arc] = moves(7, 7, 9, 'G17 G2 x 10 y 16 i 3 j 4 z 9');
    expect(arc).toMatchObject({ kind: 'arc', centre: { x: 10, y: 11 }, to: { x: 10, y: 16, z: 9 } });
    expect(Math.hypot(arc!.from.x - 10, arc!.from.y - 11)).toBe(5);
    expect(arc!.sweep).toBeLessThan(0);
    const [helix] = moves(7, 7, 2, 'G17 G2 x 10 y 16 i 3 j 4 z 9');
    expect([helix!.from.z, helix!.to.z]).toEqual([2, 9]);
  });

  it('radius format: the example of section 3.5.3.1, clockwise and through 180 degrees or less', () => {
    const [arc] = moves(2, 3, 5, 'G17 G2 x 10 y 15 r 20 z 5');
    const { centre, sweep } = arc!;
    for (const end of [arc!.from, arc!.to]) {
      expect(Math.hypot(end.x - centre!.x, end.y - centre!.y)).toBeCloseTo(20, 9);
    }
    expect(sweep).toBeLessThan(0);
    expect(sweep).toBeGreaterThan(-Math.PI);
    const [long] = moves(2, 3, 5, 'G17 G2 x 10 y 15 r -20 z 5');
    expect(long!.sweep).toBeLessThan(-Math.PI);
    expect(long!.sweep! + sweep!).toBeCloseTo(-2 * Math.PI, 9);
  });

  it.each([
    ['G21', 0.0019, false],
    ['G21', 0.0021, true],
    ['G20', 0.00019, false],
    ['G20', 0.00021, true],
  ])('in %s distances from the centre that differ by %f are a fault: %s', (unit, off, fault) => {
    const reading = readProgram(from(0, 0, 5, unit, 'F4', `G3 X${20 + off} Y0 I10 J0`));
    expect(codesOf(reading).includes('arc-radius-mismatch')).toBe(fault);
  });

  it('an arc may end where it begins: a full turn', () => {
    const [turn] = moves(0, 0, 5, 'G3 X0 Y0 I10 J0');
    expect(turn!.sweep).toBeCloseTo(2 * Math.PI, 12);
    expect(moves(0, 0, 5, 'G2 X0 I10 J0')[0]!.sweep).toBeCloseTo(-2 * Math.PI, 12);
  });

  it('both axis words, or both centre words, left out are errors; so is a radius with its ends in one', () => {
    expect(codesOf(readProgram(from(0, 0, 5, 'G2 I10 J0')))).toEqual(['arc-without-end']);
    expect(codesOf(readProgram(from(0, 0, 5, 'G2 X10 Y5')))).toEqual(['arc-without-centre']);
    expect(codesOf(readProgram(from(0, 0, 5, 'G2 X0 Y0 R5')))).toEqual(['arc-radius-closed']);
    expect(codesOf(readProgram(from(0, 0, 5, 'G2 X10 R4')))).toEqual(['arc-radius-too-small']);
  });

  it('I and J are increments in either distance mode, section 3.5.17', () => {
    const [absolute] = moves(10, 10, 5, 'G3 X20 Y10 I5 J0');
    const [incremental] = moves(10, 10, 5, 'G91 G3 X10 Y0 I5 J0');
    expect(incremental).toEqual(absolute);
  });

  it('arcs by radius near a half or full turn are called bad practice, section 3.5.3.1', () => {
    expect(codesOf(readProgram(from(0, 0, 5, 'G2 X10 R5')))).toEqual(['arc-ill-conditioned']);
    expect(codesOf(readProgram(from(0, 0, 5, 'G2 X10 R5.1')))).toEqual([]);
  });
});

describe('dwell, section 3.5.4', () => {
  it('is in seconds and not negative', () => {
    expect(readProgram(from(0, 0, 5, 'G4 P1.5', 'G4 P0.25')).dwell).toBe(1.75);
    expect(codesOf(readProgram(from(0, 0, 5, 'G4 P-1')))).toEqual(['bad-value']);
  });
});

describe('canned cycles, section 3.5.16', () => {
  it('G81, example 1 of section 3.5.16.2', () => {
    expect(strokes(moves(1, 2, 3, 'G90 G81 G98 X4 Y5 Z1.5 R2.8'))).toEqual([
      ['rapid', 4, 5, 3],
      ['rapid', 4, 5, 2.8],
      ['feed', 4, 5, 1.5],
      ['rapid', 4, 5, 3],
    ]);
  });

  it('G81, example 2 of section 3.5.16.2: three repeats by increments', () => {
    expect(strokes(moves(1, 2, 3, 'G91 G81 G98 X4 Y5 Z-0.6 R1.8 L3'))).toEqual([
      ['rapid', 1, 2, 4.8],
      ['rapid', 5, 7, 4.8],
      ['feed', 5, 7, 4.2],
      ['rapid', 5, 7, 4.8],
      ['rapid', 9, 12, 4.8],
      ['feed', 9, 12, 4.2],
      ['rapid', 9, 12, 4.8],
      ['rapid', 13, 17, 4.8],
      ['feed', 13, 17, 4.2],
      ['rapid', 13, 17, 4.8],
    ]);
  });

  it('G99 goes back to R only, section 3.5.20', () => {
    expect(strokes(moves(1, 2, 3, 'G81 G99 X4 Y5 Z1.5 R2.8')).at(-1)).toEqual(['rapid', 4, 5, 2.8]);
  });

  it('G82 waits at the bottom, section 3.5.16.3', () => {
    const reading = readProgram(from(0, 0, 5, 'G82 G99 X4 Y5 Z-1 R2 P0.5', 'X6'));
    expect(codesOf(reading)).toEqual([]);
    expect(reading.dwell).toBe(1);
    expect(codesOf(readProgram(from(0, 0, 5, 'G82 X4 Y5 Z-1 R2')))).toEqual(['cycle-incomplete']);
    expect(codesOf(readProgram(from(0, 0, 5, 'G82 X4 Y5 Z-1 R2 P-1')))).toEqual(['bad-value']);
  });

  it('G83 pecks: down by delta, out to clear Z, back to a bit above the bottom, section 3.5.16.4', () => {
    const list = moves(0, 0, 5, 'G83 G99 X4 Y5 Z-3 R1 Q1.5');
    const back = 0.254; // "backed off a bit": 0.01 inch, value from memory
    expect(strokes(list)).toEqual([
      ['rapid', 4, 5, 5],
      ['rapid', 4, 5, 1],
      ['feed', 4, 5, -0.5],
      ['rapid', 4, 5, 1],
      ['rapid', 4, 5, -0.5 + back],
      ['feed', 4, 5, -2],
      ['rapid', 4, 5, 1],
      ['rapid', 4, 5, -2 + back],
      ['feed', 4, 5, -3],
      ['rapid', 4, 5, 1],
    ]);
    for (const q of ['Q0', 'Q-1']) {
      expect(codesOf(readProgram(from(0, 0, 5, `G83 X4 Y5 Z-3 R1 ${q}`)))).toEqual(['bad-value']);
    }
  });

  it('G85 feeds out, G89 waits and feeds out, sections 3.5.16.6 and 3.5.16.10', () => {
    expect(strokes(moves(0, 0, 5, 'G85 G99 X4 Y5 Z-1 R2')).slice(-2)).toEqual([
      ['feed', 4, 5, -1],
      ['feed', 4, 5, 2],
    ]);
    const bored = readProgram(from(0, 0, 5, 'G89 G99 X4 Y5 Z-1 R2 P0.3'));
    expect(bored.dwell).toBe(0.3);
    expect(bored.motions.at(-1)).toMatchObject({ kind: 'feed', to: { z: 2 } });
  });

  it('R and Z stay while the same cycle goes on, section 3.5.16', () => {
    expect(strokes(moves(0, 0, 5, 'G81 G99 X4 Y5 Z-1 R2', 'X6', 'Y8'))).toHaveLength(4 + 3 + 3);
    expect(codesOf(readProgram(from(0, 0, 5, 'G81 X4 Y5 Z-1 R2', 'G82 X6 P1')))).toEqual([
      'cycle-incomplete',
    ]);
    expect(codesOf(readProgram(from(0, 0, 5, 'G81 X4 Y5 Z-1 R2', 'G0 X1', 'G81 X6')))).toEqual([
      'cycle-incomplete',
    ]);
  });

  it.each([
    ['G81', 'cycle-incomplete'],
    ['G81 X1 R2', 'cycle-incomplete'],
    ['G81 X1 Z-1', 'cycle-incomplete'],
    ['G81 X1 Z-1 R-2', 'cycle-upside-down'],
    ['G81 X1 Z-1 R2 L0', 'bad-value'],
    ['G81 X1 Z-1 R2 L1.5', 'bad-value'],
  ])('%s is an error', (line, code) => {
    expect(codesOf(readProgram(from(0, 0, 5, line)))).toEqual([code]);
  });
});
