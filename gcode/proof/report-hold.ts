import type { Bar } from '../../sketch/part/part.ts';
import { type CutPath, lowestTip, upOf } from '../../toolpath/removal/cut-path.ts';
import type { IndexedRegion } from './distance.ts';
import { mm, type ProofFinding, placeText } from './finding.ts';
import { type Hit, type Holding, hitOn } from './hold.ts';
import type { PassName } from './passes.ts';
import type { ProofSetup } from './proof.ts';

/** Deeper than this below the work is worth a word, mm. */
const BELOW = 2;

interface Worst {
  readonly hit: Hit;
  readonly path: CutPath;
  readonly count: number;
}

/** Motions into the jaws, clamps, screws, parallels and the vice's bed, and far below the work: the worst of each pass. */
export const holdFindings = (
  paths: readonly CutPath[],
  groups: readonly PassName[],
  holding: Holding,
  setup: ProofSetup,
  bar: Bar,
): { readonly findings: readonly ProofFinding[]; readonly jawHits: number } => {
  const findings: ProofFinding[] = [];
  let jawHits = 0;
  const say = (code: string, severity: 'error' | 'note', worst: Worst, message: string): void => {
    findings.push({
      code,
      message,
      severity,
      setup: setup.number,
      at: worst.hit.at,
      feature: groups[worst.path.pass]?.step ?? '',
    });
  };
  if (holding.jaws !== null) {
    for (const worst of worstByPass(paths, holding.jaws, holding.jawTop)) {
      jawHits += worst.count;
      say(
        'jaw-hit',
        'error',
        worst,
        `Line ${worst.path.line} takes the cutter ${mm(worst.hit.amount)} mm into a vice jaw at ${placeText(worst.hit.at)}${more(worst)}: the tip is ${mm(holding.jawTop - lowestTip(worst.path))} mm below the jaws' tops.`,
      );
    }
  }
  for (const foot of holding.plate?.feet ?? []) {
    for (const worst of worstByPass(paths, foot.plan, foot.top)) {
      jawHits += worst.count;
      const what = foot.kind === 'screw' ? 'the head of a screw' : 'a clamp';
      say(
        foot.kind === 'screw' ? 'screw-hit' : 'clamp-hit',
        'error',
        worst,
        `Line ${worst.path.line} takes the cutter ${mm(worst.hit.amount)} mm into ${what} at ${placeText(worst.hit.at)}${more(worst)}: the tip is ${mm(foot.top - lowestTip(worst.path))} mm below its top.`,
      );
    }
  }
  for (const parallel of holding.parallels) {
    for (const worst of worstByPass(paths, parallel, holding.underside)) {
      const shift = shiftClear(worst, parallel, bar);
      say(
        'parallel-hit',
        'error',
        worst,
        `Line ${worst.path.line} takes the ${mm(worst.path.cutter.diameter)} mm ${worst.path.cutter.kind} ${mm(worst.hit.amount)} mm into a parallel under the work at ${placeText(worst.hit.at)}${more(worst)}. ${shift}`,
      );
    }
  }
  if (holding.bed !== null) {
    for (const worst of worstByPass(paths, holding.bed.plan, holding.bed.height)) {
      say(
        'bed-hit',
        'error',
        worst,
        `Line ${worst.path.line} goes ${mm(worst.hit.amount)} mm into the bed of the vice at ${placeText(worst.hit.at)}.`,
      );
    }
  }
  const below = paths
    .filter((p) => holding.underside - lowestTip(p) - p.point > BELOW)
    .sort((a, b) => lowestTip(a) - lowestTip(b))[0];
  if (below !== undefined) {
    const depth = holding.underside - lowestTip(below);
    say(
      'below-work',
      'note',
      {
        path: below,
        count: 1,
        hit: {
          amount: depth,
          at: { ...below.segment.from, z: upOf(below.face) * lowestTip(below) },
        },
      },
      holding.plate === null
        ? `Line ${below.line} goes ${mm(depth)} mm below the work. Make sure there is room under it.`
        : `Line ${below.line} goes ${mm(depth)} mm into the plate under the work. Lay a sheet between them that may be cut.`,
    );
  }
  return { findings, jawHits };
};

const more = (worst: Worst): string => (worst.count > 1 ? ` (and ${worst.count - 1} more in this pass)` : '');

const worstByPass = (paths: readonly CutPath[], obstacle: IndexedRegion, top: number): readonly Worst[] => {
  const byPass = new Map<number, Worst>();
  for (const path of paths) {
    const hit = hitOn(path, obstacle, top);
    if (hit === null) continue;
    const known = byPass.get(path.pass);
    byPass.set(
      path.pass,
      known === undefined
        ? { hit, path, count: 1 }
        : known.hit.amount >= hit.amount
          ? { ...known, count: known.count + 1 }
          : { hit, path, count: known.count + 1 },
    );
  }
  return [...byPass.values()];
};

/** Room that a shifted parallel is given beside the cutter, mm. */
const ROOM = 0.5;

/**
 * How far to move a parallel across so that a straight plunge clears it and it still lies under the bar, between the
 * jaws; for a moving cut, or where there is no such place, no figure is told.
 */
const shiftClear = (worst: Worst, parallel: IndexedRegion, bar: Bar): string => {
  const { path } = worst;
  const box = parallel.box;
  const unknown = 'Move the parallel clear of the cut.';
  if (path.length > 1e-6 || box === null) return unknown;
  const y = path.segment.from.y;
  const [low, high] = [bar.corner.y, bar.corner.y + bar.width];
  const [shift] = [y + path.radius + ROOM - box[1], y - path.radius - ROOM - box[3]]
    .filter((by) => box[1] + by >= low && box[3] + by <= high)
    .sort((a, b) => Math.abs(a) - Math.abs(b));
  if (shift === undefined) return unknown;
  const off = (box[1] + box[3]) / 2 + shift - (low + high) / 2;
  return `Shift that parallel ${mm(Math.abs(shift), 1)} mm in Y, to ${mm(Math.abs(off), 1)} mm from the bar's middle.`;
};
