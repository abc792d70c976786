import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { FAULTS, type FaultCode } from '../gcode/reading/faults.ts';
import type { Motion, Reading } from '../gcode/reading/motion.ts';
import { readProgram } from '../gcode/reading/read.ts';

const HEAD = ['G17 G21 G40 G49 G54 G80 G90 G94', 'T1 M6', 'S800 M3', 'G0 Z5.', 'X0. Y0.', 'F100.'];

/** A sound program with `lines` in its midst. */
const program = (...lines: string[]): string => [...HEAD, ...lines, 'M5', 'M30', ''].join('\n');

const codesOf = (reading: Reading): string[] => reading.faults.map((f) => f.code);
const read = (...lines: string[]): Reading => readProgram(program(...lines));

/** One program for each kind of fault, with that fault planted and no other kind unless named. */
const PLANTED: Record<FaultCode, { readonly text: string; readonly also?: readonly FaultCode[] }> = {
  'illegal-character': { text: program('G1 X1 $') },
  'comment-unclosed': { text: program('G1 X1 (to the end') },
  'comment-nested': { text: program('G1 X1 (a (b))') },
  'word-without-number': { text: program('G1 X') },
  'unknown-letter': { text: program('G1 X1 E5') },
  'rotary-axis': { text: program('G1 X1 A90') },
  'parameter-or-expression': { text: program('G1 X[1+2]') },
  'number-too-large': { text: program('G1 X1000000000') },
  'repeated-word': { text: program('G1 X1 X2') },
  'same-group': { text: program('G0 G1 X1') },
  'too-many-m-words': { text: program('M3 M8 M48 M6 M1') },
  'unknown-code': { text: program('G12 X1') },
  'unsupported-code': { text: program('G41 D1') },
  'stray-word': { text: program('G1 X1 R2') },
  'axis-without-motion': { text: program('G80', 'X1') },
  'feed-missing': { text: 'G21 G90\nT1 M6\nS800 M3\nG0 X0 Y0 Z5\nG1 X1\nM30\n' },
  'bad-value': { text: program('G1 X1 F-5'), also: ['feed-missing'] },
  'position-unknown': { text: 'G21 G90\nT1 M6\nS800 M3\nG0 Z5\nG1 X1 F100\nM30\n' },
  'work-offset-changed': { text: program('G55 G0 X1') },
  'arc-without-end': { text: program('G2 I1 J0') },
  'arc-without-centre': { text: program('G2 X1 Y1') },
  'arc-mixed-format': { text: program('G2 X1 Y1 I1 R1') },
  'arc-zero-radius': { text: program('G2 X1 Y1 I0 J0') },
  'arc-radius-mismatch': { text: program('G2 X10.01 Y0 I5 J0') },
  'arc-radius-too-small': { text: program('G2 X10 R4') },
  'arc-radius-closed': { text: program('G2 X0 Y0 R4') },
  'cycle-incomplete': { text: program('G81 X1 Y1 Z-1') },
  'cycle-upside-down': { text: program('G81 X1 Y1 Z-1 R-2') },
  'cycle-too-many-pecks': { text: program('G83 X1 Y1 Z-1 R1 Q0.00001') },
  'motion-after-end': { text: `${program()}G0 X1\n` },
  'no-end': { text: HEAD.join('\n') },
  'stray-percent': { text: program('%') },
  // Planted below, as it takes three million motions.
  'program-too-long': { text: '' },
  'percent-unclosed': { text: `%\n${program()}` },
  'words-after-end': { text: `${program()}M5\n` },
  'line-endless': { text: program(`G1 X${'1'.repeat(70_000)}`) },
  'line-too-long': { text: program(`(${'a'.repeat(300)})`) },
  'line-number': { text: program('N123456 G1 X1') },
  'block-delete': { text: program('/G1 X1') },
  'comment-semicolon': { text: program('G1 X1 ; along') },
  'byte-order-mark': { text: `\ufeff${program()}` },
  'outside-standard': { text: program('G73 X1 Y1 Z-1 R1 Q0.5') },
  'motion-without-axis': { text: program('G1') },
  'spindle-stopped': { text: program('M5', 'G1 X1') },
  'spindle-backwards': { text: program('M4', 'G1 X1') },
  'no-tool': { text: 'G21 G90\nS800 M3\nG0 X0 Y0 Z5\nG1 X1 F100\nM30\n' },
  'arc-ill-conditioned': { text: program('G2 X10 R5') },
  'length-offset': { text: program('G43 H1') },
  'machine-coordinates': { text: program('G53 G0 Z0') },
  'units-not-stated': { text: 'G90\nT1 M6\nS800 M3\nG0 X0 Y0 Z5\nM30\n' },
  'units-changed': { text: program('G1 X1', 'G20') },
  'height-unknown': { text: 'G21 G90\nG0 X0 Y0\nG0 Z5\nM30\n' },
};

