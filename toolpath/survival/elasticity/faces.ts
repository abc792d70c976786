import type { HeightMap } from '../../removal/height-map.ts';
import { type Face, gatherFaces } from './planes.ts';

/** The rectangle of map cells that is looked at: from column c0 and row r0, up to but not including c1 and r1. */
export interface Window {
  readonly c0: number;
  readonly c1: number;
  readonly r0: number;
  readonly r1: number;
}

/** A box in the part's coordinates, mm. */
export interface Box {
  readonly x0: number;
  readonly x1: number;
  readonly y0: number;
  readonly y1: number;
}

/** The map cells of a box that bear material, shrunk to what they fill; undefined where there is none. */
export const windowOf = (map: HeightMap, box?: Box): Window | undefined => {
  const clamp = (value: number, most: number): number => Math.min(most, Math.max(0, Math.round(value)));
  const c0 = box === undefined ? 0 : clamp((box.x0 - map.x0) / map.cell, map.columns);
  const c1 = box === undefined ? map.columns : clamp((box.x1 - map.x0) / map.cell, map.columns);
  const r0 = box === undefined ? 0 : clamp((box.y0 - map.y0) / map.cell, map.rows);
  const r1 = box === undefined ? map.rows : clamp((box.y1 - map.y0) / map.cell, map.rows);
  const found = { c0: c1, c1: c0, r0: r1, r1: r0 };
  for (let r = r0; r < r1; r++) {
    for (let c = c0; c < c1; c++) {
      const i = r * map.columns + c;
      if (!(map.top[i]! > map.bottom[i]!)) continue;
      found.c0 = Math.min(found.c0, c);
      found.c1 = Math.max(found.c1, c + 1);
      found.r0 = Math.min(found.r0, r);
      found.r1 = Math.max(found.r1, r + 1);
    }
  }
  return found.c1 > found.c0 && found.r1 > found.r0 ? found : undefined;
};

/** Heights that belong to one face, mm. */
const LEVEL_WITHIN = 0.02;
/** A wall must be at least this high to count, mm. */
const LEAST_WALL = 0.3;

/**
 * Level floors and tops, weighed by their area; smaller ones than `least` mm² are left out. Those of columns thinner than
 * `layer` are marked: a skin that shared a layer with air would be far too stiff.
 */
export const levelFaces = (map: HeightMap, window: Window, least: number, layer: number): Face[] => {
  const samples: Face[] = [];
  const skins: Face[] = [];
  const weight = map.cell * map.cell;
  for (let r = window.r0; r < window.r1; r++) {
    for (let c = window.c0; c < window.c1; c++) {
      const i = r * map.columns + c;
      const top = map.top[i]!;
      const bottom = map.bottom[i]!;
      if (!(top > bottom)) continue;
      (top - bottom < layer ? skins : samples).push({ at: top, weight }, { at: bottom, weight });
    }
  }
  const thin = gatherFaces(skins, LEVEL_WITHIN, least).map((face) => ({ ...face, thin: true }));
  return [...thin, ...gatherFaces(samples, LEVEL_WITHIN, least)];
};

/** How much wall stands between two map cells, mm of height. */
const wallBetween = (map: HeightMap, a: number, b: number): number => {
  const fullA = map.top[a]! > map.bottom[a]!;
  const fullB = map.top[b]! > map.bottom[b]!;
  if (!fullA && !fullB) return 0;
  if (!fullA) return map.top[b]! - map.bottom[b]!;
  if (!fullB) return map.top[a]! - map.bottom[a]!;
  return Math.abs(map.top[a]! - map.top[b]!) + Math.abs(map.bottom[a]! - map.bottom[b]!);
};

/** Walls square to x or y, weighed by their length along the other axis; shorter ones than `least` mm are left out. */
export const wallFaces = (map: HeightMap, window: Window, axis: 'x' | 'y', least: number): Face[] => {
  const { c0, c1, r0, r1 } = window;
  const samples: Face[] = [];
  const [start, end, acrossStart, acrossEnd] = axis === 'x' ? [c0, c1, r0, r1] : [r0, r1, c0, c1];
  const origin = axis === 'x' ? map.x0 : map.y0;
  const step = axis === 'x' ? 1 : map.columns;
  const across = axis === 'x' ? map.columns : 1;
  for (let line = start + 1; line < end; line++) {
    let length = 0;
    for (let k = acrossStart; k < acrossEnd; k++) {
      const i = line * step + k * across;
      if (wallBetween(map, i - step, i) >= LEAST_WALL) length += map.cell;
    }
    if (length > 0) samples.push({ at: origin + line * map.cell, weight: length });
  }
  return gatherFaces(samples, map.cell, least);
};
