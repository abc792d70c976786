import { lengthText } from '../../sketch/part/units.ts';
import type { RouteDocument } from '../route/document.ts';
import { webOf } from '../route/release.ts';
import type { JobStep, ReleaseStep } from '../route/route.ts';
import { type Assessment, assess, isQuicker, offOf, type Subject, sameWork } from './assess.ts';
import { adjusted, inUnit, isHoldAtFault, seekDepths } from './depth-rounds.ts';
import { plateInstead, seekPacking } from './hold-choice.ts';
import { closesOf, type Ordering, orderings } from './orders.ts';
import { seekOtherCuts } from './other-cuts.ts';
import type { SurvivalTerms } from './pass-survival.ts';
import {
  closedSentence,
  holdSentence,
  hopelessSentence,
  orderSentence,
  otherCutSentence,
  packingSentence,
  plateSentence,
  releaseSentence,
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
  /** What was tried as well and is no better, in sentences with the numbers. */
  readonly left: readonly string[];
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

/** An order that is better by less is not better. */
const A_HUNDREDTH = 0.01;
/** An order must let the jaws close a fork by less than this share to be worth a word. */
const LESS = 0.9;

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
  const left: string[] = [];
  const before = assess(subject, own, { ...terms, squeezed: true });
  yield tried('as it is', before);
  const nothing = { route: null, reasons, kept, left, before, after: before };
  if (before.refused !== null) {
    return { ...nothing, reasons: [`It cannot be planned as it is: ${before.refused}`], enough: false };
  }
  let wish = own;
  let now = before;
  const others: { readonly name: string; readonly order: Ordering['order']; readonly way: Assessment }[] = [];
  if (own.order !== undefined) kept.push('the order of the job steps');
  else {
    for (const { name, order } of orderings(before.route).slice(1)) {
      const other = assess(subject, { ...own, order }, { ...terms, squeezed: true });
      yield tried(name, other);
      if (!sameWork(other, before)) continue;
      others.push({ name, order, way: other });
      if (!isBetter(other, now, tolerance)) {
        // Nearer to the tolerance, or quicker, but for what the jaws do to a fork.
        if (isQuicker(other, now, tolerance, A_HUNDREDTH)) left.push(closedSentence(name, now, other, unit));
        continue;
      }
      reasons.push(orderSentence(name, now, other, unit));
      wish = { ...own, order };
      now = other;
    }
  }
  for (const step of forksWithWeb(now)) {
    if (own.adjust?.[step.name]?.web !== undefined) {
      kept.push(`the web of ${step.name}, ${lengthText(webOf(step), unit)}`);
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
  for (const { name, order, way } of others) {
    const closes = { asItIs: closesOf(before, 'released'), now: closesOf(way, 'released'), packed: null };
    if (wish.order !== undefined || closes.asItIs <= tolerance || closes.now > LESS * closes.asItIs) continue;
    const packed = closesOf(now, 'released');
    if (packed <= closes.now) {
      left.push(releaseSentence(name, { ...closes, packed }, unit, tolerance));
      continue;
    }
    const then = assess(subject, { ...wish, order }, { ...terms, squeezed: true });
    yield tried(`${name}, for the web`, then);
    if (!sameWork(then, before) || isWorse(then, now, tolerance)) continue;
    reasons.push(releaseSentence(name, closes, unit, tolerance));
    [wish, now] = [{ ...wish, order }, then];
  }
  const usual = yield* seekDepths(subject, own, wish, now, { ...terms, tolerance });
  kept.push(...usual.kept);
  const other = yield* seekOtherCuts(subject, own, { wish, now, usual, before }, { ...terms, tolerance });
  const { depths } = other;
  left.push(...other.left);
  let { taken } = other;
  let { changes } = depths;
  const changed = new Set(changes.map((c) => c.step));
  const hopeless = depths.hopeless
    .filter((h) => !changed.has(h.step))
    .map((h) => hopelessSentence(h, unit, tolerance));
  const [webbed, first] = [wish, now];
  [wish, now] = [depths.wish, depths.now];
  if (isHoldAtFault(now, first, tolerance)) {
    reasons.push(holdSentence(first, now, unit, tolerance));
    [wish, now, changes, taken] = [webbed, first, [], null];
  }
  reasons.push(...hopeless);
  if (taken !== null) reasons.push(otherCutSentence(taken, usual.now, now, unit));
  reasons.push(...changes.map((change) => stepSentence(change, first, now, unit, tolerance)));
  const enough = offOf(now) <= tolerance;
  if (now.movement > tolerance) {
    const plate = plateInstead(subject, wish, now, terms);
    if (plate !== null) reasons.push(plateSentence(plate, unit, tolerance));
  }
  if (wish !== own && reasons.length > 0) reasons.push(timeSentence(before, now));
  return { route: wish === own ? null : wish, reasons, kept, left, before, after: now, enough };
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

const tried = (what: string, { movement, seconds }: Assessment): Tried => ({ what, movement, seconds });

/** Less movement or time by a hundredth, and no fork that the jaws hold more closed. */
const isBetter = (other: Assessment, now: Assessment, tolerance: number): boolean =>
  closesOf(other, 'cut') <= Math.max(closesOf(now, 'cut'), tolerance) &&
  isQuicker(other, now, tolerance, A_HUNDREDTH);

const isWorse = (other: Assessment, now: Assessment, tolerance: number): boolean =>
  closesOf(other, 'cut') > Math.max(closesOf(now, 'cut'), tolerance) ||
  isQuicker(now, other, tolerance, A_HUNDREDTH);

const forksWithWeb = ({ route }: Assessment): readonly JobStep[] =>
  route.setups.flatMap((s) => s.steps.filter((step) => step.kind === 'fork' && webOf(step) > 0));

const releaseOf = ({ route }: Assessment, of: string): ReleaseStep | undefined =>
  route.setups.flatMap((s) => s.steps).find((s): s is ReleaseStep => s.kind === 'release' && s.of === of);
