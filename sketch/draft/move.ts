import type { Quantity } from '../part/dimensions.ts';
import type { Point } from '../shape/point.ts';
import { companyIn, endsOfArm, featuresOf, type Place, placesOf } from './features.ts';
import { getIn, type JsonObject, type JsonPath, setIn } from './json.ts';
import { AXES, type Axis, isQuantity, isTied, mmIn, numberAt, tidy, valuesOf } from './quantity.ts';

/** A coordinate that stayed where it was, because a formula over named dimensions decides it. */
export interface Held {
  readonly feature: string;
  readonly axis: Axis;
  readonly formula: string;
  /** The way to the coordinate. */
  readonly path: JsonPath;
}

export interface Moved {
  readonly document: JsonObject;
  readonly held: readonly Held[];
}

export interface MoveOptions {
  /** Leaves behind what sits on a moved end's centre. */
  readonly alone?: boolean;
}

/**
 * Features moved by so much, mm. A move never changes a shape: along an axis in which one of a feature's places is held
 * by a formula, the whole feature is held, and an arm with both its ends. What sits on a moved end's centre (holes, ends
 * of slots, discs of lands, other ends) goes as far as the end goes.
 */
export const moveFeatures = (
  document: JsonObject,
  names: readonly string[],
  delta: Point,
  options: MoveOptions = {},
): Moved => {
  const groups = featuresOf(document, names).map((feature) =>
    feature.kind === 'arms' ? endsOfArm(document, feature).flatMap(placesOf) : placesOf(feature),
  );
  return moveGroups(document, groups, delta, options);
};

/** Single places of features moved by so much, mm: a corner of a plate, one end of a slot. */
export const movePlaces = (
  document: JsonObject,
  places: readonly Place[],
  delta: Point,
  options: MoveOptions = {},
): Moved =>
  moveGroups(
    document,
    places.map((place) => [place]),
    delta,
    options,
  );

const moveGroups = (
  document: JsonObject,
  groups: readonly (readonly Place[])[],
  delta: Point,
  { alone = false }: MoveOptions,
): Moved => {
  const values = valuesOf(document);
  const mm = mmIn(document);
  const togetherWith = companyIn(document, values);
  const chosen = new Set(groups.flat().map((p) => p.path.join('/')));
  const held = new Map<string, Held>();
  const moving = new Map<string, { readonly path: JsonPath; readonly to: number }>();
  for (const [index, axis] of AXES.entries()) {
    // The step itself is rounded, so that the same step back leads to where it began.
    const step = tidy(delta[axis] / mm);
    if (step === 0 || !Number.isFinite(step)) continue;
    const shift = (group: readonly Place[]): boolean => {
      const stuck = group.flatMap((place) => heldAt(document, place, axis) ?? []);
      for (const h of stuck) held.set(h.path.join('/'), h);
      if (stuck.length > 0) return false;
      for (const place of group) {
        const path = [...place.path, index];
        const value = numberAt(document, path, values);
        if (value !== null) moving.set(path.join('/'), { path, to: tidy(value + step) });
      }
      return true;
    };
    for (const group of groups) {
      if (!shift(group) || alone) continue;
      for (const end of group.filter((place) => place.path[0] === 'ends')) {
        for (const other of togetherWith(end.path)) {
          if (!chosen.has(other.path.join('/'))) shift([other]);
        }
      }
    }
  }
  const moved = [...moving.values()].reduce<JsonObject>(
    (d, { path, to }) => (getIn(d, path) === to ? d : (setIn(d, path, to) as JsonObject)),
    document,
  );
  return { document: moved, held: [...held.values()] };
};

/** The formula that decides one coordinate of a place, or null where it is a number. */
export const heldAt = (document: JsonObject, place: Place, axis: Axis): Held | null => {
  const path = [...place.path, AXES.indexOf(axis)];
  const quantity = getIn(document, path);
  if (!isQuantity(quantity) || !isTied(quantity)) return null;
  return { feature: place.feature, axis, formula: String(quantity), path };
};

/** The document with the formula at a path, or both of a place's, replaced by what it comes to now. */
export const freePlace = (document: JsonObject, path: JsonPath): JsonObject => {
  const values = valuesOf(document);
  const at = getIn(document, path);
  const paths: readonly JsonPath[] = Array.isArray(at) ? at.map((_, i) => [...path, i]) : [path];
  return paths.reduce<JsonObject>((d, p) => {
    const quantity = getIn(document, p) as Quantity | undefined;
    const value = numberAt(document, p, values);
    return typeof quantity === 'string' && value !== null ? (setIn(d, p, tidy(value)) as JsonObject) : d;
  }, document);
};
