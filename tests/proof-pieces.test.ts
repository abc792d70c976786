import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { indexRegion } from '../gcode/proof/distance.ts';
import type { Holding } from '../gcode/proof/hold.ts';
import { comingFree, watchPieces } from '../gcode/proof/loose.ts';
import {
  dropLoosePieces,
  flood,
  hasCell,
  isJoined,
  isMaterial,
  type Piece,
  piecesOf,
  runsOf,
} from '../gcode/proof/pieces.ts';
import { NOTHING } from '../sketch/shape/region.ts';
import type { HeightMap } from '../toolpath/removal/height-map.ts';
import { drawnColumns, drawnMap, HEIGHTS, jawsOn, lyingOn } from './proof-map.ts';

// What hangs together, what the jaws hold of it and what comes free, on maps small enough to count by eye.

const never = (): boolean => false;
const cellsOf = ({ runs }: Piece): number[] => {
  const cells: number[] = [];
  for (let k = 0; k < runs.length; k += 2) for (let i = runs[k]!; i < runs[k + 1]!; i++) cells.push(i);
  return cells;
};

describe('pieces', () => {
  it('are told with their cells, extent, first cell and runs', () => {
    const map = drawnMap(['#.#.', '###.', '...#']);
    expect(piecesOf(map, (i) => i === 11)).toEqual([
      { cells: 5, columns: [0, 2], rows: [0, 1], at: 0, wanted: false, runs: [0, 1, 2, 3, 4, 7] },
      { cells: 1, columns: [3, 3], rows: [2, 2], at: 11, wanted: true, runs: [11, 12] },
    ]);
    expect(piecesOf(map, (i) => i === 6).map((p) => p.wanted)).toEqual([true, false]);
    expect(piecesOf(map, (i) => i === 3).map((p) => p.wanted)).toEqual([false, false]);
  });

  it('of teeth hang where a tooth stands over a root, never corner to corner nor round the edge', () => {
    expect(piecesOf(drawnMap(['#.#.#', '##.##']), never).map(cellsOf)).toEqual([[0, 5, 6], [2], [4, 8, 9]]);
    expect(piecesOf(drawnMap(['##.##', '#.#.#']), never).map(cellsOf)).toEqual([[0, 1, 5], [3, 4, 9], [7]]);
    expect(piecesOf(drawnMap(['..#', '#..']), never).map(cellsOf)).toEqual([[2], [3]]);
    expect(piecesOf(drawnMap(['#.', '.#']), never)).toHaveLength(2);
    // A hook joins only at its far end, and the later rows widen it to the left.
    const hook = piecesOf(drawnMap(['..##', '...#', '####', '#...']), never);
    expect(hook).toHaveLength(1);
    expect([hook[0]!.columns, hook[0]!.rows, hook[0]!.at, hook[0]!.cells]).toEqual([[0, 3], [0, 3], 2, 8]);
  });

  it('meet in height or not at all', () => {
    expect(isJoined(drawnMap(['lu']), 0, 1)).toBe(false);
    expect(isJoined(drawnMap(['#u']), 0, 1)).toBe(true);
    expect(piecesOf(drawnMap(['lu', 'l#']), never).map(cellsOf)).toEqual([[0, 1, 2, 3]]);
    expect(piecesOf(drawnMap(['lu', 'lu']), never).map(cellsOf)).toEqual([
      [0, 2],
      [1, 3],
    ]);
    expect(piecesOf(drawnMap(['l', 'u']), never)).toHaveLength(2);
    const grazing = drawnMap(['lu']);
    grazing.top[0] = 2.00005;
    expect(piecesOf(grazing, never)).toHaveLength(2);
    grazing.top[0] = 2.001;
    expect(piecesOf(grazing, never)).toHaveLength(1);
  });

  it('are those that a flood from any of their cells fills', () => {
    const sign = fc.constantFrom(...'##lluu..w');
    fc.assert(
      fc.property(fc.array(sign, { minLength: 56, maxLength: 56 }), (signs) => {
        const rows = Array.from({ length: 7 }, (_, j) => signs.slice(j * 8, j * 8 + 8).join(''));
        const map = drawnMap(rows);
        const pieces = piecesOf(map, never);
        const counted = pieces.flatMap(cellsOf).sort((a, b) => a - b);
        expect(counted).toEqual([...map.top.keys()].filter((i) => isMaterial(map, i)));
        for (const piece of pieces) {
          const cells = cellsOf(piece);
          const filled = flood(map, [cells.at(-1)!], () => true);
          expect([...filled.keys()].filter((i) => filled[i] === 1)).toEqual(cells);
          expect(piece.at).toBe(cells[0]);
          expect(piece.cells).toBe(cells.length);
          const columns = cells.map((i) => i % 8);
          expect(piece.columns).toEqual([Math.min(...columns), Math.max(...columns)]);
          expect(piece.rows).toEqual([Math.floor(cells[0]! / 8), Math.floor(cells.at(-1)! / 8)]);
        }
      }),
      { numRuns: 200, endOnFailure: true },
    );
  });

  it('are looked at in the rows that are asked for alone', () => {
    const [piece] = piecesOf(drawnMap(['###', '#..', '##.']), never);
    const asked = (low: number, high: number): number[] => {
      const seen: number[] = [];
      hasCell(piece!, 3, [low, high], (i) => {
        seen.push(i);
        return false;
      });
      return seen;
    };
    expect(asked(0, 0)).toEqual([0, 1, 2]);
    expect(asked(1, 1)).toEqual([3]);
    expect(asked(1, 2)).toEqual([3, 6, 7]);
    expect(hasCell(piece!, 3, [2, 2], (i) => i === 7)).toBe(true);
    expect(hasCell(piece!, 3, [0, 1], (i) => i === 7)).toBe(false);
  });

  it('in which nothing is wanted fall off, down to their own undersides', () => {
    const map = drawnMap(['##.u', '...u', 'l.#.']);
    dropLoosePieces(map, (i) => i === 1);
    const left = [...map.top.keys()].filter((i) => isMaterial(map, i));
    expect(left).toEqual([0, 1]);
    expect([map.top[3], map.bottom[3], map.top[8], map.bottom[8]]).toEqual([2, 2, 0, 0]);
  });

  it('keep the runs of what stands as it did', () => {
    const old = runsOf(drawnMap(['#.', '##', '.#']));
    const now = drawnMap(['##', '.#', '#.']);
    const runs = (j0: number, j1: number) =>
      runsOf(now, old, { i0: 0, i1: 1, j0, j1 }).map((row) => [...row]);
    expect(runs(1, 1)).toEqual([
      [0, 1],
      [3, 4],
      [5, 6],
    ]);
    expect(runs(0, 0)).toEqual([
      [0, 2],
      [2, 4],
      [5, 6],
    ]);
    expect(runs(2, 2)).toEqual([
      [0, 1],
      [2, 4],
      [4, 5],
    ]);
    expect(runsOf(now).map((row) => [...row])).toEqual([
      [0, 2],
      [3, 4],
      [4, 5],
    ]);
    const sign = fc.constantFrom(...'###lu.');
    const signs = fc.array(sign, { minLength: 36, maxLength: 36 });
    const ends = fc
      .tuple(fc.nat(11), fc.nat(11))
      .map((pair) => [Math.min(...pair), Math.max(...pair)] as const);
    const rowsOf = (all: readonly string[]): string[] =>
      [0, 12, 24].map((first) => all.slice(first, first + 12).join(''));
    fc.assert(
      fc.property(signs, signs, ends, fc.nat(2), (before, other, [i0, i1], row) => {
        const inside = (i: number): boolean => Math.floor(i / 12) === row && i % 12 >= i0 && i % 12 <= i1;
        const after = before.map((s, i) => (inside(i) ? other[i]! : s));
        const [was, is] = [drawnMap(rowsOf(before)), drawnMap(rowsOf(after))];
        expect(runsOf(is, runsOf(was), { i0, i1, j0: row, j1: row })).toEqual(runsOf(is));
      }),
      { numRuns: 300, endOnFailure: true },
    );
  });
});

