import type { Slab } from '../../sketch/part/solid.ts';
import { difference, union } from '../../sketch/shape/boolean.ts';
import type { Point, Point3 } from '../../sketch/shape/point.ts';
import { isEmpty, type Region, regionBox, signedDistance } from '../../sketch/shape/region.ts';
import { moveRegion } from '../../sketch/shape/transform.ts';
import type { Frame } from '../route/frame.ts';

/** Heights nearer than this are one height, mm. */
const SAME_HEIGHT = 1e-6;

/** The work in a setup's program coordinates, as slabs of what is there and of what is wanted. */
export interface Workpiece {
  readonly stock: readonly Slab[];
  readonly wanted: readonly Slab[];
}

/** Slabs as they lie in a setup: mirrored in Y and Z when the back is up. */
export const slabsInProgram = (frame: Frame, slabs: readonly Slab[]): readonly Slab[] =>
  slabs.map((slab) => {
    const turned = frame.face === 'back';
    const low = turned ? frame.zero.z - slab.top : slab.bottom - frame.zero.z;
    const high = turned ? frame.zero.z - slab.bottom : slab.top - frame.zero.z;
    return { bottom: low, top: high, region: regionInProgram(frame, slab.region) };
  });

/** The way back from program coordinates to the part's. */
export const slabsInPart = (frame: Frame, slabs: readonly Slab[]): readonly Slab[] =>
  slabs.map((slab) => {
    const turned = frame.face === 'back';
    const low = turned ? frame.zero.z - slab.top : slab.bottom + frame.zero.z;
    const high = turned ? frame.zero.z - slab.bottom : slab.top + frame.zero.z;
    return { bottom: low, top: high, region: regionInPart(frame, slab.region) };
  });

export const regionInProgram = (frame: Frame, region: Region): Region => {
  const shifted = moveRegion(region, { by: { x: -frame.zero.x, y: -frame.zero.y } });
  return frame.face === 'back' ? moveRegion(shifted, { mirrorY: true }) : shifted;
};

const regionInPart = (frame: Frame, region: Region): Region => {
  const turned = frame.face === 'back' ? moveRegion(region, { mirrorY: true }) : region;
  return moveRegion(turned, { by: { x: frame.zero.x, y: frame.zero.y } });
};

/** Everything wanted that reaches above a height: where a cutter with its tip at `z` must not go. */
export const protectedAbove = (work: Workpiece, z: number): Region =>
  unionOf(work.wanted.filter((slab) => slab.top > z + SAME_HEIGHT));

/** What stands anywhere between two heights. */
export const stockBetween = (work: Workpiece, low: number, high: number): Region =>
  unionOf(work.stock.filter((slab) => slab.top > low + SAME_HEIGHT && slab.bottom < high - SAME_HEIGHT));

const unionOf = (slabs: readonly Slab[]): Region => {
  const regions = [...new Set(slabs.map((slab) => slab.region))];
  return regions.length === 1 ? regions[0]! : union(regions);
};

/** Height of the tallest material under a disc; null over open air. */
export const ceilingUnder = (work: Workpiece, at: Point, radius: number): number | null => {
  let ceiling: number | null = null;
  for (const slab of work.stock) {
    if (ceiling !== null && slab.top <= ceiling) continue;
    if (signedDistance(slab.region, at) < radius - 1e-4) ceiling = slab.top;
  }
  return ceiling;
};

/** The work with a region taken out between two heights. */
export const take = (work: Workpiece, region: Region, low: number, high: number): Workpiece => {
  if (isEmpty(region) || high - low < SAME_HEIGHT) return work;
  const stock: Slab[] = [];
  for (const slab of work.stock) {
    const from = Math.max(slab.bottom, low);
    const to = Math.min(slab.top, high);
    if (to - from < SAME_HEIGHT) {
      stock.push(slab);
      continue;
    }
    if (slab.bottom < from - SAME_HEIGHT) stock.push({ ...slab, top: from });
    const left = difference(slab.region, region);
    if (!isEmpty(left)) stock.push({ bottom: from, top: to, region: left });
    if (slab.top > to + SAME_HEIGHT) stock.push({ ...slab, bottom: to });
  }
  return { ...work, stock };
};

/** The upright box that holds all the stock. Throws when nothing is left. */
export const stockBox = (stock: readonly Slab[]): { readonly min: Point3; readonly max: Point3 } => {
  const boxes = stock.flatMap((slab) => {
    const box = regionBox(slab.region);
    return box ? [{ box, slab }] : [];
  });
  if (boxes.length === 0) throw new Error('no stock is left');
  return {
    min: {
      x: Math.min(...boxes.map((b) => b.box.min.x)),
      y: Math.min(...boxes.map((b) => b.box.min.y)),
      z: Math.min(...boxes.map((b) => b.slab.bottom)),
    },
    max: {
      x: Math.max(...boxes.map((b) => b.box.max.x)),
      y: Math.max(...boxes.map((b) => b.box.max.y)),
      z: Math.max(...boxes.map((b) => b.slab.top)),
    },
  };
};
