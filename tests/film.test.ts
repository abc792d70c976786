import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Bar } from '../sketch/part/part.ts';
import { gapsOf, matching } from '../toolpath/removal/differing.ts';
import { type Cut, film, filmKeeper } from '../toolpath/removal/film.ts';
import { barMap, copyMap, type HeightMap } from '../toolpath/removal/height-map.ts';
import type { Stroke } from '../toolpath/removal/stroke.ts';
import { sweep } from '../toolpath/removal/sweep.ts';
import { frameOf } from '../toolpath/route/frame.ts';

const bar: Bar = {
  length: 30,
  width: 16,
  thickness: 8,
  material: 'aluminium',
  corner: { x: 2, y: -5 },
  sawn: 0,
};
const CELL = 0.5;
const frames = [frameOf(bar, 'front', 'left-near'), frameOf(bar, 'back', 'left-near')];
const cutters: readonly Cut['cutter'][] = [
  { kind: 'endmill', diameter: 3, pointAngle: Math.PI },
  { kind: 'drill', diameter: 4, pointAngle: 2 },
];

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const place = fc.record({ x: number(-3, 33), y: number(-3, 19), z: number(-9, 1) });
/** Short strokes, so that most leave most of the bar alone; now and then a long one or a helix. */
const stroke: fc.Arbitrary<Stroke> = fc.oneof(
  fc.tuple(place, number(-3, 3), number(-3, 3), number(-1, 1)).map(
    ([from, dx, dy, dz]): Stroke => ({
      kind: 'feed',
      from,
      to: { x: from.x + dx, y: from.y + dy, z: from.z + dz },
    }),
  ),
  fc.tuple(place, place).map(([from, to]): Stroke => ({ kind: 'rapid', from, to })),
  fc.tuple(place, number(0.3, 4), number(-6, 6), number(-1, 1)).map(([c, r, sweep, dz]): Stroke => {
    const at = (t: number) => ({ x: c.x + r * Math.cos(t), y: c.y + r * Math.sin(t) });
    return {
      kind: 'arc',
      centre: { x: c.x, y: c.y },
      sweep,
      from: { ...at(0), z: c.z },
      to: { ...at(sweep), z: c.z + dz },
    };
  }),
);
const cut = fc
  .tuple(stroke, fc.constantFrom(...cutters), fc.constantFrom(...frames))
  .map(([s, cutter, frame]): Cut => ({ stroke: s, cutter, frame }));
const pass = fc.array(cut, { minLength: 1, maxLength: 4 });
const passes = fc.array(pass, { minLength: 1, maxLength: 10 });
/** What an edit does to passes: some go, some come, some have a cut changed. */
const edit = fc.array(
  fc.tuple(fc.constantFrom('gone', 'come', 'another cut'), fc.nat(20), fc.nat(20), pass),
  { minLength: 0, maxLength: 3 },
);
type Passes = readonly (readonly Cut[])[];
type Edit = readonly [what: string, where: number, which: number, cuts: readonly Cut[]];
const edited = (before: Passes, edits: readonly Edit[]): Passes => {
  let now = [...before];
  for (const [what, a, b, some] of edits) {
    const k = a % (now.length + 1);
    if (what === 'come') now = [...now.slice(0, k), some, ...now.slice(k)];
    else if (what === 'gone') now = now.filter((_, i) => i !== k);
    else now = now.map((p, i) => (i === k ? p.map((c, j) => (j === b % p.length ? some[0]! : c)) : p));
  }
  return now;
};

const alike = (a: HeightMap, b: HeightMap): boolean =>
  a.top.every((z, i) => Object.is(z, b.top[i])) && a.bottom.every((z, i) => Object.is(z, b.bottom[i]));

