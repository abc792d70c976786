import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { comments, label, message, safeComment } from '../gcode/program/comment.ts';
import { decimal } from '../gcode/program/grid.ts';
import { CAUTIONS } from '../gcode/program/header.ts';
import { programFileName } from '../gcode/program/name.ts';
import { programTime } from '../gcode/program/time.ts';
import { writeProgram } from '../gcode/program/write.ts';
import type { Motion, Reading } from '../gcode/reading/motion.ts';
import { readProgram } from '../gcode/reading/read.ts';
import type { Point3 } from '../sketch/shape/point.ts';
import type { Move, PlannedSetup } from '../toolpath/passes/pass.ts';
import { CLEAR, cutter, forms, oneStep, PART, profileOf, setupOf, setups } from './random-moves.ts';

const bare = (reading: Reading): unknown =>
  reading.motions.map(({ line: _, label: __, ...motion }: Motion) => motion);

const code = (text: string): string[] =>
  text.split('\n').filter((line) => line !== '' && !line.startsWith('('));

const hostile = fc.oneof(
  fc.string({ unit: 'binary', maxLength: 300 }),
  fc.string({ unit: 'grapheme', maxLength: 80 }),
  fc.constantFrom(
    ') G0 X99 Z-50 (',
    'a\nG1 Z-9 F1\n',
    'b\rM30\r',
    'fork - PASS 9 OF 9 RELEASE) (STEP x - PASS 1 OF 1 ROUGH',
    '（G0 X9）⑴ ﹚M30﹙',
    ';%(((',
    'MSG, hello',
    '! ~ ?',
    '\u2028G0 X1\u2029',
    '×⌀°–',
    'x'.repeat(5000),
    '',
  ),
);

describe('text from the document', () => {
  it('cannot leave its comment', () => {
    fc.assert(
      fc.property(hostile, (text) => {
        const safe = safeComment(text);
        expect(safe).toMatch(/^[ -~]*$/);
        expect(safe).not.toMatch(/[();%!~?]/);
        expect(safe.length).toBeLessThanOrEqual(200);
        for (const line of [label(text, text), message(text), ...comments(text)]) {
          expect(line.length).toBeLessThan(240);
          expect(readProgram(`${line}\nM2\n`).faults).toEqual([]);
          expect(line).toMatch(/^\([^()]*\)$/);
        }
      }),
      { numRuns: 1000 },
    );
  });

  it('changes no motion, whatever the part, steps, cutters and messages are called', () => {
    const plain = oneStep([
      { kind: 'rapid', to: { x: 1, y: 2, z: 3 } },
      { kind: 'feed', to: { x: 1, y: 2, z: -1 }, feed: 50 },
      { kind: 'stop', message: 'measure' },
      { kind: 'feed', to: { x: 9, y: 2, z: -1 }, feed: 50 },
    ]);
    const { hold: vice } = plain.setup;
    if (vice.kind !== 'vice') throw new Error('no vice is proposed');
    const renamed = (text: string): PlannedSetup => ({
      ...plain,
      setup: { ...plain.setup, hold: { ...vice, gripped: text } },
      steps: plain.steps.map((s) => ({
        ...s,
        step: { ...s.step, name: text },
        cutter: { ...s.cutter, name: text, designation: text },
        passes: s.passes.map((p) => ({
          ...p,
          moves: p.moves.map((m): Move => (m.kind === 'stop' ? { ...m, message: text } : m)),
        })),
      })),
    });
    fc.assert(
      fc.property(hostile, forms, (text, form) => {
        const profile = profileOf(form);
        const written = writeProgram({ ...PART, name: text }, renamed(text), { ...profile, name: text });
        const reading = readProgram(written);
        expect(reading.faults).toEqual([]);
        expect(bare(reading)).toEqual(bare(readProgram(writeProgram(PART, plain, profile))));
        expect(code(written)).toEqual(code(writeProgram(PART, plain, profile)));
        expect(reading.labels).toHaveLength(1);
      }),
      { numRuns: 200 },
    );
  });

  it('is spelt out where the trade has a sign', () => {
    expect(safeComment('⌀5 × 3° – “fine”')).toBe('dia 5 x 3 deg - "fine"');
    expect(safeComment('Hebel für Öse (alt); 50 %')).toBe('Hebel fur Ose [alt], 50');
    expect(safeComment('  Ørsted’s\n\n Straße \t 2 − 1 ± ½ ')).toBe("orsted's Strasse 2 - 1 _ 1_2");
  });

  it('is cut off at its length, with no blank left at the end', () => {
    expect(safeComment(`${'x'.repeat(199)} y`)).toBe('x'.repeat(199));
    expect(safeComment(' a bc', 2)).toBe('a');
  });

  it('a step name comes back in its label', () => {
    const { labels } = readProgram(`${label('fork - PASS 1', '2 OF 6 ROUGH')}\nM2\n`);
    expect(labels).toEqual([{ line: 1, step: 'fork - PASS 1', pass: '2 OF 6 ROUGH' }]);
  });
});

