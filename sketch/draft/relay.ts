import { quoted } from '../part/names.ts';
import { MOST_FEATURES } from '../part/sizes.ts';
import { distance } from '../shape/point.ts';
import { SAME_POINT } from '../shape/tolerance.ts';
import {
  allFeatures,
  armName,
  companyIn,
  copyName,
  endsOfArm,
  type Feature,
  featuresOf,
  namesTaken,
  type Place,
  placesOf,
} from './features.ts';
import { type Json, type JsonObject, setIn } from './json.ts';
import { type Freed, layFeature, layPlace } from './lay.ts';
import { pointAt, valuesOf } from './quantity.ts';
import { isSound, laid, type Rigid } from './rigid.ts';

/** What was laid elsewhere, or why it was not. */
export type Relaid =
  | {
      readonly ok: true;
      readonly document: JsonObject;
      /** What was laid elsewhere, or the copies, in order. */
      readonly names: readonly string[];
      /** Formulas that had to become numbers. */
      readonly freed: readonly Freed[];
      /** What was not copied, and why. */
      readonly leftOut: readonly LeftOut[];
    }
  | { readonly ok: false; readonly message: string };

export interface LeftOut {
  readonly feature: string;
  readonly why: string;
}

export interface RelayOptions {
  /** Leaves the features where they are and lays copies of them. */
  readonly copy?: boolean;
  /** Leaves behind what sits on an end that is laid elsewhere. */
  readonly alone?: boolean;
}

/** Features laid elsewhere, in place or as copies. */
export const relay = (
  document: JsonObject,
  names: readonly string[],
  t: Rigid,
  { copy = false, alone = false }: RelayOptions,
): Relaid => {
  if (copy) return copies(document, names, [t]);
  return isSound(t) ? relayInPlace(document, names, t, alone) : nowhere;
};

/** What comes of a way that leads nowhere. */
export const nowhere: Relaid = { ok: false, message: 'The place it should lie at is no number.' };

const relayInPlace = (document: JsonObject, names: readonly string[], t: Rigid, alone: boolean): Relaid => {
  const values = valuesOf(document);
  const chosen = withEnds(document, featuresOf(document, names));
  const togetherWith = companyIn(document, values);
  const together = chosen.flatMap((f) =>
    f.kind === 'ends' && !alone ? togetherWith([...f.path, 'centre']) : [],
  );
  const whole = new Map(chosen.map((f) => [f.name, f]));
  const single: Place[] = [];
  for (const place of together) {
    const [other] = featuresOf(document, [place.feature]);
    if (other === undefined || whole.has(other.name)) continue;
    if (placesOf(other).length === 1) whole.set(other.name, other);
    else single.push(place);
  }
  let next = document;
  const freed: Freed[] = [];
  for (const feature of whole.values()) {
    const there = layFeature(document, feature, t, values);
    freed.push(...there.freed);
    if (!there.same) next = setIn(next, feature.path, there.value) as JsonObject;
  }
  for (const place of single) {
    const there = layPlace(next, place.feature, place.path, t, values);
    freed.push(...there.freed);
    next = there.document;
  }
  return { ok: true, document: next, names: [...whole.keys()], freed, leftOut: [] };
};

/** Features, each once, with the ends of the arms among them. */
const withEnds = (document: JsonObject, features: readonly Feature[]): readonly Feature[] =>
  featuresOf(
    document,
    features.flatMap((f) => [
      f.name,
      ...(f.kind === 'arms' ? endsOfArm(document, f).map((end) => end.name) : []),
    ]),
  );

/**
 * Copies of features, one for each way to lay them, under fresh names and in that order. An arm is copied with both its
 * ends; an end that would lie upon itself or upon another just like it is not copied, and the arm's copy is tied to what
 * is there: so an arm is turned about its pivot.
 */
