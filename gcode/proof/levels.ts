import type { Cutter } from '../../toolpath/machine/cutter.ts';
import { pointHeight } from '../../toolpath/machine/cutter.ts';
import { type CutPath, cutPath, upOf } from '../../toolpath/removal/cut-path.ts';
import { toPart } from '../../toolpath/route/frame.ts';
import type { Motion } from '../reading/motion.ts';
import { nearestApproach } from './distance.ts';
import type { ProofSetup } from './proof.ts';
import { FARTHEST, type Wall } from './wall-faces.ts';

/** Heights of which there are more than this are thinned out: a million lines may end at a million heights. */
const MOST_LEVELS = 20_000;
/** Nearer than this, mm, one of two heights will do: walls are not judged in thinner slices. */
const FINE = 0.001;

const ROUNDING = 1e-6;

/**
 * Gathers for each wall the part's heights at which tips, and shoulders of pointed cutters, are at the ends of feeds
 * that come near it.
 */
export const levelGatherer = (walls: readonly Wall[]) => {
  const found = walls.map(() => new Set<number>());
  const add = (wall: number, z: number): void => {
    found[wall]!.add(z);
    if (found[wall]!.size > MOST_LEVELS) found[wall] = thinned(found[wall]!);
  };
  const comes = (wall: Wall, path: CutPath): boolean => {
    const { box } = wall.indexed;
    const reach = path.radius + FARTHEST + ROUNDING;
    return (
      box !== null &&
      box[0] <= path.box.x1 + reach &&
      box[2] >= path.box.x0 - reach &&
      box[1] <= path.box.y1 + reach &&
      box[3] >= path.box.y0 - reach &&
      nearestApproach(path.segment, wall.indexed, reach) !== null
    );
  };
  return {
    take(motions: readonly Motion[], setup: ProofSetup, cutters: ReadonlyMap<number, Cutter>): void {
      // Most motions stay at the height of the one before.
      let heights: readonly number[] = [];
      let level = Number.NaN;
      let turned: Cutter | null = null;
      for (const motion of motions) {
        if (motion.kind === 'rapid') continue;
        const cutter = cutters.get(motion.tool);
        if (cutter === undefined || cutter.kind === 'tap') continue;
        const { from, to } = motion;
        if (from.z !== to.z || to.z !== level || cutter !== turned) {
          heights = heightsAt(from.z === to.z ? [to.z] : [from.z, to.z], cutter, setup);
          level = from.z === to.z ? to.z : Number.NaN;
          turned = cutter;
        }
        let path: CutPath | null = null;
        for (let k = 0; k < walls.length; k++) {
          if (heights.every((z) => found[k]!.has(z))) continue;
          path ??= cutPath(motion, cutter, setup.frame, { setup: 0, pass: 0 });
          if (comes(walls[k]!, path)) for (const z of heights) add(k, z);
        }
      }
    },
    levels: (): ReadonlyMap<Wall, readonly number[]> =>
      new Map(walls.map((wall, k) => [wall, [...found[k]!]])),
  };
};

/** The part's heights of the tip, and of the shoulder of a pointed cutter, at some heights of the program. */
const heightsAt = (zs: readonly number[], cutter: Cutter, { frame }: ProofSetup): readonly number[] => {
  const point = cutter.kind === 'endmill' ? 0 : pointHeight(cutter);
  return zs.flatMap((z) => {
    const tip = toPart(frame, { x: 0, y: 0, z }).z;
    return point > 0 ? [tip, tip + upOf(frame.face) * point] : [tip];
  });
};

const thinned = (levels: ReadonlySet<number>): Set<number> => {
  let [before, step] = [Number.NEGATIVE_INFINITY, FINE];
  const sorted = [...levels].sort((a, b) => a - b);
  const range = sorted.at(-1)! - sorted[0]!;
  // A program that goes a kilometre up and down has coarser slices than one that stays with the bar.
  step = Math.max(FINE, (4 * range) / MOST_LEVELS);
  return new Set(
    sorted.filter((z) => {
      if (z - before < step) return false;
      before = z;
      return true;
    }),
  );
};