describe('faults', () => {
  it('a sound program has none', () => {
    const reading = read('G1 Z-1.', 'X10.', 'G3 X10. Y10. I0. J5.', 'G0 Z5.');
    expect(reading.faults).toEqual([]);
    expect(reading.ended).toBe(true);
    expect(reading.workOffset).toBe('G54');
  });

  const planted = Object.entries(PLANTED).filter(([code]) => code !== 'program-too-long');
  it.each(planted)('%s is found where it is planted', (code, { text, also = [] }) => {
    const reading = readProgram(text);
    expect(new Set(codesOf(reading))).toEqual(new Set([code, ...also]));
    const fault = reading.faults.find((f) => f.code === code)!;
    expect(fault.severity).toBe(FAULTS[code as FaultCode]);
    expect(fault.message.length).toBeGreaterThan(15);
    expect(fault.line).toBeGreaterThan(0);
  });

  it('every kind has a program', () => {
    expect(Object.keys(PLANTED).sort()).toEqual(Object.keys(FAULTS).sort());
  });

  it('stands at its line, whatever ends the lines', () => {
    for (const end of ['\n', '\r\n', '\r']) {
      const reading = readProgram(['G21', '', '(x)', 'G0 X1 X2', 'M30', ''].join(end));
      expect(reading.faults.map((f) => [f.code, f.line])).toEqual([['repeated-word', 4]]);
    }
  });

  it('states the mismatch of an arc', () => {
    const [fault] = read('G2 X10.01 Y0 I5 J0').faults;
    expect(fault!.message).toContain('5.0000 mm');
    expect(fault!.message).toContain('5.0100 mm');
    expect(fault!.message).toContain('0.0100 apart');
    expect(fault!.message).toContain('allows 0.0020');
  });

  it('what is said once is said again when it has been mended and is wrong anew', () => {
    expect(codesOf(read('F0', 'G1 X1', 'X2', 'F9', 'X3', 'F0', 'X4'))).toEqual([
      'feed-missing',
      'feed-missing',
    ]);
    expect(codesOf(read('M5', 'G1 X1', 'X2', 'M3', 'X3', 'M5', 'X4'))).toEqual([
      'spindle-stopped',
      'spindle-stopped',
    ]);
  });

  it('a change of unit in the midst of a cycle does not carry its numbers over', () => {
    expect(codesOf(read('G81 X1 Y1 Z-1 R1', 'G20', 'X2'))).toEqual(['units-changed', 'cycle-incomplete']);
  });

  it('of one kind tells a hundred and counts the rest', () => {
    const reading = read(...Array.from({ length: 5000 }, () => 'G1 X1 X2'));
    expect(reading.faults).toHaveLength(101);
    expect(reading.faults.at(-1)!.message).toContain('4900 more');
  });

  it('a line that cannot be read is left out as a whole, and reading goes on', () => {
    const { motions } = read('G1 X5 Y5 X6 F300', 'G1 X1');
    expect(motions.at(-1)).toMatchObject({ to: { x: 1, y: 0 }, feed: 100 });
  });
});

describe('where the machine stands', () => {
  it('before any place is named: high above the first X and Y, and the first motions say so', () => {
    const { motions } = readProgram('G21 G90\nG0 Z5\nX10 Y20\nX30\nM30\n');
    expect(motions.map((m) => [m.from, m.to, m.assumed ?? false])).toEqual([
      [{ x: 10, y: 20, z: 100 }, { x: 10, y: 20, z: 5 }, true],
      [{ x: 10, y: 20, z: 5 }, { x: 30, y: 20, z: 5 }, false],
    ]);
  });

  it('each axis is found out by itself', () => {
    const { motions } = readProgram('G21 G90\nG0 Z5\nX10\nZ3\nY20\nX11\nM30\n');
    expect(motions.every((m) => m.from.y === 20 && m.to.y === 20)).toBe(true);
    expect(motions.map((m) => [m.to.x, m.to.z])).toEqual([
      [10, 5],
      [10, 3],
      [11, 3],
    ]);
  });

  it('G53 Z is a rise to well above, and what is then fed to is not known', () => {
    const { motions, faults } = read('G1 X4 Z-2', 'G53 G0 Z0', 'G0 X9', 'G1 Z-1');
    expect(faults.map((f) => f.code)).toEqual(['machine-coordinates', 'height-unknown', 'position-unknown']);
    expect(motions.at(-3)!.to).toEqual({ x: 4, y: 0, z: 100 });
    expect(motions.at(-1)!.from).toEqual({ x: 9, y: 0, z: 100 });
  });

  it('finding out a place later does not rewrite motions before', () => {
    const { motions } = read('G1 X4 Y4', 'G53 G0 X0', 'G0 X9 Y9');
    expect(motions.find((m) => m.kind === 'feed')!.to).toEqual({ x: 4, y: 4, z: 5 });
  });
});