describe('the look of a program', () => {
  it('every line is short, every number has a point, none is minus nought', () => {
    fc.assert(
      fc.property(setups, forms, (setup, form) => {
        const text = writeProgram(PART, setup, profileOf(form));
        expect(text.endsWith('M30\n')).toBe(true);
        expect(text).not.toContain('\r');
        expect(text.split('\n').filter((line) => line.length >= 240)).toEqual([]);
        const numbers = code(text).flatMap((line) =>
          line.split(' ').filter((word) => /^[XYZIJRQFP]/.test(word)),
        );
        expect(numbers.filter((word) => !/^[A-Z]-?\d+\.\d+$/.test(word))).toEqual([]);
        expect(numbers.filter((word) => /^[A-Z]-0+\.0+$/.test(word))).toEqual([]);
      }),
      { numRuns: 150 },
    );
  });

  it('within a pass no line repeats a word that is in force', () => {
    const text = writeProgram(
      PART,
      oneStep([
        { kind: 'rapid', to: { x: 0, y: 0, z: CLEAR } },
        { kind: 'rapid', to: { x: 0, y: 0, z: 1 } },
        { kind: 'feed', to: { x: 0, y: 0, z: -1 }, feed: 50 },
        { kind: 'feed', to: { x: 10, y: 0, z: -1 }, feed: 100 },
        { kind: 'feed', to: { x: 10, y: 0, z: -1 }, feed: 100 },
        { kind: 'feed', to: { x: 10.0001, y: 0, z: -1 }, feed: 100 },
        { kind: 'feed', to: { x: 10, y: 5, z: -1 }, feed: 100 },
        { kind: 'arc', to: { x: 0, y: 5, z: -1 }, centre: { x: 5, y: 5 }, clockwise: false, feed: 100 },
      ]),
      profileOf(),
    );
    const lines = code(text);
    expect(lines.slice(lines.indexOf('S800 M3'))).toEqual([
      'S800 M3',
      `G0 Z${CLEAR}.0`,
      'X0.0 Y0.0',
      'Z1.0',
      'G1 Z-1.0 F50.0',
      'X10.0 F100.0',
      'Y5.0',
      'G3 X0.0 I-5.0 J0.0',
      `G0 Z${CLEAR}.0`,
      'M5',
      'M9',
      'M30',
    ]);
  });

  it('rapids go up, across, or down, never two ways at once: up first, down last', () => {
    const from = (start: Point3, to: Point3): string[] => {
      const moves: Move[] = [
        { kind: 'rapid', to: { ...start, z: 9 } },
        { kind: 'feed', to: start, feed: 60 },
        { kind: 'rapid', to },
        { kind: 'feed', to: { ...to, y: 9 }, feed: 60 },
      ];
      const lines = code(writeProgram(PART, oneStep(moves), profileOf()));
      return lines.slice(
        lines.findIndex((l) => l.startsWith('G1 ')) + 1,
        lines.findIndex((l) => l.includes('Y9.0')),
      );
    };
    expect(from({ x: 0, y: 0, z: -5 }, { x: 7, y: 0, z: 2 })).toEqual(['G0 Z2.0', 'X7.0']);
    expect(from({ x: 0, y: 0, z: 5 }, { x: 7, y: 0, z: -2 })).toEqual(['G0 X7.0', 'Z-2.0']);
    fc.assert(
      fc.property(setups, forms, (setup, form) => {
        const { motions } = readProgram(writeProgram(PART, setup, profileOf(form)));
        for (const { kind, from: a, to: b } of motions) {
          if (kind === 'rapid') expect(a.z === b.z || (a.x === b.x && a.y === b.y)).toBe(true);
        }
      }),
      { numRuns: 60 },
    );
  });

  it('the head tells part, bar, setup, datum, hold, cutters, motion, time and cautions', () => {
    const setup = oneStep([
      { kind: 'rapid', to: { x: -5, y: 2, z: 3 } },
      { kind: 'feed', to: { x: 12.5, y: 2, z: -1 }, feed: 50 },
    ]);
    const hold = { ...setup.setup.hold, parallels: { height: 20, thickness: 3, offset: 6 } };
    const text = writeProgram(PART, { ...setup, setup: { ...setup.setup, hold } }, profileOf());
    const words = text
      .slice(0, text.indexOf('G17'))
      .replace(/\)\n\( ?/g, ' ')
      .replace(/ +/g, ' ');
    for (const said of [
      'Part: Rocker',
      'brass, 80.0 x 20.0 x 8.0 mm',
      'Setup 1, front face up',
      'left near corner of the bar',
      'Z zero at the top of the work',
      'jaws from X0.0 to X80.0',
      '3.0 mm of the work gripped',
      'parallels 20.0 high and 3.0 thick',
      'T1 5.0 mm endmill',
      'X -5.0 to 12.5, Y 2.0 to 2.0, Z -1.0 to 10.0',
      'Time: about',
      ...CAUTIONS.map((c) => safeComment(c)),
    ]) {
      expect(words).toContain(said);
    }
  });

  it('decimals', () => {
    expect([decimal(-1250, 3), decimal(0, 3), decimal(5, 3), decimal(-5, 4), decimal(12, 0)]).toEqual([
      '-1.25',
      '0.0',
      '0.005',
      '-0.0005',
      '12.0',
    ]);
  });
});

