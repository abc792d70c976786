import type { Solid } from '../part/solid.ts';
import { type Region, segmentsOf, signedDistance } from '../shape/region.ts';
import { piece, pointAlong, type Segment } from '../shape/segment.ts';

/** Edges of the part as seen from one face. */
export interface Edges {
  readonly visible: readonly Segment[];
  readonly hidden: readonly Segment[];
}

/** An edge is asked this many times along its length whether something lies over it. */
const SAMPLES = 12;
/** An edge this near to a boundary, mm, lies on it. */
const ON = 1e-3;

/** Every edge between the slabs of a solid, told apart by whether metal lies between it and the eye. */
export const edgesOf = (solid: Solid, from: 'front' | 'back'): Edges => {
  const order = from === 'front' ? [...solid.slabs].reverse() : [...solid.slabs];
  const visible: Segment[] = [];
  const hidden: Segment[] = [];
  const over: Region[] = [];
  for (const [index, slab] of order.entries()) {
    for (const segment of segmentsOf(slab.region)) {
      for (const run of runs(segment, (p) => standing(p, over))) {
        if (run.what === 'drawn') continue;
        (run.what === 'clear' ? visible : hidden).push(piece(segment, run.from, run.to));
      }
    }
    if (order[index + 1]) over.push(slab.region);
  }
  return { visible, hidden };
};

type Standing = 'clear' | 'covered' | 'drawn';

/** Whether a place is open to the eye, under metal, or on an edge that a higher slab has already given. */
const standing = (p: { x: number; y: number }, over: readonly Region[]): Standing => {
  let covered = false;
  for (const region of over) {
    const d = signedDistance(region, p);
    if (Math.abs(d) < ON) return 'drawn';
    if (d < 0) covered = true;
  }
  return covered ? 'covered' : 'clear';
};

const runs = (
  s: Segment,
  ask: (p: { x: number; y: number }) => Standing,
): { from: number; to: number; what: Standing }[] => {
  const found: { from: number; to: number; what: Standing }[] = [];
  for (let i = 0; i < SAMPLES; i++) {
    const what = ask(pointAlong(s, (i + 0.5) / SAMPLES));
    const last = found.at(-1);
    if (last && last.what === what) last.to = (i + 1) / SAMPLES;
    else found.push({ from: i / SAMPLES, to: (i + 1) / SAMPLES, what });
  }
  return found;
};
