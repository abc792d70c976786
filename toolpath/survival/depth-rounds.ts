import type { RouteDocument, StepAdjustment } from '../route/document.ts';
import type { JobStep } from '../route/route.ts';
import {
  type Assessment,
  type AssessTerms,
  assess,
  offOf,
  plannedSeconds,
  type Subject,
  sameWork,
  WORTH_A_CHANGE,
} from './assess.ts';
import type { Tried } from './recommend.ts';
import { type Hopeless, type StepDown, stepDowns } from './step-down.ts';

/** What is estimated to come this near to the tolerance, as a share of it, is solved. */
const NEAR = 0.6;
/** Rounds in which step-downs are made smaller until the solver agrees. */
const ROUNDS = 3;
/** Smaller cutters that are tried for a job step. */
const CUTTERS = 2;

/** A route with the largest step-downs that keep the tolerance, as far as any do. */
export interface DepthChoice {
  readonly wish: RouteDocument;
  /** Before the step-downs were changed, and after. */
  readonly first: Assessment;
  readonly now: Assessment;
  readonly changes: readonly StepDown[];
  readonly kept: readonly string[];
  readonly hopeless: readonly Hopeless[];
  /** What passes would take that are shallow enough, s, where that is too long beside what is to be beaten: they are not solved. */
  readonly tooLong: number | null;
}

export interface DepthTerms extends AssessTerms {
  readonly tolerance: number;
  /** What the step-downs are sought for, in words; nothing for the job steps' own cutters. */
  readonly named?: string;
  /** What must be beaten to be of use: where no round can any more, none is looked at. */
  readonly beat?: Assessment;
}

/** Seeks step-downs by closed forms and has the solver confirm them, in a few rounds. What `own` says is left alone. */
export function* seekDepths(
  subject: Subject,
  own: RouteDocument,
  webbed: RouteDocument,
  start: Assessment,
  terms: DepthTerms,
): Generator<Tried, DepthChoice> {
  const { tolerance, named = '', beat } = terms;
  let [wish, now] = [webbed, start];
  let changes: readonly StepDown[] = [];
  let kept: readonly string[] = [];
  let hopeless: readonly Hopeless[] = [];
  for (let round = 0; round < ROUNDS; round++) {
    const found = stepDowns(subject, now, own, tolerance);
    if (round === 0) ({ kept, hopeless } = found);
    if (found.changes.length === 0) break;
    const next = found.changes.reduce(
      (all, { step, from, to, levels, floorAllowance, wall }) =>
        adjusted(all, step, {
          ...(to !== from && { stepDown: inUnit(subject, to) }),
          ...(wall && { wallAllowance: inUnit(subject, wall.to) }),
          ...(levels && { levels }),
          ...(floorAllowance !== undefined && { floorAllowance: inUnit(subject, floorAllowance) }),
        }),
      wish,
    );
    if (beat !== undefined && offOf(beat) <= tolerance && offOf(now) > tolerance) {
      const seconds = plannedSeconds(subject, next);
      if (seconds >= (1 - WORTH_A_CHANGE) * beat.seconds)
        return { wish, first: start, now, changes, kept, hopeless, tooLong: seconds };
    }
    const then = assess(subject, next, { ...terms, above: NEAR * tolerance });
    yield { what: `step-downs${named}, round ${round + 1}`, movement: then.movement, seconds: then.seconds };
    if (then.refused !== null || !sameWork(then, start)) break;
    changes = mergeChanges(changes, found.changes);
    wish = next;
    now = then;
  }
  return { wish, first: start, now, changes, kept, hopeless, tooLong: null };
}

/** What takes this many times as long must at least keep the tolerance. */
const WORTH = 4;

/** So much time for work that moves too far all the same: it is the hold that wants bettering. */
export const isHoldAtFault = (now: Assessment, first: Assessment, tolerance: number): boolean =>
  now.movement > tolerance && now.seconds > WORTH * first.seconds;

/** A smaller cutter for a job step. */
export interface CutterChange {
  readonly step: string;
  readonly from: string;
  readonly to: string;
}

/**
 * The ways in which job steps that move the work too far, or had to be made shallower for it, take the next smaller cutter,
 * the one after that, and so on; their laps lie as much closer as it is smaller.
 */
export const smallerCutters = (
  { part, profile }: Subject,
  own: RouteDocument,
  { wish, first, changes, hopeless }: Pick<DepthChoice, 'wish' | 'first' | 'changes' | 'hopeless'>,
): readonly { readonly wish: RouteDocument; readonly cutters: readonly CutterChange[] }[] => {
  const perUnit = part.unit === 'inch' ? 25.4 : 1;
  const endmills = profile.cutters
    .filter((c) => c.kind === 'endmill')
    .sort((a, b) => b.diameter - a.diameter);
  const steps = first.route.setups
    .flatMap((s) => s.steps)
    .filter((step): step is Extract<JobStep, { stepover: number }> => 'stepover' in step)
    .filter(
      (step) => isTroubled({ changes, hopeless }, step.name) && own.adjust?.[step.name]?.cutter === undefined,
    );
  return Array.from({ length: CUTTERS }, (_, nth) => {
    let next = wish;
    const cutters = steps.flatMap((step): readonly CutterChange[] => {
      const now = endmills.find((c) => c.name === step.cutter);
      if (now === undefined) return [];
      const smaller = endmills.filter((c) => c.diameter < now.diameter)[nth];
      if (smaller === undefined) return [];
      const stepover = ((step.stepover / perUnit) * smaller.diameter) / now.diameter;
      const fixed = own.adjust?.[step.name]?.stepover !== undefined;
      const terms = { cutter: smaller.name, ...(fixed ? {} : { stepover: Number(stepover.toFixed(4)) }) };
      next = adjusted(next, step.name, terms);
      return [{ step: step.name, from: now.name, to: smaller.name }];
    });
    return { wish: next, cutters };
  }).filter((way) => way.cutters.length > 0);
};

/** Whether a job step moves the work too far or had to be made shallower for it. Walls are left off by the cutter's own bending: a smaller one bends more. */
export const isTroubled = (
  { changes, hopeless }: Pick<DepthChoice, 'changes' | 'hopeless'>,
  step: string,
): boolean =>
  hopeless.some((h) => h.what === 'movement' && h.step === step) ||
  changes.some((c) => c.because === 'movement' && c.to < c.from && c.step === step);

/** Later rounds go on from where earlier ones came to: what is told is the way from the start. */
const mergeChanges = (before: readonly StepDown[], later: readonly StepDown[]): readonly StepDown[] => [
  ...before.filter((c) => !later.some((n) => n.step === c.step)),
  ...later.map((n) => {
    const old = before.find((c) => c.step === n.step);
    const wall = n.wall
      ? { wall: { ...n.wall, ...(old?.wall && { from: old.wall.from, error: old.wall.error }) } }
      : {};
    return { ...old, ...n, ...wall, from: old?.from ?? n.from, because: old?.because ?? n.because };
  }),
];

export const adjusted = (wish: RouteDocument, step: string, terms: StepAdjustment): RouteDocument => ({
  ...wish,
  adjust: { ...wish.adjust, [step]: { ...wish.adjust?.[step], ...terms } },
});

/** A length as the part's file writes it. */
export const inUnit = ({ part }: Subject, mm: number): number =>
  part.unit === 'inch' ? Number((mm / 25.4).toFixed(4)) : Number(mm.toFixed(3));