describe('a sweep of some cells only', () => {
  it('leaves these as a sweep of all would, to the last bit, the others alone, and tells of these', () => {
    fc.assert(
      fc.property(
        passes,
        cut,
        fc.tuple(fc.nat(59), fc.nat(31), fc.nat(59), fc.nat(31)),
        (first, one, [a, b, c, d]) => {
          const before = barMap(bar, CELL);
          for (const { stroke: s, cutter, frame } of first.flat()) sweep(before, s, cutter, frame);
          const [i0, i1, j0, j1] = [Math.min(a, c), Math.max(a, c), Math.min(b, d), Math.max(b, d)];
          const [whole, some] = [copyMap(before), copyMap(before)];
          sweep(whole, one.stroke, one.cutter, one.frame);
          const bite = sweep(some, one.stroke, one.cutter, one.frame, { within: { i0, i1, j0, j1 } });
          let [cells, opened, deepest, others] = [0, 0, 0, 0];
          for (let i = 0; i < before.top.length; i++) {
            const [column, row] = [i % before.columns, Math.floor(i / before.columns)];
            const inside = column >= i0 && column <= i1 && row >= j0 && row <= j1;
            const meant = inside ? whole : before;
            if (!Object.is(some.top[i], meant.top[i]) || !Object.is(some.bottom[i], meant.bottom[i]))
              others++;
            if (some.top[i] === before.top[i] && some.bottom[i] === before.bottom[i]) continue;
            cells++;
            if (some.top[i]! <= some.bottom[i]!) opened++;
            deepest = Math.max(deepest, before.top[i]! - before.bottom[i]! - some.top[i]! + some.bottom[i]!);
          }
          expect(others).toBe(0);
          expect(bite).toMatchObject({ cells, opened });
          expect(bite.deepest).toBeCloseTo(deepest, 4);
        },
      ),
      { numRuns: 200 },
    );
  });
});

