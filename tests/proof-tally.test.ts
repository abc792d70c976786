import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { sumOf, tallied, wholeTiles } from '../gcode/proof/pass-tally.ts';
import { piecesOf, runsOf } from '../gcode/proof/pieces.ts';
import { barMap, type HeightMap } from '../toolpath/removal/height-map.ts';

const bar = {
  length: 53,
  width: 37,
  thickness: 3,
  material: 'brass',
  corner: { x: 0, y: 0 },
  sawn: 0,
} as const;
const SIZE = 53 * 37;

/** A cell's heights, whether the pass cut it, and whether it is wanted. */
const cell = fc.tuple(
  fc.constantFrom(0, 1, 2, 3),
  fc.constantFrom(0, 0.5, 1),
  fc.boolean(),
  fc.constantFrom(false, false, true),
);
/** The same few cells again and again fill the map, so that a case is small. */
const cells = fc.array(cell, { minLength: 40, maxLength: 90 });
type Cells = readonly (readonly [number, number, boolean, boolean])[];
const PASS = 4;

const stateOf = (of: (i: number) => Cells[number]) => {
  const map = barMap(bar, 1);
  const columns = {
    top: new Float32Array(SIZE).fill(Number.NEGATIVE_INFINITY),
    bottom: new Float32Array(SIZE).fill(Number.POSITIVE_INFINITY),
    nearWall: new Uint8Array(SIZE),
  };
  const marks = new Int32Array(SIZE).fill(-1);
  for (let i = 0; i < SIZE; i++) {
    const [top, bottom, cut, wanted] = of(i);
    map.top[i] = top;
    map.bottom[i] = Math.min(top, bottom);
    if (cut) marks[i] = PASS;
    if (wanted) [columns.top[i], columns.bottom[i]] = [2, 1];
  }
  return { map, columns, marks, number: PASS };
};
const all = (map: HeightMap) => ({ i0: 0, j0: 0, i1: map.columns - 1, j1: map.rows - 1 });
const at = (i: number): readonly [number, number] => [i % 53, Math.floor(i / 53)];

describe('what is known of a map but for a box of it', () => {
  const box = fc.tuple(fc.nat(52), fc.nat(36), fc.nat(52), fc.nat(36)).map(([a, b, c, d]) => ({
    i0: Math.min(a, c),
    i1: Math.max(a, c),
    j0: Math.min(b, d),
    j1: Math.max(b, d),
  }));
  it('gives with what the box holds now the tally, the runs and the pieces of all of it', () => {
    fc.assert(
      fc.property(cells, cells, box, (old, now, changed) => {
        const before = stateOf((i) => old[i % old.length]!);
        const tiles = wholeTiles(changed, before.map);
        expect(tiles.i0 <= changed.i0 && tiles.i1 >= changed.i1 && tiles.i1 < 53).toBe(true);
        const inside = (i: number, b = tiles): boolean => {
          const [column, row] = at(i);
          return column >= b.i0 && column <= b.i1 && row >= b.j0 && row <= b.j1;
        };
        const after = stateOf((i) => (inside(i) ? now[i % now.length]! : old[i % old.length]!));
        const known = tallied(before, all(before.map), null);
        // Nobody has looked at the cells beside the box since: their marks are gone.
        const marks = after.marks.map((mark, i) => (inside(i) ? mark : -1));
        const put = tallied({ ...after, marks }, tiles, known);
        expect(put).toEqual(tallied(after, all(after.map), null));
        const [opened, left] = [[] as number[], [] as number[]];
        for (let i = 0; i < SIZE; i++) {
          if (after.marks[i] !== PASS) continue;
          const height = after.map.top[i]! - after.map.bottom[i]!;
          if (height <= 0) opened.push(i);
          else if (after.columns.top[i]! <= after.columns.bottom[i]!) left.push(height);
        }
        expect(sumOf(put)).toEqual({
          opened: opened.length,
          webLeft: left.length > 0 ? Math.min(...left) : null,
        });
        const runs = runsOf(after.map, runsOf(before.map), tiles);
        expect(runs).toEqual(runsOf(after.map));
        const isWanted = (i: number): boolean => after.columns.top[i]! > after.columns.bottom[i]!;
        expect(piecesOf(after.map, isWanted, runs)).toEqual(piecesOf(after.map, isWanted));
      }),
      { numRuns: 60 },
    );
  });
});
