import type { Quantity } from '../part/dimensions.ts';
import { readPart } from '../part/document.ts';
import { isDimensionName } from '../part/formula.ts';
import { quoted } from '../part/names.ts';
import { degrees, plain } from '../part/units.ts';
import { angleOf, distance, type Point, subtract } from '../shape/point.ts';
import type { Driven } from './drive.ts';
import { placesTogether } from './features.ts';
import { getIn, type JsonObject, type JsonPath, setIn } from './json.ts';
import { coordinatesOf, type Measure, type MeasuredPlace, measuredValue, pointOf } from './measure.ts';
import {
  AXES,
  type Axis,
  isQuantity,
  isTied,
  mmIn,
  numberAt,
  statedDimensions,
  tidy,
  valuesOf,
} from './quantity.ts';

/** Nearer than this, mm, two places lie level or upright of each other. */
const LEVEL = 1e-6;

const no = (message: string): Driven => ({ ok: false, message });

/** What is to be written where, beside the new dimension's own value or formula. */
interface Naming {
  readonly dimension: Quantity;
  readonly formulas: readonly (readonly [JsonPath, string])[];
}

/**
 * A measure made a named dimension, which drives from then on what was measured: a figure becomes its name, and of two
 * places the second (or, where that is held by a formula, the first) is stated from the other one by it, along with
 * what belongs to it. A figure's own formula becomes the dimension's. Angles are named in degrees.
 */
export const nameMeasure = (document: JsonObject, measure: Measure, name: string): Driven => {
  if (!isDimensionName(name)) {
    return no(
      `A dimension cannot be named ${quoted(name)}: use a letter first, then letters, digits and underscores.`,
    );
  }
  if (statedDimensions(document).has(name)) return no(`There is a dimension named ${quoted(name)} already.`);
  const now = measuredValue(document, measure);
  if (now === null) return no('There is nothing here to measure.');
  const naming = namingOf(document, measure, name, now);
  if (typeof naming === 'string') return no(naming);
  const next = naming.formulas.reduce<JsonObject>(
    (d, [path, formula]) => setIn(d, path, formula) as JsonObject,
    setIn(document, ['dimensions', name], naming.dimension) as JsonObject,
  );
  const reading = readPart(next);
  if (!reading.ok) return no(reading.findings[0]?.message ?? 'It cannot be named so.');
  const value = reading.dimensions[name] ?? Number.NaN;
  return {
    ok: true,
    document: next,
    changed: [`${quoted(name)} is ${plain(value, 6)}, and drives this now.`],
  };
};

/** What naming takes, or why it cannot be. */
const namingOf = (document: JsonObject, measure: Measure, name: string, now: number): Naming | string => {
  switch (measure.kind) {
    case 'overall':
      return 'An overall size follows from several features: name what it follows from.';
    case 'field':
      return namingOfFigure(document, measure.path, measure.factor, name);
    case 'between':
      return (
        namingFrom(document, measure.from, measure.to, measure.along, name, now) ??
        namingFrom(document, measure.to, measure.from, measure.along, name, now) ??
        'Both places are held by formulas already: name a dimension in those.'
      );
    case 'angle':
      return (
        namingOfAngle(document, measure, name, now) ??
        'The place that would turn is held by formulas already: name a dimension in those.'
      );
  }
};

const namingOfFigure = (
  document: JsonObject,
  path: JsonPath,
  factor: number,
  name: string,
): Naming | string => {
  const quantity = getIn(document, path);
  const value = numberAt(document, path, valuesOf(document));
  if (!isQuantity(quantity) || value === null || factor === 0) return 'There is no figure here to name.';
  const formula = factor === 1 ? name : factor === -1 ? `-${name}` : `${name}/${factor}`;
  const times = factor === 1 ? String(quantity) : `(${quantity})*${factor}`;
  return { dimension: isTied(quantity) ? times : tidy(value * factor), formulas: [[path, formula]] };
};

/** The second place stated from the first; null where it is held by a formula, or where there is no way between. */
const namingFrom = (
  document: JsonObject,
  first: MeasuredPlace,
  second: MeasuredPlace,
  along: Axis | 'straight',
  name: string,
  now: number,
): Naming | null => {
  const from = pointOf(document, first);
  const to = pointOf(document, second);
  if (from === null || to === null || now <= LEVEL) return null;
  const way = subtract(to, from);
  const axis =
    along !== 'straight' ? along : Math.abs(way.y) <= LEVEL ? 'x' : Math.abs(way.x) <= LEVEL ? 'y' : null;
  const lean = plain(degrees(angleOf(way)), 6);
  const terms: Partial<Record<Axis, string>> =
    axis !== null
      ? { [axis]: way[axis] < 0 ? `- ${name}` : `+ ${name}` }
      : { x: `+ ${name}*cos(${lean})`, y: `+ ${name}*sin(${lean})` };
  const formulas = stated(document, first, from, second, terms);
  return formulas && { dimension: tidy(now / mmIn(document)), formulas };
};

/** The far end of the second leg stated from the vertex, at the length that the leg has now. */
const namingOfAngle = (
  document: JsonObject,
  { vertex, from, to }: Extract<Measure, { kind: 'angle' }>,
  name: string,
  now: number,
): Naming | null => {
  const [at, start, end] = [
    pointOf(document, vertex),
    from && pointOf(document, from),
    pointOf(document, to),
  ];
  if (at === null || end === null) return null;
  const lean = start ? plain(degrees(angleOf(subtract(start, at))), 6) : '0';
  const angle = lean === '0' ? name : `${lean} + ${name}`;
  const leg = plain(distance(at, end) / mmIn(document), 6);
  const formulas = stated(document, vertex, at, to, {
    x: `+ ${leg}*cos(${angle})`,
    y: `+ ${leg}*sin(${angle})`,
  });
  return formulas && { dimension: tidy(degrees(now)), formulas };
};

/** A place's coordinates, and those of what belongs to it, as another's with a signed term to each. */
const stated = (
  document: JsonObject,
  first: MeasuredPlace,
  from: Point,
  second: MeasuredPlace,
  terms: Readonly<Partial<Record<Axis, string>>>,
): Naming['formulas'] | null => {
  const values = valuesOf(document);
  const base = coordinatesOf(document, first, values);
  const paths = coordinatesOf(document, second, values);
  if (paths === null) return null;
  const free = (path: JsonPath): boolean => {
    const quantity = getIn(document, path);
    return isQuantity(quantity) && !isTied(quantity);
  };
  const together =
    typeof second.point === 'number'
      ? []
      : placesTogether(document, paths.x.slice(0, -1), values).map((place) => place.path);
  const formulas: (readonly [JsonPath, string])[] = [];
  for (const [index, axis] of AXES.entries()) {
    const term = terms[axis];
    if (term === undefined) continue;
    if (!free(paths[axis])) return null;
    const start = base === null ? tidy(from[axis] / mmIn(document)) : getIn(document, base[axis]);
    const formula = sum(isQuantity(start) ? start : 0, term);
    formulas.push([paths[axis], formula]);
    for (const path of together) {
      if (free([...path, index])) formulas.push([[...path, index], formula]);
    }
  }
  return formulas;
};

/** A quantity and a term with its sign before it. */
const sum = (start: Quantity, term: string): string => {
  if (start !== 0) return `${start} ${term}`;
  return term.startsWith('+ ') ? term.slice(2) : term.replace('- ', '-');
};
