import { type CutPath, lowestTip, upOf } from './cut-path.ts';
import { nearestApproach } from './distance.ts';
import { mm, type ProofFinding, placeText } from './finding.ts';
import type { WantedSlab } from './gouge.ts';
import type { PassGroup } from './passes.ts';
import type { ProofSetup } from './proof.ts';

/** A wall this near the cutter's side rubs on its shank, mm. */
const RUBS = 0.03;
const SLACK = 0.05;

/** Walls of the finished part that stand higher beside a cut than the cutter's flutes are long: the worst of each cutter. */
export const shankFindings = (
  paths: readonly CutPath[],
  groups: readonly PassGroup[],
  slabs: readonly WantedSlab[],
  setup: ProofSetup,
): readonly ProofFinding[] => {
  const worst = new Map<number, { readonly over: number; readonly finding: ProofFinding }>();
  for (const path of paths) {
    if (path.rapid || path.cutter.kind !== 'endmill') continue;
    const up = upOf(path.face);
    const fluteTop = lowestTip(path) + path.cutter.fluteLength;
    for (const slab of slabs) {
      const over = (up > 0 ? slab.top : -slab.bottom) - fluteTop;
      if (over <= SLACK || over <= (worst.get(path.cutter.number)?.over ?? 0)) continue;
      const near = nearestApproach(path.segment, slab.wall, path.radius + RUBS);
      if (near === null) continue;
      worst.set(path.cutter.number, {
        over,
        finding: {
          code: 'shank-rubs',
          message: `The wall beside the ${mm(path.cutter.diameter)} mm endmill at ${placeText(near.onWall)} stands ${mm(over)} mm above its ${mm(path.cutter.fluteLength)} mm flutes on line ${path.line}: the shank rubs. Use a longer cutter.`,
          severity: 'error',
          setup: setup.number,
          at: { ...near.onWall, z: up * fluteTop },
          feature: groups[path.pass]?.step ?? '',
        },
      });
    }
  }
  return [...worst.values()].map((w) => w.finding);
};
