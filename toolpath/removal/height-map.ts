import type { Bar } from '../../sketch/part/part.ts';
import type { Solid } from '../../sketch/part/solid.ts';
import { radiusOf } from '../../sketch/shape/segment.ts';

/**
 * What is left of the bar, as two heights over each cell of an even grid in the part's coordinates (mm).
 *
 * Material fills a column from `bottom` to `top`; there is none where top ≤ bottom. Cell (i, j) has its middle at
 * x0 + (i + ½)·cell, y0 + (j + ½)·cell and the index j·columns + i. A setup with the front up lowers `top`, one with
 * the back up raises `bottom`, so anything a three-axis machine can make from two sides is kept; undercuts are not.
 */
export interface HeightMap {
  readonly cell: number;
  readonly columns: number;
  readonly rows: number;
  readonly x0: number;
  readonly y0: number;
  readonly top: Float32Array;
  readonly bottom: Float32Array;
}

/** Cells of a map from column `i0` and row `j0` to `i1` and `j1`, these too; none where an end lies before its start. */
export interface CellBox {
  readonly i0: number;
  readonly j0: number;
  readonly i1: number;
  readonly j1: number;
}

/** Coarsest and finest cell, mm, and the number of cells beyond which the cell grows. */
const COARSEST = 0.1;
const FINEST = 0.04;
const MOST_CELLS = 4_000_000;
/** Cells wanted across the smallest radius of the part. */
const CELLS_PER_RADIUS = 15;

/**
 * Cell for a part, mm: 0.1 or finer, about fifteen to the smallest radius. Only a bar so large that the map would
 * pass four million cells (0.04 m² at 0.1 mm) gets a coarser one.
 */
export const chooseCell = (bar: Bar, wanted: Solid): number => {
  const radii = wanted.slabs.flatMap((slab) =>
    slab.region.contours.flatMap((contour) =>
      contour.segments.flatMap((s) => (s.kind === 'arc' ? [radiusOf(s)] : [])),
    ),
  );
  const smallest = radii.length === 0 ? Number.POSITIVE_INFINITY : Math.min(...radii);
  const wished = Math.min(COARSEST, Math.max(FINEST, smallest / CELLS_PER_RADIUS));
  const area = (bar.length + 2 * bar.sawn) * bar.width;
  const affordable = Math.sqrt(area / MOST_CELLS);
  return Math.max(wished, affordable);
};

/** The bar with its sawn ends, uncut. Throws a RangeError on a bar or cell that is not a positive size. */
export const barMap = (bar: Bar, cell: number): HeightMap => {
  if (!(cell > 0) || !(bar.length > 0) || !(bar.width > 0) || !(bar.thickness > 0)) {
    throw new RangeError('the bar and the cell of a height map must have positive sizes');
  }
  const columns = Math.max(1, Math.ceil((bar.length + 2 * bar.sawn) / cell - 1e-6));
  const rows = Math.max(1, Math.ceil(bar.width / cell - 1e-6));
  return {
    cell,
    columns,
    rows,
    x0: bar.corner.x - bar.sawn,
    y0: bar.corner.y,
    top: new Float32Array(columns * rows).fill(bar.thickness),
    bottom: new Float32Array(columns * rows),
  };
};

export const copyMap = (map: HeightMap): HeightMap => ({
  ...map,
  top: map.top.slice(),
  bottom: map.bottom.slice(),
});

/** Whether cells of the one map lie where the other's do. */
export const sameGrid = (a: HeightMap, b: HeightMap): boolean =>
  a.cell === b.cell && a.columns === b.columns && a.rows === b.rows && a.x0 === b.x0 && a.y0 === b.y0;

/** Volume of material, mm³. */
export const mapVolume = (map: HeightMap): number => {
  let heights = 0;
  for (let i = 0; i < map.top.length; i++) {
    const height = map.top[i]! - map.bottom[i]!;
    if (height > 0) heights += height;
  }
  return heights * map.cell * map.cell;
};

/** Index of the cell under a place; −1 off the map. */
export const cellAt = (map: HeightMap, x: number, y: number): number => {
  const i = Math.floor((x - map.x0) / map.cell);
  const j = Math.floor((y - map.y0) / map.cell);
  return i < 0 || j < 0 || i >= map.columns || j >= map.rows ? -1 : j * map.columns + i;
};

/** Middle of a cell. */
export const cellMiddle = (map: HeightMap, index: number): { readonly x: number; readonly y: number } => ({
  x: map.x0 + ((index % map.columns) + 0.5) * map.cell,
  y: map.y0 + (Math.floor(index / map.columns) + 0.5) * map.cell,
});
