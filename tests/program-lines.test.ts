import { describe, expect, it } from 'vitest';
import { safeComment } from '../gcode/program/comment.ts';
import { CAUTIONS } from '../gcode/program/header.ts';
import { writeProgram } from '../gcode/program/write.ts';
import { readProgram } from '../gcode/reading/read.ts';
import type { Move, PlannedSetup } from '../toolpath/passes/pass.ts';
import type { Fastening } from '../toolpath/route/route.ts';
import { CLEAR, cutter, oneStep, PART, profileOf, setupOf } from './random-moves.ts';

// What leaves for the machine, line for line: a word lost from it, or one too many, is seen here.

const mill = oneStep([
  { kind: 'rapid', to: { x: -4, y: 2, z: 1 } },
  { kind: 'feed', to: { x: -4, y: 2, z: -1 }, feed: 50 },
  { kind: 'arc', to: { x: 4, y: 2, z: -1 }, centre: { x: 0, y: 2 }, clockwise: true, feed: 120 },
  { kind: 'stop', message: 'measure the fork' },
  { kind: 'feed', to: { x: 4, y: -3, z: -1 }, feed: 120 },
]).steps[0]!;
const bored = oneStep(
  [4, 12].flatMap((x): Move[] => [
    { kind: 'rapid', to: { x, y: 0, z: CLEAR } },
    { kind: 'rapid', to: { x, y: 0, z: 1 } },
    { kind: 'drill', at: { x, y: 0 }, clear: 1, depth: -5, peck: 2, dwell: 0, feed: 60 },
  ]),
).steps[0]!;
const two = setupOf([
  mill,
  { ...bored, step: { ...bored.step, name: 'pin holes' }, cutter: cutter(7, 'drill') },
]);

const MM_AND_CYCLES = `(Part: Rocker)
(Setup 1, front face up. Machine: bench mill)
(Bar: brass, 80.0 x 20.0 x 8.0 mm)
(Datum: left near corner of the bar as you look down on it, Z zero at the top)
(  of the work, work offset G54.)
(Hold: vice, jaws from X0.0 to X80.0, 3.0 mm of the work gripped, jaws bear)
(  on the bar, no parallels.)
(T1 5.0 mm endmill, 3 flutes, carbide [cutter 1])
(T7 5.0 mm drill, carbide [cutter 7])
(No tool lengths are used: set Z zero afresh with each cutter.)
(Motion of the tip: X -4.0 to 12.0, Y -3.0 to 6.0, Z -5.0 to 10.0 mm)
(Time: about 3 min, 1 min of it for each cutter and stop.)
(Take care: eye protection on, no gloves, loose sleeves or loose hair near)
(  the spindle.)
(Clamp the work and try its hold. Run the program once well above the work, a)
(  hand on the stop.)
(Chips are sharp and hot: use a brush. Stop the spindle before measuring or)
(  reaching in.)
(Times and forces are estimates. The machine's manual, local rules and)
(  trained practice come first.)
N10 G17 G21 G40 G49 G54 G80 G90 G94
(Job step 1 of 2: fork, with T1 5.0 mm endmill, 3 flutes, carbide [cutter 1].)
(A run may be begun at the next line, with the work as the steps before leave it.)
N20 G17 G21 G40 G49 G54 G80 G90 G94
N30 M5 M9
N40 T1 M6
(MSG, Check that this is in the spindle: T1 5.0 mm endmill, 3 flutes, carbide [cutter 1]. Set Z zero at the top of the work, then start)
N50 M0
N60 S800 M3
N70 M8
N80 G0 Z10.0
(STEP fork - PASS 1 OF 1 ROUGH)
(Tip down to Z-1.0, support web 0.8 mm under it)
N90 X-4.0 Y2.0
N100 Z1.0
N110 G1 Z-1.0 F50.0
N120 G2 X4.0 I4.0 J0.0 F120.0
N130 M5 M9
(MSG, measure the fork)
N140 M0
N150 S800 M3
N160 M8
N170 G1 Y-3.0
N180 G0 Z10.0
(Job step 2 of 2: pin holes, with T7 5.0 mm drill, carbide [cutter 7].)
(A run may be begun at the next line, with the work as the steps before leave it.)
N190 G17 G21 G40 G49 G54 G80 G90 G94
N200 M5 M9
N210 T7 M6
(MSG, Check that this is in the spindle: T7 5.0 mm drill, carbide [cutter 7]. Set Z zero at the top of the work, then start)
N220 M0
N230 S800 M3
N240 M8
N250 G0 Z10.0
(STEP pin holes - PASS 1 OF 1 ROUGH)
(Tip down to Z-1.0, support web 0.8 mm under it)
N260 X4.0 Y0.0
N270 G98 G83 X4.0 Y0.0 Z-5.0 R1.0 Q2.0 F60.0
N280 G80
N290 G99 G83 X12.0 Y0.0 Z-5.0 R1.0 Q2.0
N300 G80
N310 G0 Z10.0
(End)
N320 M5
N330 M9
N340 M30`;