describe('a flood', () => {
  it('stops at gaps, at what meets only in height, and where it is not let pass', () => {
    const map = drawnMap(['##l#', '..u#', '####']);
    const filled = (seeds: number[], open: (i: number) => boolean): number[] => {
      const reached = flood(map, seeds, open);
      return [...reached.keys()].filter((i) => reached[i] === 1);
    };
    expect(filled([0], () => true)).toEqual([0, 1, 2, 3, 6, 7, 8, 9, 10, 11]);
    expect(filled([0], (i) => i !== 3)).toEqual([0, 1, 2]);
    expect(filled([0, 8], (i) => i !== 3 && i !== 10)).toEqual([0, 1, 2, 8, 9]);
    const before = new Uint8Array(12);
    before[1] = 1;
    flood(map, [0], () => true, before);
    expect([...before.keys()].filter((i) => before[i] === 1)).toEqual([0, 1]);
  });
});

/** What comes free when `before` becomes `after`: whether the part, X and Y of its place, its size. */
const free = (
  before: readonly string[],
  after: readonly string[],
  wanted: readonly string[],
  holding: Holding,
  cell = 1,
) => {
  const [was, now] = [drawnMap(before, cell), drawnMap(after, cell)];
  const columns = drawnColumns(wanted);
  const watch = watchPieces(was, columns, holding, runsOf(was));
  const first = comingFree(now, columns, holding, watch, runsOf(now));
  // What was told once is not told again.
  expect(comingFree(now, columns, holding, watch, runsOf(now))).toEqual([]);
  return first;
};

