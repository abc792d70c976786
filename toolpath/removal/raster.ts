import type { Solid } from '../../sketch/part/solid.ts';
import { type Region, segmentsOf } from '../../sketch/shape/region.ts';
import { pointAlong, radiusOf, type Segment, segmentBox, segmentLength } from '../../sketch/shape/segment.ts';
import type { CellBox, HeightMap } from './height-map.ts';

/** A place where a row meets a boundary, and how the winding number changes on passing it to the right. */
interface Crossing {
  readonly x: number;
  readonly turns: number;
}

/** Calls `fill` with every run of cells whose middles lie in the region (exact on lines and arcs): of the map, or of some. */
export const fillRegion = (
  map: Pick<HeightMap, 'cell' | 'columns' | 'rows' | 'x0' | 'y0'>,
  region: Region,
  fill: (first: number, last: number) => void,
  within: CellBox = { i0: 0, j0: 0, i1: map.columns - 1, j1: map.rows - 1 },
): void => {
  const { cell, columns, x0, y0 } = map;
  const flights = segmentsOf(region).flatMap(flightsOf);
  for (let j = within.j0; j <= within.j1; j++) {
    const y = y0 + (j + 0.5) * cell;
    const crossings = flights
      .filter((f) => f.low <= y !== f.high <= y)
      .map((f): Crossing => ({ x: f.xAt(y), turns: f.high > f.low ? 1 : -1 }))
      .sort((a, b) => a.x - b.x);
    let turns = 0;
    for (let k = 0; k + 1 < crossings.length; k++) {
      turns += crossings[k]!.turns;
      if (turns === 0) continue;
      const first = Math.max(within.i0, Math.ceil((crossings[k]!.x - x0) / cell - 0.5));
      const last = Math.min(within.i1, Math.floor((crossings[k + 1]!.x - x0) / cell - 0.5));
      if (first <= last) fill(j * columns + first, j * columns + last);
    }
  }
};

/** A piece of a boundary that rises or falls only, from one height to the other, and where it is at one between. */
interface Flight {
  readonly low: number;
  readonly high: number;
  readonly xAt: (y: number) => number;
}

const flightsOf = (s: Segment): readonly Flight[] => {
  if (s.kind === 'line') {
    const { from, to } = s;
    const xAt = (y: number): number => from.x + ((y - from.y) / (to.y - from.y)) * (to.x - from.x);
    return [{ low: from.y, high: to.y, xAt }];
  }
  // Walk the arc in pieces that rise or fall only, each with the true heights of its ends.
  const r = radiusOf(s);
  const start = Math.atan2(s.from.y - s.centre.y, s.from.x - s.centre.x);
  const stops = arcStops(start, s.sweep);
  const heightAt = (k: number): number =>
    k === 0 ? s.from.y : k === stops.length - 1 ? s.to.y : s.centre.y + r * Math.sin(stops[k]!);
  return stops.slice(1).map((stop, k): Flight => {
    const side = Math.cos((stops[k]! + stop) / 2) >= 0 ? 1 : -1;
    const half = (y: number): number => Math.sqrt(Math.max(0, r * r - (y - s.centre.y) ** 2));
    return { low: heightAt(k), high: heightAt(k + 1), xAt: (y) => s.centre.x + side * half(y) };
  });
};

/** The start of an arc, the angles of its highest and lowest places, its end, in the order of travel. */
const arcStops = (start: number, sweep: number): readonly number[] => {
  const low = Math.min(start, start + sweep);
  const high = Math.max(start, start + sweep);
  const inner: number[] = [];
  for (let k = Math.ceil((low - Math.PI / 2) / Math.PI); Math.PI / 2 + k * Math.PI < high; k++) {
    const angle = Math.PI / 2 + k * Math.PI;
    if (angle > low) inner.push(angle);
  }
  return sweep > 0 ? [low, ...inner, high] : [high, ...inner.reverse(), low];
};

/** The wanted heights over each cell: from the lowest wanted slab there to the highest; top ≤ bottom where nothing is. */
export interface WantedColumns {
  readonly top: Float32Array;
  readonly bottom: Float32Array;
  /** 1 where the cell's middle lies within a stated distance of some slab's boundary. */
  readonly nearWall: Uint8Array;
}

export const wantedColumns = (map: HeightMap, wanted: Solid, wallBand: number): WantedColumns => {
  const size = map.columns * map.rows;
  const columns = {
    top: new Float32Array(size),
    bottom: new Float32Array(size),
    nearWall: new Uint8Array(size),
  };
  fillColumns(columns, map, wanted, wallBand, { i0: 0, j0: 0, i1: map.columns - 1, j1: map.rows - 1 });
  return columns;
};

/** Puts some cells of columns to what is wanted there now; `within` lies on the map. */
export const fillColumns = (
  { top, bottom, nearWall }: WantedColumns,
  map: HeightMap,
  wanted: Solid,
  wallBand: number,
  within: CellBox,
): void => {
  for (let j = within.j0; j <= within.j1; j++) {
    const [first, end] = [j * map.columns + within.i0, j * map.columns + within.i1 + 1];
    top.fill(Number.NEGATIVE_INFINITY, first, end);
    bottom.fill(Number.POSITIVE_INFINITY, first, end);
    nearWall.fill(0, first, end);
  }
  const seen = new Set<Region>();
  for (const slab of wanted.slabs) {
    const fill = (first: number, last: number): void => {
      for (let i = first; i <= last; i++) {
        if (slab.top > top[i]!) top[i] = slab.top;
        if (slab.bottom < bottom[i]!) bottom[i] = slab.bottom;
      }
    };
    fillRegion(map, slab.region, fill, within);
    if (seen.has(slab.region)) continue;
    seen.add(slab.region);
    for (const s of segmentsOf(slab.region)) markNear(map, s, wallBand, nearWall, within);
  }
};

const markNear = (map: HeightMap, s: Segment, band: number, marks: Uint8Array, within: CellBox): void => {
  const { cell, columns, x0, y0 } = map;
  // Half a step to either side of a sample belongs to it.
  const reach = Math.hypot(band, cell / 4);
  const { min, max } = segmentBox(s);
  const away = reach + cell;
  if (
    min.x - away > x0 + (within.i1 + 1) * cell ||
    max.x + away < x0 + within.i0 * cell ||
    min.y - away > y0 + (within.j1 + 1) * cell ||
    max.y + away < y0 + within.j0 * cell
  )
    return;
  const steps = Math.max(1, Math.ceil(segmentLength(s) / (cell / 2)));
  for (let k = 0; k <= steps; k++) {
    const p = pointAlong(s, k / steps);
    const j0 = Math.max(within.j0, Math.ceil((p.y - reach - y0) / cell - 0.5));
    const j1 = Math.min(within.j1, Math.floor((p.y + reach - y0) / cell - 0.5));
    const i0 = Math.max(within.i0, Math.ceil((p.x - reach - x0) / cell - 0.5));
    const i1 = Math.min(within.i1, Math.floor((p.x + reach - x0) / cell - 0.5));
    for (let j = j0; j <= j1; j++) {
      const dy = y0 + (j + 0.5) * cell - p.y;
      for (let i = i0; i <= i1; i++) {
        const dx = x0 + (i + 0.5) * cell - p.x;
        if (dx * dx + dy * dy <= reach * reach) marks[j * columns + i] = 1;
      }
    }
  }
};
