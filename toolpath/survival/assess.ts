import type { Part } from '../../sketch/part/part.ts';
import { solidOf } from '../../sketch/part/solid.ts';
import type { MachineProfile } from '../machine/profile.ts';
import type { Move, Plan } from '../passes/pass.ts';
import { planRoute } from '../passes/plan.ts';
import { type PlanMemory, planMemory } from '../passes/plan-memory.ts';
import { applyRouteDocument, type RouteDocument } from '../route/document.ts';
import type { Route } from '../route/route.ts';
import { namedPlaces } from './named-places.ts';
import type { PassSurvival, SurvivalQuestion, SurvivalTerms } from './pass-survival.ts';
import { forkMoments, plannedHolds, plannedPasses } from './planned-passes.ts';
import { type SetupSqueeze, squeezeRoute } from './squeeze-route.ts';
import { type SurveyMemory, surveyMemory } from './survey-memory.ts';
import { surviveInSteps } from './survival.ts';

/** A part whose route may be bettered: the route as proposed, before anybody's wishes. */
export interface Subject {
  readonly part: Part;
  readonly profile: MachineProfile;
  readonly proposed: Route;
  /** What ways of making it came to, so that what two of them share is worked out once. */
  readonly memory?: SubjectMemory;
}

export interface SubjectMemory {
  readonly plans: PlanMemory;
  readonly survey: SurveyMemory;
}

/** For one part, machine and proposed route. */
export const subjectMemory = (): SubjectMemory => ({ plans: planMemory(), survey: surveyMemory() });

/** What one way of making the part would come to. All estimates. */
export interface Assessment {
  readonly wish: RouteDocument;
  readonly route: Route;
  /** Why it cannot be planned; null when it can. */
  readonly refused: string | null;
  /** Time of all passes at their feeds, s. */
  readonly seconds: number;
  readonly passes: readonly PassSurvival[];
  /** The pass whose work moves most; null when nothing could be computed. */
  readonly worst: PassSurvival | null;
  /** Largest movement of any pass, mm, and at the tines of forks; 0 where nothing moves. */
  readonly movement: number;
  readonly tine: number;
  /** Largest error on a finished wall or floor, mm: of passes that leave no allowance there. */
  readonly left: number;
  /** Least factor of the hold; Infinity where nothing pulls. */
  readonly hold: number;
  /** mm³ that all passes take away. */
  readonly removed: number;
  /** What the jaws do in each setup, where it was asked for. */
  readonly squeezes: readonly SetupSqueeze[];
  /** What was surveyed, so that more can be asked of it; null where it cannot be planned. */
  readonly question: SurvivalQuestion | null;
  readonly plan: Plan;
}

export interface AssessTerms extends SurvivalTerms {
  /** Job steps whose worst passes are solved in place of their closed-form estimate; all when left out. */
  readonly steps?: readonly string[];
  /** Every pass of these that is estimated to move more than this is solved too, mm. */
  readonly above?: number;
  /** Whether the jaws' squeeze is worked out as well; no when left out. */
  readonly squeezed?: boolean;
}

/** Plans a route with the wishes laid over it and looks at its passes. Throws nothing. */
export const assess = (
  { part, profile, proposed, memory }: Subject,
  wish: RouteDocument,
  asked: AssessTerms = {},
): Assessment => {
  const terms = memory ? { ...asked, memory: memory.survey } : asked;
  const applied = applyRouteDocument(proposed, wish, part);
  const plan = planRoute(part, applied.route, profile, memory?.plans);
  const error = [...applied.findings, ...plan.findings].find((f) => f.severity === 'error');
  const empty = { wish, plan, route: applied.route, seconds: planSeconds(plan, profile.feed.rapid) };
  if (error) {
    return { ...empty, refused: error.message, ...summary([]), squeezes: [], question: null };
  }
  const question: SurvivalQuestion = {
    bar: part.bar,
    setups: plannedHolds(plan),
    passes: plannedPasses(plan),
    wanted: solidOf(part),
    names: namedPlaces(part),
  };
  let chosen: ReadonlySet<number> = new Set();
  const steps = surviveInSteps(question, {
    ...terms,
    frequency: false,
    only: (i) => chosen.has(i),
  });
  let step = steps.next();
  for (; !step.done; step = steps.next()) {
    // Which passes are worth solving is only known once all are estimated.
    if (step.value.kind === 'estimated') chosen = worthSolving(step.value.passes, terms);
  }
  const squeezes = terms.squeezed ? squeezeRoute(question, part.forks, forkMoments(plan), terms) : [];
  return { ...empty, refused: null, ...summary(step.value), squeezes, question };
};

/** How long a way would take, s: planned and not surveyed. */
export const plannedSeconds = ({ part, profile, proposed, memory }: Subject, wish: RouteDocument): number => {
  const { route } = applyRouteDocument(proposed, wish, part);
  return planSeconds(planRoute(part, route, profile, memory?.plans), profile.feed.rapid);
};

