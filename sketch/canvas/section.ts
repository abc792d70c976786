import type { Solid } from '../part/solid.ts';
import { cross, distance, dot, type Point, subtract, unit } from '../shape/point.ts';
import { contains, type Region, segmentsOf } from '../shape/region.ts';
import { radiusOf, type Segment, shareOfArc } from '../shape/segment.ts';

/** A line across the part at which it is cut through and looked at from the side, mm. */
export interface CutLine {
  readonly from: Point;
  readonly to: Point;
}

/** A rectangle of metal in a section: `from` and `to` along the line, heights of the part, mm. */
export interface SectionPatch {
  readonly from: number;
  readonly to: number;
  readonly bottom: number;
  readonly top: number;
}

/** The finished part cut along a line: exact, from its lines and arcs. */
export const sectionOfSolid = (solid: Solid, cut: CutLine): readonly SectionPatch[] =>
  solid.slabs.flatMap((slab) =>
    spansInside(slab.region, cut).map(([from, to]) => ({ from, to, bottom: slab.bottom, top: slab.top })),
  );

/** Stretches of a line that lie inside a region, as distances from its start, mm. */
export const spansInside = (region: Region, cut: CutLine): readonly (readonly [number, number])[] => {
  const l = distance(cut.from, cut.to);
  if (l === 0) return [];
  const u = unit(subtract(cut.to, cut.from));
  const at = segmentsOf(region)
    .flatMap((s) => crossings(s, cut.from, u))
    .filter((t) => t > 0 && t < l)
    .sort((a, b) => a - b);
  const stops = [0, ...at, l];
  const spans: [number, number][] = [];
  for (let i = 0; i + 1 < stops.length; i++) {
    const a = stops[i]!;
    const b = stops[i + 1]!;
    if (b - a < 1e-6) continue;
    const m = (a + b) / 2;
    if (!contains(region, { x: cut.from.x + u.x * m, y: cut.from.y + u.y * m })) continue;
    const last = spans.at(-1);
    if (last && a - last[1] < 1e-6) last[1] = b;
    else spans.push([a, b]);
  }
  return spans;
};

const crossings = (s: Segment, o: Point, u: Point): number[] => {
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

/** A line between two places of a section: distance along the cut, and height, mm. */
export interface SectionLine {
  readonly from: { readonly s: number; readonly z: number };
  readonly to: { readonly s: number; readonly z: number };
}

/** The outline of patches of metal put together: lines between two patches are not in it. */
export const outlineOfPatches = (patches: readonly SectionPatch[]): readonly SectionLine[] => {
  const along = steps(patches.flatMap((p) => [p.from, p.to]));
  const heights = steps(patches.flatMap((p) => [p.bottom, p.top]));
  const filled = (i: number, j: number): boolean => {
    const s = ((along[i] ?? Number.NaN) + (along[i + 1] ?? Number.NaN)) / 2;
    const z = ((heights[j] ?? Number.NaN) + (heights[j + 1] ?? Number.NaN)) / 2;
    return patches.some((p) => s > p.from && s < p.to && z > p.bottom && z < p.top);
  };
  const lines: SectionLine[] = [];
  for (let i = 0; i < along.length; i++) {
    for (let j = 0; j < heights.length; j++) {
      const here = filled(i, j);
      const corner = { s: along[i]!, z: heights[j]! };
      if (here !== filled(i - 1, j)) lines.push({ from: corner, to: { ...corner, z: heights[j + 1]! } });
      if (here !== filled(i, j - 1)) lines.push({ from: corner, to: { ...corner, s: along[i + 1]! } });
    }
  }
  return lines;
};

const steps = (values: readonly number[]): readonly number[] =>
  [...values].sort((a, b) => a - b).filter((v, i, all) => i === 0 || v - all[i - 1]! > 1e-6);
