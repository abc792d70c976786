import fc from 'fast-check';
import { expect, test } from 'vitest';
import { readPart } from '../sketch/part/document.ts';
import type { Part } from '../sketch/part/part.ts';
import { sideMarksOf } from '../sketch/part/side-marks.ts';
import { axesOf, type Side, type SideLine, sideViewOf } from '../sketch/part/side-view.ts';
import { outlineOf, solidOf } from '../sketch/part/solid.ts';
import { contains, rectangle } from '../sketch/shape/region.ts';
import { randomLever } from './random-lever.ts';
import { samplePart } from './samples.ts';

/** An upright edge [s, bottom, top], a level one [z, from, to]. */
type Wanted = {
  readonly upright: readonly (readonly number[])[];
  readonly level: readonly (readonly number[])[];
};

const asked = (w: Wanted): readonly (readonly number[])[] => [
  ...w.upright.map(([s, bottom, top]) => [s!, bottom!, s!, top!]),
  ...w.level.map(([z, from, to]) => [from!, z!, to!, z!]),
];
const found = (lines: readonly SideLine[]): readonly (readonly number[])[] =>
  lines.map((l) => [l.from.s, l.from.z, l.to.s, l.to.z]);

/** Both have the same lines, each to within what recovered arcs may stray. */
const expectLines = (lines: readonly SideLine[], wanted: Wanted): void => {
  const [a, b] = [found(lines), asked(wanted)];
  const lacks = (from: typeof a, p: readonly number[]): boolean =>
    !from.some((q) => q.every((v, i) => Math.abs(v - p[i]!) < 0.004));
  expect(b.filter((p) => lacks(a, p))).toEqual([]);
  expect(a.filter((p) => lacks(b, p))).toEqual([]);
};

const view = (part: Part, side: Side) => sideViewOf(solidOf(part), side);

// The numbers below are read off the part files by hand; nothing of them is computed by the program.

test('the vent latch lever from its lower edge', () => {
  const v = view(samplePart('vent-latch-lever'), 'lower edge');
  // Block 28 long and 9 thick; body 2.5 thick, flush with the front; overall 70.
  expectLines(v.visible, {
    upright: [
      [0, 0, 9],
      [28, 0, 9],
      [70, 6.5, 9],
    ],
    level: [
      [0, 0, 28],
      [6.5, 28, 70],
      [9, 0, 70],
    ],
  });
  // Fork 12 deep; M3's drill 2.5 at x = 20; pin hole 4 at x = 66.
  expectLines(v.hidden, {
    upright: [
      [12, 0, 9],
      [18.75, 0, 9],
      [21.25, 0, 9],
      [64, 6.5, 9],
      [68, 6.5, 9],
    ],
    level: [],
  });
});

test('the damper yoke from its lower edge: a blind thread and a counterbore have floors', () => {
  const v = view(samplePart('damper-yoke'), 'lower edge');
  expectLines(v.visible, {
    upright: [
      [0, 0, 10],
      [26, 0, 3],
      [26, 7, 10],
      [70, 3, 7],
    ],
    level: [
      [0, 0, 26],
      [10, 0, 26],
      [3, 26, 70],
      [7, 26, 70],
    ],
  });
  // 4 BA tap drill, whatever the tables chose, 7 deep from the front at x = 22.
  const r = samplePart('damper-yoke').holes[1]!.diameter / 2;
  expectLines(v.hidden, {
    upright: [
      [15, 0, 10],
      [22 - r, 3, 10],
      [22 + r, 3, 10],
      [36 - 2.5, 3, 7],
      [48 + 2.5, 3, 7],
      [64 - 3.5, 5.5, 7],
      [64 + 3.5, 5.5, 7],
      [64 - 2, 3, 5.5],
      [64 + 2, 3, 5.5],
    ],
    level: [
      [3, 22 - r, 22 + r],
      [5.5, 60.5, 67.5],
    ],
  });
});

