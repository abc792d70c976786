import type { Json, JsonObject } from '../../sketch/draft/json.ts';
import type { Finding, Part } from '../../sketch/part/part.ts';
import { MM_PER_INCH, plain } from '../../sketch/part/units.ts';
import type { Edit, Store } from '../../sketch/view/store.ts';
import type { MachineProfile } from '../machine/profile.ts';
import type { Pass, Plan, PlannedSetup, PlannedStep } from '../passes/pass.ts';
import { applyRouteDocument } from '../route/document.ts';
import type { Route } from '../route/route.ts';
import { formWords } from './form-words.ts';

/** What the worker made of one state of the part: the route and its passes. */
export interface Work {
  readonly part: Part;
  readonly profile: MachineProfile;
  /** The route before the part file's own wishes. */
  readonly proposed: Route;
  readonly route: Route;
  readonly plan: Plan;
  readonly findings: readonly Finding[];
}

/** One pass in the order of cutting: one frame of the film. */
export interface Still {
  readonly index: number;
  readonly setup: PlannedSetup;
  readonly step: PlannedStep;
  /** The job step's number in the whole route, from 1. */
  readonly stepNumber: number;
  readonly pass: Pass;
  /** The pass's number in its job step, from 1. */
  readonly passNumber: number;
}

/** Every pass of the plan, in the order of cutting. */
export const stillsOf = (plan: Plan): readonly Still[] => {
  const stills: Still[] = [];
  let stepNumber = 0;
  for (const setup of plan.setups) {
    for (const step of setup.steps) {
      stepNumber++;
      step.passes.forEach((pass, i) => {
        stills.push({ index: stills.length, setup, step, stepNumber, pass, passNumber: i + 1 });
      });
    }
  }
  return stills;
};

/** A pass's depth below the top of the work, mm. */
export const depthOf = (pass: Pass): number => Math.max(0, -pass.z);

/** Lengths as the part's own file writes them. */
export const inUnit = (part: Part, mm: number): number =>
  Number(part.unit === 'mm' ? plain(mm, 3) : plain(mm / MM_PER_INCH, 4));

/**
 * Writes a wish about the route into the part file, if the route can take it. `path` starts inside `route`, lengths
 * are in the file's unit.
 */
export const putRoute = (store: Store, work: Work, change: (route: JsonObject) => JsonObject): Edit => {
  const document = store.opened.value?.document;
  if (!document) return { ok: false, message: 'No part is open.' };
  const route = prune(change((document.route ?? {}) as JsonObject));
  const { findings } = applyRouteDocument(work.proposed, route, work.part);
  const error = findings.find((f) => f.severity === 'error');
  if (error) return { ok: false, message: formWords(error.message) };
  return store.put(['route'], Object.keys(route).length > 0 ? route : undefined);
};

/** Wishes that say nothing are left out of the file. */
const prune = (route: JsonObject): JsonObject =>
  Object.fromEntries(
    Object.entries(route).flatMap(([key, value]): [string, Json][] => {
      if (typeof value !== 'object' || value === null || Array.isArray(value)) return [[key, value]];
      const kept = Object.entries(value).filter(
        ([, v]) => typeof v !== 'object' || v === null || Object.keys(v).length > 0,
      );
      return kept.length > 0 ? [[key, Object.fromEntries(kept)]] : [];
    }),
  );
