import { NO_CELLS } from './cut.ts';
import type { CellBox, HeightMap } from './height-map.ts';

/** The cells that material stands in, and its lowest and highest height, the part's z, mm; no cells where none stands. */
export interface MapExtent extends CellBox {
  readonly low: number;
  readonly high: number;
}

/** Of a bar that nothing was cut from. */
export const uncutExtent = ({ columns, rows, top, bottom }: HeightMap): MapExtent => ({
  i0: 0,
  j0: 0,
  i1: columns - 1,
  j1: rows - 1,
  low: bottom[0]!,
  high: top[0]!,
});

/** Loops by hand, here and below: a call for each of a million cells would be felt at every edit. */
export const extentOf = ({ columns, rows, top, bottom }: HeightMap): MapExtent => {
  let { i0, j0, i1, j1 } = NO_CELLS;
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let j = 0; j < rows; j++) {
    let first = -1;
    let last = -1;
    const row = j * columns;
    for (let i = 0; i < columns; i++) {
      const above = top[row + i]!;
      const below = bottom[row + i]!;
      if (above <= below) continue;
      if (first < 0) first = i;
      last = i;
      if (below < low) low = below;
      if (above > high) high = above;
    }
    if (first < 0) continue;
    if (j0 > j) j0 = j;
    j1 = j;
    if (first < i0) i0 = first;
    if (last > i1) i1 = last;
  }
  return { i0, j0, i1, j1, low, high };
};

/** The box round all cells that stand otherwise in one map than in the other, of the same grid. */
export const differingCells = (a: HeightMap, b: HeightMap): CellBox => {
  const { columns } = a;
  let { i0, j0, i1, j1 } = NO_CELLS;
  for (let j = 0; j < a.rows; j++) {
    const row = j * columns;
    let first = 0;
    while (first < columns && sameCell(a, b, row + first)) first++;
    if (first === columns) continue;
    let last = columns - 1;
    while (sameCell(a, b, row + last)) last--;
    if (j0 > j) j0 = j;
    j1 = j;
    if (first < i0) i0 = first;
    if (last > i1) i1 = last;
  }
  return { i0, j0, i1, j1 };
};

const sameCell = (a: HeightMap, b: HeightMap, i: number): boolean =>
  a.top[i] === b.top[i] && a.bottom[i] === b.bottom[i];
