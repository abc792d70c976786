import type { CutPath } from '../../toolpath/removal/cut-path.ts';
import { mm, type ProofFinding, placeText } from './finding.ts';
import { type Gouge, gougeOf, type WantedSlab } from './gouge.ts';
import type { PassName } from './passes.ts';
import type { ProofSetup } from './proof.ts';

/** Gouges farther apart than this are told apart, mm. */
const APART = 5;
const MOST = 12;
/** Of a program that gouges everywhere only the worst are kept in mind. */
const MOST_KEPT = 5000;

/** Watches one setup's motions enter the wanted part. */
export interface GougeWatch {
  /** Says whether it does. */
  readonly meet: (path: CutPath) => boolean;
  /** The deepest of all, mm. */
  readonly deepest: () => number;
  /** Those over tolerance: the worst at each place and of each kind, worst first. */
  readonly findings: (groups: readonly PassName[]) => readonly ProofFinding[];
}

export const watchGouges = (
  slabs: readonly WantedSlab[],
  setup: ProofSetup,
  tolerance: number,
): GougeWatch => {
  let kept: Gouge[] = [];
  let deepest = 0;
  return {
    meet: (path) => {
      const gouge = gougeOf(path, slabs);
      if (gouge === null) return false;
      deepest = Math.max(deepest, gouge.amount);
      if (gouge.amount <= tolerance) return true;
      kept.push(gouge);
      if (kept.length > MOST_KEPT) kept = [...apart(kept)];
      return true;
    },
    deepest: () => deepest,
    findings: (groups) => apart(kept).map((g) => findingOf(g, groups, setup)),
  };
};

const apart = (gouges: readonly Gouge[]): readonly Gouge[] => {
  const told: Gouge[] = [];
  for (const g of [...gouges].sort((a, b) => b.amount - a.amount)) {
    if (told.length >= MOST) break;
    const known = told.some((t) => t.by === g.by && Math.hypot(t.at.x - g.at.x, t.at.y - g.at.y) < APART);
    if (!known) told.push(g);
  }
  return told;
};

const findingOf = (g: Gouge, groups: readonly PassName[], setup: ProofSetup): ProofFinding => {
  const what = g.path.cutter.kind;
  const size = mm(g.path.cutter.diameter);
  const where = `${placeText(g.at)}, on line ${g.path.line}`;
  return {
    code: g.by === 'side' ? 'gouge-wall' : 'gouge-floor',
    message:
      g.by === 'side'
        ? `The ${size} mm ${what} cuts ${mm(g.amount, 3)} mm into a wall of the part at ${where}.`
        : `The ${size} mm ${what} cuts ${mm(g.amount, 3)} mm too deep into the part at ${where}.`,
    severity: 'error',
    setup: setup.number,
    at: g.at,
    feature: groups[g.path.pass]?.step ?? '',
  };
};
