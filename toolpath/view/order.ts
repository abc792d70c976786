import type { JsonObject } from '../../sketch/draft/json.ts';
import { getIn, setIn } from '../../sketch/draft/json.ts';
import type { Edit, Store } from '../../sketch/view/store.ts';
import type { Setup } from '../route/route.ts';
import { putRoute, type Work } from './work.ts';

/** Moves a job step within its setup; refused when the route cannot be made in that order. */
export const moveStep = (store: Store, work: Work, setup: Setup, from: number, to: number): Edit => {
  const names = setup.steps.map((s) => s.name);
  if (to < 0 || to >= names.length || from === to) return { ok: true };
  const [name] = names.splice(from, 1);
  names.splice(to, 0, name!);
  return putOrder(store, work, setup, names);
};

/** Leaves a job step out of the route. */
export const leaveOut = (store: Store, work: Work, setup: Setup, name: string): Edit =>
  putOrder(
    store,
    work,
    setup,
    setup.steps.map((s) => s.name).filter((n) => n !== name),
  );

/** Job steps that were proposed for a setup and are left out. */
export const leftOut = (work: Work, setup: Setup): readonly string[] => {
  const here = new Set(work.route.setups.flatMap((s) => s.steps.map((step) => step.name)));
  const proposed = work.proposed.setups.find((s) => s.number === setup.number)?.steps ?? [];
  return proposed.map((s) => s.name).filter((n) => !here.has(n));
};

export const bringBack = (store: Store, work: Work, setup: Setup, name: string): Edit =>
  putOrder(store, work, setup, [...setup.steps.map((s) => s.name), name]);

/** The order as proposed, everything in it. */
export const asProposed = (store: Store, work: Work, setup: Setup): Edit =>
  putRoute(store, work, (route) => setIn(route, ['order', String(setup.number)], undefined) as JsonObject);

export const isReordered = (store: Store, setup: Setup): boolean =>
  getIn(store.opened.value?.document ?? {}, ['route', 'order', String(setup.number)]) !== undefined;

const putOrder = (store: Store, work: Work, setup: Setup, names: readonly string[]): Edit =>
  putRoute(store, work, (route) => setIn(route, ['order', String(setup.number)], names) as JsonObject);
