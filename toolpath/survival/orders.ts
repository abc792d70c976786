import type { RouteDocument } from '../route/document.ts';
import { webOf } from '../route/release.ts';
import type { JobStep, Route } from '../route/route.ts';
import { type Assessment, assess, type Subject, sameWork } from './assess.ts';
import type { SurvivalTerms } from './pass-survival.ts';

/** An order of the job steps, and in words what is special about it. */
export interface Ordering {
  readonly name: string;
  readonly order: NonNullable<RouteDocument['order']>;
}

type Steps = readonly (readonly JobStep[])[];

/**
 * The orders worth comparing for a route: as it is; webs released before the thinning; and forks and slots after
 * it. Those that change nothing are left out.
 */
export const orderings = (route: Route): readonly Ordering[] => {
  const setups = route.setups.map((s) => s.steps);
  const all: readonly { readonly name: string; readonly steps: Steps }[] = [
    { name: 'as it is', steps: setups },
    { name: 'webs released before thinning', steps: releasedEarly(setups) },
    { name: 'forks and slots after thinning', steps: cutLate(setups) },
  ];
  const seen = new Set<string>();
  return all.flatMap(({ name, steps }) => {
    const names = steps.map((own) => own.map((s) => s.name));
    const key = JSON.stringify(names);
    if (seen.has(key)) return [];
    seen.add(key);
    const order = Object.fromEntries(names.map((own, i) => [String(route.setups[i]!.number), own]));
    return [{ name, order }];
  });
};

const isOpening = (step: JobStep): boolean => step.kind === 'fork' || step.kind === 'slot';

/** The setup and place of the last thinning; null where nothing is thinned. */
const lastThinning = (setups: Steps): { readonly setup: number; readonly after: string } | null => {
  for (let i = setups.length - 1; i >= 0; i--) {
    const thin = setups[i]!.findLast((s) => s.kind === 'thin');
    if (thin) return { setup: i, after: thin.name };
  }
  return null;
};

/** Releases moved before the first thinning that comes after what they release. */
const releasedEarly = (setups: Steps): Steps => {
  const releases = setups.flat().filter((s) => s.kind === 'release');
  return setups.map((steps) => {
    const own = steps.filter((s) => s.kind !== 'release');
    const cut = releases.filter((r) => own.some((s) => s.name === r.of && webOf(s) > 0));
    const late = releases.filter((r) => steps.includes(r) && !setups.flat().some((s) => s.name === r.of));
    const at = own.findLastIndex((s) => cut.some((r) => r.of === s.name)) + 1;
    return [...own.slice(0, at), ...cut, ...own.slice(at), ...late];
  });
};

/** Forks and slots moved to just after the last thinning; what releases their webs comes later anyway. */
const cutLate = (setups: Steps): Steps => {
  const thinning = lastThinning(setups);
  if (thinning === null) return setups;
  const flat = setups.flat();
  const until = flat.findIndex((s) => s.name === thinning.after);
  const moved = flat.slice(0, until).filter(isOpening);
  if (moved.length === 0) return setups;
  return setups.map((steps, i) => {
    const own = steps.filter((s) => !moved.includes(s));
    if (i !== thinning.setup) return own;
    const at = own.findIndex((s) => s.name === thinning.after) + 1;
    return [...own.slice(0, at), ...moved, ...own.slice(at)];
  });
};

/** One order beside the others. All estimates. */
export interface OrderRow extends Ordering {
  /** Why it cannot be planned, or that it does not make the same part; null when it does. */
  readonly refused: string | null;
  readonly seconds: number;
  /** Largest movement under the cutter anywhere, and of a tine, mm. */
  readonly movement: number;
  readonly tine: number;
  /** How far the jaws hold a fork closed while it is cut, mm. */
  readonly closes: number;
  readonly hold: number;
}

/** The orders of a route side by side, each confirmed by the solver at its worst passes. Some seconds. */
export const compareOrders = (
  subject: Subject,
  own: RouteDocument,
  terms: SurvivalTerms = {},
): readonly OrderRow[] => {
  const base = assess(subject, own, { ...terms, squeezed: true });
  return orderings(base.route).map((ordering, i) => {
    const way =
      i === 0 ? base : assess(subject, { ...own, order: ordering.order }, { ...terms, squeezed: true });
    const { seconds, movement, tine, hold } = way;
    const same = way.refused !== null || sameWork(way, base);
    const refused = same ? way.refused : 'It would not make the same part.';
    return { ...ordering, refused, seconds, movement, tine, closes: closesOf(way), hold };
  });
};

/** How far the jaws hold the worst fork closed while it is cut, mm; 0 where their squeeze was not asked for. */
export const closesOf = ({ route, squeezes }: Assessment): number =>
  route.setups
    .flatMap((setup) =>
      setup.steps.map((step) =>
        step.kind === 'fork' ? closesWhenCut(squeezes, setup.number, step.fork) : 0,
      ),
    )
    .reduce((most, closes) => Math.max(most, closes), 0);

/** How far the jaws of the setup in which a fork is cut hold it closed by then, mm. */
export const closesWhenCut = (
  squeezes: Assessment['squeezes'],
  setup: number | undefined,
  fork: string,
): number => {
  const after = squeezes.find((s) => s.setup === setup)?.after;
  return Math.abs(after?.gaps.find((gap) => gap.name === fork)?.closes ?? 0);
};
