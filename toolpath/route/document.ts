import * as v from 'valibot';
import type { Finding, Part } from '../../sketch/part/part.ts';
import { radians, unitSign } from '../../sketch/part/units.ts';
import { faultWords } from '../machine/profile-schema.ts';
import { packingDocument, packingOf } from './packing-document.ts';
import { fasteningDocument, plateOf } from './plate-document.ts';
import { keepReleases } from './release.ts';
import type { Hold, JobStep, Route, Setup } from './route.ts';

/**
 * What a part file may say about its route (`route` in the file). Lengths are in the file's unit, heights are the
 * part's. Everything is optional: what is not said stays as proposed.
 */
const number = v.pipe(v.number(), v.finite('a number is wanted'));
const least = (value: number) => v.minValue<number, number, string>(value, `at least ${value} is wanted`);
const most = (value: number) => v.maxValue<number, number, string>(value, `at most ${value} is wanted`);
const above0 = v.gtValue<number, number, string>(0, 'more than 0 is wanted');
const length = v.pipe(number, most(1000), least(-1000));
const positive = v.pipe(number, above0, most(1000));
const share = v.pipe(number, above0, most(1));
const name = v.pipe(v.string(), v.minLength(1), v.maxLength(80));

const levels = v.variant('kind', [
  v.strictObject({ kind: v.literal('equal') }),
  v.strictObject({ kind: v.literal('falling'), share }),
]);

const bridges = v.strictObject({
  count: v.pipe(number, v.integer('a whole number is wanted'), least(1), most(20)),
  length: positive,
  height: positive,
});

/** Terms that can be changed on a proposed job step; those that its kind does not have are refused. */
const adjustment = v.strictObject({
  cutter: v.optional(name),
  speed: v.optional(positiveRate()),
  feed: v.optional(positiveRate()),
  stepDown: v.optional(positive),
  levels: v.optional(levels),
  stepover: v.optional(positive),
  wallAllowance: v.optional(v.pipe(length, least(0))),
  floorAllowance: v.optional(v.pipe(length, least(0))),
  direction: v.optional(v.picklist(['climb', 'conventional'])),
  floor: v.optional(length),
  web: v.optional(v.pipe(length, least(0))),
  clear: v.optional(v.picklist(['all', 'groove'])),
  bridges: v.optional(v.nullable(bridges)),
  peck: v.optional(positive),
  startFrom: v.optional(v.picklist(['left', 'right'])),
  feedShare: v.optional(share),
  /** Degrees; null for laps. */
  engagement: v.optional(v.nullable(v.pipe(number, least(15), most(120)))),
});

function positiveRate() {
  return v.pipe(number, above0, most(100_000));
}

const holdAdjustment = v.strictObject({
  grip: v.optional(positive),
  jaws: v.optional(v.strictObject({ from: length, to: length })),
  parallels: v.optional(
    v.nullable(v.strictObject({ height: positive, thickness: positive, offset: length })),
  ),
  gripped: v.optional(v.pipe(v.string(), v.maxLength(120))),
  /** Flat on a plate in place of the vice; the vice's figures are kept for when it goes back. */
  plate: v.optional(fasteningDocument),
  packing: v.optional(packingDocument),
  datum: v.optional(v.picklist(['left-near', 'left-far', 'right-near', 'right-far', 'centre'])),
  workOffset: v.optional(v.picklist(['G54', 'G55', 'G56', 'G57', 'G58', 'G59'])),
});

/** Finer than this no estimate means anything, mm; a ten-thousandth for parts in inches. Common practice, no source. */
export const LEAST_TOLERANCE = 0.001;

/** A tolerance of more says nothing, in either unit. */
const tolerance = v.pipe(number, above0, most(1));

export const RouteDocument = v.strictObject({
  /** By job step's name. */
  adjust: v.optional(v.record(name, adjustment)),
  /** By setup's number. */
  setups: v.optional(v.record(v.pipe(v.string(), v.regex(/^[1-9]$/)), holdAdjustment)),
  /** For each setup by number, its job steps by name in the order wanted; steps not named are left out. */
  order: v.optional(v.record(v.pipe(v.string(), v.regex(/^[1-9]$/)), v.array(name))),
  /** Most that the work may move under the cutter, and that a pass may leave on a finished wall or floor. */
  tolerance: v.optional(tolerance),
});

export type RouteDocument = v.InferOutput<typeof RouteDocument>;
export type StepAdjustment = v.InferOutput<typeof adjustment>;
export type HoldAdjustment = v.InferOutput<typeof holdAdjustment>;

/** Which terms of an adjustment are lengths, to be converted from the file's unit. */
const LENGTHS = ['stepDown', 'stepover', 'wallAllowance', 'floorAllowance', 'floor', 'web', 'peck'] as const;

export interface AppliedRoute {
  readonly route: Route;
  readonly findings: readonly Finding[];
}

