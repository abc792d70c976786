import { quoted } from '../part/names.ts';
import { lengthText, plain } from '../part/units.ts';
import { dot, type Point, subtract } from '../shape/point.ts';
import { freeDimensions, settingsFor } from './drive-dimensions.ts';
import { overallReaches, type Reach, reaches } from './drive-places.ts';
import { getIn, isObject, type JsonObject, type JsonPath, setIn } from './json.ts';
import { figureKind, type Measure, measuredValue, perFigure, pointOf, withinHalfTurn } from './measure.ts';
import { isQuantity, isTied, mmIn, statedDimensions, tidy } from './quantity.ts';

/** What came of giving a measure a value. */
export type Driven =
  | {
      readonly ok: true;
      readonly document: JsonObject;
      /** What is different now, in sentences. */
      readonly changed: readonly string[];
    }
  | {
      readonly ok: false;
      readonly message: string;
      /** The named dimensions of which each alone could bring it about: one is to be chosen (`through`). */
      readonly ask?: readonly string[];
    };

/** A measure this near to what is wanted, mm or radians, is what is wanted. */
const SAME = 1e-9;

const no = (message: string): Driven => ({ ok: false, message });

/**
 * The document in which a measure has another value: mm, or radians for an angle.
 *
 * A figure that is a number is set. One that is a formula stays, and the named dimension that it leans on is set, as it
 * must be; where several could bring it about, `ask` names them and `through` says which. Of two places the second is
 * moved, along the line, with what belongs to it; where formulas hold it these are tried, and then the first place.
 */
export const drive = (document: JsonObject, measure: Measure, value: number, through?: string): Driven => {
  const now = measuredValue(document, measure);
  if (now === null) return no('There is nothing here to measure.');
  if (!Number.isFinite(value)) return no('A finite number is wanted.');
  if (value < 0 && (measure.kind === 'between' || measure.kind === 'overall')) {
    return no('A distance cannot be negative.');
  }
  if (Math.abs(offBy(measure, now, value)) <= SAME) return { ok: true, document, changed: [] };
  if (through !== undefined) return byChosen(document, measure, value, through);
  switch (measure.kind) {
    case 'field':
      return driveFigure(document, measure, value);
    case 'between':
    case 'angle':
      return drivePlaces(document, measure, value);
    case 'overall':
      return (
        byDimensions(document, measure, value, [...statedDimensions(document).keys()]) ??
        moved(document, measure, value, overallReaches(document, measure.along, value - now)) ??
        no('This size follows from several features: change one of them, or the distance between two.')
      );
  }
};

/** How far a measure is from what is wanted, mm or radians. */
const offBy = (measure: Measure, now: number, wanted: number): number =>
  measure.kind === 'angle' ? withinHalfTurn(now - wanted) : now - wanted;

/** The same for a trial: places that have changed sides are as far off as they are apart, and do not count as reached. */
const offIn = (document: JsonObject, measure: Measure, wanted: number) => {
  const spanIn = (d: JsonObject): Point | null => {
    const from = measure.kind === 'between' ? pointOf(d, measure.from) : null;
    const to = measure.kind === 'between' ? pointOf(d, measure.to) : null;
    if (measure.kind !== 'between' || from === null || to === null) return null;
    const span = subtract(to, from);
    return measure.along === 'straight' ? span : { x: 0, y: 0, [measure.along]: span[measure.along] };
  };
  const before = spanIn(document);
  return (trial: JsonObject): number | null => {
    const now = measuredValue(trial, measure);
    const span = spanIn(trial);
    const sides = before !== null && span !== null && dot(before, span) < 0 ? -1 : 1;
    return now === null ? null : offBy(measure, sides * now, wanted);
  };
};

