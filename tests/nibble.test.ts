import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  type NibbleChoice,
  type NibbleTable,
  type Nibbling,
  nibbleChoices,
  nibbleRound,
  nibbleStraight,
  type RoundEdge,
  roundStep,
} from '../gcode/table/nibble.ts';
import type { Point } from '../sketch/shape/point.ts';

const FULL = 2 * Math.PI;
const END: RoundEdge = { centre: { x: 10, y: -4 }, radius: 8, side: 'outside', from: 0.4, sweep: 3.6 };

const tableOf = (made: Nibbling): NibbleTable => {
  if (!made.ok) throw new Error(made.findings[0]?.message);
  return made.table;
};
const codes = (made: Nibbling): readonly string[] => made.findings.map((f) => f.code);

const edges = fc.record({
  centre: fc.record({
    x: fc.double({ min: -40, max: 40, noNaN: true }),
    y: fc.double({ min: -40, max: 40, noNaN: true }),
  }),
  radius: fc.double({ min: 1.5, max: 30, noNaN: true }),
  from: fc.double({ min: -7, max: 7, noNaN: true }),
  sweep: fc.oneof(
    fc.double({ min: 0.2, max: FULL, noNaN: true }),
    fc.double({ min: -FULL, max: -0.2, noNaN: true }),
  ),
});
const sides = fc.constantFrom('outside' as const, 'inside' as const);
const heights = fc.constantFrom(0.5, 0.2, 0.1, 0.05, 0.02);

/** An edge with a cutter that fits it. */
const cases = fc
  .tuple(edges, sides, fc.double({ min: 0.1, max: 1, noNaN: true }), heights)
  .map(([edge, side, share, height]) => ({
    edge: { ...edge, side },
    diameter: side === 'inside' ? 2 * edge.radius * share : 1 + 19 * share,
    height,
  }));

/** How far metal stands over the edge in a direction from its centre: marched outwards or inwards, stop by stop. */
const standing = (edge: RoundEdge, stops: readonly Point[], cutter: number, direction: number): number => {
  const [ux, uy] = [Math.cos(direction), Math.sin(direction)];
  const covered = (t: number): boolean =>
    stops.some((s) => Math.hypot(edge.centre.x + ux * t - s.x, edge.centre.y + uy * t - s.y) < cutter + 1e-9);
  const step = edge.side === 'outside' ? 1 : -1;
  let h = 0;
  while (h < 3 && !covered(edge.radius + step * h)) h += 0.002;
  return h;
};

describe('Nibbled round ends, for any edge and cutter', () => {
  test('the metal left over the edge, marched out afresh, is the cusp said and no more than wanted', () => {
    fc.assert(
      fc.property(cases, ({ edge, diameter, height }) => {
        const made = nibbleRound(edge, diameter, { kind: 'cusp', height });
        fc.pre(made.ok);
        const { stops, cusp, step } = tableOf(made);
        expect(cusp).toBeLessThanOrEqual(height + 1e-9);
        const places = stops.map((s) => s.at);
        // The crest is in the middle between two stops; elsewhere it is lower.
        const crest = edge.from + (Math.sign(edge.sweep) * step) / 2;
        expect(Math.abs(standing(edge, places, diameter / 2, crest) - cusp)).toBeLessThan(0.0025);
        for (let k = 0; k <= 20; k++) {
          const high = standing(edge, places, diameter / 2, edge.from + (edge.sweep * k) / 20);
          expect(high).toBeLessThan(cusp + 0.0025);
        }
      }),
      { numRuns: 150 },
    );
  });

  test('no stop and no way between stops goes over the edge', () => {
    fc.assert(
      fc.property(cases, ({ edge, diameter, height }) => {
        const made = nibbleRound(edge, diameter, { kind: 'cusp', height });
        fc.pre(made.ok);
        const run = edge.side === 'outside' ? edge.radius + diameter / 2 : edge.radius - diameter / 2;
        const reach = (p: Point): number =>
          (Math.hypot(p.x - edge.centre.x, p.y - edge.centre.y) - run) * (edge.side === 'outside' ? 1 : -1);
        const { stops } = tableOf(made);
        stops.forEach(({ at, way }, i) => {
          expect(Math.abs(reach(at))).toBeLessThan(1e-9);
          if (i === 0 || way === 'back off') return;
          const last = stops[i - 1]!.at;
          const corner = way === 'x first' ? { x: at.x, y: last.y } : { x: last.x, y: at.y };
          for (const [a, b] of [
            [last, corner],
            [corner, at],
          ] as const) {
            const along = Array.from({ length: 17 }, (_, k) => k / 16);
            const least = Math.min(
              ...along.map((t) => reach({ x: a.x + (b.x - a.x) * t, y: a.y + (b.y - a.y) * t })),
            );
            expect(least).toBeGreaterThan(-1e-8);
          }
        });
      }),
      { numRuns: 200 },
    );
  });

  test('one stop fewer would leave a higher cusp than wanted, or metal between', () => {
    fc.assert(
      fc.property(cases, ({ edge, diameter, height }) => {
        const made = nibbleRound(edge, diameter, { kind: 'cusp', height });
        fc.pre(made.ok && made.table.stops.length > 3 && Math.abs(edge.sweep) < FULL);
        const fewer = nibbleRound(edge, diameter, { kind: 'stops', count: tableOf(made).stops.length - 1 });
        if (fewer.ok) expect(fewer.table.cusp).toBeGreaterThan(height);
        else expect(codes(fewer)).toEqual(['nibble-gap']);
      }),
    );
  });
});

