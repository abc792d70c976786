import type { Cutter } from '../../toolpath/machine/cutter.ts';
import { pointHeight } from '../../toolpath/machine/cutter.ts';
import { upOf } from '../../toolpath/removal/cut-path.ts';
import { toPart } from '../../toolpath/route/frame.ts';
import type { Motion } from '../reading/motion.ts';
import type { ProofSetup } from './proof.ts';

/** Heights of which there are more than this are thinned out: a million lines may end at a million heights. */
const MOST_LEVELS = 20_000;
/** Nearer than this, mm, one of two heights will do: walls are not judged in thinner slices. */
const FINE = 0.001;

/** Gathers the part's heights at which tips, and shoulders of pointed cutters, are at the ends of feeds. */
export const levelGatherer = () => {
  let levels = new Set<number>();
  let last = Number.NaN;
  const add = (z: number): void => {
    levels.add(z);
    if (levels.size > MOST_LEVELS) levels = thinned(levels);
  };
  return {
    take(motions: readonly Motion[], setup: ProofSetup, cutters: ReadonlyMap<number, Cutter>): void {
      for (const { kind, from, to, tool } of motions) {
        if (kind === 'rapid') continue;
        const cutter = cutters.get(tool);
        if (cutter === undefined || cutter.kind === 'tap') continue;
        const point = cutter.kind === 'endmill' ? 0 : pointHeight(cutter);
        for (const { z } of from.z === to.z ? [to] : [from, to]) {
          if (z === last && point === 0) continue;
          last = z;
          const tip = toPart(setup.frame, { x: 0, y: 0, z }).z;
          add(tip);
          if (point > 0) add(tip + upOf(setup.frame.face) * point);
        }
      }
      last = Number.NaN;
    },
    levels: (): readonly number[] => [...levels],
  };
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
