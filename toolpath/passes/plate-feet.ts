import type { Bar, Finding } from '../../sketch/part/part.ts';
import { placeFigure } from '../../sketch/part/units.ts';
import { union } from '../../sketch/shape/boolean.ts';
import { offset } from '../../sketch/shape/offset.ts';
import type { Point3 } from '../../sketch/shape/point.ts';
import { NOTHING, type Region, signedDistance } from '../../sketch/shape/region.ts';
import { arc, line, pointAlong, segmentLength } from '../../sketch/shape/segment.ts';
import type { Cutter } from '../machine/cutter.ts';
import { JAW_CLEARANCE } from '../route/clearances.ts';
import { type Frame, toProgram } from '../route/frame.ts';
import { type Foot, feetOf } from '../route/plate.ts';
import type { Hold, JobStep } from '../route/route.ts';
import type { Move, Pass } from './pass.ts';
import type { Scene } from './scene.ts';
import { regionInProgram } from './workpiece.ts';

/** A foot as it stands in a setup: from above, and the height of its top. */
export interface PlacedFoot extends Foot {
  readonly inProgram: Region;
  readonly top: number;
}

/** What stands on the work and holds it down, as the cutter meets it: program coordinates, mm. */
export interface PlateFeet {
  readonly feet: readonly PlacedFoot[];
  /** All of them, with the clearance that the cutter keeps. */
  readonly keepOut: Region;
  /** Height of the tallest. */
  readonly top: number;
}

/** The feet of a setup on work whose top is at a height; none in a vice. */
export const plateFeet = (hold: Hold, bar: Bar, frame: Frame, workTop: number): PlateFeet => {
  if (hold.kind !== 'plate') return { feet: [], keepOut: NOTHING, top: workTop };
  const feet = feetOf(hold, bar).map((foot) => ({
    ...foot,
    inProgram: regionInProgram(frame, foot.region),
    top: workTop + foot.height,
  }));
  return {
    feet,
    keepOut: offset(union(feet.map((f) => f.inProgram)), JAW_CLEARANCE),
    top: feet.reduce((most, f) => Math.max(most, f.top), workTop),
  };
};

/** Distance between looks along a move, mm: between two the way to a foot is at most half of it less than at both. */
const LOOK_EVERY = 0.2;
/** The least that must be left between cutter and foot at every look, mm. */
const LEAST = 0.15;

/** The first foot that a job step's passes would run into, as an error; such a step is not planned at all. */
export const feetInTheWay = (
  scene: Scene,
  step: JobStep,
  cutter: Cutter,
  passes: readonly Pass[],
): readonly Finding[] => {
  if (scene.feet.feet.length === 0) return [];
  for (const pass of passes) {
    let at: Point3 | null = null;
    for (const move of pass.moves) {
      for (const p of looksAlong(at, move)) {
        const foot = scene.feet.feet.find(
          (f) => p.z < f.top + LEAST && signedDistance(f.inProgram, p) < cutter.diameter / 2 + LEAST,
        );
        if (foot) return [inTheWay(scene, step, foot)];
      }
      if (move.kind === 'drill') at = { ...move.at, z: move.clear };
      else if (move.kind !== 'stop') at = move.to;
    }
  }
  return [];
};

const looksAlong = (from: Point3 | null, move: Move): readonly Point3[] => {
  if (move.kind === 'stop') return [];
  if (move.kind === 'drill') return [{ ...move.at, z: move.depth }];
  if (from === null) return [move.to];
  const way = move.kind === 'arc' ? arc(from, move.to, move.centre, !move.clockwise) : line(from, move.to);
  const count = Math.max(1, Math.ceil(segmentLength(way) / LOOK_EVERY));
  return Array.from({ length: count + 1 }, (_, i) => ({
    ...pointAlong(way, i / count),
    z: from.z + ((move.to.z - from.z) * i) / count,
  }));
};

const inTheWay = (scene: Scene, step: JobStep, foot: Foot): Finding => {
  const { x, y } = toProgram(scene.frame, { ...foot.at, z: 0 });
  const { unit } = scene.part;
  const what = foot.kind === 'screw' ? 'the head of the screw' : 'the clamp';
  return {
    code: 'foot-in-the-way',
    severity: 'error',
    feature: step.name,
    setup: scene.setup.number,
    message: `${step.name} would take the cutter into ${what} at X ${placeFigure(x, unit)} Y ${placeFigure(y, unit)}: move it, or cut this in another setup.`,
  };
};
