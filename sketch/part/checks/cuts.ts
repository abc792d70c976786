import type { Point } from '../../shape/point.ts';
import { contains, type Region, segmentsOf } from '../../shape/region.ts';
import { pointAlong } from '../../shape/segment.ts';
import { SAME_POINT } from '../../shape/tolerance.ts';
import { type CutOut, cutOutsOf, forkFrom, surfacesAt } from '../cut-outs.ts';
import { quoted } from '../names.ts';
import type { Hole, Part, Slot } from '../part.ts';
import { boundarySeparation, regionSeparation } from '../separation.ts';
import { plain } from '../units.ts';
import type { Report } from './report.ts';

/** Holes and slots against the edge, and every cut-out against every other: nothing breaks out, every wall is thick enough. */
export const checkWalls = (part: Part, outline: Region, report: Report): void => {
  const edge = segmentsOf(outline);
  // For what lies beside it, a fork ends at its mouth.
  const cuts = cutOutsOf(part).map((cut) => {
    const fork = cut.kind === 'fork' ? part.forks.find((f) => f.name === cut.feature) : undefined;
    return fork === undefined ? cut : { ...cut, region: forkFrom(fork, 0) };
  });
  for (const cut of cuts) if (cut.kind !== 'fork') againstEdge(part, cut, outline, edge, report);
  cuts.forEach((a, i) => {
    for (const b of cuts.slice(i + 1)) if (a.feature !== b.feature) betweenCuts(part, a, b, report);
  });
};

const againstEdge = (
  part: Part,
  cut: CutOut,
  outline: Region,
  edge: ReturnType<typeof segmentsOf>,
  report: Report,
): void => {
  const segments = segmentsOf(cut.region);
  const place = pointAlong(segments[0]!, 0);
  const found = boundarySeparation(segments, edge);
  if (found === null) return;
  const name = `${word(cut)} ${quoted(cut.feature)}`;
  if (found.distance <= SAME_POINT) {
    report.error(
      'breaks-the-edge',
      `${name} breaks through the part’s edge: move it inward, or make it smaller.`,
      cut.feature,
      found.from,
    );
  } else if (!contains(outline, place)) {
    report.error(
      'outside-the-part',
      `${name} lies outside the part, ${report.amount(found.distance)} from its edge.`,
      cut.feature,
      place,
    );
  } else if (found.distance < part.leastWall - SAME_POINT) {
    report.error(
      'wall-too-thin',
      `${name} leaves a wall of ${report.amount(found.distance)} to the edge, thinner than the ${report.amount(part.leastWall)} ` +
        `asked for: move it ${report.amount(part.leastWall - found.distance)} inward.`,
      cut.feature,
      found.from,
    );
  }
};

const betweenCuts = (part: Part, a: CutOut, b: CutOut, report: Report): void => {
  const sharedHeight = Math.min(a.top, b.top) - Math.max(a.bottom, b.bottom);
  if (sharedHeight <= -part.leastWall + SAME_POINT) return;
  const found = regionSeparation(a.region, b.region);
  if (found === null) return;
  const pair = `${word(a)} ${quoted(a.feature)} and ${word(b).toLowerCase()} ${quoted(b.feature)}`;
  if (sharedHeight <= SAME_POINT) {
    if (found.distance > SAME_POINT) return;
    report.warning(
      'floor-too-thin',
      `${pair} lie over each other with ${report.amount(-sharedHeight)} between their floors, less than the ` +
        `${report.amount(part.leastWall)} asked of a wall.`,
      a.feature,
      found.from,
    );
  } else if (found.distance <= SAME_POINT) {
    report.error('cuts-overlap', `${pair} run into each other: move them apart.`, a.feature, found.from);
  } else if (found.distance < part.leastWall - SAME_POINT) {
    report.error(
      'wall-too-thin',
      `${pair} leave a wall of ${report.amount(found.distance)}, thinner than the ${report.amount(part.leastWall)} asked for: ` +
        `move them ${report.amount(part.leastWall - found.distance)} apart.`,
      a.feature,
      found.from,
    );
  }
};

const word = (cut: CutOut): string =>
  cut.kind === 'counterbore'
    ? 'The counterbore of hole'
    : cut.kind.charAt(0).toUpperCase() + cut.kind.slice(1);

/** Depths of blind cuts against the part's thickness there, and what the purpose of a hole demands. */
export const checkDepths = (part: Part, report: Report): void => {
  for (const hole of part.holes) checkHole(part, hole, report);
  for (const slot of part.slots) checkSlot(part, slot, report);
};

const thicknessAt = (part: Part, p: Point): number => {
  const { top, bottom } = surfacesAt(part, p);
  return top - bottom;
};

