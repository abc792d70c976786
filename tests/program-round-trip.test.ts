import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { writeProgram } from '../gcode/program/write.ts';
import type { Motion } from '../gcode/reading/motion.ts';
import { readProgram } from '../gcode/reading/read.ts';
import type { Point3 } from '../sketch/shape/point.ts';
import type { ProgramForm } from '../toolpath/machine/profile.ts';
import type { Move, PlannedSetup } from '../toolpath/passes/pass.ts';
import { CLEAR, endOf, forms, PART, profileOf, setups } from './random-moves.ts';

/** A stroke that the plan means, worked out here from its moves and nothing of the writer. */
interface Stroke {
  readonly kind: 'rapid' | 'feed' | 'arc';
  readonly to: Point3;
  readonly length: number;
  /** Length the written path may differ by, over what rounding its ends does, mm. */
  readonly slack: number;
  readonly tool: number;
  readonly speed: number;
  /** Nought for a rapid, and for an arc that need not be seen in the program. */
  readonly feed: number;
}

const gap = (a: Point3, b: Point3): number => Math.hypot(a.x - b.x, a.y - b.y, a.z - b.z);

const turnOf = (move: Extract<Move, { kind: 'arc' }>, from: Point3): number => {
  if (Math.hypot(move.to.x - from.x, move.to.y - from.y) < 1e-6) return 2 * Math.PI;
  const start = Math.atan2(from.y - move.centre.y, from.x - move.centre.x);
  const end = Math.atan2(move.to.y - move.centre.y, move.to.x - move.centre.x);
  const turn = move.clockwise ? start - end : end - start;
  return turn > 0 ? turn : turn + 2 * Math.PI;
};

/** Everything a setup means to do, in order. Rapids go up first and down last, never two ways at once. */
const meant = (setup: PlannedSetup, form: ProgramForm): Stroke[] => {
  const strokes: Stroke[] = [];
  let last = null as Point3 | null;
  for (const { passes, cutter, speed } of setup.steps) {
    let at: Point3 | null = null;
    if (last !== null) at = { x: last.x, y: last.y, z: CLEAR };
    if (last !== null && last.z !== CLEAR)
      add('rapid', at!, CLEAR - last.z, 0, strokes.at(-1)!.tool, strokes.at(-1)!.speed);
    const run = { tool: cutter.number, speed };
    for (const move of passes.flatMap((p) => p.moves)) {
      const from: Point3 = at ?? { ...endOf(move, { x: 0, y: 0, z: 0 }), z: CLEAR };
      if (move.kind === 'rapid') rapids(from, move.to, run);
      else if (move.kind === 'feed')
        add('feed', move.to, gap(from, move.to), 0, run.tool, run.speed, move.feed);
      else if (move.kind === 'arc') {
        const radius = Math.hypot(from.x - move.centre.x, from.y - move.centre.y);
        const turn = turnOf(move, from);
        const chord = form.arcs === 'lines' ? form.chord : 0;
        // Chords of sagitta e are shorter than their arc by a share of about 8e / (3 * 4 r).
        const shorter = (0.7 * chord * turn * radius) / Math.max(radius, chord) + 1e-9;
        // A round too small for the program's decimals is not written at all.
        const lost = radius < 3 * step(form);
        const slack = lost ? turn * radius : shorter;
        add(
          'arc',
          move.to,
          Math.hypot(radius * turn, move.to.z - from.z),
          slack,
          run.tool,
          run.speed,
          lost ? 0 : move.feed,
        );
      } else if (move.kind === 'drill') drills(from, move, run, cutter.kind === 'reamer');
      at = endOf(move, at ?? from);
    }
    last = at;
  }
  if (last !== null && last.z !== CLEAR) add('rapid', { ...last, z: CLEAR }, CLEAR - last.z, 0, 0, 0);
  return strokes;

  function add(
    kind: Stroke['kind'],
    to: Point3,
    length: number,
    slack: number,
    tool: number,
    speed: number,
    feed = 0,
  ): void {
    strokes.push({ kind, to, length: Math.abs(length), slack, tool, speed, feed });
  }

  function rapids(from: Point3, to: Point3, { tool, speed }: { tool: number; speed: number }): void {
    const top = Math.max(from.z, to.z);
    if (from.z < top) add('rapid', { ...from, z: top }, top - from.z, 0, tool, speed);
    add('rapid', { ...to, z: top }, Math.hypot(to.x - from.x, to.y - from.y), 0, tool, speed);
    if (to.z < top) add('rapid', to, top - to.z, 0, tool, speed);
  }

  function drills(
    from: Point3,
    d: Extract<Move, { kind: 'drill' }>,
    run: { tool: number; speed: number },
    feedOut: boolean,
  ): void {
    rapids(from, { ...d.at, z: d.clear }, run);
    const count = d.peck > 0 ? Math.ceil((d.clear - d.depth) / d.peck) : 1;
    const bottom = { ...d.at, z: d.depth };
    // Each peck feeds again through what it was backed off: 0.25 mm, or 0.254 in the reader's canned cycle.
    const feed = d.clear - d.depth + (count - 1) * 0.252;
    add('feed', bottom, feed, count * 0.004, run.tool, run.speed, d.feed);
    add(
      feedOut ? 'feed' : 'rapid',
      { ...d.at, z: d.clear },
      d.clear - d.depth,
      0,
      run.tool,
      run.speed,
      feedOut ? d.feed : 0,
    );
  }
};

