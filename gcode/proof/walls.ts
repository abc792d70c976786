import type { Bar } from '../../sketch/part/part.ts';
import type { Solid } from '../../sketch/part/solid.ts';
import type { Point } from '../../sketch/shape/point.ts';
import {
  type CutPath,
  lowestTip,
  radiusAbove,
  sharesBelow,
  stretch,
  upOf,
} from '../../toolpath/removal/cut-path.ts';
import { distanceTo, leastDistanceTo } from '../../toolpath/removal/path-index.ts';
import {
  FARTHEST,
  type Face,
  faceOf,
  type Slice,
  SQUARE,
  squareOf,
  type Wall,
  type wallsOf,
} from './wall-faces.ts';
import type { WallMemory } from './wall-memory.ts';

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

/** Watches how near the cutters come to the wanted walls. */
export interface WallWatch {
  readonly meet: (path: CutPath) => void;
  /**
   * Every place where they stopped noticeably short, apart for over and within `tolerance`; over it only where material
   * stands over more than `tolerance` of height. Places that `excused` knows of are left out.
   */
  readonly excesses: (
    tolerance: number,
    excused: (place: WallExcess) => boolean,
  ) => { readonly over: readonly WallExcess[]; readonly within: readonly WallExcess[] };
}

/**
 * How far all cutters together stop short of every wanted wall, by exact geometry: places every 0.1 mm along each
 * wall and at its corners, at every height between the tips' levels beside it (`levels`: where tips and the shoulders
 * of pointed cutters are at the ends of feeds that come near the wall, heights of the part). Where the bar's own side is
 * the wall, or nearer than the shortfall, no more can stand there than the bar had. With a memory only those places are
 * judged that a motion which is not as before may concern.
 */
export const watchWalls = (
  bar: Bar,
  wanted: Solid,
  { walls, bySlab }: ReturnType<typeof wallsOf>,
  levels: ReadonlyMap<Wall, readonly number[]>,
  memory: WallMemory | null,
): WallWatch => {
  const faceOfWall = new Map(
    walls.map((wall) => {
      const near = levels.get(wall) ?? [];
      return [wall, memory?.recall(bar, wanted, wall, near) ?? faceOf(bar, wanted, wall, near)] as const;
    }),
  );
  const asked = [...faceOfWall.values()].filter((face) => face.squares.size > 0);
  return {
    meet: (path) => {
      if (path.rapid || path.cutter.kind === 'tap') return;
      for (const face of asked) meetFace(face, path);
    },
    excesses: (tolerance, excused) => {
      memory?.keep(faceOfWall);
      const over: WallExcess[] = [];
      const within: WallExcess[] = [];
      bySlab.forEach((around, slab) => {
        for (const wall of around) {
          const face = faceOfWall.get(wall)!;
          const own = face.slabs.find((s) => s.index === slab)!;
          const slices = face.slices.slice(own.first, own.end);
          for (let k = 0; k < face.samples.length; k++) {
            // All the way down to size, as most places are.
            if (face.most[k]! <= NOTICED) continue;
            const sample = face.samples[k]!;
            const at = k * face.slices.length;
            const amounts = slices.map((_, i) => Math.min(face.short[at + own.first + i]!, sample.room));
            for (const run of runsOver(amounts, slices, tolerance)) {
              const place: WallExcess = {
                slab,
                amount: run.amount,
                place: sample.place,
                outward: sample.outward,
                bottom: run.bottom,
                top: run.top,
                setup: face.setup[at + own.first + run.worst]!,
              };
              if (!excused(place)) (run.over ? over : within).push(place);
            }
          }
        }
      });
      return { over, within };
    },
  };
};

/** From the middle of a square to its corners and a little more, mm. */
const HALF_ACROSS = (SQUARE * Math.SQRT2) / 2 + 1e-6;

const meetFace = (face: Face, path: CutPath): void => {
  // Over all of it.
  if (lowestTip(path) > (path.face === 'front' ? face.high : -face.low)) return;
  const grow = path.radius + FARTHEST;
  const { x0, y0, x1, y1 } = path.box;
  const { asked } = face;
  const i0 = Math.max(asked.i0, Math.floor((x0 - grow) / SQUARE));
  const i1 = Math.min(asked.i1, Math.floor((x1 + grow) / SQUARE));
  const j0 = Math.max(asked.j0, Math.floor((y0 - grow) / SQUARE));
  const j1 = Math.min(asked.j1, Math.floor((y1 + grow) / SQUARE));
  for (let i = i0; i <= i1; i++) {
    for (let j = j0; j <= j1; j++) {
      const square = face.squares.get(squareOf(i, j));
      if (square === undefined) continue;
      if (distanceTo(path.segment, (i + 0.5) * SQUARE, (j + 0.5) * SQUARE) > grow + HALF_ACROSS) continue;
      for (const k of square) {
        const x = face.x[k]!;
        const y = face.y[k]!;
        const most = face.most[k]!;
        const near = most + path.radius;
        if (x < x0 - near || x > x1 + near || y < y0 - near || y > y1 + near) continue;
        if (leastDistanceTo(path.segment, x, y) > near) continue;
        const amount = distanceTo(path.segment, x, y) - path.radius;
        if (amount < most) meetSample(face, k, path, amount);
      }
    }
  }
};

/** `amount`: how far the cutter's full radius stays short of the place, seen from above. */
const meetSample = (face: Face, k: number, path: CutPath, amount: number): void => {
  const { slices, short } = face;
  const at = k * slices.length;
  const up = upOf(path.face);
  const lowest = lowestTip(path);
  let most = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < slices.length; i++) {
    const slice = slices[i]!;
    const height = up * slice.middle;
    if (amount < short[at + i]! && lowest <= height) {
      const reached =
        path.point > 0
          ? amount + path.radius - coneRadius(path, slice)
          : path.u0 <= height && path.u1 <= height
            ? amount
            : rampShortfall(path, height, face.samples[k]!.place);
      if (reached < short[at + i]!) {
        short[at + i] = reached;
        face.setup[at + i] = path.setup;
      }
    }
    if (short[at + i]! > most) most = short[at + i]!;
  }
  face.most[k] = most;
};

/** Radius of a pointed cutter where it is narrowest in a slice: at the end towards its tip. A sloping path counts as its high end. */
const coneRadius = (path: CutPath, slice: Slice): number => {
  const low = path.face === 'front' ? slice.bottom : -slice.top;
  const tip = path.length < 1e-6 ? lowestTip(path) : Math.max(path.u0, path.u1);
  return radiusAbove(path, low - tip);
};

/** Shortfall of the stretch of a ramp that lies at or under a height. */
const rampShortfall = (path: CutPath, height: number, p: Point): number => {
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
