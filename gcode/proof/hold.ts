import type { Bar } from '../../sketch/part/part.ts';
import type { Point3 } from '../../sketch/shape/point.ts';
import { contains, type Region, rectangle } from '../../sketch/shape/region.ts';
import {
  type CutPath,
  lowestTip,
  radiusAbove,
  sharesBelow,
  stretch,
  upOf,
} from '../../toolpath/removal/cut-path.ts';
import type { HeightMap } from '../../toolpath/removal/height-map.ts';
import type { MapExtent } from '../../toolpath/removal/map-extent.ts';
import type { Frame } from '../../toolpath/route/frame.ts';
import { feetOf } from '../../toolpath/route/plate.ts';
import type { Hold, PlateHold, ViceHold } from '../../toolpath/route/route.ts';
import { type IndexedRegion, indexRegion, nearestApproach } from './distance.ts';

/** How the work stands in the vice, or lies on its plate, at the start of a setup. Up heights and the part's coordinates, mm. */
export interface Holding {
  /** Up height of the face the work rests on. */
  readonly underside: number;
  /** Up height of the jaws' tops. */
  readonly jawTop: number;
  /** The two jaws from above; null when they close on nothing. */
  readonly jaws: IndexedRegion | null;
  /** Y of the two gripped faces. */
  readonly faces: { readonly low: number; readonly high: number } | null;
  /** The parallels from above, each; their undersides. */
  readonly parallels: readonly IndexedRegion[];
  readonly bed: { readonly height: number; readonly plan: IndexedRegion } | null;
  /** What holds the work on a plate; null in a vice. */
  readonly plate: PlateHolding | null;
}

/** Work on a plate: glued all over, or pressed down by feet that stand on it. */
export interface PlateHolding {
  readonly glued: boolean;
  /** Whether the part's heights grow upward (1) or downward (−1) here. */
  readonly up: 1 | -1;
  readonly feet: readonly ProofFoot[];
}

export interface ProofFoot {
  readonly kind: 'screw' | 'clamp';
  /** Where it presses, and how far round that. */
  readonly at: { readonly x: number; readonly y: number };
  readonly pad: number;
  readonly plan: IndexedRegion;
  /** Up height of its top. */
  readonly top: number;
}

/** How far jaws reach away from the work, mm. */
const JAW_DEPTH = 60;

/** The vice closed on what stands, or what stands on the plate. */
export const holdingOf = (bar: Bar, hold: Hold, frame: Frame, map: HeightMap, extent: MapExtent): Holding =>
  hold.kind === 'vice' ? viceHolding(bar, hold, frame, map, extent) : plateHolding(bar, hold, frame, extent);

const plateHolding = (bar: Bar, hold: PlateHold, frame: Frame, extent: MapExtent): Holding => {
  const { underside, top } = upExtent(bar, frame, extent);
  return {
    underside,
    jawTop: underside,
    jaws: null,
    faces: null,
    parallels: [],
    bed: null,
    plate: {
      glued: hold.fastening.kind === 'tape',
      up: upOf(frame.face),
      feet: feetOf(hold, bar).map(({ kind, at, pad, region, height }) => ({
        kind,
        at,
        pad,
        plan: indexRegion(region),
        top: top + height,
      })),
    },
  };
};

/** Up heights of the work's underside and top. */
const upExtent = (
  bar: Bar,
  frame: Frame,
  { low, high }: MapExtent,
): { readonly underside: number; readonly top: number } => {
  const [below, above] = Number.isFinite(low) ? [low, high] : [0, bar.thickness];
  return upOf(frame.face) > 0 ? { underside: below, top: above } : { underside: -above, top: 0 - below };
};

/**
 * The vice closed on what stands: jaws over their stated X, from the work's actual faces outward, as high above its
 * underside as the grip says; parallels as far along X as the jaws, at their stated places either side of the middle.
 */
