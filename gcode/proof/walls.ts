import type { Bar } from '../../sketch/part/part.ts';
import type { Solid } from '../../sketch/part/solid.ts';
import type { Point } from '../../sketch/shape/point.ts';
import { directionAlong, pointAlong, type Segment, segmentLength } from '../../sketch/shape/segment.ts';
import { type CutPath, lowestTip, radiusAbove, sharesBelow, stretch, upOf } from './cut-path.ts';
import { distanceTo, indexPaths } from './path-index.ts';

/** A place on a wanted wall where material stands proud of it, over a run of heights. */
export interface WallExcess {
  readonly slab: number;
  /** How far the cutters stopped short, mm; at most `FARTHEST`. */
  readonly amount: number;
  readonly place: Point;
  /** Unit normal out of the material. */
  readonly outward: Point;
  readonly bottom: number;
  readonly top: number;
  /** Index of the setup whose cutter came nearest; −1 when none came near. */
  readonly setup: number;
}

/** Distance between places judged on a wall, mm. */
const SPACING = 0.1;
/** A wall that no cutter came nearer to than this is simply not cut, mm. */
export const FARTHEST = 2;
/** Slices thinner than this are not judged by themselves, mm. */
const THINNEST_SLICE = 0.004;

interface Slice {
  readonly bottom: number;
  readonly top: number;
  readonly middle: number;
}

/**
 * How far all cutters together stop short of every wanted wall, by exact geometry: places every 0.1 mm along each
 * slab's boundary and at its corners, at every height between the tips' levels. Returns every place with a noticeable
 * shortfall, apart for over and within `tolerance`; over it only where it stands over more than `tolerance` of height.
 * Where the bar's own side is the wall, or nearer than the shortfall, no more can stand there than the bar had. Places
 * that `excused` knows of are left out.
 */
export const wallExcesses = (
  bar: Bar,
  wanted: Solid,
  paths: readonly CutPath[],
  tolerance: number,
  excused: (place: WallExcess) => boolean = () => false,
): { readonly over: readonly WallExcess[]; readonly within: readonly WallExcess[] } => {
  const cutting = paths.filter((p) => !p.rapid && p.cutter.kind !== 'tap');
  const index = indexPaths(cutting, FARTHEST);
  const over: WallExcess[] = [];
  const within: WallExcess[] = [];
  wanted.slabs.forEach((slab, slabIndex) => {
    const slices = slicesOf(slab.bottom, slab.top, cutting);
    slab.region.contours.forEach((contour) => {
      contour.segments.forEach((segment, k) => {
        const before = contour.segments[(k - 1 + contour.segments.length) % contour.segments.length]!;
        for (const sample of samplesOn(segment, before)) {
          const room = roomOutside(bar, sample.place, sample.outward);
          if (room <= 1e-3) continue;
          const found = shortfalls(sample.place, index.near(sample.place.x, sample.place.y), slices);
          const amounts = found.map((f) => Math.min(f.amount, room));
          for (const run of runsOver(amounts, slices, tolerance)) {
            const place: WallExcess = {
              slab: slabIndex,
              amount: run.amount,
              place: sample.place,
              outward: sample.outward,
              bottom: run.bottom,
              top: run.top,
              setup: found[run.worst]!.setup,
            };
            if (!excused(place)) (run.over ? over : within).push(place);
          }
        }
      });
    });
  });
  return { over, within };
};

interface Sample {
  readonly place: Point;
  readonly outward: Point;
}

const samplesOn = (segment: Segment, before: Segment): readonly Sample[] => {
  const count = Math.max(1, Math.ceil(segmentLength(segment) / SPACING));
  const right = (d: Point): Point => ({ x: d.y, y: -d.x });
  const samples: Sample[] = [];
  const u = right(directionAlong(before, 1));
  const v = right(directionAlong(segment, 0));
  const l = Math.hypot(u.x + v.x, u.y + v.y);
  samples.push({
    place: segment.from,
    outward: l < 1e-9 ? v : { x: (u.x + v.x) / l, y: (u.y + v.y) / l },
  });
  for (let k = 0; k < count; k++) {
    const t = (k + 0.5) / count;
    samples.push({ place: pointAlong(segment, t), outward: right(directionAlong(segment, t)) });
  }
  return samples;
};