const lengthOf = (m: Motion): number => {
  if (m.centre === undefined || m.sweep === undefined) return gap(m.from, m.to);
  const radius = Math.hypot(m.from.x - m.centre.x, m.from.y - m.centre.y);
  return Math.hypot(radius * m.sweep, m.to.z - m.from.z);
};

const sum = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0);

const step = (form: ProgramForm): number => (form.unit === 'inch' ? 25.4 : 1) / 10 ** form.decimals;

describe('what is written is what was planned', () => {
  it('in every form: the same places in the same order, the same lengths, tools, speeds and feeds', () => {
    fc.assert(
      fc.property(setups, forms, (setup, form) => {
        const reading = readProgram(writeProgram(PART, setup, profileOf(form)));
        expect(reading.faults).toEqual([]);
        expect(reading.ended).toBe(true);
        const strokes = meant(setup, form);
        const { motions } = reading;

        // Every place is come to, in order; what lies between is only the inside of arcs, pecks and rises.
        let k = -1;
        let at: Point3 = { x: 0, y: 0, z: 0 };
        for (const stroke of strokes) {
          const fulfils = (m: Motion): boolean =>
            m.kind !== 'rapid' &&
            gap(m.to, stroke.to) < step(form) * 0.9 + 1e-9 &&
            m.tool === stroke.tool &&
            m.speed === stroke.speed &&
            Math.abs(m.feed - stroke.feed) < (form.unit === 'inch' ? 0.13 : 0.051);
          if (stroke.feed > 0 && stroke.length > 2 * step(form)) {
            do k++;
            while (k < motions.length && !fulfils(motions[k]!));
            expect(k, `${JSON.stringify(stroke)} is not done`).toBeLessThan(motions.length);
          }
          at = stroke.to;
        }
        if (motions.length > 0) expect(gap(motions.at(-1)!.to, at)).toBeLessThan(step(form) * 0.9);

        // Each end is off by up to half a count in each axis; each piece of an arc or each peck by as much again.
        const cutting = strokes.filter((s) => s.kind !== 'rapid');
        const rounding = 2 * step(form) * (motions.length + strokes.length + 1);
        const cut = sum(motions.filter((m) => m.kind !== 'rapid').map(lengthOf));
        const slack = rounding + sum(cutting.map((s) => s.slack));
        expect(Math.abs(cut - sum(cutting.map((s) => s.length)))).toBeLessThan(slack);
      }),
      { numRuns: 300 },
    );
  });

  it('rapids are as long as planned where nothing is pecked', () => {
    const unpecked = setups.map((setup) => ({
      ...setup,
      steps: setup.steps.map((s) => ({
        ...s,
        passes: s.passes.map((p) => ({
          ...p,
          moves: p.moves.map((m) => (m.kind === 'drill' ? { ...m, peck: 0 } : m)),
        })),
      })),
    }));
    fc.assert(
      fc.property(unpecked, forms, (setup, form) => {
        const { motions } = readProgram(writeProgram(PART, setup, profileOf(form)));
        const rapid = (list: readonly { kind: string; length: number }[]): number =>
          sum(list.filter((s) => s.kind === 'rapid').map((s) => s.length));
        // The very first descent, from wherever the machine stands, is nobody's plan.
        const read = motions.filter((m) => !m.assumed).map((m) => ({ kind: m.kind, length: lengthOf(m) }));
        const strokes = meant(setup, form);
        const rounding = 2 * step(form) * (read.length + strokes.length + 1);
        expect(Math.abs(rapid(read) - rapid(strokes))).toBeLessThan(rounding);
      }),
      { numRuns: 200 },
    );
  });

  it('canned and spelled-out drilling cut alike', () => {
    fc.assert(
      fc.property(setups, (setup) => {
        const read = (drilling: ProgramForm['drilling']): Motion[] =>
          readProgram(writeProgram(PART, setup, profileOf({ drilling }))).motions.filter(
            (m) => m.kind !== 'rapid',
          );
        const places = (list: Motion[]): unknown[] => list.map((m) => [m.kind, m.to, m.feed, m.tool]);
        expect(places(read('canned'))).toEqual(places(read('spelled-out')));
      }),
      { numRuns: 300 },
    );
  });

  it('a run may be begun at any job step: the rest alone does the same', () => {
    fc.assert(
      fc.property(setups, forms, (setup, form) => {
        const text = writeProgram(PART, setup, profileOf(form));
        const lines = text.split('\n');
        const begins = lines.flatMap((line, i) =>
          line.includes('A run may be begun at the next line') ? [i + 1] : [],
        );
        expect(begins).toHaveLength(setup.steps.length);
        const cuts = (from: number, list: readonly Motion[]): unknown[] =>
          list
            .filter((m) => m.line > from && m.kind !== 'rapid')
            .map(({ line, label: _, assumed: __, ...rest }) => ({ ...rest, line: line - from }));
        const whole = readProgram(text);
        for (const begin of begins) {
          const rest = readProgram(lines.slice(begin).join('\n'));
          expect(rest.faults).toEqual([]);
          expect(cuts(0, rest.motions)).toEqual(cuts(begin, whole.motions));
        }
      }),
      { numRuns: 200 },
    );
  });
});
