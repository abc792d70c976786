import type { RouteDocument } from '../route/document.ts';
import { webOf } from '../route/release.ts';
import type { JobStep, ReleaseStep } from '../route/route.ts';
import { type Assessment, assess, type Subject, sameWork } from './assess.ts';
import { adjusted, type CutterChange, inUnit, seekDepths, smallerCutters } from './depth-rounds.ts';
import { plateInstead, seekPacking } from './hold-choice.ts';
import { closesOf, orderings } from './orders.ts';
import type { SurvivalTerms } from './pass-survival.ts';
import {
  cutterSentence,
  holdSentence,
  hopelessSentence,
  orderSentence,
  packingSentence,
  plateSentence,
  stepSentence,
  timeSentence,
  webSentence,
} from './recommend-words.ts';
import { thinnestWeb, type WebChoice } from './web-choice.ts';

/** What a recommendation keeps to. */
export interface RecommendTerms extends SurvivalTerms {
  /** Most that the work may move under the cutter, mm. */
  readonly tolerance?: number;
}

export const USUAL_TOLERANCE = 0.02;
/** Ways are compared on coarser maps than a survey is made on, at fewer places. */
export const COMPARED_AT = { cell: 0.3, places: 2 } as const;

/** A change of the part's route with its reasons. Every figure in it is an estimate. */
export interface Recommendation {
  /** The part document's whole `route` as it would be; null when there is nothing to better. */
  readonly route: RouteDocument | null;
  /** Why, in sentences with the numbers. */
  readonly reasons: readonly string[];
  /** The user's own choices that stood in the way and were left alone. */
  readonly kept: readonly string[];
  readonly before: Assessment;
  readonly after: Assessment;
  /** Whether every movement then stays within the tolerance. */
  readonly enough: boolean;
}

/** One way that was looked at on the way. */
export interface Tried {
  readonly what: string;
  readonly movement: number;
  readonly seconds: number;
}

/** A smaller cutter that pushes the work less than this share as far is lighter on it. */
const LIGHTER = 0.9;
/** What takes this many times as long must at least keep the tolerance. */
const WORTH = 4;

/**
 * The order of job steps, the thinnest webs and the largest step-downs that keep every movement within the tolerance in
 * the least time. Step-downs are sought by closed forms and confirmed by the solver; orders and webs by the solver at
 * each step's worst pass. What `own` says already is never changed. Yields every way it looks at, so that it can be
 * stopped between two of them; takes some seconds in all.
 */
