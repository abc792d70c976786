import type { Solid } from '../../sketch/part/solid.ts';
import { type Region, segmentsOf } from '../../sketch/shape/region.ts';
import { pointAlong, radiusOf, type Segment, segmentLength } from '../../sketch/shape/segment.ts';
import type { HeightMap } from './height-map.ts';

/** A place where a row meets a boundary, and how the winding number changes on passing it to the right. */
interface Crossing {
  readonly x: number;
  readonly turns: number;
}

/** Calls `fill` with every run of cells of the map whose middles lie in the region (exact on lines and arcs). */
export const fillRegion = (
  map: Pick<HeightMap, 'cell' | 'columns' | 'rows' | 'x0' | 'y0'>,
  region: Region,
  fill: (first: number, last: number) => void,
): void => {
  const { cell, columns, rows, x0, y0 } = map;
  const segments = segmentsOf(region);
  for (let j = 0; j < rows; j++) {
    const y = y0 + (j + 0.5) * cell;
    const crossings = segments.flatMap((s) => crossingsOf(s, y)).sort((a, b) => a.x - b.x);
    let turns = 0;
    for (let k = 0; k + 1 < crossings.length; k++) {
      turns += crossings[k]!.turns;
      if (turns === 0) continue;
      const first = Math.max(0, Math.ceil((crossings[k]!.x - x0) / cell - 0.5));
      const last = Math.min(columns - 1, Math.floor((crossings[k + 1]!.x - x0) / cell - 0.5));
      if (first <= last) fill(j * columns + first, j * columns + last);
    }
  }
};

const crossingsOf = (s: Segment, y: number): readonly Crossing[] => {
  if (s.kind === 'line') {
    if (s.from.y <= y === s.to.y <= y) return [];
    const x = s.from.x + ((y - s.from.y) / (s.to.y - s.from.y)) * (s.to.x - s.from.x);
    return [{ x, turns: s.to.y > s.from.y ? 1 : -1 }];
  }
  // Walk the arc in pieces that rise or fall only, each with the true heights of its ends.
  const r = radiusOf(s);
  const start = Math.atan2(s.from.y - s.centre.y, s.from.x - s.centre.x);
  const stops = arcStops(start, s.sweep);
  const heightAt = (k: number): number =>
    k === 0 ? s.from.y : k === stops.length - 1 ? s.to.y : s.centre.y + r * Math.sin(stops[k]!);
  const found: Crossing[] = [];
  for (let k = 0; k + 1 < stops.length; k++) {
    const low = heightAt(k);
    const high = heightAt(k + 1);
    if (low <= y === high <= y) continue;
    const side = Math.cos((stops[k]! + stops[k + 1]!) / 2) >= 0 ? 1 : -1;
    const half = Math.sqrt(Math.max(0, r * r - (y - s.centre.y) ** 2));
    found.push({ x: s.centre.x + side * half, turns: high > low ? 1 : -1 });
  }
  return found;
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
  const top = new Float32Array(size).fill(Number.NEGATIVE_INFINITY);
  const bottom = new Float32Array(size).fill(Number.POSITIVE_INFINITY);
  const nearWall = new Uint8Array(size);
  const seen = new Set<Region>();
  for (const slab of wanted.slabs) {
    fillRegion(map, slab.region, (first, last) => {
      for (let i = first; i <= last; i++) {
        if (slab.top > top[i]!) top[i] = slab.top;
        if (slab.bottom < bottom[i]!) bottom[i] = slab.bottom;
      }
    });
    if (seen.has(slab.region)) continue;
    seen.add(slab.region);
    for (const s of segmentsOf(slab.region)) markNear(map, s, wallBand, nearWall);
  }
  return { top, bottom, nearWall };
};

const markNear = (map: HeightMap, s: Segment, band: number, marks: Uint8Array): void => {
  const { cell, columns, rows, x0, y0 } = map;
  const steps = Math.max(1, Math.ceil(segmentLength(s) / (cell / 2)));
  // Half a step to either side of a sample belongs to it.
  const reach = Math.hypot(band, cell / 4);
  for (let k = 0; k <= steps; k++) {
    const p = pointAlong(s, k / steps);
    const j0 = Math.max(0, Math.ceil((p.y - reach - y0) / cell - 0.5));
    const j1 = Math.min(rows - 1, Math.floor((p.y + reach - y0) / cell - 0.5));
    const i0 = Math.max(0, Math.ceil((p.x - reach - x0) / cell - 0.5));
    const i1 = Math.min(columns - 1, Math.floor((p.x + reach - x0) / cell - 0.5));
    for (let j = j0; j <= j1; j++) {
      const dy = y0 + (j + 0.5) * cell - p.y;
      for (let i = i0; i <= i1; i++) {
        const dx = x0 + (i + 0.5) * cell - p.x;
        if (dx * dx + dy * dy <= reach * reach) marks[j * columns + i] = 1;
      }
    }
  }
};