/** Length of the bar's material outside a wall along its normal, before anything was cut, mm. */
const roomOutside = (bar: Bar, p: Point, n: Point): number => {
  const x0 = bar.corner.x - bar.sawn;
  const x1 = bar.corner.x + bar.length + bar.sawn;
  const y0 = bar.corner.y;
  const y1 = bar.corner.y + bar.width;
  const alongX = n.x > 1e-9 ? (x1 - p.x) / n.x : n.x < -1e-9 ? (x0 - p.x) / n.x : Number.POSITIVE_INFINITY;
  const alongY = n.y > 1e-9 ? (y1 - p.y) / n.y : n.y < -1e-9 ? (y0 - p.y) / n.y : Number.POSITIVE_INFINITY;
  return Math.min(alongX, alongY);
};

/** The slab cut at every height where some tip ends, for between two such heights nothing changes. */
const slicesOf = (bottom: number, top: number, paths: readonly CutPath[]): readonly Slice[] => {
  const levels = [bottom, top];
  for (const path of paths) {
    const up = upOf(path.face);
    for (const u of [path.u0, path.u1, path.u0 + path.point, path.u1 + path.point]) {
      const z = up * u;
      if (z > bottom && z < top) levels.push(z);
    }
  }
  levels.sort((a, b) => a - b);
  const kept = levels.filter((z, i) => i === 0 || z - levels[i - 1]! > 1e-9);
  const slices: Slice[] = [];
  let from = bottom;
  for (const z of kept) {
    if (z - from < THINNEST_SLICE && !(z === top && slices.length === 0)) continue;
    slices.push({ bottom: from, top: z, middle: (from + z) / 2 });
    from = z;
  }
  return slices;
};

interface Shortfall {
  readonly amount: number;
  readonly setup: number;
}

const shortfalls = (p: Point, near: readonly CutPath[], slices: readonly Slice[]): readonly Shortfall[] => {
  const by = near
    .map((path) => ({ path, amount: distanceTo(path.segment, p.x, p.y) - path.radius }))
    .filter((c) => c.amount < FARTHEST)
    .sort((a, b) => a.amount - b.amount);
  return slices.map((slice) => {
    let best: Shortfall = { amount: FARTHEST, setup: -1 };
    for (const { path, amount } of by) {
      if (amount >= best.amount) break;
      const height = upOf(path.face) * slice.middle;
      if (lowestTip(path) > height) continue;
      const reached =
        path.point > 0
          ? amount + path.radius - coneRadius(path, slice)
          : path.u0 <= height && path.u1 <= height
            ? amount
            : rampShortfall(path, height, p);
      if (reached < best.amount) best = { amount: reached, setup: path.setup };
    }
    return best;
  });
};

/** Radius of a pointed cutter where it is narrowest in a slice: at the end towards its tip. A sloping path counts as its high end. */
const coneRadius = (path: CutPath, slice: Slice): number => {
  const low = path.face === 'front' ? slice.bottom : -slice.top;
  const tip = path.length < 1e-6 ? lowestTip(path) : Math.max(path.u0, path.u1);
  return radiusAbove(path, low - tip);
};

/** Shortfall of the stretch of a ramp that lies at or under a height. */
const rampShortfall = (path: CutPath, height: number, p: Point): number => {
  if (path.length < 1e-6) return distanceTo(path.segment, p.x, p.y) - path.radius;
  const shares = sharesBelow(path, height)!;
  return distanceTo(stretch(path, shares[0], shares[1]), p.x, p.y) - path.radius;
};

interface Run {
  readonly amount: number;
  /** Slice with the largest amount. */
  readonly worst: number;
  /** Whether the amount is over tolerance. */
  readonly over: boolean;
  readonly bottom: number;
  readonly top: number;
}

/** Neighbouring slices over tolerance together, and those noticeably short within it. What is lower than the tolerance is a floor's matter. */
const runsOver = (
  amounts: readonly number[],
  slices: readonly Slice[],
  tolerance: number,
): readonly Run[] => {
  const runs: Run[] = [];
  for (let i = 0; i < amounts.length; ) {
    const grade = gradeOf(amounts[i]!, tolerance);
    const first = i;
    let worst = i;
    for (; i < amounts.length && gradeOf(amounts[i]!, tolerance) === grade; i++) {
      if (amounts[i]! > amounts[worst]!) worst = i;
    }
    const bottom = slices[first]!.bottom;
    const top = slices[i - 1]!.top;
    if (grade === 0 || (grade === 2 && top - bottom <= tolerance)) continue;
    runs.push({ amount: amounts[worst]!, worst, over: grade === 2, bottom, top });
  }
  return runs;
};

/** Shortfalls under this are rounding, mm. */
const NOTICED = 1e-4;

const gradeOf = (amount: number, tolerance: number): 0 | 1 | 2 =>
  amount > tolerance ? 2 : amount > NOTICED ? 1 : 0;