export function* recommendInSteps(
  subject: Subject,
  own: RouteDocument,
  wishes: RecommendTerms = {},
): Generator<Tried, Recommendation> {
  const terms = { ...COMPARED_AT, ...wishes };
  const tolerance = terms.tolerance ?? USUAL_TOLERANCE;
  const { unit } = subject.part;
  const reasons: string[] = [];
  const kept: string[] = [];
  const before = assess(subject, own, { ...terms, squeezed: true });
  yield tried('as it is', before);
  const nothing = { route: null, reasons, kept, before, after: before };
  if (before.refused !== null) {
    return { ...nothing, reasons: [`It cannot be planned as it is: ${before.refused}`], enough: false };
  }
  let wish = own;
  let now = before;
  if (own.order !== undefined) kept.push('the order of the job steps');
  else {
    for (const { name, order } of orderings(before.route).slice(1)) {
      const other = assess(subject, { ...own, order }, { ...terms, squeezed: true });
      yield tried(name, other);
      if (!sameWork(other, before) || !isBetter(other, now, tolerance)) continue;
      reasons.push(orderSentence(name, now, other, unit));
      wish = { ...own, order };
      now = other;
    }
  }
  for (const step of forksWithWeb(now)) {
    if (own.adjust?.[step.name]?.web !== undefined) {
      kept.push(`the web of ${step.name}, ${webOf(step)} mm`);
      continue;
    }
    const search = thinnestWeb(subject, wish, step, tolerance, terms);
    let look = search.next();
    for (; !look.done; look = search.next()) yield look.value;
    const choice: WebChoice = look.value;
    reasons.push(webSentence(choice, unit, tolerance));
    if (choice.web === webOf(step)) continue;
    wish = adjusted(wish, step.name, { web: inUnit(subject, choice.web) });
    const release = releaseOf(now, step.name);
    if (release === undefined || choice.releaseDepth === null || choice.releaseDepth >= release.stepDown)
      continue;
    if (own.adjust?.[release.name]?.stepDown !== undefined) continue;
    wish = adjusted(wish, release.name, { stepDown: inUnit(subject, choice.releaseDepth) });
  }
  now = assess(subject, wish, { ...terms, squeezed: true });
  yield tried('with these webs', now);
  const packing = yield* seekPacking(subject, own, wish, now, { ...terms, tolerance });
  kept.push(...packing.kept);
  if (packing.choices.length > 0) {
    reasons.push(...packing.choices.map((choice) => packingSentence(choice, unit, tolerance)));
    wish = packing.wish;
    now = assess(subject, wish, { ...terms, squeezed: true });
    yield tried('with this packing', now);
  }
  const usual = yield* seekDepths(subject, own, wish, now, { ...terms, tolerance });
  kept.push(...usual.kept);
  let depths = usual;
  let cutters: readonly CutterChange[] = [];
  for (const way of smallerCutters(subject, own, { ...usual, wish })) {
    const start = assess(subject, way.wish, terms);
    const named = ` with ${[...new Set(way.cutters.map((c) => c.to))].join(' and ')}`;
    yield tried(`the same${named}`, start);
    // Where the usual cutter does, one that pushes no less is not worth a search.
    const lighter = start.movement < LIGHTER * now.movement;
    if (!sameWork(start, before) || (usual.now.movement <= tolerance && !lighter)) continue;
    const smaller = yield* seekDepths(subject, own, way.wish, start, { ...terms, tolerance, named });
    if (!isQuicker(smaller.now, depths.now, tolerance)) continue;
    depths = { ...smaller, first: usual.first };
    ({ cutters } = way);
  }
  let { changes } = depths;
  const changed = new Set(changes.map((c) => c.step));
  const hopeless = depths.hopeless
    .filter((h) => !changed.has(h.step))
    .map((h) => hopelessSentence(h, unit, tolerance));
  const [webbed, first] = [wish, now];
  [wish, now] = [depths.wish, depths.now];
  if (now.movement > tolerance && now.seconds > WORTH * first.seconds) {
    // So much time for work that moves too far all the same: it is the hold that wants bettering.
    reasons.push(holdSentence(first, now, unit, tolerance));
    [wish, now, changes, cutters] = [webbed, first, [], []];
  }
  reasons.push(...hopeless);
  if (cutters.length > 0) reasons.push(cutterSentence(cutters, usual.now, now, unit));
  reasons.push(...changes.map((change) => stepSentence(change, first, now, unit, tolerance)));
  const enough = offOf(now) <= tolerance;
  if (now.movement > tolerance) {
    const plate = plateInstead(subject, wish, now, terms);
    if (plate !== null) reasons.push(plateSentence(plate, unit, tolerance));
  }
  if (wish !== own && reasons.length > 0) reasons.push(timeSentence(before, now));
  return { route: wish === own ? null : wish, reasons, kept, before, after: now, enough };
}

/** The same without a pause. */
export const recommend = (
  subject: Subject,
  own: RouteDocument,
  terms: RecommendTerms = {},
): Recommendation => {
  const steps = recommendInSteps(subject, own, terms);
  for (let step = steps.next(); ; step = steps.next()) if (step.done) return step.value;
};

/** What is to stay within the tolerance, mm: movements, and what stays on finished walls and floors. */
const offOf = ({ movement, left }: Assessment): number => Math.max(movement, left);

const tried = (what: string, { movement, seconds }: Assessment): Tried => ({ what, movement, seconds });

/** Less movement where the tolerance is not kept; less time where it is; and no fork that the jaws hold more closed. A hundredth either way is no reason to change. */
const isBetter = (other: Assessment, now: Assessment, tolerance: number): boolean => {
  if (closesOf(other, 'cut') > Math.max(closesOf(now, 'cut'), tolerance)) return false;
  const [over, overNow] = [Math.max(offOf(other), tolerance), Math.max(offOf(now), tolerance)];
  if (over < 0.99 * overNow) return true;
  return over <= overNow && other.seconds < 0.99 * now.seconds;
};

/** The same of ways that keep it or come near: a cutter is only changed for a tenth less of what is too much, or of the time. */
const isQuicker = (other: Assessment, now: Assessment, tolerance: number): boolean => {
  if (other.refused !== null) return false;
  const [over, overNow] = [Math.max(offOf(other), tolerance), Math.max(offOf(now), tolerance)];
  if (over < 0.9 * overNow) return true;
  return over <= overNow && other.seconds < 0.9 * now.seconds;
};

const forksWithWeb = ({ route }: Assessment): readonly JobStep[] =>
  route.setups.flatMap((s) => s.steps.filter((step) => step.kind === 'fork' && webOf(step) > 0));

const releaseOf = ({ route }: Assessment, of: string): ReleaseStep | undefined =>
  route.setups.flatMap((s) => s.steps).find((s): s is ReleaseStep => s.kind === 'release' && s.of === of);
