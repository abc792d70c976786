import type { Quantity } from '../part/dimensions.ts';
import { degrees, radians } from '../part/units.ts';
import { distance, type Point } from '../shape/point.ts';
import { SAME_POINT } from '../shape/tolerance.ts';
import { type Feature, placesOf } from './features.ts';
import { getIn, isObject, type Json, type JsonObject, type JsonPath, setIn } from './json.ts';
import { withinHalfTurn } from './measure.ts';
import { AXES, isQuantity, isTied, mmIn, numberAt, pointAt, tidy } from './quantity.ts';
import { keepsUpright, laid, laidDirection, type Rigid } from './rigid.ts';

/** A formula that had to become a number, since what it decided was laid elsewhere. */
export interface Freed {
  readonly feature: string;
  readonly formula: string;
}

/** A feature as it is once laid elsewhere. */
export interface Laid {
  readonly value: JsonObject;
  readonly freed: readonly Freed[];
  /** It lies upon itself, and its value is the one before. */
  readonly same: boolean;
}

/** A change of a coordinate smaller than this, mm, is none. */
const NONE = 1e-7;

/**
 * A feature laid elsewhere. Coordinates that are not changed by it keep their formulas; others become numbers. A
 * rectangle that no longer stands upright becomes a polygon; a fork's direction follows. An arm has nothing of its own.
 */
export const layFeature = (
  document: JsonObject,
  feature: Feature,
  t: Rigid,
  values: ReadonlyMap<string, number>,
): Laid => {
  const { name, path } = feature;
  const places = placesOf(feature).map((place) => place.path);
  const loop = loopOf(document, places, values);
  const unchanged: Laid = { value: feature.value, freed: [], same: true };
  if (
    loop === null ||
    (sameLoop(
      loop,
      loop.map((p) => laid(t, p)),
    ) &&
      sameWay(document, path, t, values))
  ) {
    return unchanged;
  }
  const layer = createLayer(document, name, t, values);
  const root = shapePath(feature);
  const rectangle = getIn(document, [...root, 'rectangle']);
  if (Array.isArray(rectangle)) {
    if (keepsUpright(t)) layer.rectangle([...root, 'rectangle']);
    else layer.polygon(root, loop);
  } else places.forEach(layer.place);
  if (feature.kind === 'forks') layer.direction([...path, 'direction']);
  return { value: getIn(layer.document(), path) as JsonObject, freed: layer.freed, same: false };
};

/** One place of a feature laid elsewhere in the document. */
export const layPlace = (
  document: JsonObject,
  feature: string,
  path: JsonPath,
  t: Rigid,
  values: ReadonlyMap<string, number>,
): { readonly document: JsonObject; readonly freed: readonly Freed[] } => {
  const layer = createLayer(document, feature, t, values);
  layer.place(path);
  return { document: layer.document(), freed: layer.freed };
};

const shapePath = (feature: Feature): JsonPath =>
  feature.kind === 'lands' ? [...feature.path, 'area'] : feature.path;

/** The points that make a feature's shape, in order round it, mm; null for an arm, a whole land, and what has no values. */
const loopOf = (
  document: JsonObject,
  places: readonly JsonPath[],
  values: ReadonlyMap<string, number>,
): readonly Point[] | null => {
  const points = places.map((place) => pointAt(document, place, values)).filter((p) => p !== null);
  if (places.length === 0 || points.length < places.length) return null;
  const [a, b] = points as [Point, Point];
  return places[0]!.includes('rectangle') ? [a, { x: b.x, y: a.y }, b, { x: a.x, y: b.y }] : points;
};

/** Whether two loops run through the same points, begun anywhere, either way round. */
const sameLoop = (a: readonly Point[], b: readonly Point[]): boolean =>
  a.some((_, start) =>
    [1, -1].some((way) =>
      b.every((p, i) => distance(p, a[(start + way * i + a.length) % a.length]!) <= SAME_POINT),
    ),
  );

const sameWay = (
  document: JsonObject,
  path: JsonPath,
  t: Rigid,
  values: ReadonlyMap<string, number>,
): boolean => {
  const before = numberAt(document, [...path, 'direction'], values);
  return before === null || Math.abs(turnOf(t, before)) < 1e-9;
};

/** How far a direction in degrees turns, radians. */
const turnOf = (t: Rigid, direction: number): number =>
  withinHalfTurn(laidDirection(t, radians(direction)) - radians(direction));

/** Writes numbers into a copy of the document, and keeps a list of the formulas that went. */
const createLayer = (start: JsonObject, feature: string, t: Rigid, values: ReadonlyMap<string, number>) => {
  let document = start;
  const freed: Freed[] = [];
  const mm = mmIn(start);
  const free = (quantity: Json | undefined): void => {
    if (isQuantity(quantity) && isTied(quantity)) freed.push({ feature, formula: String(quantity) });
  };
  const put = (path: JsonPath, value: Quantity): void => {
    free(getIn(document, path));
    document = setIn(document, path, value) as JsonObject;
  };
  const place = (path: JsonPath): void => {
    const from = pointAt(start, path, values);
    if (from === null) return;
    const to = laid(t, from);
    for (const [i, axis] of AXES.entries()) {
      if (Math.abs(to[axis] - from[axis]) > NONE) put([...path, i], tidy(to[axis] / mm));
    }
  };
  const rectangle = (path: JsonPath): void => {
    const [a, b] = [pointAt(start, [...path, 0], values), pointAt(start, [...path, 1], values)];
    if (a === null || b === null) return;
    const [p, q] = [laid(t, a), laid(t, b)];
    for (const [i, axis] of AXES.entries()) {
      // Where the two sides only change places, as in a mirroring about the middle, both stay as they are stated.
      const swapped = Math.abs(p[axis] - b[axis]) <= NONE && Math.abs(q[axis] - a[axis]) <= NONE;
      if (swapped) continue;
      if (Math.abs(p[axis] - a[axis]) > NONE) put([...path, 0, i], tidy(p[axis] / mm));
      if (Math.abs(q[axis] - b[axis]) > NONE) put([...path, 1, i], tidy(q[axis] / mm));
    }
  };
  const polygon = (path: JsonPath, loop: readonly Point[]): void => {
    const shape = getIn(start, path);
    if (!isObject(shape) || !Array.isArray(shape.rectangle)) return;
    (shape.rectangle as readonly Json[]).flatMap((c) => (Array.isArray(c) ? c : [])).forEach(free);
    const corners = loop.map((p) => AXES.map((axis) => tidy(laid(t, p)[axis] / mm)));
    const entries = Object.entries(shape).map(([key, value]) =>
      key === 'rectangle' ? (['corners', corners] as const) : ([key, value] as const),
    );
    document = setIn(document, path, Object.fromEntries(entries)) as JsonObject;
  };
  const direction = (path: JsonPath): void => {
    const before = numberAt(start, path, values);
    if (before === null || Math.abs(turnOf(t, before)) < 1e-9) return;
    put(path, tidy(degrees(laidDirection(t, radians(before)))));
  };
  return { place, rectangle, polygon, direction, freed, document: (): JsonObject => document };
};
