import type { DrillBlock } from './unfold.ts';

/** A spelled-out peck's rapid stops this far above the last bottom, mm. Common practice, no source. */
const BACK_OFF = 0.25;

/** One upright move, or a wait, of a drilling that stands over its place at the clear height. mm, s. */
export type UprightStep =
  | { readonly kind: 'rapid' | 'feed'; readonly z: number }
  | { readonly kind: 'dwell'; readonly seconds: number };

/** Number of pecks: 1 when the hole goes down in one. */
export const peckCount = (d: DrillBlock): number =>
  d.peck > 0 ? Math.max(1, Math.ceil((d.clear - d.depth) / d.peck - 1e-9)) : 1;

/** A drilling spelled out; pecks withdraw to the height the canned cycle would. */
export const uprightSteps = (d: DrillBlock): UprightStep[] => {
  const steps: UprightStep[] = [];
  const count = peckCount(d);
  for (let k = 1; k < count; k++) {
    const z = d.clear - k * d.peck;
    steps.push({ kind: 'feed', z }, { kind: 'rapid', z: d.back });
    steps.push({ kind: 'rapid', z: Math.min(z + BACK_OFF, d.back) });
  }
  steps.push({ kind: 'feed', z: d.depth });
  if (d.dwell > 0) steps.push({ kind: 'dwell', seconds: d.dwell });
  steps.push({ kind: d.feedOut ? 'feed' : 'rapid', z: d.back });
  return steps;
};
