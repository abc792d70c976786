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

/** How near a motion must come to a wall to be heard of there, mm. */
const reachOf = (path: CutPath): number => path.radius + FARTHEST + ROUNDING;

const comes = (wall: Wall, path: CutPath): boolean => {
  const reach = reachOf(path);
  return meets(wall, path.box, reach) && nearestApproach(path.segment, wall.indexed, reach) !== null;
};

const meets = ({ indexed: { box } }: Wall, path: CutPath['box'], reach: number): boolean =>
  box !== null &&
  box[0] <= path.x1 + reach &&
  box[2] >= path.x0 - reach &&
  box[1] <= path.y1 + reach &&
  box[3] >= path.y0 - reach;

/** A pass as the walls hear of it, and what each has heard of it so far, by the wall's key. */
export interface HeardPass {
  readonly setup: ProofSetup;
  /** As in the text; null for one whose cutter is missing. */
  readonly motions: readonly Motion[];
  readonly paths: readonly (CutPath | null)[];
  readonly heard: Map<string, readonly number[]>;
}

/**
 * What `levelGatherer` gathers, from whole passes; null where there are so many heights that it would thin them out. What
 * a pass brings to a wall goes by the pass and the wall alone, and is asked once.
 */
export const levelsOfPasses = (
  walls: readonly Wall[],
  passes: readonly HeardPass[],
  counts: { heard: number },
): ReadonlyMap<Wall, readonly number[]> | null => {
  const found = new Map<Wall, readonly number[]>();
  for (const wall of walls) {
    const all = new Set<number>();
    for (const pass of passes) {
      const known = pass.heard.get(wall.key);
      if (!known) counts.heard++;
      const brought = known ?? broughtBy(pass, wall);
      pass.heard.set(wall.key, brought);
      for (const z of brought) all.add(z);
    }
    if (all.size > MOST_LEVELS) return null;
    found.set(wall, [...all]);
  }
  // What is heard of walls that are gone is forgotten.
  const keys = new Set(walls.map((wall) => wall.key));
  for (const { heard } of passes) for (const key of heard.keys()) if (!keys.has(key)) heard.delete(key);
  return found;
};

const broughtBy = ({ setup, motions, paths }: HeardPass, wall: Wall): readonly number[] => {
  const heights = new Set<number>();
  motions.forEach(({ from, to }, k) => {
    const path = paths[k]!;
    if (path === null || path.rapid || path.cutter.kind === 'tap' || !comes(wall, path)) return;
    const ends = from.z === to.z ? [to.z] : [from.z, to.z];
    for (const z of heightsAt(ends, path.cutter, setup)) heights.add(z);
  });
  return [...heights];
};

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
  let before = Number.NEGATIVE_INFINITY;
  const sorted = [...levels].sort((a, b) => a - b);
  const range = sorted.at(-1)! - sorted[0]!;
  // A program that goes a kilometre up and down has coarser slices than one that stays with the bar.
  const step = Math.max(FINE, (4 * range) / MOST_LEVELS);
  return new Set(
    sorted.filter((z) => {
      if (z - before < step) return false;
      before = z;
      return true;
    }),
  );
};
