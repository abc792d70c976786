import { describe, expect, test } from 'vitest';
import { dialTable, turningWords } from '../../gcode/table/dials.ts';
import { edgeTouch } from '../../gcode/table/edge-finder.ts';
import {
  type NibbleTable,
  nibbleRound,
  nibbleStraight,
  roundCusp,
  straightCusp,
} from '../../gcode/table/nibble.ts';
import { rotaryTable } from '../../gcode/table/rotary.ts';
import { armAngles, sineBar, swivelSetting, swivelWords } from '../../gcode/table/sine-bar.ts';
import { radians } from '../../sketch/part/units.ts';
import { polar } from '../../sketch/shape/point.ts';
import { readScrew, type Screw, type ScrewEntry } from '../../toolpath/machine/screw.ts';

/** So many stops once round a circle of diameter 1, the first at the top, and on clockwise, read down from its middle. */
const circleOf = (count: number): readonly (readonly [number, number])[] => {
  const ring = {
    centre: { x: 0, y: 0 },
    radius: 1,
    side: 'inside' as const,
    from: Math.PI / 2,
    sweep: -2 * Math.PI,
  };
  const made = nibbleRound(ring, 1, { kind: 'stops', count });
  if (!made.ok) throw new Error(made.findings[0]?.message);
  return made.table.stops.map(({ at }) => [at.x, at.y] as const);
};

describe('Coordinates of holes on a circle of diameter 1 (Machinery’s Handbook, jig boring factors; values from memory)', () => {
  test.each<[number, readonly (readonly [number, number])[]]>([
    [
      3,
      [
        [0, 0.5],
        [0.43301, -0.25],
        [-0.43301, -0.25],
      ],
    ],
    [
      5,
      [
        [0, 0.5],
        [0.47553, 0.15451],
        [0.29389, -0.40451],
        [-0.29389, -0.40451],
        [-0.47553, 0.15451],
      ],
    ],
    [
      7,
      [
        [0, 0.5],
        [0.39092, 0.31174],
        [0.48746, -0.11126],
        [0.21694, -0.45048],
        [-0.21694, -0.45048],
        [-0.48746, -0.11126],
        [-0.39092, 0.31174],
      ],
    ],
  ])('%d stops', (count, printed) => {
    const made = circleOf(count);
    expect(made).toHaveLength(count);
    printed.forEach(([x, y], i) => {
      // Printed to five places, rounded.
      expect(Math.abs(made[i]![0] - x)).toBeLessThan(0.0000055);
      expect(Math.abs(made[i]![1] - y)).toBeLessThan(0.0000055);
    });
  });

  test.each([
    [3, 0.866025],
    [5, 0.587785],
    [6, 0.5],
    [7, 0.433884],
    [9, 0.34202],
    [12, 0.258819],
  ])(
    '%d stops lie a chord of %d apart (the same handbook’s table of chords; values from memory)',
    (count, chord) => {
      const [a, b] = circleOf(count) as [readonly [number, number], readonly [number, number]];
      expect(Math.abs(Math.hypot(a[0] - b[0], a[1] - b[1]) - chord)).toBeLessThan(0.00000055);
    },
  );

  test('polar to rectangular: 6 holes by 0.5 and 0.86603 of the radius (J. A. Nilsson, Bolt Circle Coordinate Calculations)', () => {
    for (const [turn, x, y] of [
      [0, 1, 0],
      [60, 0.5, 0.86603],
      [120, -0.5, 0.86603],
      [240, -0.5, -0.86603],
    ] as const) {
      const at = polar({ x: 0, y: 0 }, 1, radians(turn));
      expect(Math.abs(at.x - x)).toBeLessThan(0.0000055);
      expect(Math.abs(at.y - y)).toBeLessThan(0.0000055);
    }
  });
});

