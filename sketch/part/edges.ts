import { intersections } from '../shape/intersections.ts';
import type { Point } from '../shape/point.ts';
import { type Region, segmentsOf, signedDistance } from '../shape/region.ts';
import { nearestOn, piece, pointAlong, type Segment } from '../shape/segment.ts';
import type { Slab } from './solid.ts';

/** Edges seen from above, and those under metal. */
export interface Edges {
  readonly visible: readonly Segment[];
  readonly hidden: readonly Segment[];
}

/** An edge this near to another, mm, lies on it. */
const ON = 2e-3;
/** Pieces shorter than this share of their edge are noise. */
const LEAST_SHARE = 1e-6;

/**
 * Every edge of a stack of slabs, seen from +Z. Edges are cut exactly where they pass under another one, so that heavy
 * and dashed lines meet at the corner and not near it. An edge that a higher slab has too is drawn once, for the higher.
 */
export const edgesFromAbove = (slabs: readonly Slab[]): Edges => {
  const order = [...slabs].sort((a, b) => b.top - a.top);
  const visible: Segment[] = [];
  const hidden: Segment[] = [];
  const over: Region[] = [];
  for (const slab of order) {
    for (const segment of segmentsOf(slab.region)) {
      for (const part of cutAt(segment, over.flatMap(segmentsOf))) {
        const standing = standingOf(pointAlong(part, 0.5), over);
        if (standing === 'clear') visible.push(part);
        if (standing === 'covered') hidden.push(part);
      }
    }
    over.push(slab.region);
  }
  return { visible, hidden };
};

/** The same seen from below, in the part's own coordinates: what was lowest is nearest to the eye. */
export const edgesFromBelow = (slabs: readonly Slab[]): Edges =>
  edgesFromAbove(slabs.map((slab) => ({ ...slab, bottom: -slab.top, top: -slab.bottom })));

const cutAt = (segment: Segment, others: readonly Segment[]): readonly Segment[] => {
  const shares = others.flatMap((other) => [
    ...intersections(segment, other).map((i) => i.shareA),
    // Where edges run along each other they do not cross; their ends are the places where one stops.
    ...[other.from, other.to].flatMap((p) => {
      const near = nearestOn(segment, p);
      return near.distance < ON ? [near.share] : [];
    }),
  ]);
  const inside = shares.filter((t) => t > LEAST_SHARE && t < 1 - LEAST_SHARE).sort((a, b) => a - b);
  const stops = [0, ...inside, 1];
  return stops
    .slice(1)
    .flatMap((t, i) => (t - stops[i]! > LEAST_SHARE ? [piece(segment, stops[i]!, t)] : []));
};

const standingOf = (p: Point, over: readonly Region[]): 'clear' | 'covered' | 'drawn' => {
  let covered = false;
  for (const region of over) {
    const d = signedDistance(region, p);
    if (Math.abs(d) < ON) return 'drawn';
    if (d < 0) covered = true;
  }
  return covered ? 'covered' : 'clear';
};
