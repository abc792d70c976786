import type { RouteDocument } from '../route/document.ts';
import { type Assessment, assess, isQuicker, type Subject, sameWork } from './assess.ts';
import {
  type CutterChange,
  type DepthChoice,
  type DepthTerms,
  isHoldAtFault,
  isTroubled,
  seekDepths,
  smallerCutters,
} from './depth-rounds.ts';
import { type EngagementProposal, roomFor, withEngagements } from './engagement-proposal.ts';
import type { Tried } from './recommend.ts';
import { leftLimitSentence } from './recommend-words.ts';

/** A job step that is kept to an angle, degrees; with another cutter where its own has no room to go round. */
export type Limit = Extract<EngagementProposal, { kind: 'limit' }>;

/** What is cut otherwise than by shallower passes alone. */
export type OtherCut =
  | { readonly kind: 'smaller cutters'; readonly cutters: readonly CutterChange[] }
  | { readonly kind: 'limits'; readonly limits: readonly Limit[] };

interface Way {
  readonly wish: RouteDocument;
  readonly cut: OtherCut;
  /** As it is said of what is looked at. */
  readonly named: string;
}

/** Angles that are tried, degrees: what is worth calling peeling, and half of that. */
const ANGLES = [60, 30] as const;
/** What pushes the work less than this share as far is lighter on it. */
const LIGHTER = 0.9;

/**
 * Smaller cutters, and limits on how deep the rim is buried, for what moves the work too far: each with step-downs of its
 * own, solved, and taken where it keeps the tolerance in a tenth less time, or comes nearer to it.
 */
export function* seekOtherCuts(
  subject: Subject,
  own: RouteDocument,
  from: {
    readonly wish: RouteDocument;
    readonly now: Assessment;
    readonly usual: DepthChoice;
    readonly before: Assessment;
  },
  terms: DepthTerms,
): Generator<
  Tried,
  { readonly depths: DepthChoice; readonly taken: OtherCut | null; readonly left: readonly string[] }
> {
  const { wish, now, usual, before } = from;
  const { tolerance } = terms;
  let depths = usual;
  let taken: OtherCut | null = null;
  let best: { readonly limits: readonly Limit[]; readonly found: DepthChoice } | null = null;
  for (const { cut, named, ...way } of [
    ...cutterWays(subject, own, { ...usual, wish }),
    // An angle halves the force at most: it does not make up for a hold that gives.
    ...(isHoldAtFault(usual.now, now, tolerance) ? [] : limitedWays(subject, own, { ...usual, wish })),
  ]) {
    // Half of an angle that was sought and is no better takes longer still.
    if (cut.kind === 'limits' && best !== null) continue;
    const start = assess(subject, way.wish, terms);
    yield { what: `the same${named}`, movement: start.movement, seconds: start.seconds };
    // Where the usual way does, one that pushes no less is not worth a search.
    const lighter = start.movement < LIGHTER * now.movement;
    const wanted = usual.now.movement > tolerance && cut.kind === 'smaller cutters';
    if (!sameWork(start, before) || !(lighter || wanted)) continue;
    const found = yield* seekDepths(subject, own, way.wish, start, { ...terms, named, beat: depths.now });
    if (isQuicker(found.now, depths.now, tolerance)) {
      depths = { ...found, first: usual.first };
      taken = cut;
    } else if (cut.kind === 'limits') {
      best = { limits: cut.limits, found };
    }
  }
  const left =
    best === null || taken?.kind === 'limits'
      ? []
      : [leftLimitSentence(best.limits, best.found, depths.now, subject.part.unit)];
  return { depths, taken, left };
}

type Trouble = Pick<DepthChoice, 'wish' | 'first' | 'changes' | 'hopeless'>;

const cutterWays = (subject: Subject, own: RouteDocument, trouble: Trouble): readonly Way[] =>
  smallerCutters(subject, own, trouble).map(({ wish, cutters }) => ({
    wish,
    cut: { kind: 'smaller cutters', cutters },
    named: ` with ${[...new Set(cutters.map((c) => c.to))].join(' and ')}`,
  }));

/** Job steps in trouble kept to an angle, with a smaller cutter where their own has no room to go round. What the file says is left alone. */
export const limitedWays = (
  { part, profile }: Subject,
  own: RouteDocument,
  trouble: Trouble,
): readonly Way[] => {
  const steps = trouble.first.route.setups.flatMap((s) => s.steps);
  return ANGLES.flatMap((angle): readonly Way[] => {
    const limits = trouble.first.plan.setups
      .flatMap((s) => s.steps)
      .flatMap(({ step, cutter }): readonly Limit[] => {
        if (!('engagement' in step) || step.engagement !== null || !isTroubled(trouble, step.name)) return [];
        const said = own.adjust?.[step.name];
        const used = said?.engagement === undefined ? roomFor(part, step, cutter, profile.cutters) : null;
        if (used === null || (used.name !== cutter.name && said?.cutter !== undefined)) return [];
        const other = used.name === cutter.name ? null : used.name;
        return [{ step: step.name, movement: 0, kind: 'limit', angle, cutter: other }];
      });
    if (limits.length === 0) return [];
    const wish = withEngagements(trouble.wish, steps, limits);
    return [{ wish, cut: { kind: 'limits', limits }, named: ` under ${angle}°` }];
  });
};