describe('Cusps against closed forms', () => {
  test('round an outside radius: (R + c) cos(θ/2) − √(c² − ((R + c) sin(θ/2))²) − R (elementary geometry)', () => {
    for (const [R, c, deg] of [
      [8, 3, 10],
      [8, 3, 25],
      [12, 5, 7],
      [4, 8, 30],
    ] as const) {
      const t = radians(deg) / 2;
      const printed = (R + c) * Math.cos(t) - Math.sqrt(c * c - ((R + c) * Math.sin(t)) ** 2) - R;
      expect(roundCusp({ radius: R, side: 'outside' }, c, radians(deg))).toBeCloseTo(printed, 12);
      // And a table made to that very cusp takes that very step.
      const edge = {
        centre: { x: 0, y: 0 },
        radius: R,
        side: 'outside' as const,
        from: 0,
        sweep: radians(deg) * 6,
      };
      const made = nibbleRound(edge, 2 * c, { kind: 'cusp', height: printed });
      expect(made.ok && made.table.stops.length).toBe(7);
    }
  });

  test('inside a radius, by two circles met by the law of cosines (elementary geometry)', () => {
    for (const [R, c, deg] of [
      [8, 3, 20],
      [8, 7, 60],
      [10, 4, 40],
    ] as const) {
      const cusp = roundCusp({ radius: R, side: 'inside' }, c, radians(deg));
      const crest = R - cusp;
      const a = R - c;
      expect(a * a + crest * crest - 2 * a * crest * Math.cos(radians(deg) / 2)).toBeCloseTo(c * c, 10);
      expect(crest).toBeGreaterThan(a * Math.cos(radians(deg) / 2));
    }
  });

  test.each([
    [0.5, 0.1, 0.003],
    [1, 0.5, 0.032],
    [5, 1, 0.025],
    [10, 1, 0.013],
  ])(
    'straight: cutter radius %d, step %d leaves %d (R (1 − cos(arcsin(P / 2R))), pick-feed tables of cutter makers; values from memory)',
    (radius, step, cusp) => {
      const exact = radius * (1 - Math.cos(Math.asin(step / (2 * radius))));
      expect(straightCusp(radius, step)).toBeCloseTo(exact, 12);
      expect(Math.abs(exact - cusp)).toBeLessThanOrEqual(0.0005);
      const edge = { from: { x: 0, y: 0 }, to: { x: 8 * step, y: 0 }, clear: 'left' as const };
      const made = nibbleStraight(edge, 2 * radius, { kind: 'cusp', height: exact });
      const table = made.ok ? made.table : ({ stops: [] } as Partial<NibbleTable>);
      expect(table.stops).toHaveLength(9);
    },
  );

  test('a round edge of very large radius nibbles like a straight one', () => {
    const step = 1.5;
    const R = 1e6;
    expect(roundCusp({ radius: R, side: 'outside' }, 4, step / (R + 4))).toBeCloseTo(
      straightCusp(4, step),
      6,
    );
    expect(roundCusp({ radius: R, side: 'inside' }, 4, step / (R - 4))).toBeCloseTo(straightCusp(4, step), 6);
  });
});

describe('Sine bars and swivels', () => {
  const inches = (length: number, degrees: number): number => {
    const made = sineBar(length * 25.4, radians(degrees), 'inch');
    if (!made.ok) throw new Error(made.findings[0]?.message);
    return made.setting.stack / 25.4;
  };

  test('5 in at 34° 25′: 2.826 in (Walsh, Handbook of Machining and Metalworking Calculations, chapter 4)', () => {
    expect(inches(5, 34 + 25 / 60)).toBeCloseTo(2.826, 3);
  });

  test('5 in at 27°: 2.270 in (a measuring-tool maker’s answer on sine plates, higherprecision.com)', () => {
    expect(inches(5, 27)).toBeCloseTo(2.27, 3);
  });

  test('5 in at 18°: 1.545 in (shopdawg.com, the sine bar rule)', () => {
    expect(inches(5, 18)).toBeCloseTo(1.545, 3);
  });

  test('5 in at 30°: 2.5000 in, to blocks’ last figure (sine bar constants, value from memory)', () => {
    expect(inches(5, 30)).toBeCloseTo(2.5, 9);
  });

  test('an arm that narrows by a tenth leans 5° 44′, whose sine is 0.0999 (table of natural sines, value from memory)', () => {
    const arm = armAngles({ centre: { x: 0, y: 0 }, radius: 9 }, { centre: { x: 50, y: 0 }, radius: 4 })!;
    expect(swivelWords(swivelSetting(arm.lean, 1))).toBe('5° 44′');
    expect(Math.sin(radians(5 + 44 / 60))).toBeCloseTo(0.0999, 4);
  });
});

