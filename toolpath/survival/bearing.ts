import type { Point3 } from '../../sketch/shape/point.ts';
import { cellAt, type HeightMap } from '../removal/height-map.ts';
import { type Frame, toPart } from '../route/frame.ts';
import type { Vector } from './elasticity/load.ts';
import type { ForcePlace } from './force-survey.ts';

/** Radius of the patch that a cutter presses on, mm. */
export const PATCH = 0.8;

/**
 * Where the stock as it then is takes the cutter's push, in the part's coordinates: on the rim that it points at, half
 * way up the cut, where a wall stays there; else on the floor under that rim or under the cutter's middle, for what
 * stood ahead has gone with the pass; else on the wall to the right or left of the travel.
 */
export const bearingPlace = (map: HeightMap, place: ForcePlace, frame: Frame, diameter: number): Point3 => {
  const { at, push, depth } = place;
  const inPlane = Math.hypot(push.x, push.y);
  const reach = inPlane > 1e-9 ? (diameter / 2 + PATCH / 2) / inPlane : 0;
  const rim = { x: at.x + push.x * reach, y: at.y + push.y * reach };
  const beside = (turn: number): Point3 => {
    const out = diameter / 2 + PATCH / 2;
    const angle = place.travel + turn;
    return { x: at.x + out * Math.cos(angle), y: at.y + out * Math.sin(angle), z: at.z + depth / 2 };
  };
  const tries: readonly Point3[] = [
    { ...rim, z: at.z + depth / 2 },
    { ...rim, z: at.z - PATCH / 2 },
    { x: at.x, y: at.y, z: at.z - PATCH / 2 },
    beside(-Math.PI / 2),
    beside(Math.PI / 2),
  ].map((p) => toPart(frame, p));
  return tries.find((p) => isSolid(map, p)) ?? tries[0]!;
};

export const isSolid = (map: HeightMap, p: Point3): boolean => {
  const i = cellAt(map, p.x, p.y);
  return i >= 0 && map.bottom[i]! <= p.z && p.z <= map.top[i]!;
};

/** A vector of program coordinates in the part's, and the other way: turned over, Y and Z change their sense. */
export const turned = (frame: Frame, [x, y, z]: Vector): Vector =>
  frame.face === 'front' ? [x, y, z] : [x, -y, -z];
