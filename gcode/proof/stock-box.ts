import type { Bar } from '../../sketch/part/part.ts';
import type { HeightMap } from '../../toolpath/removal/height-map.ts';
import type { MapExtent } from '../../toolpath/removal/map-extent.ts';
import { toProgram } from '../../toolpath/route/frame.ts';
import type { ProofSetup } from './proof.ts';

/** The box of what stands, in a setup's program coordinates; the bar's own sides are exact. */
export const stockBox = (
  bar: Bar,
  map: HeightMap,
  extent: MapExtent,
  setup: ProofSetup,
): { readonly min: readonly [number, number, number]; readonly max: readonly [number, number, number] } => {
  const { i0, i1, j0, j1, low, high } = extent;
  if (i0 > i1) return { min: [0, 0, 0], max: [0, 0, 0] };
  const x1 = Math.min(map.x0 + (i1 + 1) * map.cell, bar.corner.x + bar.length + bar.sawn);
  const y1 = Math.min(map.y0 + (j1 + 1) * map.cell, bar.corner.y + bar.width);
  const a = toProgram(setup.frame, { x: map.x0 + i0 * map.cell, y: map.y0 + j0 * map.cell, z: low });
  const b = toProgram(setup.frame, { x: x1, y: y1, z: high });
  return {
    min: [Math.min(a.x, b.x), Math.min(a.y, b.y), Math.min(a.z, b.z)],
    max: [Math.max(a.x, b.x), Math.max(a.y, b.y), Math.max(a.z, b.z)],
  };
};
