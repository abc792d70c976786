import { CUTTING_FORCE } from '../toolpath/survival/cutting-force.ts';
import { type EngagementProposal, proposeEngagements } from '../toolpath/survival/engagement-proposal.ts';
import { machineTerms } from '../toolpath/survival/machine-terms.ts';
import { compareOrdersInSteps, type OrderRow } from '../toolpath/survival/orders.ts';
import {
  COMPARED_AT,
  type Recommendation,
  type RecommendTerms,
  recommendInSteps,
  USUAL_TOLERANCE,
} from '../toolpath/survival/recommend.ts';
import { limitsOf } from '../toolpath/survival/verdict.ts';
import { makeAll, type PlannedPart, recommendSubject } from './chain.ts';
import type { Doing } from './survival/doing.ts';
import { type OrderPictures, orderPictures } from './survival/order-pictures.ts';
import { type Advice, adviceOf } from './survival/report.ts';

/**
 * A recommendation is worth nothing if the part it makes does not fit: the route is planned, written and proven like any
 * other, and left out, with the reason, where it fails.
 */
export const proveRecommendation = (planned: PlannedPart, found: Recommendation): Recommendation => {
  if (found.route === null) return found;
  const made = makeAll(JSON.stringify({ ...planned.document, route: found.route }), {
    profile: planned.profile,
  });
  if (made.ok && made.proof.verdict === 'fits') return found;
  const reason = 'No change is recommended: the part made that way would not fit its drawing.';
  return { ...found, route: null, reasons: [...found.reasons, reason], enough: false };
};

/** The orders side by side and the recommended change, as they are written to a file. Takes some seconds. */
export const advise = (planned: PlannedPart, wishes: RecommendTerms = {}): Advice => {
  const steps = adviseInSteps(planned, wishes);
  for (let step = steps.next(); ; step = steps.next()) if (step.done) return step.value.advice;
};

/** The same step by step, with all that is known of the orders. */
export function* adviseInSteps(
  planned: PlannedPart,
  wishes: RecommendTerms = {},
  now: () => number = Date.now,
): Generator<Doing, { readonly advice: Advice; readonly orders: readonly OrderRow[] }> {
  const terms = termsOf(planned, wishes);
  const { subject, own } = recommendSubject(planned);
  const start = now();
  const left = (share: number): number | null =>
    share > 0 ? (((now() - start) / share) * (1 - share)) / 1000 : null;
  const seeking = recommendInSteps(subject, own, terms);
  const looks = usualLooks(planned);
  let [look, done] = [seeking.next(), 0];
  for (; !look.done; look = seeking.next()) {
    done++;
    // How many ways there are to look at shows only on the way.
    const share = done / Math.max(looks, done + 1);
    yield { what: `Looked at: ${look.value.what}`, share, secondsLeft: left(share) };
  }
  yield { what: 'Proving what would be better', share: null, secondsLeft: null };
  const found = proveRecommendation(planned, look.value);
  const comparing = compareOrdersInSteps(subject, own, terms);
  let order = comparing.next();
  for (; !order.done; order = comparing.next()) {
    yield { what: `Order: ${order.value.name}`, share: order.value.share, secondsLeft: null };
  }
  const limits = {
    proposals: limitsFor(planned, found, terms),
    tolerance: terms.tolerance ?? USUAL_TOLERANCE,
  };
  return { advice: adviceOf(found, order.value, planned.part.unit, limits), orders: order.value };
}

/** How deep the cutter may be buried as the route is; of a job step of which anything is solved, by that alone. */
const limitsFor = (
  { part, profile }: PlannedPart,
  { before }: Recommendation,
  terms: RecommendTerms,
): readonly EngagementProposal[] => {
  const solved = new Set(before.passes.filter((p) => p.basis === 'solved').map((p) => p.force.step));
  const passes = before.passes.filter((p) => p.basis === 'solved' || !solved.has(p.force.step));
  return proposeEngagements(part, before.plan, passes, {
    tolerance: terms.tolerance ?? USUAL_TOLERANCE,
    cutting: terms.cutting ?? CUTTING_FORCE[part.bar.material],
    cutters: profile.cutters,
  });
};

/** The same without a pause, with pictures of what tells the orders apart, `across` letters side by side over the work's length. */
export const adviseShown = (
  planned: PlannedPart,
  across: number,
): { readonly advice: Advice; readonly pictures: readonly OrderPictures[] } => {
  const steps = adviseInSteps(planned);
  let step = steps.next();
  while (!step.done) step = steps.next();
  const { advice, orders } = step.value;
  return { advice, pictures: advicePictures(planned, orders, across) };
};

/** Pictures of what tells the orders apart. One or two solves each. */
export const advicePictures = (
  planned: PlannedPart,
  orders: readonly OrderRow[],
  across: number,
): readonly OrderPictures[] => orderPictures(orders, termsOf(planned, {}), across, planned.part.unit);

const termsOf = ({ profile, part, route }: PlannedPart, wishes: RecommendTerms): RecommendTerms => ({
  ...COMPARED_AT,
  tolerance: limitsOf(route).movement,
  ...machineTerms(profile, part.bar.material),
  ...wishes,
});

/** Ways that a recommendation looks at as a rule: as it is, orders, webs and packing of each fork, and rounds of step-downs. */
const usualLooks = ({ part }: PlannedPart): number => 6 + 6 * part.forks.length;
