import type { Point } from '../../sketch/shape/point.ts';
import { type CutPath, lowestTip, upOf } from '../../toolpath/removal/cut-path.ts';
import { nearestApproach } from './distance.ts';
import { mm, type ProofFinding, placeText } from './finding.ts';
import type { WantedSlab } from './gouge.ts';
import type { PassName } from './passes.ts';
import type { ProofSetup } from './proof.ts';

/** A wall this near the cutter's side rubs on its shank, mm. */
const RUBS = 0.03;
const SLACK = 0.05;

/** Watches for walls of the finished part that stand higher beside a cut than the cutter's flutes are long. */
export interface ShankWatch {
  readonly meet: (path: CutPath) => void;
  /** The worst of each cutter. */
  readonly findings: (groups: readonly PassName[]) => readonly ProofFinding[];
}

interface Rub {
  readonly over: number;
  readonly path: CutPath;
  readonly at: Point;
}

export const watchShanks = (slabs: readonly WantedSlab[], setup: ProofSetup): ShankWatch => {
  const worst = new Map<number, Rub>();
  return {
    meet: (path) => {
      if (path.rapid || path.cutter.kind !== 'endmill') return;
      const up = upOf(path.face);
      const fluteTop = lowestTip(path) + path.cutter.fluteLength;
      for (const slab of slabs) {
        const over = (up > 0 ? slab.top : -slab.bottom) - fluteTop;
        if (over <= SLACK || over <= (worst.get(path.cutter.number)?.over ?? 0)) continue;
        const near = nearestApproach(path.segment, slab.wall, path.radius + RUBS);
        if (near !== null) worst.set(path.cutter.number, { over, path, at: near.onWall });
      }
    },
    findings: (groups) =>
      [...worst.values()].map(({ over, path, at }) => ({
        code: 'shank-rubs',
        message: `The wall beside the ${mm(path.cutter.diameter)} mm endmill at ${placeText(at)} stands ${mm(over)} mm above its ${mm(path.cutter.fluteLength)} mm flutes on line ${path.line}: the shank rubs. Use a longer cutter.`,
        severity: 'error',
        setup: setup.number,
        at: { ...at, z: upOf(path.face) * (lowestTip(path) + path.cutter.fluteLength) },
        feature: groups[path.pass]?.step ?? '',
      })),
  };
};
