import type { RouteDocument } from '../route/document.ts';
import { webOf } from '../route/release.ts';
import type { JobStep, Route } from '../route/route.ts';
import { type Assessment, assess, type Subject, sameWork } from './assess.ts';
import type { SurvivalTerms } from './pass-survival.ts';
import type { ForkSqueeze } from './squeeze-route.ts';

/** An order of the job steps, and in words what is special about it. */
export interface Ordering {
  readonly name: string;
  readonly order: NonNullable<RouteDocument['order']>;
}

const LATE = 'forks and slots after thinning';

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
    { name: LATE, steps: cutLate(setups) },
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
  /** Other orders that come out alike, by name. */
  readonly alike: readonly string[];
  /** Why it cannot be planned, or that it does not make the same part; null when it does. */
  readonly refused: string | null;
  readonly seconds: number;
  /** Largest movement under the cutter anywhere, and of a tine, mm. */
  readonly movement: number;
  readonly tine: number;
  /** How far the jaws hold a fork closed while it is cut, and while its web is released, mm. */
  readonly closes: number;
  readonly released: number;
  readonly hold: number;
  /** All that is known of it. */
  readonly way: Assessment;
}

/** The orders of a route side by side, each confirmed by the solver at its worst passes, those alike folded into one. Some seconds. */
export const compareOrders = (
  subject: Subject,
  own: RouteDocument,
  terms: SurvivalTerms = {},
): readonly OrderRow[] => {
  const steps = compareOrdersInSteps(subject, own, terms);
  for (let step = steps.next(); ; step = steps.next()) if (step.done) return step.value;
};

/** The same; yields before each order that is looked at, with how many there are of them. */
export function* compareOrdersInSteps(
  subject: Subject,
  own: RouteDocument,
  terms: SurvivalTerms = {},
): Generator<{ readonly name: string; readonly share: number }, readonly OrderRow[]> {
  const base = assess(subject, own, { ...terms, squeezed: true });
  const ways = comparedWays(base.route);
  const rows: OrderRow[] = [];
  for (const [i, { adjust, ...ordering }] of ways.entries()) {
    yield { name: ordering.name, share: i / ways.length };
    const wish = { ...own, order: ordering.order, ...(adjust && { adjust: { ...own.adjust, ...adjust } }) };
    const way = i === 0 ? base : assess(subject, wish, { ...terms, squeezed: true });
    const { seconds, movement, tine, hold } = way;
    const same = way.refused !== null || sameWork(way, base);
    const refused = same ? way.refused : 'It would not make the same part.';
    const [closes, released] = [closesOf(way, 'cut'), closesOf(way, 'released')];
    rows.push({ ...ordering, alike: [], refused, seconds, movement, tine, closes, released, hold, way });
  }
  return foldAlike(rows);
}

/**
 * The orders, and what the webs are for: the last of them, where forks are cut on what is thin already, once more without
 * a web, right through.
 */
const comparedWays = (
  route: Route,
): readonly (Ordering & { readonly adjust?: NonNullable<RouteDocument['adjust']> })[] => {
  const ways = orderings(route);
  const steps = route.setups.flatMap((s) => s.steps);
  const webbed = steps.filter((step) => isOpening(step) && webOf(step) > 0).map((step) => step.name);
  const late = ways.find((way) => way.name === LATE);
  if (late === undefined || webbed.length === 0) return ways;
  const released = new Set(
    steps.flatMap((s) => (s.kind === 'release' && webbed.includes(s.of) ? [s.name] : [])),
  );
  const order = Object.fromEntries(
    Object.entries(late.order).map(([setup, names]) => [setup, names.filter((name) => !released.has(name))]),
  );
  const adjust = Object.fromEntries(webbed.map((name) => [name, { web: 0 }]));
  return [...ways, { name: `${LATE}, right through without a web`, order, adjust }];
};

/** Movements nearer than this, mm, and other figures nearer than this share of each other are alike: estimates are no better. */
const ALIKE = { movement: 0.001, share: 0.03 } as const;

/** Rows whose figures come out alike become one, under the name of the first. */
export const foldAlike = (rows: readonly OrderRow[]): readonly OrderRow[] => {
  const folded: OrderRow[] = [];
  for (const row of rows) {
    const at = folded.findIndex((other) => areAlike(other, row));
    const there = folded[at];
    if (there === undefined) folded.push(row);
    else folded[at] = { ...there, alike: [...there.alike, row.name] };
  }
  return folded;
};

const areAlike = (one: OrderRow, other: OrderRow): boolean => {
  if (one.refused !== null || other.refused !== null) return one.refused === other.refused;
  const near = (key: 'movement' | 'tine' | 'closes' | 'released' | 'hold' | 'seconds', least: number) =>
    one[key] === other[key] ||
    Math.abs(one[key] - other[key]) <= Math.max(least, ALIKE.share * Math.max(one[key], other[key]));
  return (
    near('movement', ALIKE.movement) &&
    near('tine', ALIKE.movement) &&
    near('closes', ALIKE.movement) &&
    near('released', ALIKE.movement) &&
    near('hold', 0) &&
    near('seconds', 30)
  );
};

/** How far the jaws hold the worst fork closed while it is cut or released, mm; 0 where their squeeze was not asked for. */
export const closesOf = (
  { squeezes }: Pick<Assessment, 'squeezes'>,
  work: ForkSqueeze['work'],
  fork?: string,
): number =>
  squeezes
    .flatMap((s) => s.forks)
    .filter((f) => f.work === work && (fork === undefined || f.fork === fork))
    .reduce((most, f) => Math.max(most, Math.abs(f.closes)), 0);
