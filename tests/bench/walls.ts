import { forkRegion, slotRegion } from '../../sketch/part/cut-outs.ts';
import type { Part } from '../../sketch/part/part.ts';
import { offset } from '../../sketch/shape/offset.ts';
import type { Point } from '../../sketch/shape/point.ts';
import { disc, nearestBoundary, type Region, rectangle, segmentsOf } from '../../sketch/shape/region.ts';
import { pointAlong, segmentLength } from '../../sketch/shape/segment.ts';
import { bareSlabs } from '../../toolpath/passes/scene.ts';
import { protectedAbove, regionInProgram } from '../../toolpath/passes/workpiece.ts';
import type { HeightMap } from '../../toolpath/removal/height-map.ts';
import { type Frame, toPart } from '../../toolpath/route/frame.ts';
import type { JobStep } from '../../toolpath/route/route.ts';

/** What a job step runs along, in program coordinates: inside an opening, or round what stays. */
export interface Walls {
  readonly shape: Region;
  readonly inside: boolean;
}

/** The walls of a job step that goes down to a floor: those of its opening, or the part's bare shape above the floor. */
export const wallsOf = (part: Part, step: JobStep, frame: Frame, floor: number): Walls => {
  const opening = openingOf(part, step);
  return opening
    ? { shape: regionInProgram(frame, opening), inside: true }
    : { shape: protectedAbove({ stock: [], wanted: bareSlabs(part, frame) }, floor), inside: false };
};

/** The bar to length, which is what the ends are squared to. */
export const squaredTo = (part: Part, frame: Frame): Walls => {
  const { bar } = part;
  const left = bar.corner.x - frame.zero.x;
  return { shape: rectangle({ x: left, y: -1e3 }, { x: left + bar.length, y: 1e3 }), inside: false };
};

/** The shape of the opening that a job step cuts; null for what goes round the part. */
const openingOf = (part: Part, step: JobStep): Region | null => {
  switch (step.kind) {
    case 'fork':
      return forkRegion(part, part.forks.find((f) => f.name === step.fork)!);
    case 'slot':
      return slotRegion(part.slots.find((s) => s.name === step.slot)!);
    case 'pocket': {
      const hole = part.holes.find((h) => h.name === step.hole)!;
      return disc(hole.centre, (hole.purpose === 'counterbored' ? hole.boreDiameter : hole.diameter) / 2);
    }
    default:
      return null;
  }
};

/** Places along a wall are this far apart, and looked at this far within the cutter's rim there, mm. */
const SPACING = 0.1;
const WITHIN = 0.08;

/**
 * How far the middle of a cutter has to go, mm, to touch all of the walls, less an allowance, that border on cells that
 * were cut: a disc that must not enter a wall touches each place of it from one place only.
 */
export const wayAlongWalls = (
  { shape, inside }: Walls,
  {
    radius,
    allowance,
    frame,
  }: { readonly radius: number; readonly allowance: number; readonly frame: Frame },
  map: HeightMap,
  isCut: (cell: number) => boolean,
): number => {
  const wasCut = (p: Point): boolean => {
    const { x, y } = toPart(frame, { ...p, z: 0 });
    const [i, j] = [Math.floor((x - map.x0) / map.cell), Math.floor((y - map.y0) / map.cell)];
    return i >= 0 && j >= 0 && i < map.columns && j < map.rows && isCut(j * map.columns + i);
  };
  let way = 0;
  for (const segment of segmentsOf(offset(shape, (inside ? -1 : 1) * (radius + allowance)))) {
    const length = segmentLength(segment);
    const count = Math.max(1, Math.ceil(length / SPACING));
    for (let k = 0; k < count; k++) {
      const p = pointAlong(segment, (k + 0.5) / count);
      const wall = nearestBoundary(shape, p)!.point;
      const away = Math.hypot(wall.x - p.x, wall.y - p.y);
      const rim = (radius - WITHIN) / away;
      if (wasCut({ x: p.x + (wall.x - p.x) * rim, y: p.y + (wall.y - p.y) * rim })) way += length / count;
    }
  }
  return way;
};
