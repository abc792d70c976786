import type { Bar } from '../../sketch/part/part.ts';
import type { HeightMap } from '../../toolpath/removal/height-map.ts';
import { toProgram } from '../../toolpath/route/frame.ts';
import { isMaterial } from './pieces.ts';
import type { ProofSetup } from './proof.ts';

/** The box of what stands, in a setup's program coordinates; the bar's own sides are exact. */
export const stockBox = (
  bar: Bar,
  map: HeightMap,
  setup: ProofSetup,
): { readonly min: readonly [number, number, number]; readonly max: readonly [number, number, number] } => {
  let x0 = Number.POSITIVE_INFINITY;
  let x1 = Number.NEGATIVE_INFINITY;
  let y0 = x0;
  let y1 = x1;
  let z0 = x0;
  let z1 = x1;
  for (let i = 0; i < map.top.length; i++) {
    if (!isMaterial(map, i)) continue;
    const column = i % map.columns;
    const row = (i - column) / map.columns;
    x0 = Math.min(x0, map.x0 + column * map.cell);
    x1 = Math.max(x1, map.x0 + (column + 1) * map.cell);
    y0 = Math.min(y0, map.y0 + row * map.cell);
    y1 = Math.max(y1, map.y0 + (row + 1) * map.cell);
    z0 = Math.min(z0, map.bottom[i]!);
    z1 = Math.max(z1, map.top[i]!);
  }
  if (x0 > x1) return { min: [0, 0, 0], max: [0, 0, 0] };
  x1 = Math.min(x1, bar.corner.x + bar.length + bar.sawn);
  y1 = Math.min(y1, bar.corner.y + bar.width);
  const a = toProgram(setup.frame, { x: x0, y: y0, z: z0 });
  const b = toProgram(setup.frame, { x: x1, y: y1, z: z1 });
  return {
    min: [Math.min(a.x, b.x), Math.min(a.y, b.y), Math.min(a.z, b.z)],
    max: [Math.max(a.x, b.x), Math.max(a.y, b.y), Math.max(a.z, b.z)],
  };
};