describe('Nibble tables', () => {
  test('begin and end at the ends of the edge, either way round', () => {
    for (const sweep of [3.6, -3.6]) {
      const edge = { ...END, sweep };
      const { stops } = tableOf(nibbleRound(edge, 6, { kind: 'stops', count: 12 }));
      expect(stops).toHaveLength(12);
      expect(stops[0]!.at.x).toBeCloseTo(10 + 11 * Math.cos(0.4), 9);
      expect(stops.at(-1)!.at.x).toBeCloseTo(10 + 11 * Math.cos(0.4 + sweep), 9);
      expect(stops.at(-1)!.at.y).toBeCloseTo(-4 + 11 * Math.sin(0.4 + sweep), 9);
    }
  });

  test('back off only where both handwheels would drag the cutter over the top', () => {
    const top = { ...END, from: Math.PI / 2 - 0.2, sweep: 0.4 };
    expect(tableOf(nibbleRound(top, 6, { kind: 'stops', count: 2 })).stops[1]!.way).toBe('back off');
    const flank = { ...END, from: 0.3, sweep: 0.3 };
    const up = tableOf(nibbleRound(flank, 6, { kind: 'stops', count: 2 })).stops[1]!;
    expect(up.way).toBe('y first');
    const down = tableOf(nibbleRound({ ...flank, from: 0.6, sweep: -0.3 }, 6, { kind: 'stops', count: 2 }))
      .stops[1]!;
    expect(down.way).toBe('x first');
  });

  test('a cutter as large as the inside radius needs one stop and leaves no cusp', () => {
    const bore = { ...END, side: 'inside' as const, from: 0, sweep: FULL };
    const { stops, cusp } = tableOf(nibbleRound(bore, 16, { kind: 'cusp', height: 0.05 }));
    expect(stops).toHaveLength(1);
    expect(stops[0]!.at.x).toBeCloseTo(10, 9);
    expect(cusp).toBeCloseTo(0, 9);
  });

  test('offer counts to choose from, lower cusps for more stops', () => {
    const choices = nibbleChoices((choice) => nibbleRound(END, 10, choice), [0.02, 0.2, 0.05, 0.1]);
    expect(choices.map((c) => c.wanted)).toEqual([0.2, 0.1, 0.05, 0.02]);
    for (let i = 1; i < choices.length; i++) {
      expect(choices[i]!.stops).toBeGreaterThan(choices[i - 1]!.stops);
      expect(choices[i]!.cusp).toBeLessThan(choices[i]!.wanted);
    }
  });

  test('low cusps lose no figures', () => {
    // For low cusps h of a turn θ: h ≈ θ² a R / (8 c), by the parabola of a flat arc.
    const theta = roundStep({ radius: 8, side: 'outside' }, 3, 1e-9);
    expect((theta * theta * 11 * 8) / (8 * 3) / 1e-9).toBeCloseTo(1, 6);
  });
});