const viceHolding = (bar: Bar, hold: ViceHold, frame: Frame, map: HeightMap, extent: MapExtent): Holding => {
  const up = upOf(frame.face);
  const { underside } = upExtent(bar, frame, extent);
  const jawTop = underside + hold.grip;
  const { from, to } = hold.jaws;
  const faces = grippedFaces(bar, map, up, underside, jawTop, from, to);
  const jaws: Region | null =
    faces === null
      ? null
      : {
          contours: [
            ...rectangle({ x: from, y: faces.low - JAW_DEPTH }, { x: to, y: faces.low }).contours,
            ...rectangle({ x: from, y: faces.high }, { x: to, y: faces.high + JAW_DEPTH }).contours,
          ],
        };
  const middle = bar.corner.y + bar.width / 2;
  const parallels =
    hold.parallels === null
      ? []
      : (hold.parallels.offset === 0 ? [0] : [-hold.parallels.offset, hold.parallels.offset]).map(
          (offset) => {
            const half = hold.parallels!.thickness / 2;
            return indexRegion(
              rectangle({ x: from, y: middle + offset - half }, { x: to, y: middle + offset + half }),
            );
          },
        );
  const bed =
    hold.parallels === null
      ? null
      : {
          height: underside - hold.parallels.height,
          plan: indexRegion(
            rectangle({ x: from, y: middle - 2 * JAW_DEPTH }, { x: to, y: middle + 2 * JAW_DEPTH }),
          ),
        };
  const closed = jaws === null ? null : indexRegion(jaws);
  return { underside, jawTop, jaws: closed, faces, parallels, bed, plate: null };
};

/** Extent in Y of what stands between the jaws over the grip; the bar's own sides are taken exactly. */
const grippedFaces = (
  bar: Bar,
  map: HeightMap,
  up: 1 | -1,
  underside: number,
  jawTop: number,
  from: number,
  to: number,
): { readonly low: number; readonly high: number } | null => {
  const c0 = Math.max(0, Math.ceil((from - map.x0) / map.cell - 0.5));
  const c1 = Math.min(map.columns - 1, Math.floor((to - map.x0) / map.cell - 0.5));
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let row = 0; row < map.rows; row++) {
    for (let column = c0; column <= c1; column++) {
      const i = row * map.columns + column;
      const bottom = up > 0 ? map.bottom[i]! : -map.top[i]!;
      const top = up > 0 ? map.top[i]! : -map.bottom[i]!;
      if (Math.min(top, jawTop) - Math.max(bottom, underside) < 0.01) continue;
      low = Math.min(low, map.y0 + row * map.cell);
      high = Math.max(high, map.y0 + (row + 1) * map.cell);
      break;
    }
  }
  if (low > high) return null;
  const sides = { low: bar.corner.y, high: bar.corner.y + bar.width };
  return {
    low: low - sides.low < map.cell ? sides.low : low,
    high: sides.high - high < map.cell ? sides.high : high,
  };
};

/** A motion whose tip stays at or above this up height meets nothing that holds the work, nor goes below it. */
export const clearOf = ({ jaws, jawTop, plate, underside, bed }: Holding): number =>
  [...(jaws ? [jawTop] : []), ...(plate?.feet.map((f) => f.top) ?? []), ...(bed ? [bed.height] : [])].reduce(
    (a, b) => Math.max(a, b),
    underside,
  );

/** Rubbing by less than this is not a hit, mm. */
const RUB = 0.01;

export interface Hit {
  /** How far the cutter goes into the obstacle: the lesser of sideways and down, mm. */
  readonly amount: number;
  readonly at: Point3;
}

/** Whether a motion's cutter enters an obstacle that stands up to an up height (and any way down). */
export const hitOn = (path: CutPath, obstacle: IndexedRegion, top: number): Hit | null => {
  const lowest = lowestTip(path);
  const end = top - lowest;
  if (end <= RUB) return null;
  const shares = sharesBelow(path, top - RUB);
  if (shares === null) return null;
  const radius = radiusAbove(path, end);
  const part = stretch(path, shares[0], shares[1]);
  const near = nearestApproach(part, obstacle, radius);
  const inside = contains(obstacle.region, part.from);
  if (!inside && (near === null || radius - near.distance <= RUB)) return null;
  const side = inside || near === null ? radius : radius - near.distance;
  const at = inside || near === null ? part.from : near.onWall;
  return { amount: Math.min(side, end), at: { ...at, z: upOf(path.face) * lowest } };
};
