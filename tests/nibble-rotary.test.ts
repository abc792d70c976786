import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { filingButtons } from '../gcode/table/filing-buttons.ts';
import type { RoundEdge } from '../gcode/table/nibble.ts';
import { type RotaryMount, type RotaryTable, rotaryTable } from '../gcode/table/rotary.ts';
import { armAngles, sineBar, swivelSetting, swivelWords } from '../gcode/table/sine-bar.ts';
import type { Hole } from '../sketch/part/part.ts';
import { degrees, radians } from '../sketch/part/units.ts';
import { type Point, polar } from '../sketch/shape/point.ts';

const FULL = 2 * Math.PI;
const END: RoundEdge = {
  centre: { x: 30, y: 5 },
  radius: 9,
  side: 'outside',
  from: radians(100),
  sweep: radians(170),
};
const MOUNT: RotaryMount = {
  toward: '+X',
  figuresRise: 'clockwise',
  zero: 0,
  ratio: 72,
  backlash: radians(0.5),
  cut: 'conventional',
};

const tableOf = (
  edge: RoundEdge,
  diameter: number,
  mount: RotaryMount,
  leaves = [1, 0.2, 0],
  feed = 60,
): RotaryTable => {
  const made = rotaryTable(edge, diameter, mount, leaves, feed);
  if (!made.ok) throw new Error(made.findings[0]?.message);
  return made.table;
};
const codes = (made: { readonly findings: readonly { readonly code: string }[] }): readonly string[] =>
  made.findings.map((f) => f.code);

const CUTTER_AT = { '+X': 0, '+Y': 90, '-X': 180, '-Y': 270 } as const;

/** Where the cutter stands in the part when the table shows a figure: the work turned back under a cutter at rest. */
const cutterInPart = (edge: RoundEdge, mount: RotaryMount, offset: number, figure: number): Point => {
  const turned = (figure - mount.zero) * (mount.figuresRise === 'anticlockwise' ? 1 : -1);
  const at = radians(CUTTER_AT[mount.toward]);
  return polar(edge.centre, Math.abs(offset), at - turned);
};

const cases = fc.record({
  edge: fc.record({
    centre: fc.constant({ x: 30, y: 5 }),
    radius: fc.double({ min: 6, max: 25, noNaN: true }),
    side: fc.constantFrom('outside' as const, 'inside' as const),
    from: fc.double({ min: -7, max: 7, noNaN: true }),
    sweep: fc.oneof(
      fc.double({ min: 0.2, max: 6, noNaN: true }),
      fc.double({ min: -6, max: -0.2, noNaN: true }),
    ),
  }),
  mount: fc.record({
    toward: fc.constantFrom('+X' as const, '-X' as const, '+Y' as const, '-Y' as const),
    figuresRise: fc.constantFrom('clockwise' as const, 'anticlockwise' as const),
    zero: fc.double({ min: 0, max: 6, noNaN: true }),
    ratio: fc.constantFrom(36, 40, 60, 72, 90, 120),
    backlash: fc.double({ min: 0, max: 0.05, noNaN: true }),
    cut: fc.constantFrom('conventional' as const, 'climb' as const),
  }),
});