describe('tool changes and stops', () => {
  const two = (second: number): PlannedSetup => {
    const moves: Move[] = [
      { kind: 'rapid', to: { x: 0, y: 0, z: 1 } },
      { kind: 'feed', to: { x: 5, y: 0, z: -1 }, feed: 60 },
    ];
    const base = oneStep(moves).steps[0]!;
    return setupOf([base, { ...base, step: { ...base.step, name: 'second' }, cutter: cutter(second) }]);
  };

  it('with M6: a new tool is checked in a stop, as its Z zero must be set; the same tool is only named', () => {
    const changed = code(writeProgram(PART, two(2), profileOf({ coolant: 'flood' })));
    const at = changed.indexOf('T2 M6');
    expect(changed.slice(at - 2, at + 5)).toEqual([
      'G17 G21 G40 G49 G54 G80 G90 G94',
      'M5 M9',
      'T2 M6',
      'M0',
      'S800 M3',
      'M8',
      `G0 Z${CLEAR}.0`,
    ]);
    const kept = code(writeProgram(PART, two(1), profileOf()));
    expect(kept.filter((line) => line === 'T1 M6')).toHaveLength(2);
    expect(kept.filter((line) => line === 'M0')).toHaveLength(1);
  });

  it('by stop and prompt: no M6, the message names the cutter, and the reader knows it', () => {
    const text = writeProgram(PART, two(2), profileOf({ toolChange: 'stop-and-prompt' }));
    expect(text).not.toContain('M6');
    expect(text).toMatch(/T2\n\(MSG, Fit T2 5\.0 mm endmill.*\)\nM0\n/);
    const feeds = readProgram(text).motions.filter((m) => m.kind === 'feed');
    expect(feeds.map((m) => m.tool)).toEqual([1, 2]);
  });

  it('a stop stands the spindle and starts it again', () => {
    const text = writeProgram(
      PART,
      oneStep([
        { kind: 'rapid', to: { x: 0, y: 0, z: 1 } },
        { kind: 'stop', message: 'measure the fork' },
      ]),
      profileOf(),
    );
    expect(text).toContain('M5\n(MSG, measure the fork)\nM0\nS800 M3\n');
  });

  it('after work by hand the cutter counts as new, as it was taken out', () => {
    const moves: Move[] = [{ kind: 'rapid', to: { x: 0, y: 0, z: 1 } }];
    const mill = oneStep(moves).steps[0]!;
    const tap = { ...mill, step: { ...mill.step, name: 'tap' }, cutter: cutter(7, 'tap') };
    const again = { ...mill, step: { ...mill.step, name: 'again' } };
    const lines = code(writeProgram(PART, setupOf([mill, tap, again]), profileOf()));
    expect(lines.filter((line) => line === 'T1 M6')).toHaveLength(2);
    expect(lines[lines.lastIndexOf('T1 M6') + 1]).toBe('M0');
  });

  it('a hand tap never goes in the spindle, and the spindle stays still', () => {
    const tap = oneStep(
      [
        { kind: 'rapid', to: { x: 4, y: 0, z: CLEAR } },
        { kind: 'stop', message: 'tap M3' },
      ],
      'tap',
    );
    const lines = code(writeProgram(PART, tap, profileOf()));
    expect(lines.filter((line) => /M3\b|M4|M6|S\d/.test(line))).toEqual([]);
    expect(lines).toContain('M0');
  });
});

