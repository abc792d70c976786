import type { RouteDocument, StepAdjustment } from '../route/document.ts';
import { webOf } from '../route/release.ts';
import type { JobStep, ReleaseStep } from '../route/route.ts';
import { type Assessment, assess, type Subject, sameWork } from './assess.ts';
import { closesOf, orderings } from './orders.ts';
import type { SurvivalTerms } from './pass-survival.ts';
import {
  holdSentence,
  hopelessSentence,
  orderSentence,
  stepSentence,
  timeSentence,
  webSentence,
} from './recommend-words.ts';
import { type StepDown, stepDowns } from './step-down.ts';
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

/** What is estimated to come this near to the tolerance, as a share of it, is solved. */
const NEAR = 0.6;
/** What takes this many times as long must at least keep the tolerance. */
const WORTH = 4;
/** Rounds in which step-downs are made smaller until the solver agrees. */
const ROUNDS = 3;

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
      reasons.push(orderSentence(name, now, other));
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
    reasons.push(webSentence(choice, subject.part.unit, tolerance));
    if (choice.web === webOf(step)) continue;
    wish = adjusted(wish, step.name, { web: inUnit(subject, choice.web) });
    const release = releaseOf(now, step.name);
    if (release === undefined || choice.releaseDepth === null || choice.releaseDepth >= release.stepDown)
      continue;
    if (own.adjust?.[release.name]?.stepDown !== undefined) continue;
    wish = adjusted(wish, release.name, { stepDown: inUnit(subject, choice.releaseDepth) });
  }
  now = assess(subject, wish, terms);
  yield tried('with these webs', now);
  const first = now;
  const webbed = wish;
  let changes: readonly StepDown[] = [];
  for (let round = 0; round < ROUNDS; round++) {
    const found = stepDowns(subject, now, own, tolerance);
    if (round === 0) kept.push(...found.kept);
    if (round === 0)
      reasons.push(...found.hopeless.map((h) => hopelessSentence(h, subject.part.unit, tolerance)));
    if (found.changes.length === 0) break;
    const next = found.changes.reduce(
      (all, { step, to, levels, floorAllowance }) =>
        adjusted(all, step, {
          stepDown: inUnit(subject, to),
          ...(levels && { levels }),
          ...(floorAllowance !== undefined && { floorAllowance: inUnit(subject, floorAllowance) }),
        }),
      wish,
    );
    const then = assess(subject, next, { ...terms, above: NEAR * tolerance });
    yield tried(`step-downs, round ${round + 1}`, then);
    if (then.refused !== null || !sameWork(then, before)) break;
    changes = mergeChanges(changes, found.changes);
    wish = next;
    now = then;
  }
  if (now.movement > tolerance && now.seconds > WORTH * first.seconds) {
    // So much time for work that moves too far all the same: it is the hold that wants bettering.
    reasons.push(holdSentence(first, now, tolerance));
    [wish, now, changes] = [webbed, first, []];
  }
  reasons.push(...changes.map((change) => stepSentence(change, first, now, subject.part.unit, tolerance)));
  if (wish !== own && reasons.length > 0) reasons.push(timeSentence(before, now));
  const enough = now.movement <= tolerance;
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

/** Later rounds go on from where earlier ones came to: what is told is the way from the start. */
const mergeChanges = (before: readonly StepDown[], later: readonly StepDown[]): readonly StepDown[] => [
  ...before.filter((c) => !later.some((n) => n.step === c.step)),
  ...later.map((n) => {
    const old = before.find((c) => c.step === n.step);
    return { ...old, ...n, from: old?.from ?? n.from, because: old?.because ?? n.because };
  }),
];

const tried = (what: string, { movement, seconds }: Assessment): Tried => ({ what, movement, seconds });

/** Less movement where the tolerance is not kept; less time where it is; and no fork that the jaws hold more closed. A hundredth either way is no reason to change. */
const isBetter = (other: Assessment, now: Assessment, tolerance: number): boolean => {
  if (closesOf(other, 'cut') > Math.max(closesOf(now, 'cut'), tolerance)) return false;
  const [over, overNow] = [Math.max(other.movement, tolerance), Math.max(now.movement, tolerance)];
  if (over < 0.99 * overNow) return true;
  return over <= overNow && other.seconds < 0.99 * now.seconds;
};

const forksWithWeb = ({ route }: Assessment): readonly JobStep[] =>
  route.setups.flatMap((s) => s.steps.filter((step) => step.kind === 'fork' && webOf(step) > 0));

const releaseOf = ({ route }: Assessment, of: string): ReleaseStep | undefined =>
  route.setups.flatMap((s) => s.steps).find((s): s is ReleaseStep => s.kind === 'release' && s.of === of);

const adjusted = (wish: RouteDocument, step: string, terms: StepAdjustment): RouteDocument => ({
  ...wish,
  adjust: { ...wish.adjust, [step]: { ...wish.adjust?.[step], ...terms } },
});

/** A length as the part's file writes it. */
const inUnit = ({ part }: Subject, mm: number): number =>
  part.unit === 'inch' ? Number((mm / 25.4).toFixed(4)) : Number(mm.toFixed(3));
