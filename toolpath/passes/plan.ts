import type { Finding, Part } from '../../sketch/part/part.ts';
import { type Slab, solidOf } from '../../sketch/part/solid.ts';
import { placeFigure } from '../../sketch/part/units.ts';
import { rectangle } from '../../sketch/shape/region.ts';
import type { MachineProfile } from '../machine/profile.ts';
import { runningTerms } from '../machine/speeds.ts';
import { CLEAR_ABOVE } from '../route/clearances.ts';
import { frameOf, toPart } from '../route/frame.ts';
import type { JobStep, Route, Setup } from '../route/route.ts';
import type { Cleared } from './area.ts';
import { type HoleStep, holeStep } from './holes.ts';
import { jawsOf } from './jaws.ts';
import { type MillingStep, millStep } from './milling.ts';
import type { Plan, PlannedSetup, PlannedStep } from './pass.ts';
import { checkStep, holdFindings, leftoverFindings, routeFindings, travelFindings } from './plan-checks.ts';
import type { PlanMemory, PlanStep } from './plan-memory.ts';
import { feetInTheWay, plateFeet } from './plate-feet.ts';
import { plugged } from './plugs.ts';
import { bareSlabs, type Scene, type Task } from './scene.ts';
import { holdTermFindings, termFindings } from './term-checks.ts';
import { slabsInPart, slabsInProgram, stockBox, type Workpiece } from './workpiece.ts';

/** The bar before anything is cut, sawn ends and all, in the part's coordinates. */
export const sawnBar = (part: Part): readonly Slab[] => {
  const { bar } = part;
  const region = rectangle(
    { x: bar.corner.x - bar.sawn, y: bar.corner.y },
    { x: bar.corner.x + bar.length + bar.sawn, y: bar.corner.y + bar.width },
  );
  return [{ bottom: 0, top: bar.thickness, region }];
};

/**
 * Plans every job step of a route in order, each on the stock that the ones before it left.
 * What cannot be cut is a finding of severity error, and its job step is left out; nothing is thrown for a bad route.
 * With a memory, steps that an edit since the last planning does not concern are taken over from it.
 */
export const planRoute = (
  part: Part,
  route: Route,
  profile: MachineProfile,
  memory: PlanMemory | null = null,
): Plan => {
  const wanted = solidOf(part).slabs;
  const findings: Finding[] = [...routeFindings(part, route, profile)];
  const steps = new Map(
    route.setups.flatMap((setup) => setup.steps.map((step) => [step.name, step] as const)),
  );
  let stock = sawnBar(part);
  const setups: PlannedSetup[] = [];
  for (const setup of route.setups) {
    const done = planSetup(part, setup, profile, stock, wanted, steps, memory);
    setups.push(done.planned);
    findings.push(...done.findings, ...travelFindings(done.planned, profile, part.unit));
    stock = done.stock;
  }
  findings.push(...leftoverFindings(stock, wanted, part.unit));
  return { setups, findings };
};

interface SetupDone {
  readonly planned: PlannedSetup;
  readonly findings: readonly Finding[];
  readonly stock: readonly Slab[];
}