describe('drilling', () => {
  const hole = (x: number, more: Partial<Extract<Move, { kind: 'drill' }>> = {}): Move[] => {
    const drill = {
      kind: 'drill',
      at: { x, y: 0 },
      clear: 1,
      depth: -5,
      peck: 0,
      dwell: 0,
      feed: 60,
      ...more,
    } as const;
    return [
      { kind: 'rapid', to: { x, y: 0, z: CLEAR } },
      { kind: 'rapid', to: { x, y: 0, z: 1 } },
      drill,
      { kind: 'rapid', to: { x, y: 0, z: CLEAR } },
    ];
  };
  const written = (moves: Move[], kind: 'drill' | 'reamer' = 'drill'): string[] => {
    const lines = code(writeProgram(PART, oneStep(moves, kind), profileOf()));
    return lines.slice(lines.indexOf(`G0 Z${CLEAR}.0`) + 1, lines.indexOf('M9') - 1);
  };

  it('a row of holes is one cycle and its places', () => {
    expect(written([...hole(0), ...hole(10), ...hole(20)])).toEqual([
      'X0.0 Y0.0',
      'G98 G81 X0.0 Y0.0 Z-5.0 R1.0 F60.0',
      'X10.0 Y0.0',
      'X20.0 Y0.0',
      'G80',
    ]);
  });

  it('a way to the hole that is not across and down is kept as planned', () => {
    const lines = written([
      { kind: 'rapid', to: { x: 3, y: 0, z: -2 } },
      { kind: 'rapid', to: { x: 0, y: 0, z: -2 } },
      ...hole(0).slice(1, 3),
    ]);
    expect(lines).toEqual([
      'X3.0 Y0.0',
      'Z-2.0',
      'X0.0',
      'Z1.0',
      'G99 G81 X0.0 Y0.0 Z-5.0 R1.0 F60.0',
      'G80',
      'G0 Z10.0',
    ]);
  });

  it.each([
    { x: 4, y: 9 },
    { x: 9, y: 0 },
  ])('a place passed on the way to a hole is gone to, though it lies in line with it: $x, $y', (by) => {
    const lines = written([
      { kind: 'rapid', to: { x: -1, y: -1, z: CLEAR } },
      { kind: 'rapid', to: { ...by, z: CLEAR } },
      hole(4)[2]!,
    ]);
    expect(lines).toEqual([
      'X-1.0 Y-1.0',
      `X${by.x}.0 Y${by.y}.0`,
      'G99 G81 X4.0 Y0.0 Z-5.0 R1.0 F60.0',
      'G80',
      `G0 Z${CLEAR}.0`,
    ]);
  });

  it('pecks by G83, waits by G82, reams by G85 and G89', () => {
    expect(written(hole(0, { peck: 2 }))[1]).toBe('G98 G83 X0.0 Y0.0 Z-5.0 R1.0 Q2.0 F60.0');
    expect(written(hole(0, { dwell: 0.3 }))[1]).toBe('G98 G82 X0.0 Y0.0 Z-5.0 R1.0 P0.3 F60.0');
    expect(written(hole(0), 'reamer')[1]).toBe('G99 G85 X0.0 Y0.0 Z-5.0 R1.0 F60.0');
    expect(written(hole(0, { dwell: 0.3 }), 'reamer')[1]).toBe('G99 G89 X0.0 Y0.0 Z-5.0 R1.0 P0.3 F60.0');
  });

  it('pecks with a wait are spelled out, as no cycle does both', () => {
    const lines = written(hole(0, { peck: 4, dwell: 0.3 }));
    expect(lines).toEqual([
      'X0.0 Y0.0',
      'Z1.0',
      'G1 Z-3.0 F60.0',
      'G0 Z10.0',
      'Z-2.75',
      'G1 Z-5.0',
      'G4 P0.3',
      'G0 Z10.0',
    ]);
  });
});

