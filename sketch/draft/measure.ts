import { turningArea } from '../part/corners.ts';
import { readPart } from '../part/document.ts';
import { outlineBox } from '../part/outline.ts';
import { radians } from '../part/units.ts';
import { add, angleOf, distance, type Point, polar, subtract } from '../shape/point.ts';
import { featureOf } from './features.ts';
import { getIn, isObject, type JsonObject, type JsonPath } from './json.ts';
import { type Axis, mmIn, numberAt, pointAt, valuesOf } from './quantity.ts';

/**
 * A place that is measured to: a feature's centre, an end of a slot, a fork's mouth or the middle of its root, or a
 * corner by its number as the part has it: anticlockwise, those of a rectangle from the lower left.
 */
export interface MeasuredPlace {
  readonly feature: string;
  readonly point: 'centre' | 'from' | 'to' | 'mouth' | 'root' | number;
}

/** A measure of a part, which can be read off and, by `drive`, be given another value. */
export type Measure =
  /** The distance of two places, mm: across (x), up (y), or as they lie to each other. Never negative. */
  | {
      readonly kind: 'between';
      readonly from: MeasuredPlace;
      readonly to: MeasuredPlace;
      readonly along: Axis | 'straight';
    }
  /**
   * One figure of the document times a factor (2 for a radius shown as diameter): mm; radians where it is a direction;
   * a share as it is.
   */
  | { readonly kind: 'field'; readonly path: JsonPath; readonly factor: number }
  /**
   * The angle at a place from one leg to another, radians, anticlockwise positive, within half a turn either way; from
   * the level, to the right, where `from` is null.
   */
  | {
      readonly kind: 'angle';
      readonly vertex: MeasuredPlace;
      readonly from: MeasuredPlace | null;
      readonly to: MeasuredPlace;
    }
  /** The outline's size across (x) or up (y), mm. */
  | { readonly kind: 'overall'; readonly along: Axis };

/** What a figure of the document is: a length is written in the file's unit, a direction in degrees. */
export const figureKind = (path: JsonPath): 'length' | 'direction' | 'share' => {
  const key = path.at(-1);
  return key === 'direction' ? 'direction' : key === 'engagement' ? 'share' : 'length';
};

/** Mm, radians or a share in one of the figure as it is written at that path. */
export const perFigure = (document: JsonObject, path: JsonPath): number => {
  switch (figureKind(path)) {
    case 'length':
      return mmIn(document);
    case 'direction':
      return radians(1);
    case 'share':
      return 1;
  }
};

/** The ways to the two figures of the document that decide a place; null where no two do: a root, or no such place. */
export const coordinatesOf = (
  document: JsonObject,
  { feature, point }: MeasuredPlace,
  values: ReadonlyMap<string, number> = valuesOf(document),
): Readonly<Record<Axis, JsonPath>> | null => {
  const found = featureOf(document, feature);
  if (found === null) return null;
  const area = isObject(found.value.area) ? found.value.area : null;
  const path = area === null ? found.path : [...found.path, 'area'];
  if (typeof point === 'number') return cornerCoordinates(document, path, point, values);
  const place = area !== null && point === 'centre' ? [...path, 'disc', 'centre'] : [...found.path, point];
  // In arms and holes `from` and `to` are words.
  return Array.isArray(getIn(document, place)) ? { x: [...place, 0], y: [...place, 1] } : null;
};

const cornerCoordinates = (
  document: JsonObject,
  path: JsonPath,
  index: number,
  values: ReadonlyMap<string, number>,
): Readonly<Record<Axis, JsonPath>> | null => {
  const corners = getIn(document, [...path, 'corners']);
  if (Array.isArray(corners)) {
    if (index >= corners.length) return null;
    const points = corners.map((_, i) => pointAt(document, [...path, 'corners', i], values));
    const known = points.filter((p) => p !== null);
    const turned = known.length === points.length && turningArea(known) < 0;
    const place = [...path, 'corners', turned ? corners.length - 1 - index : index];
    return { x: [...place, 0], y: [...place, 1] };
  }
  const at = (i: number): JsonPath => [...path, 'rectangle', i];
  const [a, b] = [pointAt(document, at(0), values), pointAt(document, at(1), values)];
  if (a === null || b === null || index > 3) return null;
  const right = index === 1 || index === 2;
  const high = index >= 2;
  return {
    x: [...at(a.x <= b.x === right ? 1 : 0), 0],
    y: [...at(a.y <= b.y === high ? 1 : 0), 1],
  };
};

/** Where a place lies, mm, or null when there is no such place. */
export const pointOf = (
  document: JsonObject,
  place: MeasuredPlace,
  values: ReadonlyMap<string, number> = valuesOf(document),
): Point | null => {
  if (place.point === 'root') {
    const fork = featureOf(document, place.feature);
    if (fork?.kind !== 'forks') return null;
    const mouth = pointAt(document, [...fork.path, 'mouth'], values);
    const direction = numberAt(document, [...fork.path, 'direction'], values);
    const depth = numberAt(document, [...fork.path, 'depth'], values);
    if (mouth === null || direction === null || depth === null) return null;
    return add(mouth, polar({ x: 0, y: 0 }, depth * mmIn(document), radians(direction)));
  }
  const paths = coordinatesOf(document, place, values);
  if (paths === null) return null;
  const x = numberAt(document, paths.x, values);
  const y = numberAt(document, paths.y, values);
  const mm = mmIn(document);
  return x === null || y === null ? null : { x: x * mm, y: y * mm };
};

/** What a measure comes to: mm, or radians for an angle. Null when the document has not what it measures. */
export const measuredValue = (document: JsonObject, measure: Measure): number | null => {
  const values = valuesOf(document);
  switch (measure.kind) {
    case 'field': {
      const value = numberAt(document, measure.path, values);
      return value === null ? null : value * measure.factor * perFigure(document, measure.path);
    }
    case 'between': {
      const from = pointOf(document, measure.from, values);
      const to = pointOf(document, measure.to, values);
      if (from === null || to === null) return null;
      return measure.along === 'straight'
        ? distance(from, to)
        : Math.abs(to[measure.along] - from[measure.along]);
    }
    case 'angle': {
      const vertex = pointOf(document, measure.vertex, values);
      const from = measure.from && pointOf(document, measure.from, values);
      const to = pointOf(document, measure.to, values);
      if (vertex === null || to === null || (measure.from !== null && from === null)) return null;
      const start = from ? angleOf(subtract(from, vertex)) : 0;
      return withinHalfTurn(angleOf(subtract(to, vertex)) - start);
    }
    case 'overall': {
      const reading = readPart(document);
      const box = reading.ok ? outlineBox(reading.part) : null;
      return box && box.max[measure.along] - box.min[measure.along];
    }
  }
};

/** An angle, radians, within half a turn either way. */
export const withinHalfTurn = (angle: number): number =>
  angle - 2 * Math.PI * Math.round(angle / (2 * Math.PI));