describe('modes', () => {
  it('inches become mm, feeds too', () => {
    const { motions } = readProgram('G20 G90\nT1 M6\nS1 M3\nG0 X1 Y0 Z0\nG1 X2 F4\nM30\n');
    expect(motions.at(-1)).toMatchObject({ to: { x: 50.8, y: 0, z: 0 }, feed: 4 * 25.4 });
  });

  it('increments', () => {
    const { motions } = read('G91 G1 X1 Y1', 'X1', 'G90 X5');
    expect(motions.slice(-3).map((m) => [m.to.x, m.to.y])).toEqual([
      [1, 1],
      [2, 1],
      [5, 1],
    ]);
  });

  it('absolute centres of arcs', () => {
    const { motions } = read('G1 X10 Y10', 'G90.1', 'G3 X20 Y10 I15 J10');
    expect(motions.at(-1)!.centre).toEqual({ x: 15, y: 10 });
  });

  it('a work offset other than G54', () => {
    expect(readProgram('G21 G57\nG0 Z5\nM30\n').workOffset).toBe('G57');
    expect(readProgram('G21 G59.3\nG0 Z5\nM30\n').workOffset).toBe('G59.3');
  });

  it('without M6 a T word names the tool put in at the next stop or start', () => {
    const text = 'G21\nT3\nM0\nS5 M3\nG0 X0 Y0 Z5\nG1 X1 F9\nM5\nT4\nG0 X0\nM0\nM3\nG1 X1\nM30\n';
    const { motions, stops, faults } = readProgram(text);
    expect(faults).toEqual([]);
    expect(motions.filter((m) => m.kind === 'feed').map((m) => m.tool)).toEqual([3, 4]);
    expect(stops).toEqual([
      { line: 3, kind: 'stop', tool: 3 },
      { line: 10, kind: 'stop', tool: 4 },
    ]);
  });

  it('with M6 in the program a stop changes no tool', () => {
    const { motions } = read('T2', 'M0', 'G1 X1');
    expect(motions.at(-1)!.tool).toBe(1);
  });

  it('the chip-breaking cycle lifts a little between pecks', () => {
    const { motions } = read('G99 G73 X1 Y1 Z-2 R1 Q1.5');
    expect(motions.slice(-4).map((m) => [m.kind, m.to.z])).toEqual([
      ['feed', -0.5],
      ['rapid', -0.246],
      ['feed', -2],
      ['rapid', 1],
    ]);
  });

  it('a wait on its own line in the midst of a cycle is a wait', () => {
    const { dwell, motions, faults } = read('G99 G82 X1 Y1 Z-2 R1 P0.5', 'G4 P3', 'X2');
    expect(faults).toEqual([]);
    expect(dwell).toBe(4);
    expect(motions.filter((m) => m.kind === 'feed')).toHaveLength(2);
  });
});

describe('labels', () => {
  it('a comment names the step and pass that follow', () => {
    const { labels, motions } = read(
      '(STEP fork - PASS 2 OF 6 ROUGH)',
      'G1 X1',
      '(step a - PASS b - pass FINISH)',
      'X2',
    );
    expect(labels.map((l) => [l.step, l.pass])).toEqual([
      ['fork', '2 OF 6 ROUGH'],
      ['a - PASS b', 'FINISH'],
    ]);
    expect(motions.slice(-2).map((m) => m.label)).toEqual([0, 1]);
    expect(motions[0]!.label).toBe(-1);
  });

  it('nothing is computed from a label', () => {
    const lines = ['G1 X1', 'Y2', 'G0 Z9'];
    const strip = (r: Reading): unknown => r.motions.map(({ line: _, label: __, ...rest }) => rest);
    const plain = strip(read(...lines));
    expect(strip(read('(STEP x - PASS RELEASE)', ...lines))).toEqual(plain);
  });
});

