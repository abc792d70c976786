import type { Point } from '../../sketch/shape/point.ts';
import { cellAt, type HeightMap } from './height-map.ts';

/** A column of a section: distance along the line, and the material's two heights (equal where there is none), mm. */
export interface SectionSample {
  readonly s: number;
  readonly top: number;
  readonly bottom: number;
}

/** The map along a line from a to b, a sample every cell or nearer. Off the map there is no material. */
export const section = (map: HeightMap, a: Point, b: Point): readonly SectionSample[] => {
  const length = Math.hypot(b.x - a.x, b.y - a.y);
  const steps = Math.max(1, Math.ceil(length / map.cell));
  return Array.from({ length: steps + 1 }, (_, k) => {
    const t = k / steps;
    const index = cellAt(map, a.x + (b.x - a.x) * t, a.y + (b.y - a.y) * t);
    const bottom = index < 0 ? 0 : map.bottom[index]!;
    const top = index < 0 ? 0 : Math.max(bottom, map.top[index]!);
    return { s: length * t, top, bottom };
  });
};