describe('arcs on the grid of the program', () => {
  const from = { x: 3.3333, y: -2.7777, z: -1 };
  const arcs = fc.record({
    radius: fc.oneof(
      fc.double({ min: 0.05, max: 500, noNaN: true }),
      fc.double({ min: 0.001, max: 0.3, noNaN: true }),
    ),
    direction: fc.double({ min: 0, max: 6.28, noNaN: true }),
    sweep: fc.double({ min: 0.01, max: 6.2832, noNaN: true }),
    clockwise: fc.boolean(),
  });

  it('centre and ends agree within half the tolerance, and the path keeps to the planned circle', () => {
    const grids = fc.constantFrom(
      ...(['mm', 'inch'] as const).flatMap((unit) => [2, 3, 4, 5].map((decimals) => ({ unit, decimals }))),
    );
    fc.assert(
      fc.property(arcs, grids, fc.boolean(), ({ radius, direction, sweep, clockwise }, grid, fullCircles) => {
        const centre = { x: from.x + radius * Math.cos(direction), y: from.y + radius * Math.sin(direction) };
        const end = direction + Math.PI + (clockwise ? -sweep : sweep);
        const to = { x: centre.x + radius * Math.cos(end), y: centre.y + radius * Math.sin(end), z: -1 };
        const moves: Move[] = [
          { kind: 'rapid', to: from },
          { kind: 'arc', to, centre, clockwise, feed: 60 },
        ];
        const reading = readProgram(writeProgram(PART, oneStep(moves), profileOf({ ...grid, fullCircles })));
        expect(reading.faults).toEqual([]);
        const count = (grid.unit === 'inch' ? 25.4 : 1) / 10 ** grid.decimals;
        const tolerance = grid.unit === 'inch' ? 0.0002 * 25.4 : 0.002;
        let turned = 0;
        for (const m of reading.motions.filter((m) => m.kind !== 'rapid')) {
          const c = m.centre ?? centre;
          const r1 = Math.hypot(m.from.x - c.x, m.from.y - c.y);
          const r2 = Math.hypot(m.to.x - c.x, m.to.y - c.y);
          if (m.kind === 'arc') expect(Math.abs(r1 - r2)).toBeLessThan(tolerance / 2 + 1e-9);
          const start = Math.atan2(m.from.y - c.y, m.from.x - c.x);
          for (let k = 0; k <= 8; k++) {
            const x =
              m.kind === 'arc'
                ? c.x + r1 * Math.cos(start + (m.sweep! * k) / 8)
                : m.from.x + ((m.to.x - m.from.x) * k) / 8;
            const y =
              m.kind === 'arc'
                ? c.y + r1 * Math.sin(start + (m.sweep! * k) / 8)
                : m.from.y + ((m.to.y - m.from.y) * k) / 8;
            expect(Math.abs(Math.hypot(x - centre.x, y - centre.y) - radius)).toBeLessThan(1.6 * count);
          }
          if (m.kind === 'arc') turned += Math.abs(m.sweep!);
        }
        if (radius > 20 * count && sweep > 1) expect(turned).toBeLessThan(sweep + 0.5);
      }),
      { numRuns: 1000 },
    );
  });

  it.each([
    ['up to three quarters of a turn, at three decimals,', 3, 0.3, 4.7, 1.02],
    ['short, at two decimals,', 2, 0.1, 0.5, 1.1],
  ])('arcs %s are nearly all one block', (_, decimals, least, most, share) => {
    let blocks = 0;
    let count = 0;
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 100, noNaN: true }),
        fc.double({ min: 0, max: 6.28, noNaN: true }),
        fc.double({ min: least, max: most, noNaN: true }),
        (radius, direction, sweep) => {
          const centre = { x: radius * Math.cos(direction), y: radius * Math.sin(direction) };
          const end = direction + Math.PI + sweep;
          const to = { x: centre.x + radius * Math.cos(end), y: centre.y + radius * Math.sin(end), z: 0 };
          const moves: Move[] = [
            { kind: 'rapid', to: { x: 0, y: 0, z: 0 } },
            { kind: 'arc', to, centre, clockwise: false, feed: 60 },
          ];
          const { motions } = readProgram(writeProgram(PART, oneStep(moves), profileOf({ decimals })));
          blocks += motions.filter((m) => m.kind !== 'rapid').length;
          count++;
        },
      ),
      { numRuns: 500, seed: 7 },
    );
    expect(blocks).toBeLessThan(count * share);
    expect(blocks).toBeGreaterThanOrEqual(count);
  });

  it('rounds hardly larger than the last decimal are lines or nothing, never nonsense', () => {
    const tiny = fc.tuple(
      ...([0.3, 0, 0, 0.1] as const).map((min, k) =>
        fc.double({ min, max: [3, 1, 1, 6.28][k]!, noNaN: true }),
      ),
    );
    fc.assert(
      fc.property(tiny, ([radius, dx, dy, sweep]) => {
        const centre = { x: (dx! + radius!) / 100, y: dy! / 100 };
        const end = Math.PI + sweep!;
        const to = {
          x: centre.x + (radius! / 100) * Math.cos(end),
          y: centre.y + (radius! / 100) * Math.sin(end),
          z: 0,
        };
        const moves: Move[] = [
          { kind: 'rapid', to: { x: dx! / 100, y: dy! / 100, z: 0 } },
          { kind: 'arc', to, centre, clockwise: false, feed: 60 },
        ];
        const reading = readProgram(writeProgram(PART, oneStep(moves), profileOf({ decimals: 2 })));
        expect(reading.faults).toEqual([]);
        for (const m of reading.motions) {
          expect(Math.hypot(m.to.x - centre.x, m.to.y - centre.y)).toBeLessThan((radius! + 1) / 100);
          expect(Math.abs(m.sweep ?? 0)).toBeLessThan(6.2);
        }
      }),
      { numRuns: 2000 },
    );
  });

  it('a full turn is one block or two halves, as the form says, whichever way it goes', () => {
    const rounds = (fullCircles: boolean, clockwise: boolean): string[] => {
      const moves: Move[] = [
        { kind: 'rapid', to: { x: 5, y: 0, z: 0 } },
        { kind: 'arc', to: { x: 5, y: 0, z: -1 }, centre: { x: 0, y: 0 }, clockwise, feed: 60 },
      ];
      return code(writeProgram(PART, oneStep(moves), profileOf({ fullCircles }))).filter((l) =>
        l.includes('I'),
      );
    };
    expect(rounds(true, false)).toEqual(['G3 X5.0 Y0.0 Z-1.0 I-5.0 J0.0 F60.0']);
    expect(rounds(true, true)).toEqual(['G2 X5.0 Y0.0 Z-1.0 I-5.0 J0.0 F60.0']);
    expect(rounds(false, false)).toEqual(['G3 X-5.0 Z-0.5 I-5.0 J0.0 F60.0', 'X5.0 Z-1.0 I5.0 J0.0']);
    expect(rounds(false, true)).toEqual(['G2 X-5.0 Z-0.5 I-5.0 J0.0 F60.0', 'X5.0 Z-1.0 I5.0 J0.0']);
  });

  it.each([
    [0, 'G3 X-5.0 I-5.0 J0.0 F60.0'],
    [90, 'G3 Y-5.0 I0.0 J-5.0 F60.0'],
    [180, 'G3 X5.0 I5.0 J0.0 F60.0'],
    [270, 'G3 Y5.0 I0.0 J5.0 F60.0'],
  ])('half a turn from %i° is one block, whichever of X and Y stays', (degrees, block) => {
    const [x, y] = [[5, 0, -5, 0][degrees / 90]!, [0, 5, 0, -5][degrees / 90]!];
    const moves: Move[] = [
      { kind: 'rapid', to: { x, y, z: 0 } },
      { kind: 'arc', to: { x: -x, y: -y, z: 0 }, centre: { x: 0, y: 0 }, clockwise: false, feed: 60 },
    ];
    const lines = code(writeProgram(PART, oneStep(moves), profileOf()));
    expect(lines.filter((l) => l.includes('I'))).toEqual([block]);
  });

  it.each([
    ['X', { x: 0.05, y: 0 }, { x: 0, y: 500 }],
    ['Y', { x: 0, y: 0.05 }, { x: -500, y: 0 }],
  ])('an arc flatter than the last decimal is a line, along %s alone too', (axis, to, centre) => {
    const angle = 0.05 / 500;
    const [sin, cos] = [500 * Math.sin(angle), 500 * (1 - Math.cos(angle))];
    const end = axis === 'X' ? { x: sin, y: cos } : { x: -cos, y: sin };
    const moves: Move[] = [
      { kind: 'rapid', to: { x: 0, y: 0, z: 0 } },
      { kind: 'arc', to: { ...end, z: 0 }, centre, clockwise: false, feed: 60 },
    ];
    const lines = code(writeProgram(PART, oneStep(moves), profileOf()));
    expect(lines).toContain(`G1 ${axis}${Math.max(to.x, to.y)} F60.0`);
  });

  it('a helix too fine for the decimals still goes down', () => {
    const moves: Move[] = [
      { kind: 'rapid', to: { x: 5, y: 0, z: 0 } },
      { kind: 'arc', to: { x: 5, y: 0, z: -2 }, centre: { x: 4.9997, y: 0 }, clockwise: false, feed: 60 },
    ];
    expect(code(writeProgram(PART, oneStep(moves), profileOf()))).toContain('G1 Z-2.0 F60.0');
  });

  it('an arc whose ends round to one place is not blown up into a full turn', () => {
    const moves: Move[] = [
      { kind: 'rapid', to: { x: 5, y: 0, z: 0 } },
      {
        kind: 'arc',
        to: { x: 5 * Math.cos(4e-5), y: 5 * Math.sin(4e-5), z: 0 },
        centre: { x: 0, y: 0 },
        clockwise: false,
        feed: 60,
      },
    ];
    const { motions } = readProgram(writeProgram(PART, oneStep(moves), profileOf()));
    expect(motions.filter((m) => m.kind !== 'rapid')).toEqual([]);
  });
});