const planSetup = (
  part: Part,
  setup: Setup,
  profile: MachineProfile,
  stock: readonly Slab[],
  wanted: readonly Slab[],
  steps: ReadonlyMap<string, JobStep>,
  memory: PlanMemory | null,
): SetupDone => {
  const frame = frameOf(part.bar, setup.face, setup.datum);
  let work: Workpiece = { stock: slabsInProgram(frame, stock), wanted: slabsInProgram(frame, wanted) };
  const standing = work.stock;
  const box = stockBox(standing);
  const feet = plateFeet(setup.hold, part.bar, frame, box.max.z);
  const scene: Scene = {
    part,
    setup,
    frame,
    jaws: jawsOf(setup.hold, frame, work),
    feet,
    clearHeight: Math.max(box.max.z, feet.top) + CLEAR_ABOVE,
    bare: bareSlabs(part, frame),
    steps,
  };
  const findings: Finding[] = [
    ...holdTermFindings(part, setup),
    ...holdFindings(scene, work, profile.cutters),
  ];
  const planned: PlannedStep[] = [];
  for (const step of setup.steps) {
    const cutter = profile.cutters.find((c) => c.name === step.cutter);
    if (!cutter) continue;
    const amiss = termFindings(part, setup, step, cutter, profile);
    findings.push(...amiss);
    if (amiss.length > 0) continue;
    const terms = runningTerms(part.bar.material, cutter, profile, workOf(step));
    const speed = step.speed ?? terms.speed;
    const share = step.kind === 'release' ? step.feedShare : 1;
    const feed = (step.feed ?? terms.feed) * share;
    const entry = {
      feed,
      plungeFeed: Math.min(terms.plungeFeed, feed),
      ramp: cutter.plunge.ramp,
      most: profile.feed.most,
      ...(profile.hand === undefined && { through: profile.feed.most }),
    };
    const done = tryStep(scene, work, { step, cutter, entry }, memory);
    findings.push(...done.findings);
    if (done.cleared === null) continue;
    findings.push(...unkeptFindings(scene, step, done.cleared));
    const barred = feetInTheWay(scene, step, cutter, done.cleared.passes);
    findings.push(...barred);
    if (barred.length > 0) continue;
    findings.push(...checkStep(scene, work, step, cutter, done.cleared.passes));
    work = done.cleared.work;
    if (done.cleared.passes.length === 0) continue;
    planned.push({
      step,
      cutter,
      speed,
      feed,
      plungeFeed: entry.plungeFeed,
      passes: done.cleared.passes,
      bridges: done.cleared.bridges ?? [],
    });
  }
  return {
    planned: { setup, frame, stock: box, standing, clearHeight: scene.clearHeight, steps: planned },
    findings,
    stock: slabsInPart(frame, work.stock),
  };
};

const workOf = (step: JobStep): 'mill' | 'drill' | 'ream' | 'spot' => {
  switch (step.kind) {
    case 'drill':
    case 'tap':
      return 'drill';
    case 'ream':
      return 'ream';
    case 'spot':
      return 'spot';
    default:
      return 'mill';
  }
};

/** A stated engagement that the planner cannot keep is said, not quietly broken. */
const unkeptFindings = (scene: Scene, step: JobStep, { unkept }: Cleared): readonly Finding[] => {
  if (unkept === undefined) return [];
  const { part, setup, frame } = scene;
  const at = unkept.at && toPart(frame, { ...unkept.at, z: 0 });
  const place =
    at === null
      ? ''
      : `near X ${placeFigure(at.x, part.unit)} Y ${placeFigure(at.y, part.unit)} of the drawing `;
  return [
    {
      code: 'engagement-not-kept',
      severity: 'warning',
      message: `${step.name}: ${place}${unkept.why}.`,
      feature: step.name,
      setup: setup.number,
      ...(at !== null && { at }),
    },
  ];
};

const isHoleStep = (step: JobStep): step is HoleStep =>
  step.kind === 'spot' || step.kind === 'drill' || step.kind === 'ream' || step.kind === 'tap';

const tryStep = (
  scene: Scene,
  work: Workpiece,
  task: Task,
  memory: PlanMemory | null,
): { readonly cleared: Cleared | null; readonly findings: readonly Finding[] } => {
  const { step } = task;
  const make: PlanStep = (seen, stock) =>
    isHoleStep(step)
      ? holeStep(seen, stock, { ...task, step })
      : millStep(seen, stock, { ...task, step: step as MillingStep });
  try {
    const seen = plugged(scene, work, task);
    const done = memory === null ? make(scene, seen.work) : memory.recall(scene, seen.work, task, make);
    return { cleared: { ...done, work: seen.opened(done.work) }, findings: [] };
  } catch (fault) {
    if (!(fault instanceof RangeError)) throw fault;
    const message = `${step.name}: ${fault.message}.`;
    return {
      cleared: null,
      findings: [
        {
          code: 'step-impossible',
          message,
          severity: 'error',
          feature: step.name,
          setup: scene.setup.number,
        },
      ],
    };
  }
};