describe('jaws', () => {
  const whole = ['#######', '#######', '#######', '#######'];
  const wanted = ['PP.....', 'PP.....', 'PP.....', 'PP.....'];
  const cut = ['##.####', '##.####', '##.####', '##.####'];
  const offcut = { isPart: false, at: { x: 13.5, y: 20.5, z: 2 }, length: 4, width: 4 };
  const part = { isPart: true, at: { x: 10.5, y: 20.5, z: 2 }, length: 2, width: 4 };

  it('hold what both of them touch in their length, and let go what only one does', () => {
    // The map lies over X 10 to 17 and Y 20 to 24.
    expect(free(whole, cut, wanted, jawsOn(20, 24, 0, 40))).toEqual([]);
    expect(free(whole, cut, wanted, jawsOn(20, 24, 0, 12))).toEqual([offcut]);
    expect(free(whole, cut, wanted, jawsOn(20, 24, 13, 40))).toEqual([part]);
    const row = '##.....';
    expect(free(whole, cut.with(3, row), wanted, jawsOn(20, 24, 0, 40))).toEqual([]);
    expect(free(whole, cut.with(3, row).with(2, row), wanted, jawsOn(20, 24, 0, 40))).toEqual([
      { ...offcut, width: 2 },
    ]);
    expect(free(whole, cut.with(0, row).with(1, row), wanted, jawsOn(20, 24, 0, 40))).toEqual([
      { ...offcut, width: 2, at: { ...offcut.at, y: 22.5 } },
    ]);
  });

  it('touch a cell from its middle on, at both ends of their length', () => {
    const held = (from: number, to: number): number =>
      free(whole, cut, wanted, jawsOn(20, 24, from, to)).length;
    expect(held(11.5, 13.5)).toBe(0);
    expect(held(11.6, 13.5)).toBe(1);
    expect(held(11.5, 13.4)).toBe(1);
  });

  it('reach in to where the work is gripped, a row and a half', () => {
    const [none, full, slit] = ['.......', '#######', '##.####'];
    const narrow = [none, full, full, none];
    const cutNarrow = [none, slit, slit, none];
    for (const [low, high] of [
      [21, 23],
      [20, 24],
      [18, 26],
    ] as const) {
      expect(free(narrow, cutNarrow, wanted, jawsOn(low, high, 0, 40))).toEqual([]);
    }
    // Two empty rows between a jaw and the work: it never was held, and of it only the offcut is told.
    const loose = { ...offcut, width: 2 };
    expect(free([none, ...narrow], [none, ...cutNarrow], [...wanted, none], jawsOn(20, 25, 0, 40))).toEqual([
      { ...loose, at: { ...loose.at, y: 22.5 } },
    ]);
    expect(free([...narrow, none], [...cutNarrow, none], [...wanted, none], jawsOn(20, 25, 0, 40))).toEqual([
      { ...loose, at: { ...loose.at, y: 21.5 } },
    ]);
  });

  it('hold by a row and a half from where they grip, whatever the size of the cells', () => {
    const rows = ['PP.....', 'PP.....', 'PP.....', 'PP.....', 'PP.....'];
    const [full, slit, gone] = ['#######', '##.####', '##.....'];
    const bar = rows.map(() => full);
    const told = (offcut: readonly number[], cell: number, low: number, high: number): number => {
      const cut = rows.map((_, j) => (offcut.includes(j) ? slit : gone));
      return free(bar, cut, rows, jawsOn(20 + low * cell, 20 + high * cell, 0, 40), cell).length;
    };
    for (const cell of [1, 4, 0.8]) {
      expect(told([2], cell, 1, 4)).toBe(0);
      expect(told([2], cell, 0, 4)).toBe(1);
      expect(told([2], cell, 1, 5)).toBe(1);
      expect(told([1, 2, 3], cell, 0, 5)).toBe(0);
      expect(told([2, 3], cell, 0, 5)).toBe(1);
    }
  });

  it('that close on nothing hold nothing', () => {
    const open = { ...jawsOn(20, 24, 0, 40), faces: null };
    expect(free(whole, cut, wanted, open)).toEqual([offcut]);
    expect(free(whole, cut, wanted, { ...jawsOn(20, 24, 0, 40), jaws: null })).toEqual([offcut]);
    expect(free(whole, cut, wanted, { ...jawsOn(20, 24, 0, 40), jaws: indexRegion(NOTHING) })).toEqual([
      offcut,
    ]);
  });
});