const INCH_AND_SPELT_OUT = `(Part: Rocker)
(Setup 2, back face up, turned over about the X axis so that left stays left.)
(  Machine: bench mill)
(Bar: brass, 3.1496 x 0.7874 x 0.315 inch)
(Datum: middle of the bar as you look down on it, Z zero at the top of the)
(  work, work offset G55.)
(Hold: vice, jaws from X0.0 to X3.1496, 0.1181 in of the work gripped, jaws)
(  bear on the bar, no parallels.)
(T1 0.1969 in endmill, 3 flutes, carbide [cutter 1])
(T7 0.1969 in drill, carbide [cutter 7])
(No tool lengths are used: set Z zero afresh with each cutter.)
(Motion of the tip: X -0.1575 to 0.4724, Y -0.1181 to 0.2362, Z -0.1969 to)
(  0.3937 inch)
(Time: about 3 min, 1 min of it for each cutter and stop.)
(Take care: eye protection on, no gloves, loose sleeves or loose hair near)
(  the spindle.)
(Clamp the work and try its hold. Run the program once well above the work, a)
(  hand on the stop.)
(Chips are sharp and hot: use a brush. Stop the spindle before measuring or)
(  reaching in.)
(Times and forces are estimates. The machine's manual, local rules and)
(  trained practice come first.)
G17 G20 G40 G49 G55 G80 G90 G94
(Job step 1 of 2: fork, with T1 0.1969 in endmill, 3 flutes, carbide [cutter)
(  1].)
(A run may be begun at the next line, with the work as the steps before leave it.)
G17 G20 G40 G49 G55 G80 G90 G94
M5
T1
(MSG, Fit T1 0.1969 in endmill, 3 flutes, carbide [cutter 1]. Set Z zero at the top of the work, then start)
M0
S800 M3
G0 Z0.3937
(STEP fork - PASS 1 OF 1 ROUGH)
(Tip down to Z-0.0394, support web 0.0315 inch under it)
X-0.1575 Y0.0787
Z0.0394
G1 Z-0.0394 F1.97
X-0.0787 Y0.2151 F4.72
X0.0787
X0.1575 Y0.0787
M5
(MSG, measure the fork)
M0
S800 M3
Y-0.1181
G0 Z0.3937
(Job step 2 of 2: pin holes, with T7 0.1969 in drill, carbide [cutter 7].)
(A run may be begun at the next line, with the work as the steps before leave it.)
G17 G20 G40 G49 G55 G80 G90 G94
M5
T7
(MSG, Fit T7 0.1969 in drill, carbide [cutter 7]. Set Z zero at the top of the work, then start)
M0
S800 M3
G0 Z0.3937
(STEP pin holes - PASS 1 OF 1 ROUGH)
(Tip down to Z-0.0394, support web 0.0315 inch under it)
X0.1575 Y0.0
Z0.0394
G1 Z-0.0394 F2.36
G0 Z0.3937
Z-0.0295
G1 Z-0.1181
G0 Z0.3937
Z-0.1083
G1 Z-0.1969
G0 Z0.3937
X0.4724
Z0.0394
G1 Z-0.0394
G0 Z0.0394
Z-0.0295
G1 Z-0.1181
G0 Z0.0394
Z-0.1083
G1 Z-0.1969
G0 Z0.0394
Z0.3937
(End)
M5
M9
M30`;

