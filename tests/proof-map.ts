import type { IndexedRegion } from '../gcode/proof/distance.ts';
import { indexRegion } from '../gcode/proof/distance.ts';
import type { Holding, PlateHolding } from '../gcode/proof/hold.ts';
import { rectangle } from '../sketch/shape/region.ts';
import { barMap, type HeightMap } from '../toolpath/removal/height-map.ts';
import type { WantedColumns } from '../toolpath/removal/raster.ts';

/** What stands in a cell by its sign: from and to, mm; a bar 4 mm thick, a web, its lower and upper half, nothing. */
export const HEIGHTS: Readonly<Record<string, readonly [number, number]>> = {
  '#': [0, 4],
  w: [0, 0.8],
  l: [0, 2],
  u: [2, 4],
  '.': [1, 1],
};

/** A map drawn by hand, a sign to each cell, the row of the lowest Y first; its corner at (10, 20). */
export const drawnMap = (rows: readonly string[], cell = 1): HeightMap => {
  const size = { length: rows[0]!.length * cell, width: rows.length * cell, thickness: 4 };
  const map = barMap({ ...size, material: 'brass', corner: { x: 10, y: 20 }, sawn: 0 }, cell);
  [...rows.join('')].forEach((sign, i) => {
    [map.bottom[i], map.top[i]] = HEIGHTS[sign]!;
  });
  return map;
};

/** Cells wanted over all of a height (`P`) and by a wall (`n`: not wanted; `N`: wanted). */
export const drawnColumns = (rows: readonly string[], low = 0, high = 4): WantedColumns => {
  const signs = [...rows.join('')];
  const isWanted = (sign: string): boolean => sign === 'P' || sign === 'N';
  return {
    top: Float32Array.from(signs, (s) => (isWanted(s) ? high : Number.NEGATIVE_INFINITY)),
    bottom: Float32Array.from(signs, (s) => (isWanted(s) ? low : Number.POSITIVE_INFINITY)),
    nearWall: Uint8Array.from(signs, (s) => (s === 'n' || s === 'N' ? 1 : 0)),
  };
};

/** Jaws over a stretch of X that close on two heights of Y. */
export const jawsOn = (low: number, high: number, from: number, to: number): Holding => ({
  underside: 0,
  jawTop: 1,
  jaws: jawRegion(low, high, from, to),
  faces: { low, high },
  parallels: [],
  bed: null,
  plate: null,
});

const jawRegion = (low: number, high: number, from: number, to: number): IndexedRegion =>
  indexRegion({
    contours: [
      ...rectangle({ x: from, y: low - 60 }, { x: to, y: low }).contours,
      ...rectangle({ x: from, y: high }, { x: to, y: high + 60 }).contours,
    ],
  });

export const lyingOn = (plate: PlateHolding, underside: number): Holding => ({
  ...jawsOn(0, 0, 0, 0),
  underside,
  jaws: null,
  faces: null,
  plate,
});