describe('what no program can hold', () => {
  const rapid: Move = { kind: 'rapid', to: { x: 0, y: 0, z: 1 } };
  it.each<[string, Move[]]>([
    ['a place that is no number', [{ kind: 'rapid', to: { x: Number.NaN, y: 0, z: 1 } }]],
    ['a place beyond reach', [rapid, { kind: 'feed', to: { x: 1e9, y: 0, z: 1 }, feed: 60 }]],
    ['a feed of nought', [rapid, { kind: 'feed', to: { x: 1, y: 0, z: 1 }, feed: 0 }]],
    ['a feed that is no number', [rapid, { kind: 'feed', to: { x: 1, y: 0, z: 1 }, feed: Number.NaN }]],
    [
      'an arc with ends of unlike radius',
      [rapid, { kind: 'arc', to: { x: 9, y: 0, z: 1 }, centre: { x: 4, y: 0 }, clockwise: true, feed: 60 }],
    ],
    [
      'an arc of no radius',
      [rapid, { kind: 'arc', to: { x: 0, y: 0, z: 1 }, centre: { x: 0, y: 0 }, clockwise: true, feed: 60 }],
    ],
    [
      'an arc without a start',
      [{ kind: 'arc', to: { x: 9, y: 0, z: 1 }, centre: { x: 4, y: 0 }, clockwise: true, feed: 60 }],
    ],
  ])('%s is refused and not written', (_, moves) => {
    expect(() => writeProgram(PART, oneStep(moves), profileOf())).toThrow(RangeError);
  });

  it.each([0, 0.4, -800, 2e6, Number.NaN, Number.POSITIVE_INFINITY])('a speed of %s is refused', (speed) => {
    const setup = oneStep([rapid]);
    const still = { ...setup, steps: setup.steps.map((s) => ({ ...s, speed })) };
    expect(() => writeProgram(PART, still, profileOf())).toThrow(/job step "fork".*speed/);
  });

  it.each([-60, 2e6, Number.POSITIVE_INFINITY])('a feed of %s is refused', (feed) => {
    const setup = oneStep([rapid, { kind: 'feed', to: { x: 1, y: 0, z: 1 }, feed }]);
    expect(() => writeProgram(PART, setup, profileOf())).toThrow(/job step "fork".*feed/);
  });
});

