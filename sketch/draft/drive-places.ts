import { readPart } from '../part/document.ts';
import { quoted } from '../part/names.ts';
import { outlineBox } from '../part/outline.ts';
import { lengthText, radians } from '../part/units.ts';
import { add, cross, distance, dot, type Point, polar, scale, subtract } from '../shape/point.ts';
import { allFeatures, featureOf, placesTogether } from './features.ts';
import { getIn, type JsonObject, setIn } from './json.ts';
import { coordinatesOf, type Measure, type MeasuredPlace, measuredValue, pointOf } from './measure.ts';
import { type Held, movePlaces } from './move.ts';
import { AXES, type Axis, isQuantity, isTied, mmIn, numberAt, tidy, valuesOf } from './quantity.ts';

/** A place and what it takes to bring it somewhere: a document in which it is there, or the formulas that hold it. */
export interface Reach {
  /** The formulas that hold it, none when it can be moved. */
  readonly formulas: readonly string[];
  readonly document: JsonObject;
  /** What was moved, in sentences. */
  readonly changed: readonly string[];
}

/** Nearer than this, mm, a place is where it should be. */
const THERE = 1e-9;
const ORIGIN: Point = { x: 0, y: 0 };

/** The ways to give a measure between places a value, the preferred one first: the second place moves, or the first. */
export const reaches = (
  document: JsonObject,
  measure: Extract<Measure, { kind: 'between' | 'angle' }>,
  value: number,
): readonly Reach[] => {
  const from = measure.from && pointOf(document, measure.from);
  const to = pointOf(document, measure.to);
  if (to === null) return [];
  if (measure.kind === 'angle') {
    const vertex = pointOf(document, measure.vertex);
    const more = value - (measuredValue(document, measure) ?? value);
    if (vertex === null) return [];
    return [
      reach(document, measure.to, turned(to, vertex, more)),
      ...(measure.from && from ? [reach(document, measure.from, turned(from, vertex, -more))] : []),
    ].filter((r) => r !== null);
  }
  if (from === null) return [];
  const way = wayFrom(from, to, measure.along);
  if (way === null) return [];
  const more = scale(way, value - Math.abs(dot(subtract(to, from), way)));
  return [
    reach(document, measure.to, add(to, more)),
    reach(document, measure.from, subtract(from, more)),
  ].filter((r) => r !== null);
};

/** The ways to give the outline a size: what it ends with on the far side moves, or on the near side. */
export const overallReaches = (document: JsonObject, along: Axis, more: number): readonly Reach[] => {
  const reading = readPart(document);
  const box = reading.ok ? outlineBox(reading.part) : null;
  if (!reading.ok || box === null) return [];
  const { ends, plates } = reading.part;
  return (['max', 'min'] as const).flatMap((side) => {
    const sign = side === 'max' ? 1 : -1;
    const last = (value: number): boolean => Math.abs(value - box[side][along]) < 1e-6;
    const by = (p: Point): Point => ({ ...p, [along]: p[along] + sign * more });
    const sides = [
      ...ends.map((e) =>
        last(e.centre[along] + sign * e.radius)
          ? reach(document, { feature: e.name, point: 'centre' }, by(e.centre))
          : null,
      ),
      ...plates.map((p) => {
        const side = p.corners.flatMap((c, i) => (last(c[along]) ? [[i, by(c)] as const] : []));
        return side.length === 0 ? null : reachAll(document, p.name, side);
      }),
    ].filter((r) => r !== null);
    // Where several things end together, none of them should leave the others.
    return sides.length === 1 ? sides : [];
  });
};

/** Several corners brought each to its point. */
const reachAll = (
  document: JsonObject,
  feature: string,
  corners: readonly (readonly [number, Point])[],
): Reach | null =>
  corners.reduce<Reach | null>(
    (done, [point, to]) => {
      const next = done && reach(done.document, { feature, point }, to);
      return (
        next && {
          ...next,
          formulas: [...done.formulas, ...next.formulas],
          changed: [...done.changed, ...next.changed],
        }
      );
    },
    { formulas: [], document, changed: [] },
  );