test('the damper yoke from its left end: one looks into the fork', () => {
  const v = view(samplePart('damper-yoke'), 'left end');
  expectLines(v.visible, {
    upright: [
      [-10, 0, 10],
      [-4, 0, 10],
      [4, 0, 10],
      [10, 0, 10],
    ],
    level: [
      [0, -10, 10],
      [10, -10, 10],
    ],
  });
  // Behind the jaw the arm's flank lies on the tangent of rounds of 10 and 6, 48 apart, 10 on from the first centre.
  const lean = Math.asin((10 - 6) / 48);
  const half = (10 - 10 * Math.sin(lean)) / Math.cos(lean);
  const flanks = v.hidden.filter((l) => Math.abs(Math.abs(l.from.s) - half) < 0.004 && l.from.s === l.to.s);
  expect(found(flanks).map(([, from, , to]) => [from, to])).toEqual([
    [0, 3],
    [7, 10],
    [0, 3],
    [7, 10],
  ]);
});

test('the bellows lever from its lower edge, in inches as drawn', () => {
  const inch = 25.4;
  const v = view(samplePart('bellows-lever'), 'lower edge');
  expectLines(v.visible, {
    upright: [
      [-0.6 * inch, 0, inch / 4],
      [0.375 * inch, inch / 8, inch / 4],
      [1.9 * inch, inch / 8, inch / 4],
      [2.5 * inch, 0, inch / 4],
    ],
    level: [
      [0, -0.6 * inch, 2.5 * inch],
      [inch / 8, 0.375 * inch, 1.9 * inch],
      [inch / 4, -0.6 * inch, 0.375 * inch],
      [inch / 4, 1.9 * inch, 2.5 * inch],
    ],
  });
});

test('the shutter link and the winch bell crank from their lower edges are plain plates with holes behind', () => {
  const link = view(samplePart('shutter-link'), 'lower edge');
  expectLines(link.visible, {
    upright: [
      [-42, 0, 4],
      [42, 0, 4],
    ],
    level: [
      [0, -42, 42],
      [4, -42, 42],
    ],
  });
  expectLines(link.hidden, {
    upright: [-38, -34, -12.5, 12.5, 34, 38].map((s) => [s, 0, 4]),
    level: [],
  });
  const crank = view(samplePart('winch-bell-crank'), 'lower edge');
  const pawl = 20 * Math.cos((100 * Math.PI) / 180);
  expectLines(crank.visible, {
    upright: [
      [-8, 0, 5],
      [31, 0, 5],
    ],
    level: [
      [0, -8, 31],
      [5, -8, 31],
    ],
  });
  expectLines(crank.hidden, {
    upright: [-3, 3, 26 - 1.6, 26 + 1.6, pawl - 1.6, pawl + 1.6].map((s) => [s, 0, 5]),
    level: [],
  });
});

/** A bar with a low step along one edge: seen before the step the riser shows, seen from behind it is hidden. */
const stepped = {
  slabs: [
    { bottom: 0, top: 2, region: rectangle({ x: 0, y: 0 }, { x: 10, y: 6 }) },
    { bottom: 2, top: 5, region: rectangle({ x: 0, y: 4 }, { x: 10, y: 6 }) },
  ],
};

test('an edge is seen from the side it looks to, and hidden from behind', () => {
  expectLines(sideViewOf(stepped, 'lower edge').visible, {
    upright: [
      [0, 0, 5],
      [10, 0, 5],
    ],
    level: [
      [0, 0, 10],
      [2, 0, 10],
      [5, 0, 10],
    ],
  });
  const behind = sideViewOf(stepped, 'upper edge');
  expectLines(behind.visible, {
    upright: [
      [0, 0, 5],
      [10, 0, 5],
    ],
    level: [
      [0, 0, 10],
      [5, 0, 10],
    ],
  });
  expectLines(behind.hidden, { upright: [], level: [[2, 0, 10]] });
});

