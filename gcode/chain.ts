import { checkPart } from '../sketch/part/checks.ts';
import { type PartDocument, readPart } from '../sketch/part/document.ts';
import type { Finding, Part } from '../sketch/part/part.ts';
import { hasErrors } from '../sketch/part/severity.ts';
import { solidOf } from '../sketch/part/solid.ts';
import type { Cutter } from '../toolpath/machine/cutter.ts';
import { standardProfile } from '../toolpath/machine/default-profile.ts';
import type { MachineProfile } from '../toolpath/machine/profile.ts';
import type { Plan, PlannedSetup } from '../toolpath/passes/pass.ts';
import { planRoute } from '../toolpath/passes/plan.ts';
import type { PlanMemory } from '../toolpath/passes/plan-memory.ts';
import { applyRouteDocument, type RouteDocument } from '../toolpath/route/document.ts';
import { toPart } from '../toolpath/route/frame.ts';
import { proposeRoute } from '../toolpath/route/propose.ts';
import type { Route } from '../toolpath/route/route.ts';
import { type Subject, subjectMemory } from '../toolpath/survival/assess.ts';
import { machineTerms } from '../toolpath/survival/machine-terms.ts';
import { namedPlaces } from '../toolpath/survival/named-places.ts';
import type { SurvivalQuestion, SurvivalTerms } from '../toolpath/survival/pass-survival.ts';
import { forkMoments, plannedHolds } from '../toolpath/survival/planned-passes.ts';
import { type SetupSqueeze, squeezeInSteps } from '../toolpath/survival/squeeze-route.ts';
import { surviveInSteps } from '../toolpath/survival/survival.ts';
import { labelledAs } from './program/comment.ts';
import { programFileName } from './program/name.ts';
import { writeProgram } from './program/write.ts';
import { type Proof, type ProofInput, type ProofSetup, prove } from './proof/proof.ts';
import type { Doing } from './survival/doing.ts';
import type { Survival } from './survival/report.ts';
import { surveyReport } from './survival/survey-report.ts';
import { ON_PAPER, type WorstPicture, worstPictures } from './survival/worst-pictures.ts';
import { writtenPasses } from './survival/written-passes.ts';

/**
 * The whole way from a part file to proven programs, in steps that a page can take one at a time. Every function is
 * pure; none throws for anything a file may hold.
 */

/** What a part is made with. */
export interface Terms {
  /** Named dimensions set anew, in the file's unit. */
  readonly overrides?: Readonly<Record<string, number>>;
  /** The machine and its cutters; a small example mill when left out. */
  readonly profile?: MachineProfile;
  /** How far the cut part may differ from the wanted one and still fit, mm. */
  readonly tolerance?: ProofInput['tolerance'];
  /** Job steps planned before, so that an edit is planned anew only where it tells. */
  readonly memory?: PlanMemory;
}

/** Deepest gouge and most excess of a part that fits, mm. */
export const FIT: ProofInput['tolerance'] = { gouge: 0.02, excess: 0.05 };

/** A part with its route and passes. `findings` may hold errors: then no program is to be written from the plan. */
export interface PlannedPart {
  readonly ok: true;
  readonly part: Part;
  readonly document: PartDocument;
  /** The named dimensions worked out, in the file's unit. */
  readonly dimensions: Readonly<Record<string, number>>;
  readonly profile: MachineProfile;
  /** The route before the file's own wishes. */
  readonly proposed: Route;
  readonly route: Route;
  readonly plan: Plan;
  /** Everything found so far, of the part, the route and the plan. */
  readonly findings: readonly Finding[];
}

/** A file that holds no part that could be planned; at least one of the findings is an error. */
export interface Refused {
  readonly ok: false;
  readonly findings: readonly Finding[];
}

/** One setup's program. */
export interface ProgramFile {
  readonly setup: number;
  readonly fileName: string;
  readonly text: string;
}

/** A part with everything that leaves the workshop. */
export interface Made extends PlannedPart {
  readonly programs: readonly ProgramFile[];
  readonly proof: Proof;
}

/** From a part file's text to its passes. A part with errors is refused; errors of route and plan are findings. */
export const planPart = (text: string, terms: Terms = {}): PlannedPart | Refused => {
  const reading = readPart(text, terms.overrides ?? {});
  if (!reading.ok) return reading;
  const { document, dimensions } = reading;
  const part = terms.memory?.shared(reading.part) ?? reading.part;
  const checked = [...reading.findings, ...checkPart(part)];
  if (hasErrors(checked)) return { ok: false, findings: checked };
  const profile = terms.profile ?? standardProfile;
  const proposal = proposeRoute(part, profile);
  const applied = applyRouteDocument(proposal.route, document.route, part);
  const plan = planRoute(part, applied.route, profile, terms.memory);
  const findings = [...checked, ...proposal.findings, ...applied.findings, ...plan.findings];
  const { route } = applied;
  return { ok: true, part, document, dimensions, profile, proposed: proposal.route, route, plan, findings };
};

/** The setups' programs in order. */
export const writePrograms = (part: Part, plan: Plan, profile: MachineProfile): readonly ProgramFile[] =>
  plan.setups.map((setup) => ({
    setup: setup.setup.number,
    fileName: programFileName(part, setup),
    text: writeProgram(part, setup, profile),
  }));

/** The cutters a setup uses, each once, in the order of their use. */
export const cuttersOf = (setup: PlannedSetup): readonly Cutter[] => [
  ...new Map(setup.steps.map(({ cutter }) => [cutter.number, cutter])).values(),
];