describe('Slanting arms as a stepped table', () => {
  const slant = { from: { x: 2, y: 1 }, to: { x: 42, y: 8 }, clear: 'left' as const };

  test('touch the edge at every stop, and scallops between stand no higher than wanted', () => {
    const { stops, cusp, step } = tableOf(nibbleStraight(slant, 6, { kind: 'cusp', height: 0.05 }));
    expect(cusp).toBeLessThanOrEqual(0.05);
    const length = Math.hypot(40, 7);
    for (const { at } of stops) {
      const over = (-7 * (at.x - 2) + 40 * (at.y - 1)) / length;
      expect(over).toBeCloseTo(3, 9);
    }
    expect(step * (stops.length - 1)).toBeCloseTo(length, 9);
    // Half way between two stops, 0.05 over the edge is just cut away by neither, a little higher by both.
    expect(Math.hypot(step / 2, 3 - cusp)).toBeCloseTo(3, 9);
  });

  test.each([
    ['left', 1, 'y first'],
    ['right', 1, 'x first'],
    ['left', -1, 'x first'],
    ['right', -1, 'y first'],
  ] as const)('clear to the %s, rising %d: %s, and never over the edge', (clear, rise, way) => {
    const edge = { from: { x: 0, y: 0 }, to: { x: 40, y: 7 * rise }, clear };
    const { stops } = tableOf(nibbleStraight(edge, 6, { kind: 'stops', count: 9 }));
    const over = (p: Point): number =>
      ((-7 * rise * p.x + 40 * p.y) / Math.hypot(40, 7)) * (clear === 'left' ? 1 : -1);
    for (let i = 1; i < stops.length; i++) {
      const [last, at] = [stops[i - 1]!.at, stops[i]!.at];
      expect(stops[i]!.way).toBe(way);
      const corner = stops[i]!.way === 'x first' ? { x: at.x, y: last.y } : { x: last.x, y: at.y };
      expect(over(corner)).toBeGreaterThan(3);
    }
  });
});

describe('What cannot be nibbled is named', () => {
  test.each<[string, Partial<RoundEdge>, number, NibbleChoice, string]>([
    ['no cusp at all', {}, 6, { kind: 'cusp', height: 0 }, 'nibble-cusp'],
    ['a cusp that is no number', {}, 6, { kind: 'cusp', height: Number.NaN }, 'nibble-cusp'],
    ['a cusp that takes thousands of stops', {}, 6, { kind: 'cusp', height: 1e-7 }, 'nibble-stops'],
    ['the least cusp a number can be', {}, 6, { kind: 'cusp', height: Number.MIN_VALUE }, 'nibble-stops'],
    ['half a stop', {}, 6, { kind: 'stops', count: 2.5 }, 'nibble-stops'],
    ['a single stop', {}, 6, { kind: 'stops', count: 1 }, 'nibble-stops'],
    ['stops that are no number', {}, 6, { kind: 'stops', count: Number.NaN }, 'nibble-stops'],
    ['stops too far apart', {}, 6, { kind: 'stops', count: 4 }, 'nibble-gap'],
    ['no radius', { radius: 0 }, 6, { kind: 'stops', count: 9 }, 'nibble-edge'],
    ['no centre', { centre: { x: Number.NaN, y: 0 } }, 6, { kind: 'stops', count: 9 }, 'nibble-edge'],
    ['no sweep', { sweep: 0 }, 6, { kind: 'stops', count: 9 }, 'nibble-edge'],
    ['more than once round', { sweep: 7 }, 6, { kind: 'stops', count: 9 }, 'nibble-edge'],
    ['no cutter', {}, 0, { kind: 'stops', count: 9 }, 'nibble-cutter'],
    [
      'a cutter too large for an inside radius',
      { side: 'inside' },
      17,
      { kind: 'stops', count: 9 },
      'nibble-cutter',
    ],
  ])('%s', (_, change, diameter, choice, code) => {
    const made = nibbleRound({ ...END, ...change }, diameter, choice);
    expect(made.ok).toBe(false);
    expect(codes(made)).toEqual([code]);
    expect(made.findings[0]!.message).not.toMatch(/NaN|Infinity/);
  });

  test('stops too far apart say how many would do, and those do', () => {
    const made = nibbleRound(END, 6, { kind: 'stops', count: 4 });
    const enough = Number(/take (\d+) or more/.exec(made.findings[0]!.message)?.[1]);
    expect(nibbleRound(END, 6, { kind: 'stops', count: enough }).ok).toBe(true);
    expect(nibbleRound(END, 6, { kind: 'stops', count: enough - 1 }).ok).toBe(false);
  });

  test('a full circle of one stop round an outside edge, whose circle meets only itself', () => {
    const made = nibbleRound({ ...END, from: 0, sweep: FULL }, 6, { kind: 'stops', count: 1 });
    expect(codes(made)).toEqual(['nibble-gap']);
  });

  test('an arm without length, and one without a cutter', () => {
    const nowhere = { from: { x: 1, y: 1 }, to: { x: 1, y: 1 }, clear: 'left' as const };
    expect(codes(nibbleStraight(nowhere, 6, { kind: 'stops', count: 3 }))).toEqual(['nibble-edge']);
    expect(
      codes(nibbleStraight({ ...nowhere, to: { x: 9, y: 1 } }, Number.NaN, { kind: 'stops', count: 3 })),
    ).toEqual(['nibble-cutter']);
  });
});