const checkBlind = (
  what: string,
  name: string,
  depth: number,
  thickness: number,
  at: Point,
  report: Report,
): boolean => {
  if (depth < thickness - SAME_POINT) return true;
  report.error(
    'deeper-than-the-part',
    `${what} ${quoted(name)} is ${report.amount(depth)} deep, but the part is ${report.amount(thickness)} thick there: ` +
      'make it shallower, or leave its depth out to go right through.',
    name,
    at,
  );
  return false;
};

/** How far the point of a 118° drill runs ahead of its full diameter, as a share of the diameter. */
const POINT_SHARE = 1 / (2 * Math.tan((59 * Math.PI) / 180));

const checkHole = (part: Part, hole: Hole, report: Report): void => {
  const thickness = thicknessAt(part, hole.centre);
  if (hole.depth !== null && checkBlind('Hole', hole.name, hole.depth, thickness, hole.centre, report)) {
    const point = hole.diameter * POINT_SHARE;
    if (hole.depth + point > thickness + SAME_POINT) {
      report.warning(
        'drill-point-breaks-through',
        `Hole ${quoted(hole.name)} stops ${report.amount(thickness - hole.depth)} short of the far side, and the drill’s point ` +
          `is about ${report.amount(point)} long: it will show through.`,
        hole.name,
        hole.centre,
      );
    }
  }
  if (hole.purpose === 'counterbored') checkCounterbore(hole, thickness, report);
  if (hole.purpose === 'tapped') checkTapped(hole, thickness, report);
};

const checkCounterbore = (
  hole: Extract<Hole, { purpose: 'counterbored' }>,
  thickness: number,
  report: Report,
): void => {
  if (hole.boreDiameter <= hole.diameter + SAME_POINT) {
    report.error(
      'counterbore-too-small',
      `The counterbore of ${quoted(hole.name)} is ${report.amount(hole.boreDiameter)}: it must be larger than the hole’s ${report.amount(hole.diameter)}.`,
      hole.name,
      hole.centre,
    );
  }
  checkBlind('The counterbore of hole', hole.name, hole.boreDepth, thickness, hole.centre, report);
  if (hole.depth !== null && hole.depth <= hole.boreDepth + SAME_POINT) {
    report.error(
      'counterbore-too-deep',
      `The counterbore of ${quoted(hole.name)} is as deep as the hole or deeper: ${report.amount(hole.boreDepth)} against ${report.amount(hole.depth)}.`,
      hole.name,
      hole.centre,
    );
  }
};

/** Fewer turns of thread than this hold poorly. Common practice, no source. */
const LEAST_TURNS = 3;

const checkTapped = (hole: Extract<Hole, { purpose: 'tapped' }>, thickness: number, report: Report): void => {
  const share = `${Math.round(hole.engagement * 100)} %`;
  const name = `Hole ${quoted(hole.name)}, ${hole.designation}`;
  if (hole.diameter >= hole.major - SAME_POINT) {
    report.error(
      'tap-drill-too-large',
      `${name}: a drill of ${report.amount(hole.diameter)} leaves no thread on a major diameter of ${report.amount(hole.major)}.`,
      hole.name,
      hole.centre,
    );
  } else if (hole.engagement > 1 + 1e-9) {
    report.error(
      'tap-drill-too-small',
      `${name}: a drill of ${report.amount(hole.diameter)} leaves ${share} of the thread, more than there is: the tap will jam. ` +
        `Drill at least ${report.amount(hole.major - (hole.major - hole.diameter) / hole.engagement)}.`,
      hole.name,
      hole.centre,
    );
  } else if (hole.engagement < 0.4) {
    report.warning(
      'thread-shallow',
      `${name}: a drill of ${report.amount(hole.diameter)} leaves only ${share} of the thread.`,
      hole.name,
      hole.centre,
    );
  }
  const turns = Math.min(hole.depth ?? thickness, thickness) / hole.pitch;
  if (turns < LEAST_TURNS) {
    report.warning(
      'few-threads',
      `${name}: only ${plain(turns, 1)} turns of thread in ${report.amount(turns * hole.pitch)}; fewer than ${LEAST_TURNS} hold poorly.`,
      hole.name,
      hole.centre,
    );
  }
};

const checkSlot = (part: Part, slot: Slot, report: Report): void => {
  if (slot.depth === null) return;
  const middle = { x: (slot.from.x + slot.to.x) / 2, y: (slot.from.y + slot.to.y) / 2 };
  const thicknesses = [slot.from, middle, slot.to].map((p) => thicknessAt(part, p));
  if (!checkBlind('Slot', slot.name, slot.depth, thicknesses[1]!, middle, report)) return;
  const surface = [slot.from, middle, slot.to].map((p) => {
    const { top, bottom } = surfacesAt(part, p);
    return slot.face === 'front' ? top : bottom;
  });
  if (Math.max(...surface) - Math.min(...surface) > SAME_POINT) {
    report.warning(
      'slot-across-a-step',
      `Slot ${quoted(slot.name)} runs across a step of the part: its depth is measured at its middle.`,
      slot.name,
      middle,
    );
  }
};