describe('time', () => {
  it('lengths over feeds, rapids, dwells, and a minute for each cutter and stop', () => {
    const setup = oneStep([
      { kind: 'rapid', to: { x: 0, y: 0, z: 0 } }, // 10 mm down at 2000
      { kind: 'feed', to: { x: 30, y: 0, z: 0 }, feed: 60 }, // 30 s
      { kind: 'arc', to: { x: 30, y: 0, z: 0 }, centre: { x: 20, y: 0 }, clockwise: true, feed: 60 }, // 20 pi s
      { kind: 'stop', message: 'measure' }, // 60 s
      { kind: 'rapid', to: { x: 30, y: 20, z: 0 } }, // 20 mm
      { kind: 'drill', at: { x: 30, y: 20 }, clear: 0, depth: -6, peck: 0, dwell: 0.5, feed: 60 }, // 6 s + 0.5 s, 6 mm up
    ]);
    const rapid = ((10 + 20 + 6) / 2000) * 60;
    expect(programTime(setup, profileOf())).toBeCloseTo(60 + rapid + 30 + 20 * Math.PI + 60 + 6.5, 9);
  });

  it('a hole takes the way across and down to it, its feed, and the way back up to where it was come from', () => {
    const setup = oneStep([
      { kind: 'rapid', to: { x: 0, y: -4, z: CLEAR } },
      { kind: 'rapid', to: { x: 30, y: 36, z: CLEAR } },
      { kind: 'rapid', to: { x: 30, y: 36, z: 1 } },
      { kind: 'drill', at: { x: 30, y: 36 }, clear: 1, depth: -5, peck: 0, dwell: 0, feed: 60 },
      { kind: 'rapid', to: { x: 30, y: 36, z: CLEAR } },
    ]);
    const rapid = ((50 + (CLEAR - 1) + (CLEAR + 5)) / 2000) * 60;
    expect(programTime(setup, profileOf())).toBeCloseTo(60 + rapid + 6, 9);
  });

  it('a helix takes as long as its slope is, beside its round and below nought', () => {
    const centre = { x: 20, y: -7 };
    const setup = oneStep([
      { kind: 'rapid', to: { x: 25, y: -7, z: 2 } }, // 8 mm down at 2000
      { kind: 'arc', to: { x: 25, y: -7, z: -4 }, centre, clockwise: true, feed: 60 },
    ]);
    const slope = Math.hypot(10 * Math.PI, 6);
    expect(programTime(setup, profileOf())).toBeCloseTo(60 + (8 / 2000) * 60 + slope, 9);
  });
});

describe('file names', () => {
  it.each([
    ['Vent latch lever', 'vent-latch-lever-setup-2.ngc'],
    ['  Öse / Hebel #3 ', 'ose-hebel-3-setup-2.ngc'],
    ['../../etc/passwd', 'etc-passwd-setup-2.ngc'],
    ['', 'part-setup-2.ngc'],
    ['杆', 'part-setup-2.ngc'],
    ['a'.repeat(300), `${'a'.repeat(60)}-setup-2.ngc`],
  ])('%s', (name, file) => {
    const { setup } = oneStep([]);
    expect(programFileName({ name }, { setup: { ...setup, number: 2 } })).toBe(file);
  });
});
