import type { Face, Part } from '../../sketch/part/part.ts';
import { outlineOf } from '../../sketch/part/solid.ts';
import { intersections } from '../../sketch/shape/intersections.ts';
import { add, leftOf, type Point, scale, subtract, unit } from '../../sketch/shape/point.ts';
import { contains, type Region, segmentsOf } from '../../sketch/shape/region.ts';
import { line } from '../../sketch/shape/segment.ts';
import type { JobStep } from '../route/route.ts';

/**
 * Which of the two walls of an opening is the thinner. The rim of a cutter that turns clockwise goes from left to right
 * ahead of it, so loops press the work to the right of the way they go on, whichever wall that is: an opening is begun
 * at the end from which its thick side lies to the right (`tests/thin-side.test.ts` measures the forces).
 */
export interface Sides {
  /** Thinnest material beside the opening on either side of the way in, as far as the part's outline, mm. */
  readonly left: number;
  readonly right: number;
}

/** Places looked at along each wall. */
const LOOKS = 9;
/** Walls that differ by no more than this share are alike. */
const ALIKE = 0.1;
/** Nearer than this a place is on the edge itself, mm; farther than that nothing of a part reaches. */
const AT_EDGE = 1e-3;
const FARTHEST = 1e3;

/** What stands beside an opening of a width about a line, as one looks along it with a face up. */
export const sidesOf = (part: Part, from: Point, to: Point, width: number, face: Face): Sides => {
  const outline = outlineOf(part);
  const way = unit(subtract(to, from));
  const side = (sense: 1 | -1): number => {
    const across = scale(leftOf(way), sense);
    return Array.from({ length: LOOKS }, (_, i) => {
      const t = (i + 0.5) / LOOKS;
      const middle = { x: from.x + (to.x - from.x) * t, y: from.y + (to.y - from.y) * t };
      return depthFrom(outline, add(middle, scale(across, width / 2)), across);
    })
      .filter((depth) => depth > 0)
      .reduce((least, depth) => Math.min(least, depth), Number.POSITIVE_INFINITY);
  };
  // Turned over about X what was on the left is on the right.
  const [left, right] = face === 'front' ? [side(1), side(-1)] : [side(-1), side(1)];
  return { left, right };
};

/** How far material reaches from a place in a direction, mm; 0 where there is none. */
const depthFrom = (region: Region, at: Point, way: Point): number => {
  if (!contains(region, add(at, scale(way, AT_EDGE)))) return 0;
  const ray = line(at, add(at, scale(way, FARTHEST)));
  return segmentsOf(region)
    .flatMap((edge) => intersections(ray, edge).map((i) => i.shareA * FARTHEST))
    .filter((far) => far > AT_EDGE)
    .reduce((least, far) => Math.min(least, far), FARTHEST);
};

/** Whether an opening had better be begun at its other end, so that its loops press on the thicker side. */
export const betterBackward = ({ left, right }: Sides): boolean => left > right * (1 + ALIKE);

/** Which way the loops of a peeled fork or slot press: on walls of these thicknesses, mm. */
export interface Press {
  readonly on: number;
  readonly away: number;
  readonly sense: 'thick' | 'alike' | 'thin';
}

/** Which way the loops of a job step press; null for one that has no two sides. */
export const pressOf = (part: Part, step: JobStep, face: Face): Press | null => {
  const opening = lineOf(part, step);
  if (opening === null) return null;
  const sides = sidesOf(part, opening.from, opening.to, opening.width, face);
  const turned = opening.turns && betterBackward(sides);
  const [on, away] = turned ? [sides.left, sides.right] : [sides.right, sides.left];
  if (!Number.isFinite(on) || !Number.isFinite(away)) return null;
  const alike = Math.max(on, away) <= Math.min(on, away) * (1 + ALIKE);
  return { on, away, sense: alike ? 'alike' : on > away ? 'thick' : 'thin' };
};

/** The middle line of a fork, from its mouth, or of a slot; and whether it can be begun at its other end. */
const lineOf = (
  part: Part,
  step: JobStep,
): { readonly from: Point; readonly to: Point; readonly width: number; readonly turns: boolean } | null => {
  if (step.kind === 'fork') {
    const fork = part.forks.find((f) => f.name === step.fork);
    return fork ? { ...forkLine(fork), width: fork.width, turns: fork.root.kind === 'round' } : null;
  }
  if (step.kind === 'slot') {
    const slot = part.slots.find((s) => s.name === step.slot);
    return slot ? { from: slot.from, to: slot.to, width: slot.width, turns: true } : null;
  }
  return null;
};

/** From a fork's mouth to the middle of its root, in the drawing. */
export const forkLine = (fork: Part['forks'][number]): { readonly from: Point; readonly to: Point } => {
  const way = { x: Math.cos(fork.direction), y: Math.sin(fork.direction) };
  return { from: fork.mouth, to: add(fork.mouth, scale(way, fork.depth - fork.width / 2)) };
};
