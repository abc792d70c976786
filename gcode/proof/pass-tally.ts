import type { CellBox, HeightMap } from '../../toolpath/removal/height-map.ts';
import type { WantedColumns } from '../../toolpath/removal/raster.ts';

/** A skin thinner than this is nothing, mm. */
export const NO_WEB = 1e-3;
/** Side of a tile, cells. */
const TILE = 16;

/**
 * What a pass left in the cells that it cut, tile by tile of the map, row after row: so that what it left beside some
 * tiles is known without looking there.
 */
export interface PassTally {
  /** Cells cut through. */
  readonly opened: Int32Array;
  /** Least height left where none is wanted in the end, mm; infinite where none is left. */
  readonly least: Float64Array;
}

/** The cells a pass cut bear its number. */
export interface Marked {
  readonly map: HeightMap;
  readonly columns: WantedColumns;
  readonly marks: Int32Array;
  readonly number: number;
}

/** The same cells and all others of their tiles; `box` lies on the map. */
export const wholeTiles = (box: CellBox, { columns, rows }: HeightMap): CellBox => ({
  i0: box.i0 - (box.i0 % TILE),
  j0: box.j0 - (box.j0 % TILE),
  i1: Math.min(columns, box.i1 - (box.i1 % TILE) + TILE) - 1,
  j1: Math.min(rows, box.j1 - (box.j1 % TILE) + TILE) - 1,
});

const tilesAcross = ({ columns }: HeightMap): number => Math.ceil(columns / TILE);

/** Of a pass that has just cut within these whole tiles; what it left beside them is as in `known`. */
export const tallied = (pass: Marked, tiles: CellBox, known: PassTally | null): PassTally => {
  const { map, columns, marks, number } = pass;
  const across = tilesAcross(map);
  const count = across * Math.ceil(map.rows / TILE);
  const opened = known?.opened.slice() ?? new Int32Array(count);
  const least = known?.least.slice() ?? new Float64Array(count).fill(Number.POSITIVE_INFINITY);
  for (let j = tiles.j0; j <= tiles.j1; j++) {
    const first = Math.floor(j / TILE) * across;
    if (known !== null && j % TILE === 0) {
      opened.fill(0, first + Math.floor(tiles.i0 / TILE), first + Math.floor(tiles.i1 / TILE) + 1);
      least.fill(
        Number.POSITIVE_INFINITY,
        first + Math.floor(tiles.i0 / TILE),
        first + Math.floor(tiles.i1 / TILE) + 1,
      );
    }
    const row = j * map.columns;
    for (let i = tiles.i0; i <= tiles.i1; i++) {
      if (marks[row + i] !== number) continue;
      const tile = first + Math.floor(i / TILE);
      const left = map.top[row + i]! - map.bottom[row + i]!;
      if (left <= 0) opened[tile]!++;
      else if (left > NO_WEB && left < least[tile]! && columns.top[row + i]! <= columns.bottom[row + i]!)
        least[tile] = left;
    }
  }
  return { opened, least };
};

/** Cells that were cut through, and the least height left where none is wanted in the end; null where none is left. */
export const sumOf = ({
  opened,
  least,
}: PassTally): { readonly opened: number; readonly webLeft: number | null } => {
  let cells = 0;
  let web = Number.POSITIVE_INFINITY;
  for (let k = 0; k < opened.length; k++) {
    cells += opened[k]!;
    if (least[k]! < web) web = least[k]!;
  }
  return { opened: cells, webLeft: Number.isFinite(web) ? web : null };
};