/** The worst of each job step by its estimate, and the last cut of each: there least is left to lean on. */
const worthSolving = (
  passes: readonly PassSurvival[],
  { steps, above = Number.POSITIVE_INFINITY }: AssessTerms,
): ReadonlySet<number> => {
  const near = new Set<number>();
  const worst = new Map<string, number>();
  const last = new Map<string, number>();
  passes.forEach((pass, i) => {
    if (pass.movement === null || steps?.includes(pass.force.step) === false) return;
    if (pass.movement > above) near.add(i);
    const key = `${pass.force.setup}/${pass.force.step}`;
    const before = worst.get(key);
    if (before === undefined || pass.movement > (passes[before]!.movement ?? 0)) worst.set(key, i);
    if (pass.bending.some((b) => isTine(b.name))) last.set(key, i);
  });
  return new Set([...worst.values(), ...last.values(), ...near]);
};

const isTine = (name: string | null): boolean => name?.startsWith('tip of a tine') === true;

const summary = (passes: readonly PassSurvival[]) => {
  const worst = passes.reduce<PassSurvival | null>(
    (most, p) => ((p.movement ?? -1) > (most?.movement ?? -1) ? p : most),
    null,
  );
  const tines = passes.flatMap((p) => p.bending.filter((b) => isTine(b.name)).map((b) => b.movement));
  return {
    passes,
    worst,
    movement: worst?.movement ?? 0,
    left: passes.reduce((most, p) => Math.max(most, leftBy(p)), 0),
    tine: tines.reduce((most, m) => Math.max(most, m), 0),
    removed: passes.reduce((sum, p) => sum + p.force.removed, 0),
    hold: passes.reduce((least, p) => Math.min(least, p.hold?.least ?? least), Number.POSITIVE_INFINITY),
  };
};

/** What is to stay within the tolerance, mm: movements, and what stays on finished walls and floors. */
export const offOf = ({ movement, left }: Assessment): number => Math.max(movement, left);

/** Less movement where the tolerance is not kept, less time where it is: by so much of either that it is worth a change. */
export const isQuicker = (
  other: Assessment,
  now: Assessment,
  tolerance: number,
  worth: number = WORTH_A_CHANGE,
): boolean => {
  if (other.refused !== null) return false;
  const [over, overNow] = [Math.max(offOf(other), tolerance), Math.max(offOf(now), tolerance)];
  if (over < (1 - worth) * overNow) return true;
  return over <= overNow && other.seconds < (1 - worth) * now.seconds;
};

/** A cutter or a limit is only changed for a tenth less of what is too much, or of the time. */
export const WORTH_A_CHANGE = 0.1;

const leftBy = ({ finishes, error }: PassSurvival): number =>
  error === null ? 0 : Math.max(finishes.wall ? error.wall : 0, finishes.floor ? error.floor : 0);

/** Volumes nearer than this share are one, of maps as coarse as these. */
const SAME_VOLUME = 0.003;

/** Whether two ways make the same part, judged by what they take away; the proof of the written text has the last word. */
export const sameWork = (one: Assessment, other: Assessment): boolean =>
  one.refused === null &&
  other.refused === null &&
  Math.abs(one.removed - other.removed) <= SAME_VOLUME * other.removed;

/** Time of a plan's moves at their feeds, s: no tool changes, no speeding up and slowing down. */
export const planSeconds = (plan: Plan, rapid: number): number => {
  let minutes = 0;
  for (const { steps } of plan.setups) {
    for (const pass of steps.flatMap((s) => s.passes)) {
      let at: { readonly x: number; readonly y: number; readonly z: number } | null = null;
      for (const move of pass.moves) {
        if (move.kind === 'stop') continue;
        if (move.kind === 'drill') {
          minutes += (move.clear - move.depth) * (1 / move.feed + 1 / rapid);
          at = { ...move.at, z: move.clear };
          continue;
        }
        if (at) minutes += lengthOf(at, move) / (move.kind === 'rapid' ? rapid : move.feed);
        at = move.to;
      }
    }
  }
  return 60 * minutes;
};

const lengthOf = (
  from: { readonly x: number; readonly y: number; readonly z: number },
  move: Extract<Move, { to: unknown }>,
): number => {
  const chord = Math.hypot(move.to.x - from.x, move.to.y - from.y);
  const rise = move.to.z - from.z;
  if (move.kind !== 'arc') return Math.hypot(chord, rise);
  const radius = Math.hypot(from.x - move.centre.x, from.y - move.centre.y);
  const angle = (p: { readonly x: number; readonly y: number }) =>
    Math.atan2(p.y - move.centre.y, p.x - move.centre.x);
  const turn = (move.clockwise ? angle(from) - angle(move.to) : angle(move.to) - angle(from)) + 4 * Math.PI;
  const swept = turn % (2 * Math.PI);
  return Math.hypot(radius * (swept < 1e-9 ? 2 * Math.PI : swept), rise);
};
