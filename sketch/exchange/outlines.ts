import { type Chains, chainsOf } from './chain.ts';
import type { Drawing, LeftOut } from './drawing.ts';
import { WITHIN_PLAN } from './plan.ts';
import { tidy } from './tidy.ts';

/** Closed outlines of a drawing in mm, and what of it closes nothing. */
export interface Outlines extends Chains {
  /** How far tidying may move an edge, mm: what curves were fitted with, and a little. */
  readonly tolerance: number;
  readonly leftOut: readonly LeftOut[];
}

/** An exact drawing's edges are put together again when they lie this near to one curve, mm. */
const LEAST_TOLERANCE = 5e-4;

/**
 * The strokes of a drawing joined to outlines, pieces of one line or circle made one. Our own layers for lands and
 * counterbores hold no edges of the plan; they are counted as left out.
 */
export const outlinesOf = (drawing: Drawing): Outlines => {
  const aside = drawing.strokes.filter((s) => WITHIN_PLAN.includes(s.layer));
  const chains = chainsOf(
    drawing.strokes.filter((s) => !WITHIN_PLAN.includes(s.layer)).map((s) => s.segment),
  );
  const tolerance = LEAST_TOLERANCE + 2 * drawing.fit.worst;
  const leftOut: LeftOut[] = WITHIN_PLAN.map((layer) => ({
    what: `edge on layer ${layer}, which says no height`,
    count: aside.filter((s) => s.layer === layer).length,
  }));
  leftOut.push({ what: 'edge drawn twice', count: chains.doubles });
  leftOut.push({ what: 'chain of lines that closes nothing', count: chains.open.length });
  return {
    ...chains,
    closed: chains.closed.map((c) => tidy(c, tolerance)),
    tolerance,
    leftOut: leftOut.filter((l) => l.count > 0),
  };
};
