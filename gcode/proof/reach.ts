import type { Face } from '../../sketch/part/part.ts';
import type { Solid } from '../../sketch/part/solid.ts';
import { union } from '../../sketch/shape/boolean.ts';
import { offset } from '../../sketch/shape/offset.ts';
import type { Box, Point } from '../../sketch/shape/point.ts';
import { contains, contourArea, nearestBoundary, type Region, regionBox } from '../../sketch/shape/region.ts';
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

/** What cutters run against about a place, and what their middles do. */
export interface Obstacle {
  readonly wall: Region;
  readonly grown: Region;
}

/** Obstacles of the proof before, by all that they are made from as text, and each slab's contours as text. */
export interface KnownObstacles {
  readonly made: Map<string, Obstacle>;
  readonly texts: readonly (readonly string[])[];
  readonly counts: { grown: number };
}

/** Nothing farther from a place than so many radii of the cutter can matter to how near it comes. */
const MATTERS = SHARPEST + 2.5;
/** More obstacles than this are not remembered. */
const MOST_KNOWN = 60;

/** With what is known of obstacles only those are made anew that are others. */
export const reachOf = (
  wanted: Solid,
  cutters: readonly Cutter[],
  known: KnownObstacles | null = null,
): Reach => {
  const radii = cutters.filter((c) => c.kind === 'endmill').map((c) => c.diameter / 2);
  const radius = radii.length === 0 ? null : Math.min(...radii);
  const disc = (radius ?? 0) - SLACK;
  const contours = wanted.slabs.map(({ region }) =>
    region.contours.map((contour) => ({
      contour,
      isHole: contourArea(contour) < 0,
      box: regionBox({ contours: [contour] }),
    })),
  );
  const isNear = (box: Box | null, { x, y }: Point): boolean =>
    box !== null &&
    x >= box.min.x - MATTERS * disc &&
    x <= box.max.x + MATTERS * disc &&
    y >= box.min.y - MATTERS * disc &&
    y <= box.max.y + MATTERS * disc;
  const obstacles = new Map<string, Obstacle>();
  const made = (slabs: readonly (readonly [number, readonly number[]])[]): Obstacle => {
    const text = known && textOf(disc, slabs, known.texts);
    const before = text === null ? undefined : known!.made.get(text);
    if (before) return before;
    const regions = slabs.map(([k, own]): Region => {
      const { region } = wanted.slabs[k]!;
      return own.length === region.contours.length
        ? region
        : { contours: own.map((i) => region.contours[i]!) };
    });
    const wall = regions.length === 1 ? regions[0]! : union(regions);
    const obstacle = { wall, grown: offset(wall, disc) };
    if (known && text !== null) {
      known.counts.grown++;
      if (known.made.size >= MOST_KNOWN) known.made.clear();
      known.made.set(text, obstacle);
    }
    return obstacle;
  };
  /** Holes far from the place are as good as full. */
  const obstacle = (slab: number, face: Face, place: Point): Obstacle => {
    const regions = wanted.slabs.map((s) => s.region);
    const inTheWay = [...regions.keys()].filter((k) => (face === 'front' ? k >= slab : k <= slab));
    const slabs = inTheWay
      .filter((k, n) => inTheWay.findIndex((other) => regions[other] === regions[k]) === n)
      .map((k): readonly [number, readonly number[]] => [
        k,
        contours[k]!.flatMap(({ isHole, box }, i) => (isHole && !isNear(box, place) ? [] : [i])),
      ]);
    const key = slabs.map(([k, own]) => `${k}:${own.join()}`).join(';');
    const there = obstacles.get(key) ?? made(slabs);
    obstacles.set(key, there);
    return there;
  };
  const from = (face: Face, slab: number, place: Point): number | null => {
    const { wall, grown } = obstacle(slab, face, place);
    if (!contains(grown, place)) return 0;
    const near = nearestBoundary(grown, place)!;
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

/** All that an obstacle is made from: the radius, and of each slab in the way the contours that matter. */
const textOf = (
  disc: number,
  slabs: readonly (readonly [number, readonly number[]])[],
  texts: KnownObstacles['texts'],
): string => `${disc}${slabs.map(([k, own]) => `;\n${own.map((i) => texts[k]![i]!).join('\n')}`).join('')}`;