describe('A round end on a rotary table', () => {
  test('puts the cutter at both ends of the edge and nowhere beyond, whatever the table and side', () => {
    fc.assert(
      fc.property(cases, ({ edge, mount }) => {
        const table = tableOf(edge, 8, mount);
        const last = table.passes.at(-1)!;
        const run = edge.side === 'outside' ? edge.radius + 4 : edge.radius - 4;
        expect(Math.abs(last.offset)).toBeCloseTo(run, 9);
        const ends = [edge.from, edge.from + edge.sweep].map((a) => polar(edge.centre, run, a));
        const places = [table.start, table.stop].map((f) => cutterInPart(edge, mount, last.offset, f));
        const near = (p: Point, q: Point): boolean => Math.hypot(p.x - q.x, p.y - q.y) < 1e-6;
        const [a, b] = ends as [Point, Point];
        const [s, t] = places as [Point, Point];
        expect((near(s, a) && near(t, b)) || (near(s, b) && near(t, a))).toBe(true);
        // Half way by the figures, the cutter is at the middle of the edge and not on the far side.
        const way = table.figures === 'rise' ? 1 : -1;
        const half = cutterInPart(edge, mount, last.offset, table.start + (way * table.sweep) / 2);
        expect(near(half, polar(edge.centre, run, edge.from + edge.sweep / 2))).toBe(true);
      }),
      { numRuns: 300 },
    );
  });

  test('turns so that teeth go with the cutter’s way over the work when conventional, against it when climbing', () => {
    fc.assert(
      fc.property(cases, ({ edge, mount }) => {
        const table = tableOf(edge, 8, mount);
        const way = table.figures === 'rise' ? 1 : -1;
        const offset = table.passes.at(-1)!.offset;
        const here = cutterInPart(edge, mount, offset, table.start);
        const next = cutterInPart(edge, mount, offset, table.start + way * 1e-5);
        const goes = { x: next.x - here.x, y: next.y - here.y };
        // The tooth at the edge, on a cutter turning clockwise: (x, y) goes (y, −x).
        const out = edge.side === 'outside' ? -1 : 1;
        const arm = { x: (here.x - edge.centre.x) * out, y: (here.y - edge.centre.y) * out };
        const tooth = { x: arm.y, y: -arm.x };
        const along = goes.x * tooth.x + goes.y * tooth.y;
        expect(along > 0).toBe(mount.cut === 'conventional');
      }),
    );
  });

  test('takes up the slack before the start, going the way it will cut', () => {
    fc.assert(
      fc.property(cases, ({ edge, mount }) => {
        const { before, start, figures } = tableOf(edge, 8, mount);
        const lead = (((figures === 'rise' ? start - before : before - start) % FULL) + FULL) % FULL;
        if (mount.backlash > 0) expect(lead).toBeGreaterThan(mount.backlash);
        expect(lead).toBeLessThan(mount.backlash + 0.2);
      }),
    );
  });

  test('states the offset with its sign, every pass’s feed and time', () => {
    const table = tableOf(END, 8, { ...MOUNT, toward: '-Y' });
    expect(table.axis).toBe('Y');
    expect(table.passes.map((p) => p.offset)).toEqual([-14, -13.2, -13]);
    const last = table.passes[2]!;
    // 60 mm/min at the cutter's centre on 13 mm.
    expect(last.feed * 13).toBeCloseTo(60, 9);
    expect(last.seconds).toBeCloseTo((60 * radians(170) * 13) / 60, 9);
    expect(last.secondsPerTurn).toBeCloseTo((radians(5) * 13 * 60) / 60, 9);
    expect(table.handTurns).toBeCloseTo(34, 9);
    const inside = tableOf({ ...END, side: 'inside' }, 8, MOUNT, [0]);
    // Inside, the edge goes faster than the cutter's centre: the feed is kept there.
    expect(inside.passes[0]!.feed * 9).toBeCloseTo(60, 9);
  });

  test('whole circles end where they began', () => {
    const table = tableOf({ ...END, sweep: FULL }, 8, MOUNT);
    expect(table.stop).toBeCloseTo(table.start, 9);
    expect(table.handTurns).toBe(72);
  });

  test.each<[string, Partial<RotaryMount>, readonly number[], number, string]>([
    ['no ratio', { ratio: 0 }, [0], 60, 'rotary-ratio'],
    ['a ratio that is no number', { ratio: Number.NaN }, [0], 60, 'rotary-ratio'],
    ['backlash below nothing', { backlash: -1 }, [0], 60, 'rotary-backlash'],
    ['no figure for square', { zero: Number.NaN }, [0], 60, 'rotary-zero'],
    ['no feed', {}, [0], 0, 'rotary-feed'],
    ['no passes', {}, [], 60, 'rotary-leave'],
    ['a pass into the part', {}, [0.2, -0.1], 60, 'rotary-leave'],
  ])('%s is named', (_, change, leaves, feed, code) => {
    const made = rotaryTable(END, 8, { ...MOUNT, ...change }, leaves, feed);
    expect(made.ok).toBe(false);
    expect(codes(made)).toEqual([code]);
  });

  test('a cutter too large for an inside radius, or with no room for what a pass leaves', () => {
    const inside = { ...END, side: 'inside' as const };
    expect(codes(rotaryTable(inside, 19, MOUNT, [0], 60))).toEqual(['nibble-cutter']);
    expect(codes(rotaryTable(inside, 17, MOUNT, [1, 0], 60))).toEqual(['rotary-leave']);
  });

  test('climbing on a table with lost motion is warned of', () => {
    expect(codes(rotaryTable(END, 8, { ...MOUNT, cut: 'climb' }, [0], 60))).toEqual(['rotary-climb']);
    expect(codes(rotaryTable(END, 8, { ...MOUNT, cut: 'climb', backlash: 0 }, [0], 60))).toEqual([]);
  });
});