describe('a piece that comes free', () => {
  it('is a chip up to 3 mm either way, and worth a word beyond', () => {
    // Three cells between two slits, joined to nothing.
    const ring = ['#######', '#.....#', '#.###.#', '#.....#', '#######'];
    const full = ring.map(() => '#######');
    const rim = ring.map((row) => row.replaceAll('.', 'n').replaceAll('#', 'P').replace('nPPPn', 'n...n'));
    const around = jawsOn(20, 25, 0, 40);
    expect(free(full, ring, rim, around)).toEqual([]);
    const [told] = free(full, ring, rim, around, 1.01);
    expect(told!.isPart).toBe(false);
    expect(told!.length).toBeCloseTo(3.03, 9);
    expect(told!.width).toBeCloseTo(1.01, 9);
    expect(told!.at.x).toBeCloseTo(10 + 2.5 * 1.01, 9);
  });

  it('stood apart already when the setup began, and is not told', () => {
    const apart = ['######', '......', '######', '......', '######'];
    const wanted = ['PPPPPP', '......', '......', '......', 'PPPPPP'];
    expect(free(apart, apart, wanted, jawsOn(20, 25, 0, 40))).toEqual([]);
  });

  it('may be the part: of several pieces of it the largest is told, and none while one of them is held', () => {
    const none = '........';
    const wanted = [none, none, '..P.PP..', '..P.PP..', none, none];
    const whole = wanted.map(() => '########');
    const cut = ['########', '#......#', '#.#.##.#', '#.#.##.#', '#......#', '########'];
    const frame = jawsOn(20, 26, 0, 40);
    expect(free(whole, cut, wanted, frame)).toEqual([
      { isPart: true, at: { x: 14.5, y: 22.5, z: 2 }, length: 2, width: 2 },
    ]);
    expect(free(whole, cut.with(2, '###.##.#'), wanted, frame)).toEqual([]);
    // Where nothing is left of it, nothing of it comes free.
    expect(
      free(
        whole,
        ['########', ...wanted.slice(1, 5), '########'].map((row) => row.replaceAll('P', '.')),
        wanted,
        jawsOn(20, 26, 0, 40),
      ).filter((piece) => piece.isPart),
    ).toEqual([]);
    // The larger one may come first.
    const turned = (rows: readonly string[]): string[] => rows.map((row) => [...row].reverse().join(''));
    expect(free(whole, turned(cut), turned(wanted), frame)).toEqual([
      { isPart: true, at: { x: 12.5, y: 22.5, z: 2 }, length: 2, width: 2 },
    ]);
  });

  it('is told when it comes, whatever lay loose or came free before it', () => {
    const wanted = ['PP........', 'PP........', 'PP........', 'PP........'];
    const columns = drawnColumns(wanted);
    const frame = jawsOn(20, 24, 0, 40);
    const whole = drawnMap(['##########', '##########', '####......', '####.uuuu.']);
    const watch = watchPieces(whole, columns, frame, runsOf(whole));
    const look = (rows: readonly string[]) => {
      const map = drawnMap(rows);
      return comingFree(map, columns, frame, watch, runsOf(map)).map(({ isPart, at, length }) => [
        isPart,
        at.x,
        at.z,
        length,
      ]);
    };
    expect(look(['####.uuuuu', '####......', '####......', '####.uuuu.'])).toEqual([[false, 15.5, 3, 5]]);
    expect(look(['####.uuuuu', '####......', '####......', '####.uuuu.'])).toEqual([]);
    expect(look(['##........', '##.lllllll', '##........', '##...uuuu.'])).toEqual([[false, 13.5, 1, 7]]);
    expect(look(['..........', '##........', '##........', '##........'])).toEqual([]);
    expect(look(['..........', '..........', '##........', '##........'])).toEqual([[true, 10.5, 2, 2]]);
    expect(look(['..........', '..........', '..........', '##........'])).toEqual([]);
  });
});

