import type { Solid } from '../../sketch/part/solid.ts';
import type { Point } from '../../sketch/shape/point.ts';
import { contains, nearestBoundary, type Region } from '../../sketch/shape/region.ts';
import { type Frame, toPart } from '../route/frame.ts';
import type { ForcePlace } from './force-survey.ts';

/** Whether a cutter leaves at a place what stays: a wall or a floor of the finished part, without an allowance on it. */
export interface Finishes {
  readonly wall: boolean;
  readonly floor: boolean;
}

export const LEAVES_NOTHING: Finishes = { wall: false, floor: false };

/** A rim or an end nearer than this to the part's own surface leaves it, mm: coarser than a program's figures, finer than any allowance. */
const TOUCHES = 0.01;
/** A wall is left by the rim's side: this share of a right angle from the travel. A cutter that runs at a wall only ends there. */
const BESIDE = 0.8;
/** Slabs that a cut overlaps by less are beside it, mm. */
const OVERLAP = 1e-3;
/** Where under a cutter's end a floor is looked for: its middle, and this share of its radius out. */
const OUT = 0.9;
const LOOKS = 8;

/** What a cutter of this diameter finishes of the wanted part at one place of a pass, by exact geometry. */
export const finishesAt = (
  wanted: Solid,
  frame: Frame,
  { at, travel, depth }: ForcePlace,
  diameter: number,
): Finishes => {
  const middle = toPart(frame, at);
  const front = frame.face === 'front';
  const [low, high] = front ? [middle.z, middle.z + depth] : [middle.z - depth, middle.z];
  const way = front
    ? { x: Math.cos(travel), y: Math.sin(travel) }
    : { x: Math.cos(travel), y: -Math.sin(travel) };
  const radius = diameter / 2;
  return {
    wall: wanted.slabs.some(
      (slab) =>
        Math.min(high, slab.top) - Math.max(low, slab.bottom) > OVERLAP &&
        runsAlong(slab.region, middle, way, radius),
    ),
    floor: wanted.slabs.some(
      (slab) =>
        Math.abs((front ? slab.top : slab.bottom) - middle.z) < TOUCHES &&
        under(middle, radius).some((p) => contains(slab.region, p)),
    ),
  };
};

const runsAlong = (region: Region, middle: Point, way: Point, radius: number): boolean => {
  const near = nearestBoundary(region, middle);
  if (near === null || Math.abs(near.distance - radius) > TOUCHES) return false;
  const across =
    Math.abs((near.point.y - middle.y) * way.x - (near.point.x - middle.x) * way.y) / near.distance;
  return across > BESIDE;
};

const under = (middle: Point, radius: number): readonly Point[] => [
  middle,
  ...Array.from({ length: LOOKS }, (_, i) => {
    const angle = (2 * Math.PI * i) / LOOKS;
    return { x: middle.x + OUT * radius * Math.cos(angle), y: middle.y + OUT * radius * Math.sin(angle) };
  }),
];
