import type { Part, Unit } from '../../sketch/part/part.ts';
import { aboutText, lengthText } from '../../sketch/part/units.ts';
import type { Cutter } from '../machine/cutter.ts';
import type { Plan, PlannedStep } from '../passes/pass.ts';
import { canPeel } from '../passes/peel.ts';
import { isPeelable, openingOf, peelingCutter } from '../passes/peel-cutter.ts';
import type { RouteDocument, StepAdjustment } from '../route/document.ts';
import type { JobStep } from '../route/route.ts';
import type { CuttingForceData } from './cutting-force.ts';
import { engagementBearing, type FullCut, forceAtEngagement } from './engagement-limit.ts';
import type { PassSurvival } from './pass-survival.ts';

/** What a job step's estimates ask of how deep its cutter is buried. Every figure is an estimate. */
export type EngagementProposal = {
  readonly step: string;
  /** Most that the work moves while it is cut, its finishing lap left out, mm. */
  readonly movement: number;
} & (
  | { readonly kind: 'none needed' }
  /** Degrees; with another cutter where its own has no room to go round. */
  | { readonly kind: 'limit'; readonly angle: number; readonly cutter: string | null }
  /** It is kept to an angle already, and moves too far all the same or could bear no more. */
  | { readonly kind: 'stated'; readonly angle: number }
  /** No angle that is worth cutting brings the force so low, or no cutter is small enough: passes must be shallower. */
  | { readonly kind: 'shallower' }
);

export interface ProposalTerms {
  /** Most that the work may move, mm. */
  readonly tolerance: number;
  readonly cutting: CuttingForceData;
  /** All cutters that are owned, for openings that want a smaller one. */
  readonly cutters: readonly Cutter[];
}

/** What is aimed at, as a share of the movement that is allowed: estimates want some room. */
const AIM = 0.9;

type Limited = Extract<JobStep, { engagement: number | null }>;

const isLimited = (step: JobStep): step is Limited => 'engagement' in step;

/**
 * For each job step that can be kept to an angle and of which there are estimates: the largest angle under which the
 * force moves the work by no more than the tolerance, "none needed" where it moves less as it is. Movement goes with the
 * force, and the force is compared with that of the angle at the place where the work moves most.
 */
export const proposeEngagements = (
  part: Part,
  plan: Plan,
  passes: readonly PassSurvival[],
  terms: ProposalTerms,
): readonly EngagementProposal[] =>
  plan.setups.flatMap((s) => s.steps).flatMap((planned) => proposalFor(part, planned, passes, terms) ?? []);

const proposalFor = (
  part: Part,
  planned: PlannedStep,
  passes: readonly PassSurvival[],
  { tolerance, cutting, cutters }: ProposalTerms,
): EngagementProposal | null => {
  const { step, cutter } = planned;
  if (!isLimited(step)) return null;
  const worst = worstOf(step.name, passes);
  if (worst === null) return null;
  const { movement, buried } = worst;
  const say = { step: step.name, movement };
  const share = (AIM * tolerance) / movement;
  if (step.engagement !== null) {
    return { ...say, kind: 'stated', angle: Math.round((step.engagement * 180) / Math.PI) };
  }
  if (share >= AIM) return { ...say, kind: 'none needed' };
  const used = roomFor(part, step, cutter, cutters);
  if (used === null) return { ...say, kind: 'shallower' };
  const own = cutOf(planned, cutter, step.stepDown);
  const now = forceAtEngagement(buried, own, cutting);
  // A smaller cutter's full cut has another force: what may act is the same.
  const next = cutOf(planned, used, step.stepDown);
  const angle = engagementBearing((share * now) / forceAtEngagement(Math.PI, next, cutting), next, cutting);
  if (angle === null) return { ...say, kind: 'shallower' };
  return { ...say, kind: 'limit', angle, cutter: used.name === cutter.name ? null : used.name };
};

/** Where the work moves most while a step is roughed: how far, mm, and how much of the rim is buried there, radians. */
const worstOf = (
  step: string,
  passes: readonly PassSurvival[],
): { readonly movement: number; readonly buried: number } | null => {
  let worst: { movement: number; buried: number } | null = null;
  for (const pass of passes) {
    if (pass.force.step !== step || pass.force.kind === 'finish') continue;
    for (const { place, movement } of pass.bending) {
      if (worst === null || movement > worst.movement) worst = { movement, buried: place.buried };
    }
  }
  return worst !== null && worst.movement > 0 ? worst : null;
};

/** The cutter with which a step can be kept to an angle; null where none that is owned has room. */
export const roomFor = (
  part: Part,
  step: Limited,
  cutter: Cutter,
  cutters: readonly Cutter[],
): Cutter | null => {
  if (!isPeelable(step)) return cutter;
  const opening = openingOf(part, step);
  if (opening === null) return null;
  const reaches = cutter.diameter / 2 <= opening.corner;
  if (reaches && canPeel({ width: opening.width, radius: cutter.diameter / 2 })) return cutter;
  return peelingCutter(cutters, opening, part.bar.thickness);
};

/** A cutter in a step's spindle, at the tooth load of its own. */
const cutOf = ({ feed, speed, cutter }: PlannedStep, used: Cutter, depth: number): FullCut => ({
  diameter: used.diameter,
  flutes: used.flutes,
  toothLoad: ((feed / (speed * cutter.flutes)) * used.diameter) / cutter.diameter,
  speed,
  depth,
});

/** A route with every proposed limit laid over it; releases go with the cutter of what they release. */
export const withEngagements = (
  own: RouteDocument,
  steps: readonly JobStep[],
  proposals: readonly EngagementProposal[],
): RouteDocument => {
  const adjust: Record<string, StepAdjustment> = { ...own.adjust };
  for (const proposal of proposals) {
    if (proposal.kind !== 'limit') continue;
    const { step: name, angle, cutter } = proposal;
    adjust[name] = { ...adjust[name], engagement: angle, ...(cutter !== null && { cutter }) };
    if (cutter === null) continue;
    for (const s of steps) {
      if (s.kind === 'release' && s.of === name) adjust[s.name] = { ...adjust[s.name], cutter };
    }
  }
  return { ...own, adjust };
};

/** A proposal as a sentence. */
export const proposalSentence = (proposal: EngagementProposal, tolerance: number, unit: Unit): string => {
  const { step, movement } = proposal;
  const moves = `${step}: the work moves ${aboutText(movement, unit)}`;
  const most = lengthText(tolerance, unit);
  switch (proposal.kind) {
    case 'none needed':
      return `${moves}, within ${most}: no limit is needed.`;
    case 'limit': {
      const cutter = proposal.cutter === null ? '' : ` with the ${proposal.cutter}`;
      return `${moves}; buried by ${proposal.angle}° at most${cutter} it would stay within ${most}.`;
    }
    case 'stated': {
      const enough = movement <= tolerance ? ', within' : '; more than';
      return `${moves} under its limit of ${proposal.angle}°${enough} ${most}.`;
    }
    case 'shallower':
      return `${moves}: no angle brings the force so low that it stays within ${most}, only shallower passes do.`;
  }
};
