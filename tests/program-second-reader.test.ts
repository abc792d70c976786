import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { type GCodeLine, parseStringSync } from 'gcode-parser';
import { describe, expect, it } from 'vitest';
import { planPart, writePrograms } from '../gcode/chain.ts';
import { writeProgram } from '../gcode/program/write.ts';
import type { Motion } from '../gcode/reading/motion.ts';
import { readProgram } from '../gcode/reading/read.ts';
import { standardProfile } from '../toolpath/machine/default-profile.ts';
import { forms, PART, profileOf, setups } from './random-moves.ts';

/**
 * The reader against words taken apart by a parser from npm (gcode-parser, for development only) and put together by a
 * small integrator that shares no line with it: G0 to G3 with I and J, G20, G21, absolute places.
 */

interface Stroke {
  readonly rapid: boolean;
  readonly to: readonly [number, number, number];
  readonly length: number;
  readonly feed: number;
}

/** Length of an arc by adding up ten thousand chords, so that no formula of the reader is leaned on. */
const arcLength = (from: number[], to: number[], centre: number[], clockwise: boolean): number => {
  const radius = Math.hypot(from[0]! - centre[0]!, from[1]! - centre[1]!);
  const a = Math.atan2(from[1]! - centre[1]!, from[0]! - centre[0]!);
  let b = Math.atan2(to[1]! - centre[1]!, to[0]! - centre[0]!);
  const one = Math.hypot(from[0]! - to[0]!, from[1]! - to[1]!) < 1e-9;
  if (one) b = a;
  if (clockwise) while (b >= a - (one ? 1e-12 : 0)) b -= 2 * Math.PI;
  else while (b <= a + (one ? 1e-12 : 0)) b += 2 * Math.PI;
  const n = 10_000;
  const at = (k: number): number[] => [
    centre[0]! + radius * Math.cos(a + ((b - a) * k) / n),
    centre[1]! + radius * Math.sin(a + ((b - a) * k) / n),
    from[2]! + ((to[2]! - from[2]!) * k) / n,
  ];
  let length = 0;
  for (let k = 1; k <= n; k++) {
    const [p, q] = [at(k - 1), at(k)];
    length += Math.hypot(p[0]! - q[0]!, p[1]! - q[1]!, p[2]! - q[2]!);
  }
  return length;
};

const integrate = (lines: readonly GCodeLine[]): Stroke[] => {
  const strokes: Stroke[] = [];
  let unit = 1;
  let mode = -1;
  let feed = 0;
  let at: [number | null, number | null, number | null] = [null, null, null];
  for (const { words } of lines) {
    const value = (letter: string): number | undefined =>
      words.find(([l]) => l === letter)?.[1] as number | undefined;
    for (const [letter, number] of words) {
      if (letter !== 'G') continue;
      if (number === 20) unit = 25.4;
      if (number === 21) unit = 1;
      if (Number(number) <= 3) mode = Number(number);
      if (number === 80) mode = -1;
    }
    if (value('F') !== undefined) feed = value('F')! * unit;
    const axes = (['X', 'Y', 'Z'] as const).map(value);
    if (mode < 0 || axes.every((v) => v === undefined)) continue;
    const to = axes.map((v, k) => (v === undefined ? at[k]! : v * unit)) as [
      number | null,
      number | null,
      number | null,
    ];
    if (!at.includes(null)) {
      const [a, b] = [at as number[], to as number[]];
      const centre = [a[0]! + (value('I') ?? 0) * unit, a[1]! + (value('J') ?? 0) * unit];
      const length =
        mode >= 2
          ? arcLength(a, b, centre, mode === 2)
          : Math.hypot(a[0]! - b[0]!, a[1]! - b[1]!, a[2]! - b[2]!);
      strokes.push({
        rapid: mode === 0,
        to: b as unknown as Stroke['to'],
        length,
        feed: mode === 0 ? 0 : feed,
      });
    }
    at = to;
  }
  return strokes.filter((s) => s.length > 0);
};

const lengthOf = (m: Motion): number => {
  const radius = m.centre === undefined ? 0 : Math.hypot(m.from.x - m.centre.x, m.from.y - m.centre.y);
  const across = m.sweep === undefined ? Math.hypot(m.to.x - m.from.x, m.to.y - m.from.y) : radius * m.sweep;
  return Math.hypot(across, m.to.z - m.from.z);
};

const agree = (text: string): number => {
  const second = integrate(parseStringSync(text));
  const ours = readProgram(text).motions.filter((m) => !m.assumed);
  expect(ours.length).toBe(second.length);
  ours.forEach((m, k) => {
    const other = second[k]!;
    expect(m.kind === 'rapid').toBe(other.rapid);
    expect(m.feed).toBeCloseTo(other.feed, 9);
    expect(Math.abs(m.to.x - other.to[0])).toBeLessThan(1e-9);
    expect(Math.abs(m.to.y - other.to[1])).toBeLessThan(1e-9);
    expect(Math.abs(m.to.z - other.to[2])).toBeLessThan(1e-9);
    expect(Math.abs(lengthOf(m) - other.length)).toBeLessThan(1e-6 * (1 + other.length));
  });
  return ours.length;
};

describe('end points and lengths against a second reader', () => {
  it('for the samples', () => {
    const profile = {
      ...standardProfile,
      program: { ...standardProfile.program, drilling: 'spelled-out' as const },
    };
    let seen = 0;
    for (const name of ['vent-latch-lever', 'winch-bell-crank', 'shutter-link', 'bellows-lever']) {
      const planned = planPart(readFileSync(new URL(`../samples/${name}.json`, import.meta.url), 'utf8'));
      if (!planned.ok) throw new Error(planned.findings[0]?.message);
      for (const { text } of writePrograms(planned.part, planned.plan, profile)) seen += agree(text);
    }
    expect(seen).toBeGreaterThan(500);
  });

  it('for programs of no sense in every form', () => {
    fc.assert(
      fc.property(setups, forms, (setup, form) => {
        agree(writeProgram(PART, setup, profileOf({ ...form, drilling: 'spelled-out', arcs: 'arcs' })));
      }),
      { numRuns: 60 },
    );
  });

  it('for a program by hand with its words run together', () => {
    agree(
      'g21g90\ng0x1y2z3\n x-4.5 y.25\nG1Z-1.F120\nN7 G03X-4.5Y10.25I0J5\n(note)G2 X-4.5 Y10.25 I3 J0 Z-2\nM30\n',
    );
  });
});
