import type { Face } from '../../sketch/part/part.ts';
import type { Solid } from '../../sketch/part/solid.ts';
import { union } from '../../sketch/shape/boolean.ts';
import { offset } from '../../sketch/shape/offset.ts';
import type { Point } from '../../sketch/shape/point.ts';
import { contains, nearestBoundary, type Region } from '../../sketch/shape/region.ts';
import type { Cutter } from '../../toolpath/machine/cutter.ts';

/** What the owned cutters can come at: how near the smallest endmill's edge can get to any place outside the part. */
export interface Reach {
  /** Radius of the smallest endmill, mm; null when none is owned. */
  readonly radius: number | null;
  /**
   * How far short of a place (outside or on the wall of a slab, at its heights) any disc of the smallest endmill must
   * stop that does not enter the part, mm: 0 where it can touch, the gap in an inner corner sharper than the cutter,
   * null where no such cutter can come at all (a slot or hole narrower than it).
   */
  shortfall(slab: number, place: Point): number | null;
}

/** Corners sharper than about 60° leave more than this many radii; beyond it the place is a passage, not a corner. */
const SHARPEST = 1.05;
const STEPS = 12;
const SMALL = 0.002;
/** The cutter is taken this much smaller, so that a passage exactly as wide as it counts as passed, mm. */
const SLACK = 0.005;

export const reachOf = (wanted: Solid, cutters: readonly Cutter[]): Reach => {
  const radii = cutters.filter((c) => c.kind === 'endmill').map((c) => c.diameter / 2);
  const radius = radii.length === 0 ? null : Math.min(...radii);
  const disc = (radius ?? 0) - SLACK;
  const obstacles = new Map<string, { readonly wall: Region; readonly grown: Region }>();
  const obstacle = (slab: number, face: Face): { readonly wall: Region; readonly grown: Region } => {
    const key = `${face}${slab}`;
    const known = obstacles.get(key);
    if (known !== undefined) return known;
    const inTheWay = wanted.slabs.filter((_, i) => (face === 'front' ? i >= slab : i <= slab));
    const regions = [...new Set(inTheWay.map((s) => s.region))];
    const wall = regions.length === 1 ? regions[0]! : union(regions);
    const made = { wall, grown: offset(wall, disc) };
    obstacles.set(key, made);
    return made;
  };
  const from = (face: Face, slab: number, place: Point): number | null => {
    const { wall, grown } = obstacle(slab, face);
    if (!contains(grown, place)) return 0;
    const near = nearestBoundary(grown, place);
    if (near === null) return null;
    const short = near.distance - disc;
    if (short <= SMALL) return 0;
    if (short > SHARPEST * disc) return null;
    // The nearest free place of the cutter's centre may lie behind a wall: then it is no help here.
    for (let k = 1; k < STEPS; k++) {
      const t = k / STEPS;
      const p = {
        x: place.x + (near.point.x - place.x) * t,
        y: place.y + (near.point.y - place.y) * t,
      };
      if (contains(wall, p)) return null;
    }
    return short;
  };
  return {
    radius,
    shortfall: (slab, place) => {
      if (radius === null) return null;
      const front = from('front', slab, place);
      if (front === 0) return 0;
      const back = from('back', slab, place);
      if (front === null) return back;
      return back === null ? front : Math.min(front, back);
    },
  };
};