describe('on a plate', () => {
  const whole = ['#####', '#####'];
  const cut = ['#.###', '#.###'];
  const wanted = ['P....', 'P....'];
  const tape = (up: 1 | -1) => ({ glued: true, up, feet: [] });
  const halves = (sign: string): string[] => cut.map((row) => row.replaceAll('#', sign));
  const isLifted = (rows: readonly string[], up: 1 | -1, underside: number): number =>
    free(whole, rows, wanted, lyingOn(tape(up), underside), 2).length;

  it('tape holds what lies on it, and not what was cut off above it', () => {
    expect(isLifted(cut, 1, 0)).toBe(0);
    expect(isLifted(halves('u'), 1, 0)).toBe(2);
    // Turned over, the part's top lies down.
    expect(isLifted(cut, -1, -4)).toBe(0);
    expect(isLifted(halves('l'), -1, -4)).toBe(2);
    // Less than 0.05 above the glue.
    expect(isLifted(cut, 1, -0.04)).toBe(0);
    expect(isLifted(cut, 1, -0.06)).toBe(1);
  });

  it('a foot holds what has the middle of a cell under its pad', () => {
    const told = (x: number, pad: number): number => {
      const foot = { kind: 'clamp', at: { x, y: 21 }, pad, plan: indexRegion(NOTHING), top: 9 } as const;
      const plate = { glued: false, up: 1, feet: [foot] } as const;
      return free(whole, cut, wanted, lyingOn(plate, 0), 2).length;
    };
    // Middles of cells lie at X 11 in the part and 15, 17 and 19 in the offcut.
    expect(told(11, 1)).toBe(1);
    expect(told(19, 1)).toBe(1);
    expect(told(13, 2)).toBe(0);
    // What hung together over the slit alone is let go on both sides of it.
    expect(told(13, 1.99)).toBe(2);
  });
});

it('signs are told apart', () => {
  const map: HeightMap = drawnMap(['#wlu.']);
  expect([...map.top].map((top, i) => [map.bottom[i], Math.round(top * 10) / 10])).toEqual(
    [...'#wlu.'].map((sign) => [...HEIGHTS[sign]!]),
  );
});