describe('a keeper of films', () => {
  it('shows after random edits, asked in any order, to the last bit what a film of its own shows', () => {
    fc.assert(
      fc.property(
        passes,
        fc.array(fc.tuple(edit, fc.array(fc.nat(1000), { maxLength: 8 })), { minLength: 1, maxLength: 4 }),
        fc.constantFrom(1, 60_000, 1e9),
        (first, edits, memory) => {
          const keeper = filmKeeper(memory);
          const start = barMap(bar, CELL);
          const untouched = copyMap(start);
          let now: Passes = first;
          for (const [change, asked] of [[[], [999, 3]], ...edits] as const) {
            now = edited(now, change);
            const kept = keeper.film(start, now);
            const anew = film(start, now);
            for (const ask of asked) {
              const count = ask % (now.length + 1);
              expect(alike(kept.at(count), anew.at(count))).toBe(true);
            }
            expect(alike(kept.at(now.length), anew.at(now.length))).toBe(true);
          }
          expect(alike(start, untouched)).toBe(true);
        },
      ),
      { numRuns: 150, endOnFailure: true },
    );
  });

  it('cuts again only what touches the cells that a change may touch', () => {
    const keeper = filmKeeper();
    const start = barMap(bar, 0.1);
    const hole = (x: number, z: number): Cut => ({
      stroke: { kind: 'feed', from: { x, y: 8, z: 1 }, to: { x, y: 8, z } },
      cutter: cutters[0]!,
      frame: frames[0]!,
    });
    // A pass for each hole, 5 mm apart, and one that passes over all of them in the air.
    const drilled = (z: number): Passes => [
      ...[0, 1, 2, 3, 4].map((k) => [hole(3 + 5 * k, k === 1 ? z : -2)]),
      [{ ...hole(3, 1), stroke: { kind: 'rapid', from: { x: 3, y: 8, z: 1 }, to: { x: 23, y: 8, z: 1 } } }],
      [hole(8, -1), hole(13, -1)],
    ];
    const show = (all: Passes) => {
      const made = keeper.film(start, all);
      for (let k = 0; k <= made.length; k++) made.at(k);
    };
    show(drilled(-3));
    expect(keeper.counts).toEqual({ swept: 8, frames: 0 });
    show(drilled(-3));
    expect(keeper.counts).toEqual({ swept: 8, frames: 7 });
    // The changed hole itself, for the frames after it and the one after its own pass, which is new, together.
    // Of the others only what lies over it.
    show(drilled(-4));
    expect(keeper.counts.frames).toBe(13);
    expect(keeper.counts.swept).toBe(8 + 1 + 1);
  });

  it('shows what plain sweeps give where strokes go on from each other, go straight up and pass over the work', () => {
    const chained = fc
      .array(fc.tuple(stroke, fc.constantFrom('as it is', 'on', 'up', 'over')), {
        minLength: 2,
        maxLength: 9,
      })
      .map((strokes) => {
        let from = strokes[0]![0].from;
        return strokes.map(([s, how]): Stroke => {
          if (how === 'as it is' || s.kind === 'arc') return s;
          const start = from;
          const by =
            how === 'up' ? { x: 0, y: 0, z: 3 } : { x: 1, y: 0.3, z: how === 'over' ? 2 - start.z : 0 };
          from = { x: start.x + by.x, y: start.y + by.y, z: start.z + by.z };
          return { kind: s.kind, from: start, to: from };
        });
      });
    fc.assert(
      fc.property(
        fc.array(chained, { minLength: 1, maxLength: 4 }),
        fc.constantFrom(...cutters),
        fc.constantFrom(...frames),
        (all, cutter, frame) => {
          const start = barMap(bar, CELL);
          const plain = copyMap(start);
          for (const s of all.flat()) sweep(plain, s, cutter, frame);
          const shown = film(
            start,
            all.map((own) => own.map((s): Cut => ({ stroke: s, cutter, frame }))),
          );
          expect(alike(shown.at(all.length), plain)).toBe(true);
        },
      ),
      { numRuns: 150 },
    );
  });

  it('takes nothing over from another bar, and lets nobody read the film before', () => {
    const keeper = filmKeeper();
    const some: Passes = [
      [
        {
          stroke: { kind: 'feed', from: { x: 3, y: 3, z: 1 }, to: { x: 3, y: 3, z: -9 } },
          cutter: cutters[0]!,
          frame: frames[0]!,
        },
      ],
    ];
    const before = keeper.film(barMap(bar, CELL), some);
    before.at(1);
    const thinner = keeper.film(barMap({ ...bar, thickness: 7 }, CELL), some);
    expect(keeper.counts.frames).toBe(0);
    expect(thinner.at(0).top[0]).toBe(7);
    expect(() => before.at(0)).toThrow(/newer film/);
  });
});

describe('what two lists share', () => {
  const word = fc.constantFrom('a', 'b', 'c', 'd');
  it('is the same in both, in order, and what lies between is all the rest', () => {
    fc.assert(
      fc.property(fc.array(word, { maxLength: 12 }), fc.array(word, { maxLength: 12 }), (old, now) => {
        const found = matching(old, now);
        const places = [...found].filter((p) => p >= 0);
        expect(places).toEqual([...new Set(places)].sort((a, b) => a - b));
        found.forEach((p, k) => {
          if (p >= 0) expect(old[p]).toBe(now[k]);
        });
        const gaps = gapsOf(found, old.length);
        const gone = gaps.flatMap((g) => g.gone);
        const come = gaps.flatMap((g) => g.come);
        expect([...gone, ...places].sort((a, b) => a - b)).toEqual(old.map((_, k) => k));
        expect(come).toEqual(now.flatMap((_, k) => (found[k]! < 0 ? [k] : [])));
      }),
    );
  });
  it('leaves nothing out that stands at the beginning or the end of both', () => {
    expect([...matching(['a', 'b', 'c', 'd'], ['a', 'x', 'c', 'd'])]).toEqual([0, -1, 2, 3]);
    expect([...matching(['a', 'b'], ['b'])]).toEqual([1]);
  });
});
