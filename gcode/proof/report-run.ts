import type { Point3 } from '../../sketch/shape/point.ts';
import type { Cutter } from '../../toolpath/machine/cutter.ts';
import { toPart } from '../../toolpath/route/frame.ts';
import type { Motion } from '../reading/motion.ts';
import { mm, type ProofFinding, placeText } from './finding.ts';
import type { FreePiece } from './loose.ts';
import type { PassName } from './passes.ts';
import type { ProofSetup } from './proof.ts';

export type MishapKind = 'rapid' | 'stalled' | 'flutes';

/** The worst of one kind of thing amiss in a pass, and how often it happened. */
export interface Mishap {
  readonly kind: MishapKind;
  depth: number;
  at: Point3;
  line: number;
  cutter: Cutter;
  times: number;
}

/** The worst of each kind of mishap in a pass, with how many there were. */
export const mishapFindings = (
  mishaps: ReadonlyMap<MishapKind, Mishap>,
  setup: ProofSetup,
  pass: PassName,
): readonly ProofFinding[] =>
  (['rapid', 'stalled', 'flutes'] as const).flatMap((kind) => {
    const worst = mishaps.get(kind);
    if (worst === undefined) return [];
    const more = worst.times > 1 ? ` (and ${worst.times - 1} more in this pass)` : '';
    return [
      {
        ...mishapText(kind, worst, more),
        severity: 'error' as const,
        setup: setup.number,
        at: worst.at,
        feature: pass.step,
      },
    ];
  });

const mishapText = (
  kind: MishapKind,
  worst: Mishap,
  more: string,
): { readonly code: string; readonly message: string } => {
  const where = `line ${worst.line}, near ${placeText(worst.at)}${more}`;
  switch (kind) {
    case 'rapid':
      return {
        code: 'rapid-in-stock',
        message: `A rapid goes through material, ${mm(worst.depth)} mm deep: ${where}. Lift clear before moving.`,
      };
    case 'stalled':
      return {
        code: 'spindle-stopped-in-cut',
        message: `The cutter goes into the work with the spindle standing still: ${where}.`,
      };
    case 'flutes':
      return {
        code: 'deeper-than-flutes',
        message: `The ${mm(worst.cutter.diameter)} mm endmill cuts ${mm(worst.depth)} mm deep at once, but its flutes are ${mm(worst.cutter.fluteLength)} mm long: ${where}. Take less at a time or a longer cutter.`,
      };
  }
};

export const freeFinding = (free: FreePiece, setup: ProofSetup, group: PassName): ProofFinding => ({
  code: 'piece-comes-free',
  message: free.isPart
    ? `The part itself comes free near ${placeText(free.at)} in pass “${passName(group)}”. Nothing holds it under a running cutter: leave bridges, or hold it another way.`
    : `A piece about ${mm(free.length, 1)} × ${mm(free.width, 1)} mm comes free near ${placeText(free.at)} in pass “${passName(group)}”. It can catch and fly: stop before it and take it away, or hold it.`,
  severity: 'warning',
  setup: setup.number,
  at: free.at,
  feature: group.step,
});

export const missingTool = (tool: number, motion: Motion, setup: ProofSetup): ProofFinding => ({
  code: tool === 0 ? 'cut-without-tool' : 'tool-missing',
  message:
    tool === 0
      ? `Line ${motion.line} feeds with no cutter called for.`
      : `Line ${motion.line} cuts with cutter ${tool}, which is not among this setup's cutters: nothing it does can be proven.`,
  severity: 'error',
  setup: setup.number,
  at: toPart(setup.frame, motion.to),
});

const passName = (group: PassName): string =>
  group.label === '' ? group.step : `${group.step}, ${group.label}`;
