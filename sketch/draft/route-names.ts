import { allFeatures, type Feature } from './features.ts';
import { type HeldKind, renameInSetups } from './hold-names.ts';
import { isObject, type Json, type JsonObject } from './json.ts';

/**
 * How a part file's own route speaks of features: by the names that the proposed route gives to the job steps which are
 * made for one feature alone, or for several lands of one height. tests/draft-rename.test.ts holds this against the
 * proposer. Steps for many holes together bear no feature's name.
 */
const stepsFor = ({ kind }: Feature, name: string): readonly string[] => {
  switch (kind) {
    case 'forks':
      return withRelease(called('fork', name));
    case 'slots':
      return withRelease(called('slot', name));
    case 'holes':
      return ['mill hole', 'counterbore'].flatMap((work) => [
        `${work} ${name}`,
        `${work} ${name} from the back`,
      ]);
    case 'ends':
    case 'arms':
    case 'plates':
    case 'lands':
      return [];
  }
};

const withRelease = (step: string): readonly string[] => [step, `release ${step}`];

const called = (kind: string, name: string): string =>
  name.toLowerCase().startsWith(kind) ? name : `${kind} ${name}`;

/** A job step's name after a change, or null where the step goes. */
type Renaming = (step: string) => string | null;

const AND = ' and ';

/** Steps of lands: "relieve rim and waist". Passed over when one of the names is no land, as with names that hold an "and". */
const landSteps = (lands: ReadonlySet<string>, renamed: (land: string) => string | null): Renaming => {
  return (step) => {
    const words = /^(relieve )(.+)()$/.exec(step) ?? /^(thin )(.+)( from the back)$/.exec(step);
    const names = lands.has(words?.[2] ?? '') ? [words![2]!] : (words?.[2]?.split(AND) ?? []);
    if (words === null || !names.every((name) => lands.has(name))) return step;
    const left = names.flatMap((name) => renamed(name) ?? []);
    return left.length === 0 ? null : `${words[1]}${left.join(AND)}${words[3]}`;
  };
};

/** Names of job steps that stand for other features than these as well, or could. */
const stepsOfOthers = (document: JsonObject, features: readonly Feature[]): ReadonlySet<string> => {
  const own = new Set(features.map((f) => f.name));
  return new Set(
    allFeatures(document)
      .filter((f) => !own.has(f.name))
      .flatMap((f) => stepsFor(f, f.name)),
  );
};

const landNames = (document: JsonObject): ReadonlySet<string> =>
  new Set(allFeatures(document).flatMap((f) => (f.kind === 'lands' ? [f.name] : [])));

/**
 * The document with its route speaking of a feature's job steps by the name that the feature is going to bear. A name
 * that could mean another feature's step as well is left as it is.
 */
export const renameInRoute = (document: JsonObject, feature: Feature, to: string): JsonObject => {
  if (feature.kind === 'lands') {
    const renamed = (land: string): string => (land === feature.name ? to : land);
    return inRoute(document, landSteps(landNames(document), renamed), (_, name) => name);
  }
  const others = stepsOfOthers(document, [feature]);
  const after = stepsFor(feature, to);
  const names = new Map(
    stepsFor(feature, feature.name).flatMap((step, i) =>
      others.has(step) ? [] : [[step, after[i]!] as const],
    ),
  );
  return inRoute(
    document,
    (step) => names.get(step) ?? step,
    (kind, name) => (kind === feature.kind && name === feature.name ? to : name),
  );
};

/** The document with the job steps of these features taken out of its route. */
export const removeFromRoute = (document: JsonObject, features: readonly Feature[]): JsonObject => {
  const others = stepsOfOthers(document, features);
  const gone = new Set(features.flatMap((f) => stepsFor(f, f.name)).filter((step) => !others.has(step)));
  const lands = new Set(features.flatMap((f) => (f.kind === 'lands' ? [f.name] : [])));
  const ofLands = landSteps(landNames(document), (land) => (lands.has(land) ? null : land));
  return inRoute(
    document,
    (step) => (gone.has(step) ? null : ofLands(step)),
    (kind, name) => (features.some((f) => f.kind === kind && f.name === name) ? null : name),
  );
};

/** Every job step's name in the route passed through `renamed`, and every feature's that holds the work through `held`. */
const inRoute = (
  document: JsonObject,
  renamed: Renaming,
  held: (kind: HeldKind, name: string) => string | null,
): JsonObject => {
  const { route } = document;
  if (!isObject(route)) return document;
  const { adjust, order, setups } = route;
  const next: JsonObject = {
    ...route,
    ...(isObject(setups) ? { setups: renameInSetups(setups, held) } : {}),
    ...(isObject(adjust) ? { adjust: inKeys(adjust, renamed) } : {}),
    ...(isObject(order)
      ? { order: Object.fromEntries(Object.entries(order).map(([k, steps]) => [k, inList(steps, renamed)])) }
      : {}),
  };
  return JSON.stringify(next) === JSON.stringify(route) ? document : { ...document, route: next };
};

/** Where the new name stands already the old one is kept: nothing of what was said is lost. */
const inKeys = (adjust: JsonObject, renamed: Renaming): JsonObject =>
  Object.fromEntries(
    Object.entries(adjust).flatMap(([step, terms]) => {
      const now = renamed(step);
      return now === null ? [] : [[Object.hasOwn(adjust, now) ? step : now, terms]];
    }),
  );

const inList = (steps: Json, renamed: Renaming): Json =>
  Array.isArray(steps)
    ? steps.flatMap((step: Json) => (typeof step === 'string' ? (renamed(step) ?? []) : step))
    : steps;
