import type { Solid } from '../../sketch/part/solid.ts';
import { regionBox } from '../../sketch/shape/region.ts';
import { bothBoxes, isEmptyBox, NO_CELLS } from '../../toolpath/removal/cut.ts';
import { type CellBox, type HeightMap, sameGrid } from '../../toolpath/removal/height-map.ts';
import { fillColumns, type WantedColumns, wantedColumns } from '../../toolpath/removal/raster.ts';

/** A wanted slab as text, each contour with the cells that it lies in. */
export interface SlabText {
  readonly bottom: number;
  readonly top: number;
  readonly contours: ReadonlyMap<string, CellBox>;
}

export const slabTexts = (solid: Solid, map: HeightMap): readonly SlabText[] =>
  solid.slabs.map(({ bottom, top, region }) => ({
    bottom,
    top,
    contours: new Map(
      region.contours.map((contour) => {
        const { min, max } = regionBox({ contours: [contour] })!;
        const column = (x: number): number => Math.floor((x - map.x0) / map.cell);
        const row = (y: number): number => Math.floor((y - map.y0) / map.cell);
        const box = { i0: column(min.x) - 1, i1: column(max.x) + 1, j0: row(min.y) - 1, j1: row(max.y) + 1 };
        return [JSON.stringify(contour), box];
      }),
    ),
  }));

/** Columns of a wanted part as they stand in a map, and what they were made from. */
export interface KnownColumns {
  readonly map: HeightMap;
  readonly wanted: readonly SlabText[];
  /** mm. */
  readonly band: number;
  readonly columns: WantedColumns;
}

/** Beside cells in which another shape is wanted, cells near its walls: as many more than the band holds. */
const ROUND_ABOUT = 2;

/** The columns of a part, told from older ones where no other shape is wanted; these are changed. Gives the cells reckoned. */
export const columnsOf = (
  solid: Solid,
  wanted: readonly SlabText[],
  map: HeightMap,
  band: number,
  old: KnownColumns | null,
): { readonly columns: WantedColumns; readonly reckoned: number } => {
  const where =
    old && old.band === band && sameGrid(old.map, map) ? changedWanted(old.wanted, wanted, map) : null;
  if (!old || !where) return { columns: wantedColumns(map, solid, band), reckoned: map.top.length };
  if (isEmptyBox(where)) return { columns: old.columns, reckoned: 0 };
  const by = Math.ceil(band / map.cell) + ROUND_ABOUT;
  const cells = {
    i0: Math.max(0, where.i0 - by),
    j0: Math.max(0, where.j0 - by),
    i1: Math.min(map.columns - 1, where.i1 + by),
    j1: Math.min(map.rows - 1, where.j1 + by),
  };
  fillColumns(old.columns, map, solid, band, cells);
  return { columns: old.columns, reckoned: (cells.i1 - cells.i0 + 1) * (cells.j1 - cells.j0 + 1) };
};

/** Cells in which another shape is wanted than before, and the heights of the part between which it is, mm. */
export interface WantedChange extends CellBox {
  readonly low: number;
  readonly high: number;
}

/** What is wanted otherwise than before; null where it is another stack of slabs. */
export const changedWanted = (
  old: readonly SlabText[],
  now: readonly SlabText[],
  map: HeightMap,
): WantedChange | null => {
  if (old.length !== now.length || old.some((s, k) => s.bottom !== now[k]!.bottom || s.top !== now[k]!.top))
    return null;
  let cells = NO_CELLS;
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  old.forEach(({ contours, bottom, top }, k) => {
    const others = now[k]!.contours;
    const boxes = [
      ...[...contours].filter(([text]) => !others.has(text)),
      ...[...others].filter(([text]) => !contours.has(text)),
    ].map(([, box]) => box);
    if (boxes.length === 0) return;
    cells = boxes.reduce(bothBoxes, cells);
    low = Math.min(low, bottom);
    high = Math.max(high, top);
  });
  if (isEmptyBox(cells)) return { ...cells, low, high };
  const within = (v: number, most: number): number => Math.max(0, Math.min(most - 1, v));
  return {
    i0: within(cells.i0, map.columns),
    i1: within(cells.i1, map.columns),
    j0: within(cells.j0, map.rows),
    j1: within(cells.j1, map.rows),
    low,
    high,
  };
};