const sound = (reading: Reading): void => {
  const number = (v: number | undefined): void => {
    if (v !== undefined && !(Math.abs(v) <= 1e7)) throw new Error(`not a sound number: ${v}`);
  };
  const check = (m: Motion): void => {
    for (const p of [m.from, m.to]) for (const v of [p.x, p.y, p.z]) number(v);
    for (const v of [m.feed, m.tool, m.speed, m.sweep, m.centre?.x, m.centre?.y]) number(v);
    if ((m.kind === 'arc') !== (m.sweep !== undefined && m.centre !== undefined))
      throw new Error('half an arc');
  };
  reading.motions.forEach(check);
  number(reading.dwell);
  for (const f of reading.faults) {
    if (/NaN|undefined|Infinity/.test(f.message)) throw new Error(f.message);
  }
};

describe('hostile text', () => {
  const chaff = fc.oneof(
    fc.string({ unit: 'binary', maxLength: 40 }),
    fc.constantFrom(
      '(',
      '((',
      ')',
      '%',
      ';',
      '/',
      '#1=2',
      '[',
      '\0',
      '\r',
      '\n',
      '\ufeff',
      'X1e309',
      'X1000000000',
      'N',
    ),
    fc.constantFrom(
      'G2 X0 Y0 I0 J0',
      'G3 R0 X1',
      'G83 Z-1 R1 Q1e-9',
      'G83 X1 Z-1000000 R1 Q.000001 L999999',
      'G91',
      'G20',
    ),
    fc.constantFrom(
      'G81 X1 Y1 Z-5 R2 L500',
      'G53 G0 Z0',
      'G53 G0 X0',
      'G92 X0',
      'G4 P1000000',
      'G4',
      'S-1',
      'T-1',
      'M6',
    ),
    fc
      .tuple(
        fc.constantFrom(...'GMXYZIJKRFSTPQLNHD'),
        fc.oneof(fc.integer({ min: -3, max: 100 }), fc.double({ noNaN: true, noDefaultInfinity: true })),
      )
      .map(([letter, value]) => `${letter}${value}`),
  );

  it('never throws, never yields a number that is none', () => {
    fc.assert(
      fc.property(
        fc.array(fc.array(chaff, { maxLength: 6 }), { maxLength: 25 }),
        fc.constantFrom(' ', '', '\n'),
        (lines, gap) => {
          sound(readProgram(lines.map((words) => words.join(gap)).join('\n')));
        },
      ),
      { numRuns: 1500 },
    );
  });

  it('a damaged program is read to its end', () => {
    const whole = program(
      'G1 Z-1.',
      'X10. F50.',
      'G3 X10. Y10. I0. J5.',
      'G99 G83 X4. Y4. Z-3. R1. Q1.',
      'G80',
      'G0 Z5.',
    );
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.nat(whole.length - 1), fc.string({ unit: 'binary', maxLength: 3 })), {
          maxLength: 8,
        }),
        (wounds) => {
          let text = whole;
          for (const [at, graft] of wounds) text = text.slice(0, at) + graft + text.slice(at + 1);
          sound(readProgram(text));
        },
      ),
      { numRuns: 2000 },
    );
  });

  it('very long lines, numbers and comments take time in proportion', () => {
    const many = 2_000_000;
    for (const text of [
      '('.repeat(many),
      ' '.repeat(many),
      `X${'9'.repeat(many)}`,
      `X${' 1'.repeat(many / 2)}`,
      'X1 '.repeat(many / 3),
      '%'.repeat(many),
      '\r'.repeat(many),
      'G1'.repeat(many / 2),
      `(STEP ${' - PASS '.repeat(many / 8)})`,
    ]) {
      sound(readProgram(text));
    }
  });

  it('does not follow a program for ever: it stops at three million motions and says so', () => {
    const text = program(...Array.from({ length: 310 }, () => 'G91 G81 X0.001 Y0 Z-1 R0.5 L9999'));
    const reading = readProgram(text);
    expect(codesOf(reading)).toContain('program-too-long');
    expect(reading.motions.length).toBe(3_000_000);
  });

  it('a cycle repeated tens of thousands of times is not followed', () => {
    expect(codesOf(read('G81 X1 Y1 Z-1 R1 L20000'))).toEqual(['cycle-too-many-pecks']);
  });

  it('a million lines are read to the last', () => {
    const lines = Array.from({ length: 1_000_000 }, (_, i) => `X${(i % 1000) / 8} Y${(i % 77) / 4}`);
    const reading = readProgram(`${HEAD.join('\n')}\nG1\n${lines.join('\n')}\nM30\n`);
    expect(reading.motions.length).toBeGreaterThan(999_000);
    expect(reading.ended).toBe(true);
  });
});