describe('Arms at an angle', () => {
  test('their sides touch both ends', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -180, max: 180, noNaN: true }),
        fc.double({ min: 2, max: 15, noNaN: true }),
        fc.double({ min: 2, max: 15, noNaN: true }),
        (turn, r1, r2) => {
          const from = { centre: { x: 3, y: -2 }, radius: r1 };
          const to = { centre: polar(from.centre, 40, radians(turn)), radius: r2 };
          const arm = armAngles(from, to)!;
          for (const [direction, side] of [
            [arm.left, 1],
            [arm.right, -1],
          ] as const) {
            // A line in that direction through the place square off the first end passes the second at its radius.
            const normal = { x: -Math.sin(direction) * side, y: Math.cos(direction) * side };
            const reach = (to.centre.x - from.centre.x) * normal.x + (to.centre.y - from.centre.y) * normal.y;
            expect(r1 - reach).toBeCloseTo(r2, 9);
          }
        },
      ),
    );
  });

  test('there are none where one end holds the other', () => {
    expect(
      armAngles({ centre: { x: 0, y: 0 }, radius: 9 }, { centre: { x: 2, y: 0 }, radius: 5 }),
    ).toBeNull();
  });

  test('a stack gives back its angle within what its last block turns', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 45, noNaN: true }),
        fc.constantFrom(100, 127, 200),
        (angle, length) => {
          const made = sineBar(length, radians(angle), 'mm');
          if (!made.ok) throw new Error(made.findings[0]?.message);
          expect(Math.abs(made.setting.reached - radians(angle))).toBeLessThan(
            made.setting.perMicron * 0.5001,
          );
          expect(codes(made)).toEqual([]);
        },
      ),
    );
  });

  test('steep, absurd and missing angles and bars are named', () => {
    expect(codes(sineBar(100, radians(50), 'mm'))).toEqual(['sine-bar-steep']);
    expect(sineBar(100, radians(50), 'mm').findings[0]!.message).toContain('40°');
    expect(codes(sineBar(100, radians(91), 'mm'))).toEqual(['sine-bar-angle']);
    expect(codes(sineBar(100, Number.NaN, 'mm'))).toEqual(['sine-bar-angle']);
    expect(codes(sineBar(0, 0.1, 'mm'))).toEqual(['sine-bar-length']);
  });

  test('a swivel is set in whole degrees and minutes, with the minutes carried', () => {
    expect(swivelWords(swivelSetting(radians(5.739), 1))).toBe('5° 44′');
    expect(swivelWords(swivelSetting(radians(-5.739), 5))).toBe('−5° 45′');
    expect(swivelWords(swivelSetting(radians(5.9999), 1))).toBe('6° 00′');
    expect(swivelWords(swivelSetting(-1e-9, 1))).toBe('0° 00′');
    fc.assert(
      fc.property(
        fc.double({ min: -90, max: 90, noNaN: true }),
        fc.constantFrom(1, 2, 5, 60),
        (angle, step) => {
          const s = swivelSetting(radians(angle), step);
          const set = (s.negative ? -1 : 1) * (s.degrees + s.minutes / 60);
          expect(s.minutes).toBeLessThan(60);
          expect(set - angle).toBeCloseTo(degrees(s.error), 9);
          expect(Math.abs(set - angle)).toBeLessThanOrEqual(step / 120 + 1e-9);
        },
      ),
    );
    expect(() => swivelSetting(1, 7)).toThrow(RangeError);
    expect(() => swivelSetting(Number.NaN, 1)).toThrow(RangeError);
  });
});

describe('Filing buttons', () => {
  const end = { name: 'big end', centre: { x: 10, y: 0 }, radius: 8 };
  const hole: Hole = {
    name: 'pivot',
    purpose: 'reamed',
    centre: { x: 10, y: 0 },
    diameter: 6,
    depth: null,
    from: 'front',
  };

  test('are as large as the end and bored to its hole', () => {
    const made = filingButtons(end, [hole], 'mm');
    expect(made).toMatchObject({
      ok: true,
      buttons: { diameter: 16, hole: 6, wall: 5, thickness: 3 },
      findings: [],
    });
  });

  test.each<[string, readonly Hole[], string]>([
    ['no hole', [], 'buttons-no-hole'],
    ['a hole elsewhere', [{ ...hole, centre: { x: 11, y: 0 } }], 'buttons-no-hole'],
    ['a blind hole', [{ ...hole, depth: 3 }], 'buttons-blind-hole'],
    ['a hole as large as the end', [{ ...hole, diameter: 16 }], 'buttons-hole-too-large'],
  ])('with %s there are none, and why is said', (_, holes, code) => {
    const made = filingButtons(end, holes, 'mm');
    expect(made.ok).toBe(false);
    expect(codes(made)).toEqual([code]);
  });

  test('a thin ring is warned of, a tapped hole filed first', () => {
    expect(codes(filingButtons(end, [{ ...hole, diameter: 14 }], 'mm'))).toEqual(['buttons-thin']);
    const tapped = {
      ...hole,
      purpose: 'tapped' as const,
      designation: 'M6 × 1',
      major: 6,
      pitch: 1,
      engagement: 0.75,
      diameter: 5,
    };
    expect(codes(filingButtons(end, [tapped], 'mm'))).toEqual(['buttons-before-tapping']);
  });
});
