import { solidOf } from '../sketch/part/solid.ts';
import { canPeel } from '../toolpath/passes/peel.ts';
import { isPeelable, openingOf, type PeelableStep, peelingCutter } from '../toolpath/passes/peel-cutter.ts';
import { barMap, chooseCell } from '../toolpath/removal/height-map.ts';
import type { RouteDocument, StepAdjustment } from '../toolpath/route/document.ts';
import { CUTTING_FORCE } from '../toolpath/survival/cutting-force.ts';
import { uncut } from '../toolpath/survival/engagement.ts';
import { surveyPass } from '../toolpath/survival/force-survey.ts';
import { machineTerms } from '../toolpath/survival/machine-terms.ts';
import { type Made, makeAll, type PlannedPart, recommendSubject } from './chain.ts';
import { secondsOf, writtenPasses } from './survival/written-passes.ts';

/** One way of cutting a job step and the web it leaves, as its written program does it. Forces are estimates. */
export interface PeelWay {
  readonly cutter: string;
  /** Degrees that it states; null for laps. */
  readonly engagement: number | null;
  readonly seconds: number;
  /** Greatest force in the plane, N. */
  readonly most: number;
  /** Nine of ten moves that cut stay at or under it, N. */
  readonly usual: number;
  /** From the step's first move on: seconds, and the greatest force of the move that begins then, N. */
  readonly times: readonly number[];
  readonly forces: readonly number[];
  readonly fits: boolean;
}

export interface PeelComparison {
  readonly step: string;
  readonly plain: PeelWay;
  readonly peeled: PeelWay;
  /** Whether the part's file peels it already. */
  readonly now: 'plain' | 'peeled';
  /** What would have to be laid over the route to peel it. */
  readonly adjust: NonNullable<RouteDocument['adjust']>;
}

/**
 * A job step cut by laps or down its middle, and peeled: time and force of both, from the survey of both written programs.
 * The peeled way keeps the cutter where it can, else takes the largest owned one that allows it. A sentence where there
 * is nothing to compare. Takes a few seconds.
 */
export const comparePeeling = (
  planned: PlannedPart,
  name: string,
  engagement: number,
): PeelComparison | string => {
  const steps = planned.route.setups.flatMap((s) => s.steps);
  const step = steps.find((s) => s.name === name);
  if (!step || !isPeelable(step)) return `“${name}” is no job step that could be peeled.`;
  const own = recommendSubject(planned).own.adjust ?? {};
  const releases = steps.flatMap((s) => (s.kind === 'release' && s.of === name ? [s.name] : []));
  const now = step.engagement === null ? 'plain' : 'peeled';
  const cutter = cutterFor(planned, step);
  if (cutter === null) return `No endmill in the drawer is small enough to peel ${name}.`;
  const peelWith: StepAdjustment = now === 'peeled' ? {} : { engagement, cutter };
  const adjust = Object.fromEntries([
    [name, { ...own[name], ...peelWith }],
    ...releases.map((r) => [r, now === 'peeled' ? { ...own[r] } : { ...own[r], cutter }] as const),
  ]);
  const { engagement: _angle, cutter: _cutter, ...rest } = own[name] ?? {};
  const asProposed = Object.fromEntries([
    [name, rest],
    ...releases.map((r) => {
      const { cutter: _own, ...others } = own[r] ?? {};
      return [r, others] as const;
    }),
  ]);
  const plain = wayOf(planned, now === 'peeled' ? asProposed : {}, [name, ...releases]);
  const peeled = wayOf(planned, adjust, [name, ...releases]);
  if (typeof plain === 'string') return plain;
  if (typeof peeled === 'string') return peeled;
  return { step: name, plain, peeled, now, adjust };
};

const cutterFor = ({ part, profile, route }: PlannedPart, step: PeelableStep): string | null => {
  const opening = openingOf(part, step);
  const now = profile.cutters.find((c) => c.name === step.cutter);
  if (opening === null) return null;
  const reaches = now !== undefined && now.diameter / 2 <= opening.corner;
  const releasedBy = route.setups
    .flatMap((s) => s.steps)
    .every((s) => s.kind !== 'release' || s.of !== step.name || s.cutter === step.cutter);
  if (now && reaches && releasedBy && canPeel({ width: opening.width, radius: now.diameter / 2 }))
    return now.name;
  return peelingCutter(profile.cutters, opening, part.bar.thickness)?.name ?? null;
};

const wayOf = (
  planned: PlannedPart,
  adjust: NonNullable<RouteDocument['adjust']>,
  names: readonly string[],
): PeelWay | string => {
  const { own } = recommendSubject(planned);
  const route: RouteDocument = { ...own, adjust: { ...own.adjust, ...adjust } };
  const made = makeAll(JSON.stringify({ ...planned.document, route }), { profile: planned.profile });
  if (!made.ok) return `It cannot be cut that way: ${made.findings[0]?.message ?? 'no reason is known'}`;
  return { ...termsOf(made, names[0]!), ...surveyOf(made, names), fits: made.proof.verdict === 'fits' };
};

const termsOf = ({ route }: Made, name: string): Pick<PeelWay, 'cutter' | 'engagement'> => {
  const step = route.setups.flatMap((s) => s.steps).find((s) => s.name === name)!;
  const angle = isPeelable(step) ? step.engagement : null;
  return { cutter: step.cutter, engagement: angle === null ? null : Math.round((angle * 180) / Math.PI) };
};

/** Move by move, the greatest force of each, on the stock as all moves before it leave it. */
const surveyOf = (
  { part, plan, programs, profile }: Made,
  names: readonly string[],
): Pick<PeelWay, 'seconds' | 'most' | 'usual' | 'times' | 'forces'> => {
  const stock = uncut(barMap(part.bar, chooseCell(part.bar, solidOf(part))), part.bar);
  const { cutting = CUTTING_FORCE[part.bar.material] } = machineTerms(profile, part.bar.material);
  const times: number[] = [];
  const forces: number[] = [];
  let seconds = 0;
  for (const pass of writtenPasses(plan, programs, profile)) {
    if (!names.includes(pass.step)) {
      surveyPass(stock, { ...pass, speed: 0 }, cutting);
      continue;
    }
    for (const motion of pass.motions) {
      const force = surveyPass(stock, { ...pass, motions: [motion] }, cutting);
      times.push(seconds);
      forces.push(force.most);
      seconds += secondsOf({ ...motion.stroke, feed: motion.feed }, profile.feed.rapid);
    }
  }
  const cuts = forces.filter((f) => f > 0).sort((a, b) => b - a);
  const usual = cuts[Math.floor(cuts.length / 10)] ?? 0;
  return { seconds, most: cuts[0] ?? 0, usual, times, forces };
};
