import { cross, distance, dot, type Point, subtract, unit } from './point.ts';
import { contains, type Region, segmentsOf } from './region.ts';
import { radiusOf, type Segment, shareOfArc } from './segment.ts';

/** Stretches of a line that lie inside a region, as distances from its start, mm. */
export const spansInside = (
  region: Region,
  from: Point,
  to: Point,
): readonly (readonly [number, number])[] => {
  const l = distance(from, to);
  if (l === 0) return [];
  const u = unit(subtract(to, from));
  const at = segmentsOf(region)
    .flatMap((s) => crossings(s, from, u))
    .filter((t) => t > 0 && t < l)
    .sort((a, b) => a - b);
  const stops = [0, ...at, l];
  const spans: [number, number][] = [];
  for (let i = 0; i + 1 < stops.length; i++) {
    const a = stops[i]!;
    const b = stops[i + 1]!;
    if (b - a < 1e-6) continue;
    const m = (a + b) / 2;
    if (!contains(region, { x: from.x + u.x * m, y: from.y + u.y * m })) continue;
    const last = spans.at(-1);
    if (last && a - last[1] < 1e-6) last[1] = b;
    else spans.push([a, b]);
  }
  return spans;
};

/** Where a segment crosses the line through `o` along the unit direction `u`, as distances from `o`, mm. */
export const crossings = (s: Segment, o: Point, u: Point): number[] => {
  if (s.kind === 'line') {
    const d = subtract(s.to, s.from);
    const k = cross(u, d);
    if (Math.abs(k) < 1e-12) return [];
    const f = subtract(s.from, o);
    const share = cross(f, u) / k;
    return share >= 0 && share <= 1 ? [cross(f, d) / k] : [];
  }
  const r = radiusOf(s);
  const f = subtract(s.centre, o);
  const along = dot(f, u);
  const off = cross(u, f);
  if (Math.abs(off) > r) return [];
  const half = Math.sqrt(r * r - off * off);
  return [along - half, along + half].filter(
    (t) => shareOfArc(s, { x: o.x + u.x * t, y: o.y + u.y * t }) !== null,
  );
};
