import { mm, type ProofFinding, placeText } from './finding.ts';
import type { Gouge } from './gouge.ts';
import type { PassGroup } from './passes.ts';
import type { ProofSetup } from './proof.ts';

/** Gouges farther apart than this are told apart, mm. */
const APART = 5;
const MOST = 12;

/** The gouges over tolerance of one setup: the worst at each place and of each kind, worst first. */
export const gougeFindings = (
  gouges: readonly Gouge[],
  groups: readonly PassGroup[],
  setup: ProofSetup,
  tolerance: number,
): readonly ProofFinding[] => {
  const worst = gouges.filter((g) => g.amount > tolerance).sort((a, b) => b.amount - a.amount);
  const told: Gouge[] = [];
  for (const g of worst) {
    if (told.length >= MOST) break;
    const known = told.some((t) => t.by === g.by && Math.hypot(t.at.x - g.at.x, t.at.y - g.at.y) < APART);
    if (!known) told.push(g);
  }
  return told.map((g) => {
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
  });
};
