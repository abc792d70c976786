import { MOST_FEATURES } from '../part/sizes.ts';
import {
  allFeatures,
  armName,
  copyName,
  endsOfArm,
  type Feature,
  featuresOf,
  namesTaken,
  type Place,
  placesOf,
  placesTogether,
} from './features.ts';
import { type Json, type JsonObject, setIn } from './json.ts';
import { type Freed, layFeature, layPlace } from './lay.ts';
import { valuesOf } from './quantity.ts';
import type { Rigid } from './rigid.ts';

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
): Relaid => (copy ? copies(document, names, [t]) : relayInPlace(document, names, t, alone));

const relayInPlace = (document: JsonObject, names: readonly string[], t: Rigid, alone: boolean): Relaid => {
  const values = valuesOf(document);
  const chosen = withEnds(document, featuresOf(document, names));
  const together = alone ? [] : chosen.flatMap((f) => belongings(document, f, values));
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
    const laid = layFeature(document, feature, t, values);
    freed.push(...laid.freed);
    if (!laid.same) next = setIn(next, feature.path, laid.value) as JsonObject;
  }
  for (const place of single) {
    const laid = layPlace(next, place.feature, place.path, t, values);
    freed.push(...laid.freed);
    next = laid.document;
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

const belongings = (
  document: JsonObject,
  feature: Feature,
  values: ReadonlyMap<string, number>,
): readonly Place[] =>
  feature.kind === 'ends' ? placesTogether(document, [...feature.path, 'centre'], values) : [];

/**
 * Copies of features, one for each way to lay them, under fresh names and in that order. An arm is copied with both its
 * ends; an end that lies on itself is not copied, and the arm's copy is tied to it: so an arm is turned about its pivot.
 */
export const copies = (document: JsonObject, names: readonly string[], ways: readonly Rigid[]): Relaid => {
  const values = valuesOf(document);
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
      const laid = layFeature(document, feature, t, values);
      const tie = (end: Json | undefined): string => tied.get(String(end)) ?? String(end);
      const stays = kind === 'arms' ? !movesWith(feature, tied) : laid.same;
      if (stays) {
        if (asked.has(name)) leftOut.push({ feature: name, why: 'its copy would lie upon it' });
        continue;
      }
      freed.push(...laid.freed);
      const value: JsonObject =
        kind === 'arms'
          ? retied(laid.value, tie(laid.value.from), tie(laid.value.to), taken)
          : { ...laid.value, name: copyName(taken, name) };
      const named = typeof value.name === 'string' ? value.name : armName(value.from, value.to);
      taken.add(named);
      made.push(named);
      if (kind === 'ends') tied.set(name, named);
      next = appended(next, feature, value);
    }
  }
  return { ok: true, document: next, names: made, freed, leftOut };
};

const movesWith = (arm: Feature, tied: ReadonlyMap<string, string>): boolean =>
  tied.has(String(arm.value.from)) || tied.has(String(arm.value.to));

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