describe('a program, line for line', () => {
  it('in mm, with arcs, cycles, coolant, line numbers and a changer', () => {
    const profile = profileOf({ coolant: 'flood', lineNumbers: true });
    expect(writeProgram(PART, two, profile)).toBe(`${MM_AND_CYCLES}\n`);
  });

  it('in inches, of lines only, with every peck spelt out and cutters fitted by hand, the bar turned over', () => {
    const setup: PlannedSetup = {
      ...two,
      setup: { ...two.setup, face: 'back', datum: 'centre', number: 2, workOffset: 'G55' },
    };
    const profile = profileOf({
      unit: 'inch',
      decimals: 4,
      toolChange: 'stop-and-prompt',
      drilling: 'spelled-out',
      arcs: 'lines',
      chord: 1,
    });
    expect(writeProgram(PART, setup, profile)).toBe(`${INCH_AND_SPELT_OUT}\n`);
  });
});

describe('the head of a program', () => {
  const headOf = (setup: PlannedSetup, form: Parameters<typeof profileOf>[0] = {}): string =>
    writeProgram(PART, setup, profileOf(form))
      .split('\n(Job step')[0]!
      .replace(/\)\n\( ?/g, ' ')
      .replace(/ +/g, ' ');
  const onPlate = (fastening: Fastening): PlannedSetup => ({
    ...two,
    setup: { ...two.setup, hold: { kind: 'plate', fastening } },
    frame: { face: 'front', zero: { x: 40, y: 10, z: 8 } },
  });

  it('tells a plate’s fastening and each of its places from the datum', () => {
    const places = [
      { x: 45, y: 7, hole: null },
      { x: 10, y: 10.5, hole: null },
    ];
    expect(headOf(onPlate({ kind: 'tape', shear: 1, peel: 1 }))).toContain(
      'Hold: on a plate, tape and glue over all of the underside.',
    );
    expect(headOf(onPlate({ kind: 'screws', thread: 'M4', places }))).toContain(
      'Hold: on a plate, M4 socket head screws at X5.0 Y-3.0, X-30.0 Y0.5.',
    );
    expect(headOf(onPlate({ kind: 'clamps', force: 800, places }))).toContain(
      'Hold: on a plate, toe clamps at X5.0 Y-3.0, X-30.0 Y0.5.',
    );
  });

  it('tells jaws from the datum, and where the parallels lie', () => {
    const { hold } = two.setup;
    if (hold.kind !== 'vice') throw new Error('no vice is proposed');
    const held: PlannedSetup = {
      ...two,
      frame: { face: 'front', zero: { x: 10, y: 0, z: 8 } },
      setup: { ...two.setup, hold: { ...hold, parallels: { height: 20, thickness: 3, offset: -6.5 } } },
    };
    expect(headOf(held)).toContain(
      'jaws from X-10.0 to X70.0, 3.0 mm of the work gripped, jaws bear on the bar',
    );
    expect(headOf(held)).toContain(
      "parallels 20.0 high and 3.0 thick, their middles 6.5 mm each side of the bar's middle.",
    );
  });

  it.each([
    ['left-near', 'left near corner of the bar'],
    ['left-far', 'left far corner of the bar'],
    ['right-near', 'right near corner of the bar'],
    ['right-far', 'right far corner of the bar'],
    ['centre', 'middle of the bar'],
  ] as const)('names the datum %s', (datum, words) => {
    expect(headOf({ ...two, setup: { ...two.setup, datum } })).toContain(
      `Datum: ${words} as you look down on it`,
    );
  });

  it('names every cutter once, a hand tap by its thread', () => {
    const tap = { ...bored, cutter: { ...cutter(9, 'tap'), designation: 'M3' } };
    const head = headOf(setupOf([mill, tap, mill, { ...bored, cutter: cutter(7, 'reamer') }]));
    expect(head.match(/T\d [^\]]*\]/g)).toEqual([
      'T1 5.0 mm endmill, 3 flutes, carbide [cutter 1]',
      'T9 hand tap M3 [cutter 9]',
      'T7 5.0 mm reamer, carbide [cutter 7]',
    ]);
  });

  it.each([
    [0, '1 min'],
    [600, '11 min'],
    [5200, '88 min'],
    [5400, '1.5 h'],
    [18000, '5.0 h'],
  ])('a cut of %i s makes it about %s, the cutter’s minute in it', (seconds, words) => {
    const setup = oneStep([
      { kind: 'rapid', to: { x: 0, y: 0, z: CLEAR } },
      { kind: 'feed', to: { x: seconds / 60, y: 0, z: CLEAR }, feed: 1 },
    ]);
    expect(headOf(setup)).toContain(`Time: about ${words}, 1 min of it for each cutter and stop.`);
  });

  it('tells how far the tip goes: over the top of a round, to the bottom of a hole, up to the clear height', () => {
    const arc = (from: number, to: number, clockwise: boolean): string => {
      const at = (a: number) => ({ x: 20 + 10 * Math.cos(a), y: 30 + 10 * Math.sin(a), z: -1 });
      const moves: Move[] = [
        { kind: 'rapid', to: at(from) },
        { kind: 'arc', to: at(to), centre: { x: 20, y: 30 }, clockwise, feed: 60 },
      ];
      return /Motion of the tip: (.*?) mm/.exec(headOf(oneStep(moves)))![1]!;
    };
    const [low, high] = [Math.PI / 6, (5 * Math.PI) / 6];
    expect(arc(low, high, false)).toBe('X 11.34 to 28.66, Y 35.0 to 40.0, Z -1.0 to 10.0');
    expect(arc(high, low, false)).toBe('X 10.0 to 30.0, Y 20.0 to 35.0, Z -1.0 to 10.0');
    expect(arc(high, low, true)).toBe('X 11.34 to 28.66, Y 35.0 to 40.0, Z -1.0 to 10.0');
    expect(headOf(setupOf([bored]))).toContain('X 4.0 to 12.0, Y 0.0 to 0.0, Z -5.0 to 10.0 mm');
    expect(headOf(oneStep([]))).toContain('with each cutter. Time: about 1 min');
  });

  it('warns of what hurts people, and says what its figures are worth', () => {
    const head = headOf(two);
    for (const danger of [
      /eye protection on/,
      /no gloves, loose sleeves or loose hair/,
      /Clamp the work and try its hold/,
      /once well above the work, a hand on the stop/,
      /Chips are sharp and hot: use a brush/,
      /Stop the spindle before measuring or reaching in/,
      /Times and forces are estimates/,
      /manual, local rules and trained practice come first/,
      /set Z zero afresh with each cutter/,
    ])
      expect(head).toMatch(danger);
    expect(CAUTIONS.every((c) => head.includes(safeComment(c)))).toBe(true);
  });
});