describe('Dial arithmetic', () => {
  const screwOf = (entry: Omit<ScrewEntry, 'direction' | 'backlash'>): Screw => {
    const made = readScrew({ ...entry, direction: 'rises', backlash: 0 });
    if (!made.ok) throw new Error(made.findings[0]?.message);
    return made.screw;
  };
  const said = (screw: Screw, mm: number): string => {
    const made = dialTable(screw, [mm], { arrive: 'rising' });
    if (!made.ok) throw new Error(made.findings[0]?.message);
    return turningWords(made.rows[0]!.turning);
  };

  test('40 threads an inch go 0.025 in a turn (Britannica, micrometer); 25 lines make each 0.001 in', () => {
    const screw = screwOf({ unit: 'inch', pitch: 1 / 40, divisions: 25 });
    expect(screw.division / 25.4).toBeCloseTo(0.001, 12);
    expect(said(screw, 0.267 * 25.4)).toBe('10 turns + 17, figures rising, to 17');
  });

  test('a screw of 0.5 mm and 100 lines sets 0.005 mm; 0.5 mm and 50 lines 0.01 mm (school texts on the screw gauge)', () => {
    expect(screwOf({ unit: 'mm', pitch: 0.5, divisions: 100 }).division).toBeCloseTo(0.005, 12);
    expect(screwOf({ unit: 'mm', pitch: 0.5, divisions: 50 }).division).toBeCloseTo(0.01, 12);
    // 6.5 mm on the sleeve and 42 on the thimble read 6.92 mm: 13 half-millimetre turns and 42.
    expect(said(screwOf({ unit: 'mm', pitch: 0.5, divisions: 50 }), 6.92)).toBe(
      '13 turns + 42, figures rising, to 42',
    );
  });

  test('a table screw of 5 threads an inch and 200 lines goes 1 in in 5 turns (value from memory)', () => {
    expect(said(screwOf({ unit: 'inch', pitch: 0.2, divisions: 200 }), 25.4)).toBe(
      '5 turns, figures rising, to 0',
    );
  });
});

describe('Rotary tables', () => {
  test.each([
    [90, 4],
    [72, 5],
    [60, 6],
    [40, 9],
  ])('%d : 1 turns %d° for one turn of the handwheel (value from memory)', (ratio, perTurn) => {
    const edge = {
      centre: { x: 0, y: 0 },
      radius: 10,
      side: 'outside' as const,
      from: 0,
      sweep: radians(perTurn),
    };
    const mount = {
      toward: '+X' as const,
      figuresRise: 'clockwise' as const,
      zero: 0,
      ratio,
      backlash: 0,
      cut: 'conventional' as const,
    };
    const made = rotaryTable(edge, 6, mount, [0], 50);
    expect(made.ok && made.table.handTurns).toBeCloseTo(1, 9);
    expect(made.ok && made.table.passes[0]!.seconds).toBeCloseTo(
      made.ok ? made.table.passes[0]!.secondsPerTurn : 0,
      9,
    );
  });

  test('conventional is anticlockwise round an outside edge for a right-hand cutter, so the work turns clockwise (any machinist’s handbook)', () => {
    const edge = { centre: { x: 0, y: 0 }, radius: 10, side: 'outside' as const, from: 0, sweep: 2 };
    const mount = {
      toward: '+X' as const,
      figuresRise: 'clockwise' as const,
      zero: 0,
      ratio: 72,
      backlash: 0.01,
      cut: 'conventional' as const,
    };
    const made = rotaryTable(edge, 6, mount, [0], 50);
    expect(made).toMatchObject({
      ok: true,
      table: { turn: 'clockwise', figures: 'rise', start: 0, stop: 2 },
    });
  });
});

describe('Edge finders (common practice, no source)', () => {
  test('half the diameter lies on the approach side: a 0.200 in tip from the left sets −0.100 in', () => {
    const made = edgeTouch('left', 0, 0.2 * 25.4, 'inch');
    expect(made.ok && made.setting.set / 25.4).toBeCloseTo(-0.1, 9);
  });
});