/** The proposed route with the file's own wishes laid over it. What cannot be applied is a finding of severity error. */
export const applyRouteDocument = (
  proposed: Route,
  document: unknown,
  part: Pick<Part, 'unit' | 'holes' | 'forks'>,
): AppliedRoute => {
  if (document === undefined || document === null) return { route: proposed, findings: [] };
  // An array would pass for an object without any of its entries.
  const read = v.safeParse(RouteDocument, Array.isArray(document) ? null : document);
  if (!read.success) {
    const findings = read.issues.map((issue): Finding => {
      const path = v.getDotPath(issue) ?? '';
      return { code: 'route-unreadable', severity: 'error', message: `route.${path}${faultWords(issue)}.` };
    });
    return { route: proposed, findings };
  }
  const findings: Finding[] = [];
  const perUnit = part.unit === 'inch' ? 25.4 : 1;
  const wish = read.output;
  const known = new Map(proposed.setups.flatMap((s) => s.steps.map((step) => [step.name, step] as const)));
  for (const stepName of Object.keys(wish.adjust ?? {})) {
    if (!known.has(stepName)) {
      findings.push({
        code: 'step-unknown',
        // A job step goes away when its feature is changed; that must not stop the part.
        severity: 'warning',
        message: `route.adjust names "${stepName}", which is no job step, and is passed over. There are: ${[...known.keys()].join(', ')}.`,
      });
    }
  }
  const setups = proposed.setups.map((setup): Setup => {
    const number = String(setup.number);
    const order = wish.order?.[number];
    const steps = order ? reorder(setup, order, known, findings) : setup.steps;
    const hold = wish.setups?.[number];
    return {
      ...setup,
      datum: hold?.datum ?? setup.datum,
      workOffset: hold?.workOffset ?? setup.workOffset,
      hold: hold ? adjustHold(setup, hold, part, findings) : setup.hold,
      steps: steps.map((step) => adjustStep(step, wish.adjust?.[step.name], perUnit, findings)),
    };
  });
  const route = keepReleases(proposed, { setups });
  if (wish.tolerance === undefined) return { route, findings };
  const finest = part.unit === 'inch' ? 0.0001 : LEAST_TOLERANCE;
  if (wish.tolerance < finest) {
    findings.push({
      code: 'tolerance-too-fine',
      severity: 'error',
      message: `A tolerance of ${wish.tolerance} ${unitSign(part.unit)} is finer than any estimate; take ${finest} or more.`,
    });
  }
  return { route: { ...route, tolerance: wish.tolerance * perUnit }, findings };
};

const reorder = (
  setup: Setup,
  order: readonly string[],
  known: ReadonlyMap<string, JobStep>,
  findings: Finding[],
): readonly JobStep[] =>
  order.flatMap((stepName) => {
    const step = known.get(stepName);
    if (step) return [step];
    findings.push({
      code: 'step-unknown',
      severity: 'error',
      setup: setup.number,
      message: `route.order for setup ${setup.number} names "${stepName}", which is no job step.`,
    });
    return [];
  });

const adjustHold = (
  { hold, number }: Setup,
  wish: HoldAdjustment,
  part: Pick<Part, 'unit' | 'holes' | 'forks'>,
  findings: Finding[],
): Hold => {
  const perUnit = part.unit === 'inch' ? 25.4 : 1;
  if (wish.plate) return plateOf(wish.plate, part, perUnit, number, findings);
  // Nobody proposes a plate: what is not wished is held in the vice.
  if (hold.kind !== 'vice') return hold;
  return {
    ...hold,
    grip: wish.grip === undefined ? hold.grip : wish.grip * perUnit,
    jaws: wish.jaws ? { from: wish.jaws.from * perUnit, to: wish.jaws.to * perUnit } : hold.jaws,
    parallels:
      wish.parallels === undefined
        ? hold.parallels
        : wish.parallels && {
            height: wish.parallels.height * perUnit,
            thickness: wish.parallels.thickness * perUnit,
            offset: wish.parallels.offset * perUnit,
          },
    gripped: wish.gripped ?? hold.gripped,
    ...(wish.packing === undefined
      ? {}
      : { packing: packingOf(wish.packing, part, perUnit, number, findings) }),
  };
};

const adjustStep = (
  step: JobStep,
  wish: StepAdjustment | undefined,
  perUnit: number,
  findings: Finding[],
): JobStep => {
  if (wish === undefined) return step;
  const changes: Record<string, unknown> = {};
  for (const [key, value] of Object.entries(wish)) {
    if (value === undefined) continue;
    if (!(key in step) && key !== 'speed' && key !== 'feed') {
      findings.push({
        code: 'term-unknown',
        severity: 'error',
        feature: step.name,
        message: `route.adjust: "${step.name}" is a ${step.kind} step and has no "${key}".`,
      });
      continue;
    }
    const isLength = (LENGTHS as readonly string[]).includes(key) && typeof value === 'number';
    changes[key] = isLength ? value * perUnit : value;
    if (key === 'engagement' && typeof value === 'number') changes[key] = radians(value);
  }
  if (wish.bridges && perUnit !== 1) {
    changes.bridges = {
      ...wish.bridges,
      length: wish.bridges.length * perUnit,
      height: wish.bridges.height * perUnit,
    };
  }
  if (wish.feed !== undefined) changes.feed = wish.feed * perUnit;
  return { ...step, ...changes } as JobStep;
};