/** The way of unit length that is measured along, from the first place to the second. */
const wayFrom = (from: Point, to: Point, along: Axis | 'straight'): Point | null => {
  const span = subtract(to, from);
  if (along === 'x') return { x: span.x < 0 ? -1 : 1, y: 0 };
  if (along === 'y') return { x: 0, y: span.y < 0 ? -1 : 1 };
  const apart = distance(from, to);
  return apart <= THERE ? null : scale(span, 1 / apart);
};

const turned = (p: Point, round: Point, angle: number): Point => {
  const arm = subtract(p, round);
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  return add(round, { x: c * arm.x - s * arm.y, y: s * arm.x + c * arm.y });
};

/** A place brought to a point, mm, with what belongs to it; null where nothing can. */
const reach = (document: JsonObject, place: MeasuredPlace, to: Point): Reach | null => {
  if (place.point === 'root') return reachRoot(document, place, to);
  const values = valuesOf(document);
  const paths = coordinatesOf(document, place, values);
  const at = pointOf(document, place, values);
  if (paths === null || at === null) return null;
  const way = subtract(to, at);
  const axes = AXES.filter((axis) => Math.abs(way[axis]) > THERE);
  if (axes.length === 0) return { formulas: [], document, changed: [] };
  const formulas = axes.flatMap((axis) => formulaAt(document, paths[axis]));
  if (formulas.length > 0) return { formulas, document, changed: [] };
  if (typeof place.point === 'number') {
    const next = axes.reduce<JsonObject>(
      (d, axis) => setIn(d, paths[axis], tidy(to[axis] / mmIn(document))) as JsonObject,
      document,
    );
    return { formulas: [], document: next, changed: words(document, next, place.feature, way, []) };
  }
  const path = paths.x.slice(0, -1);
  // A hole on an end belongs to the end, and takes it along rather than leave it.
  const ends = placesTogether(document, path, values).filter(
    (other) =>
      other.path[0] === 'ends' &&
      axes.every((axis) => formulaAt(document, [...other.path, AXES.indexOf(axis)]).length === 0),
  );
  const moved = movePlaces(document, [{ feature: place.feature, path }, ...ends], way);
  const changed = words(document, moved.document, place.feature, way, moved.held);
  return { formulas: [], document: moved.document, changed };
};

const formulaAt = (document: JsonObject, path: readonly (string | number)[]): readonly string[] => {
  const quantity = getIn(document, path);
  return isQuantity(quantity) && isTied(quantity) ? [String(quantity)] : [];
};

/** The root of a fork is brought along the fork, by its depth. */
const reachRoot = (document: JsonObject, place: MeasuredPlace, to: Point): Reach | null => {
  const fork = featureOf(document, place.feature);
  const mouth = pointOf(document, { ...place, point: 'mouth' });
  if (fork === null || mouth === null) return null;
  const direction = numberAt(document, [...fork.path, 'direction'], valuesOf(document));
  if (direction === null) return null;
  const inward = polar(ORIGIN, 1, radians(direction));
  if (Math.abs(cross(inward, subtract(to, mouth))) > 1e-6) return null;
  const path = [...fork.path, 'depth'];
  const depth = dot(inward, subtract(to, mouth));
  return {
    formulas: formulaAt(document, path),
    document: setIn(document, path, tidy(depth / mmIn(document))) as JsonObject,
    changed: [`The depth of ${quoted(place.feature)} is ${say(document, depth)} now.`],
  };
};

const say = (document: JsonObject, mm: number): string =>
  lengthText(mm, document.unit === 'inch' ? 'inch' : 'mm');

/** What was moved, what went with it and what did not. */
const words = (
  before: JsonObject,
  after: JsonObject,
  name: string,
  way: Point,
  held: readonly Held[],
): readonly string[] => {
  const old = allFeatures(before);
  const others = allFeatures(after).flatMap((f, i) =>
    f.value !== old[i]?.value && f.name !== name ? [quoted(f.name)] : [],
  );
  const far = say(before, distance(ORIGIN, way));
  return [
    `${quoted(name)} moved ${far}${others.length === 0 ? '' : `, and with it ${others.join(', ')}`}.`,
    ...held.map((h) => `${quoted(h.feature)} did not move in ${h.axis}: ${quoted(h.formula)} decides that.`),
  ];
};