/** What the proof is told: never the plan's moves, only the bar, the part, the holds, the cutters and the text. */
export const proofInput = (
  part: Part,
  plan: Plan,
  programs: readonly ProgramFile[],
  profile: MachineProfile,
  tolerance: ProofInput['tolerance'] = FIT,
): ProofInput => ({
  bar: part.bar,
  wanted: solidOf(part),
  setups: plan.setups.map((setup) => ({
    number: setup.setup.number,
    frame: setup.frame,
    hold: setup.setup.hold,
    // Any cutter that is owned: a program edited by hand may call for another one than was planned.
    tools: profile.cutters,
    text: programs.find((p) => p.setup === setup.setup.number)?.text ?? '',
    limits: engagementLimits(plan, setup),
  })),
  tolerance,
  bridges: handBridges(plan),
  owned: profile.cutters,
  rapid: profile.feed.rapid,
});

/** Job steps of a setup that state how far their cutter may be buried, by the name that the program gives them. */
const engagementLimits = (plan: Plan, setup: PlannedSetup): NonNullable<ProofSetup['limits']> => {
  const steps = new Map(plan.setups.flatMap((s) => s.steps.map(({ step }) => [step.name, step] as const)));
  return setup.steps.flatMap(({ step }) => {
    const stated = step.kind === 'release' ? steps.get(step.of) : step;
    if (!stated || !('engagement' in stated) || stated.engagement === null) return [];
    return [{ step: labelledAs(step.name), engagement: stated.engagement }];
  });
};

/** Bridges left for the saw, in the part's coordinates. */
const handBridges = (plan: Plan): NonNullable<ProofInput['bridges']> =>
  plan.setups.flatMap(({ frame, steps }) =>
    steps.flatMap((step) =>
      step.bridges.map((bridge) => {
        const { x, y } = toPart(frame, { ...bridge.at, z: 0 });
        const outward =
          frame.face === 'front' ? bridge.outward : { x: bridge.outward.x, y: -bridge.outward.y };
        return { ...bridge, at: { x, y }, outward };
      }),
    ),
  );

/** Reads the programs back and compares what they would cut with the part. */
export const provePlan = (
  part: Part,
  plan: Plan,
  programs: readonly ProgramFile[],
  profile: MachineProfile,
  tolerance: ProofInput['tolerance'] = FIT,
): Proof => prove(proofInput(part, plan, programs, profile, tolerance));

/** What a survey is asked: the passes of the written programs, each on the stock that the ones before it leave. */
export const survivalQuestion = (
  { part, plan, profile }: Pick<PlannedPart, 'part' | 'plan' | 'profile'>,
  programs: readonly Pick<ProgramFile, 'setup' | 'text'>[],
): SurvivalQuestion => ({
  bar: part.bar,
  setups: plannedHolds(plan),
  passes: writtenPasses(plan, programs, profile),
  wanted: solidOf(part),
  names: namedPlaces(part),
});

/** Force, bending and hold of every pass of the written programs, on the stock as it then is. */
export const survive = (
  planned: PlannedPart,
  programs: readonly ProgramFile[],
  wishes: SurvivalTerms = {},
): Survival => {
  const steps = surveyInSteps(planned, programs, wishes);
  for (let step = steps.next(); ; step = steps.next()) if (step.done) return step.value.survival;
};

/** The same step by step, with the worst pass of each setup as a picture for paper. */
export function* surviveShownInSteps(
  planned: PlannedPart,
  programs: readonly ProgramFile[],
): Generator<Doing, { readonly survival: Survival; readonly pictures: readonly WorstPicture[] }> {
  const { question, terms, passes, survival } = yield* surveyInSteps(planned, programs, {});
  yield { what: 'Drawing the worst pass of each setup', share: null, secondsLeft: null };
  return { survival, pictures: worstPictures(question, terms, passes, ON_PAPER, planned.part.unit) };
}

function* surveyInSteps(planned: PlannedPart, programs: readonly ProgramFile[], wishes: SurvivalTerms) {
  const { part, plan, profile } = planned;
  const terms = { ...machineTerms(profile, part.bar.material), ...wishes };
  const question = survivalQuestion(planned, programs);
  const solving = surviveInSteps(question, terms);
  let step = solving.next();
  for (; !step.done; step = solving.next()) {
    if (step.value.kind !== 'solving' && step.value.kind !== 'solved') continue;
    const { pass, share, secondsLeft } = step.value;
    yield { what: `Solving pass ${pass + 1} of ${question.passes.length}`, share, secondsLeft };
  }
  const passes = step.value;
  const squeezes: SetupSqueeze[] = [];
  for (const squeezed of squeezeInSteps(question, part.forks, forkMoments(plan), terms)) {
    squeezes.push(squeezed);
    yield { what: `The jaws of setup ${squeezed.setup}`, share: null, secondsLeft: null } as Doing;
  }
  const survival = surveyReport(planned, passes, squeezes, terms);
  return { question, terms, passes, survival };
}

/** A part as those see it who better its route, and what its file says about the route already. */
export const recommendSubject = ({
  part,
  profile,
  proposed,
  document,
  findings,
}: PlannedPart): { readonly subject: Subject; readonly own: RouteDocument } => {
  const readable = findings.every((f) => f.code !== 'route-unreadable');
  // Read by its schema when the part was planned.
  const own = readable && document.route ? (document.route as RouteDocument) : {};
  return { subject: { part, profile, proposed, memory: subjectMemory() }, own };
};

/** The whole chain at once. Errors anywhere before the proof refuse the part, and nothing is written. */
export const makeAll = (text: string, terms: Terms = {}): Made | Refused => {
  const planned = planPart(text, terms);
  if (!planned.ok) return planned;
  if (hasErrors(planned.findings)) return { ok: false, findings: planned.findings };
  const programs = writePrograms(planned.part, planned.plan, planned.profile);
  const proof = provePlan(planned.part, planned.plan, programs, planned.profile, terms.tolerance);
  return { ...planned, programs, proof };
};