/** By whichever one of the named dimensions can; null when none can. */
const byDimensions = (
  document: JsonObject,
  measure: Measure,
  value: number,
  quantities: readonly (string | number)[],
): Driven | null => {
  const names = freeDimensions(document, quantities);
  const { found, refusal } = settingsFor(document, names, offIn(document, measure, value));
  const [first, second] = found;
  if (first === undefined) return refusal === null ? null : no(refusal);
  if (second === undefined) return { ok: true, document: first.document, changed: [first.changed] };
  const ask = found.map((f) => f.name);
  return { ok: false, message: `${ask.map(quoted).join(' or ')} can bring this about: choose one.`, ask };
};

const byChosen = (document: JsonObject, measure: Measure, value: number, name: string): Driven => {
  const own = statedDimensions(document).get(name);
  if (own === undefined) return no(`There is no dimension named ${quoted(name)}.`);
  if (isTied(own)) return no(`${quoted(name)} follows from the formula ${quoted(String(own))}.`);
  return byDimensions(document, measure, value, [name]) ?? no(`${quoted(name)} cannot bring this about.`);
};

const driveFigure = (
  document: JsonObject,
  measure: Extract<Measure, { kind: 'field' }>,
  value: number,
): Driven => {
  const { path, factor } = measure;
  const quantity = getIn(document, path);
  if (!isQuantity(quantity) || factor === 0) return no('There is no figure here to set.');
  if (isTied(quantity)) {
    return (
      byDimensions(document, measure, value, [quantity]) ??
      no(`It follows from ${quoted(String(quantity))}, and no one dimension in it can bring this about.`)
    );
  }
  const figure = tidy(value / factor / perFigure(document, path));
  return {
    ok: true,
    document: setIn(document, path, figure) as JsonObject,
    changed: [`${figureName(document, path)} is ${figureText(document, path, figure)} now.`],
  };
};

/** “The corner radius of “block””. */
const figureName = (document: JsonObject, path: JsonPath): string => {
  const words = String(path.findLast((key) => typeof key === 'string')).replace(/[A-Z]/g, ' $&');
  if (path[0] === 'bar') return `The bar’s ${words}`;
  const feature = getIn(document, path.slice(0, 2));
  const name = isObject(feature) && typeof feature.name === 'string' ? ` of ${quoted(feature.name)}` : '';
  return `The ${words.toLowerCase()}${name}`;
};

const figureText = (document: JsonObject, path: JsonPath, figure: number): string => {
  switch (figureKind(path)) {
    case 'length':
      return lengthText(figure * perFigure(document, path), document.unit === 'inch' ? 'inch' : 'mm');
    case 'direction':
      return `${plain(figure, 3)}°`;
    case 'share':
      return plain(figure, 3);
  }
};

/** One place or another moved to where the measure is what is wanted, or a dimension set that holds it. */
const drivePlaces = (
  document: JsonObject,
  measure: Extract<Measure, { kind: 'between' | 'angle' }>,
  value: number,
): Driven => {
  const ways = reaches(document, measure, value);
  for (const way of ways) {
    const driven =
      way.formulas.length === 0
        ? moved(document, measure, value, [way])
        : byDimensions(document, measure, value, way.formulas);
    if (driven !== null) return driven;
  }
  const formulas = [...new Set(ways.flatMap((way) => way.formulas))].map(quoted).join(', ');
  return no(
    formulas === ''
      ? 'Neither place can be moved so: they lie on each other, or move together.'
      : `A place is held by ${formulas}, and no one dimension in it can bring this about.`,
  );
};

/** The first way that does bring it about: what goes along with a moved place may spoil it. */
const moved = (
  document: JsonObject,
  measure: Measure,
  value: number,
  ways: readonly Reach[],
): Driven | null => {
  for (const way of ways) {
    const now = way.formulas.length === 0 ? measuredValue(way.document, measure) : null;
    if (now !== null && Math.abs(offBy(measure, now, value)) <= writtenIn(document)) {
      return { ok: true, document: way.document, changed: way.changed };
    }
  }
  return null;
};

/** Numbers are written to six decimals; what comes of two of them may be off by a little more, mm or radians. */
const writtenIn = (document: JsonObject): number => 4e-6 * mmIn(document);