test('from an end the view runs from left to right as the onlooker has it', () => {
  expectLines(sideViewOf(stepped, 'right end').visible, {
    upright: [
      [0, 0, 2],
      [4, 2, 5],
      [6, 0, 5],
    ],
    level: [
      [0, 0, 6],
      [2, 0, 4],
      [5, 4, 6],
    ],
  });
  expectLines(sideViewOf(stepped, 'left end').visible, {
    upright: [
      [0, 0, 2],
      [-4, 2, 5],
      [-6, 0, 5],
    ],
    level: [
      [0, -6, 0],
      [2, -4, 0],
      [5, -6, -4],
    ],
  });
});

test('a side view covers just the places behind which there is metal, whatever the lever', () => {
  fc.assert(
    fc.property(
      randomLever,
      fc.constantFrom<Side>('lower edge', 'upper edge', 'left end', 'right end'),
      fc.array(fc.tuple(fc.double({ min: 0, max: 1, noNaN: true }), fc.nat(5)), {
        minLength: 8,
        maxLength: 8,
      }),
      (document, side, looks) => {
        const read = readPart(document);
        fc.pre(read.ok);
        if (!read.ok) return;
        const { part } = read;
        const solid = solidOf(part);
        const { across, into } = axesOf(side);
        const { covered } = sideViewOf(solid, side);
        const reach = part.bar.length + part.bar.width;
        for (const [share, n] of looks) {
          const slab = solid.slabs[n % solid.slabs.length]!;
          const own = covered.filter((c) => c.bottom === slab.bottom);
          const [low, high] = [Math.min(...own.map((c) => c.from)), Math.max(...own.map((c) => c.to))];
          const s = low - 1 + (high - low + 2) * share;
          if (own.some((c) => Math.abs(c.from - s) < 0.02 || Math.abs(c.to - s) < 0.02)) continue;
          const middle = part.bar.corner.x * into.x + part.bar.corner.y * into.y;
          let metal = false;
          for (let d = middle - reach; d < middle + reach && !metal; d += 0.05) {
            metal = contains(slab.region, { x: across.x * s + into.x * d, y: across.y * s + into.y * d });
          }
          expect(own.some((c) => c.from < s && s < c.to)).toBe(metal);
        }
      },
    ),
    { numRuns: 25 },
  );
});

test('heights are said once each: the whole, a land’s own, and where one floats its foot', () => {
  const heights = (name: Parameters<typeof samplePart>[0]) => {
    const part = samplePart(name);
    return sideMarksOf(part, outlineOf(part), solidOf(part), 'lower edge').heights.map((h) => [
      h.bottom,
      h.top,
    ]);
  };
  expect(heights('vent-latch-lever')).toEqual([
    [0, 9],
    [6.5, 9],
  ]);
  expect(heights('damper-yoke')).toEqual([
    [0, 10],
    [3, 7],
    [0, 3],
  ]);
  expect(heights('shutter-link')).toEqual([[0, 4]]);
});

test('a thread behind metal has its outside beside its core, as deep as it is tapped', () => {
  const part = samplePart('damper-yoke');
  const { threads, centres } = sideMarksOf(part, outlineOf(part), solidOf(part), 'lower edge');
  // 4 BA is 3.6 over its crests (BS 93, value from memory).
  expectLines(threads, {
    upright: [
      [22 - 1.8, 3, 10],
      [22 + 1.8, 3, 10],
    ],
    level: [],
  });
  expect(centres.map((c) => c.from.s).sort((a, b) => a - b)).toEqual([16, 22, 36, 48, 64]);
});

test('where nothing stands yet there is nothing to see, and nothing to measure', () => {
  const part = { ...samplePart('damper-yoke'), ends: [], arms: [], plates: [] };
  const solid = { slabs: [] };
  expect(sideViewOf(solid, 'lower edge')).toEqual({ visible: [], hidden: [], covered: [] });
  expect(sideMarksOf(part, outlineOf(part), solid, 'lower edge').heights).toEqual([]);
  expect(
    sideMarksOf(samplePart('damper-yoke'), outlineOf(samplePart('damper-yoke')), solid, 'left end').heights,
  ).toEqual([]);
});