describe('line numbers', () => {
  const numbered = (count: number): string => {
    const moves: Move[] = [{ kind: 'rapid', to: { x: 0, y: 0, z: 1 } }];
    for (let i = 1; i <= count; i++) moves.push({ kind: 'feed', to: { x: i % 2, y: 0, z: 1 }, feed: 60 });
    return writeProgram(PART, oneStep(moves), profileOf({ lineNumbers: true }));
  };
  const numbersIn = (text: string): number[] =>
    text.split('\n').flatMap((line) => (/^[^(]/.test(line) ? [Number(/^N(\d+) /.exec(line)![1])] : []));

  it('go by tens as long as they fit, then by ones, and begin again after 99999', () => {
    const short = numbersIn(numbered(100));
    expect(short).toEqual(short.map((_, k) => 10 * (k + 1)));
    const spare = 9_999 - (short.length - 100);
    expect(numbersIn(numbered(spare)).at(-1)).toBe(99_990);
    expect(numbersIn(numbered(spare + 1)).at(-1)).toBe(10_000);
    const text = numbered(100_010);
    const long = numbersIn(text);
    expect(long).toEqual(long.map((_, k) => (k % 99_999) + 1));
    expect(readProgram(text).faults).toEqual([]);
  });
});

describe('bridges and webs', () => {
  it('are told where the step begins: their number, how long at the narrowest and how high', () => {
    const bridge = { at: { x: 0, y: 0 }, outward: { x: 0, y: 1 }, length: 9, width: 6, height: 1.2 };
    const text = writeProgram(PART, setupOf([{ ...mill, bridges: [bridge, bridge] }]), profileOf());
    expect(text).toContain(
      '(Leaves 2 bridges standing, 4.0 long and 1.2 mm high: saw and file them by)\n(  hand afterwards.)\n',
    );
    expect(writeProgram(PART, two, profileOf())).not.toContain('bridges');
  });

  it('no web, no word of it', () => {
    const bare = { ...mill, passes: mill.passes.map((p) => ({ ...p, web: null })) };
    expect(writeProgram(PART, setupOf([bare]), profileOf())).toContain('(Tip down to Z-1.0)\n');
  });
});