export const copies = (document: JsonObject, names: readonly string[], ways: readonly Rigid[]): Relaid => {
  if (!ways.every(isSound)) return nowhere;
  const values = valuesOf(document);
  const twinOf = twinsIn(document, values);
  const chosen = withEnds(document, featuresOf(document, names));
  const room = MOST_FEATURES - allFeatures(document).length;
  if (ways.length * chosen.length > room) {
    const wanted = ways.length * chosen.length;
    return {
      ok: false,
      message: `These are ${wanted} copies; there is room for ${Math.max(0, room)} more features.`,
    };
  }
  const asked = new Set(names);
  const taken = new Set(namesTaken(document));
  const made: string[] = [];
  const freed: Freed[] = [];
  const leftOut: LeftOut[] = [];
  let next = document;
  for (const t of ways) {
    const tied = new Map<string, string>();
    for (const feature of chosen) {
      const { kind, name } = feature;
      const there = layFeature(document, feature, t, values);
      const tie = (end: Json | undefined): string => tied.get(String(end)) ?? String(end);
      const ends = [tie(there.value.from), tie(there.value.to)] as const;
      const twin = kind === 'arms' ? armBetween(document, ends) : there.same ? name : twinOf(feature, t);
      if (twin !== null) {
        if (kind === 'ends') tied.set(name, twin);
        const what = twin === name ? 'it' : quoted(twin);
        if (asked.has(name)) leftOut.push({ feature: name, why: `its copy would lie upon ${what}` });
        continue;
      }
      freed.push(...there.freed);
      const value: JsonObject =
        kind === 'arms'
          ? retied(there.value, ...ends, taken)
          : { ...there.value, name: copyName(taken, name) };
      const named = typeof value.name === 'string' ? value.name : armName(value.from, value.to);
      taken.add(named);
      made.push(named);
      if (kind === 'ends') tied.set(name, named);
      next = appended(next, feature, value);
    }
  }
  return { ok: true, document: next, names: made, freed, leftOut };
};

/** The arm that runs between two ends already, either way. */
const armBetween = (document: JsonObject, [from, to]: readonly [string, string]): string | null =>
  allFeatures(document).find(
    ({ kind, value }) =>
      kind === 'arms' &&
      ((value.from === from && value.to === to) || (value.from === to && value.to === from)),
  )?.name ?? null;

/** Finds the end or hole of the document, just like this one, that its copy would lie upon. */
const twinsIn = (document: JsonObject, values: ReadonlyMap<string, number>) => {
  const round = allFeatures(document)
    .filter((f) => f.kind === 'ends' || f.kind === 'holes')
    .map((f) => ({ f, at: pointAt(document, [...f.path, 'centre'], values), rest: restOf(f.value) }));
  return (feature: Feature, t: Rigid): string | null => {
    const own = round.find(({ f }) => f.name === feature.name);
    if (own === undefined || own.at === null) return null;
    const to = laid(t, own.at);
    const twin = round.find(
      ({ f, at, rest }) =>
        f.kind === feature.kind && rest === own.rest && at !== null && distance(at, to) <= SAME_POINT,
    );
    return twin?.f.name ?? null;
  };
};

/** Everything of a round feature but its name and its place, to be compared. */
const restOf = ({ name: _name, centre: _centre, ...rest }: JsonObject): string =>
  JSON.stringify(Object.entries(rest).sort(([a], [b]) => (a < b ? -1 : 1)));

/** An arm between other ends; one that bore a name, or whose own would stand twice, gets a fresh one. */
export const retied = (arm: JsonObject, from: string, to: string, taken: ReadonlySet<string>): JsonObject => {
  const own = armName(from, to);
  if (typeof arm.name === 'string') return { ...arm, name: copyName(taken, arm.name), from, to };
  return taken.has(own) ? { name: copyName(taken, own), ...arm, from, to } : { ...arm, from, to };
};

export const appended = (
  document: JsonObject,
  { kind }: Pick<Feature, 'kind'>,
  value: JsonObject,
): JsonObject => {
  const list = document[kind];
  return { ...document, [kind]: [...(Array.isArray(list) ? (list as readonly Json[]) : []), value] };
};
