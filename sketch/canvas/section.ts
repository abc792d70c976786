import type { Part } from '../part/part.ts';
import { spanOf } from '../part/side-marks.ts';
import type { Solid } from '../part/solid.ts';
import type { Point } from '../shape/point.ts';
import { disc } from '../shape/region.ts';
import { spansInside } from '../shape/spans.ts';

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
    spansInside(slab.region, cut.from, cut.to).map(([from, to]) => ({
      from,
      to,
      bottom: slab.bottom,
      top: slab.top,
    })),
  );

/** ISO 6410-1: the outside of a thread that is cut through, as thin lines beside its core. */
export const threadsInSection = (part: Part, cut: CutLine): readonly SectionLine[] =>
  part.holes.flatMap((hole) => {
    if (hole.purpose !== 'tapped') return [];
    const { bottom, top } = spanOf(part, hole);
    return spansInside(disc(hole.centre, hole.major / 2), cut.from, cut.to)
      .flat()
      .map((s): SectionLine => ({ from: { s, z: bottom }, to: { s, z: top } }));
  });

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
