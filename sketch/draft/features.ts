import { distance, type Point } from '../shape/point.ts';
import { SAME_POINT } from '../shape/tolerance.ts';
import { isObject, type Json, type JsonObject, type JsonPath } from './json.ts';
import { FEATURE_KINDS, type FeatureKind } from './new-feature.ts';
import { pointAt } from './quantity.ts';

/** A feature as it stands in a document. */
export interface Feature {
  readonly kind: FeatureKind;
  readonly index: number;
  /** The way to it in the document. */
  readonly path: JsonPath;
  readonly name: string;
  readonly value: JsonObject;
}

/** A place that a feature stands at: the way to its [x, y] in the document. */
export interface Place {
  readonly feature: string;
  readonly path: JsonPath;
}

const LONGEST_NAME = 120;

/** What an arm is called that bears no name of its own. */
export const armName = (from: Json | undefined, to: Json | undefined): string =>
  `${String(from)} – ${String(to)}`;

const nameOf = (kind: FeatureKind, value: JsonObject): string => {
  if (typeof value.name === 'string') return value.name;
  return kind === 'arms' ? armName(value.from, value.to) : '';
};

/** Every feature of a document, in the order of its lists. */
export const allFeatures = (document: JsonObject): readonly Feature[] =>
  FEATURE_KINDS.flatMap((kind) => {
    const list = document[kind];
    if (!Array.isArray(list)) return [];
    return (list as readonly Json[]).flatMap((value, index) =>
      isObject(value) ? [{ kind, index, path: [kind, index], name: nameOf(kind, value), value }] : [],
    );
  });

/** The feature of that name, or null. */
export const featureOf = (document: JsonObject, name: string): Feature | null =>
  allFeatures(document).find((f) => f.name === name) ?? null;

/** The features of these names, each once, in the order of the document; names of nothing are passed over. */
export const featuresOf = (document: JsonObject, names: Iterable<string>): readonly Feature[] => {
  const wanted = new Set(names);
  return allFeatures(document).filter((f) => wanted.has(f.name));
};

/** The features an arm runs between, where they are there. */
export const endsOfArm = (document: JsonObject, arm: Feature): readonly Feature[] =>
  [arm.value.from, arm.value.to].flatMap(
    (name) => allFeatures(document).find((f) => f.kind === 'ends' && f.name === name) ?? [],
  );

/** The places of a feature's own: where it is moved, these move. An arm has none; its ends have. */
export const placesOf = (feature: Feature): readonly Place[] => {
  const { kind, value, path, name } = feature;
  const at = (...keys: JsonPath): Place => ({ feature: name, path: [...path, ...keys] });
  switch (kind) {
    case 'ends':
    case 'holes':
      return [at('centre')];
    case 'arms':
      return [];
    case 'slots':
      return [at('from'), at('to')];
    case 'forks':
      return [at('mouth')];
    case 'plates':
      return cornersOf(value, at);
    case 'lands': {
      const { area } = value;
      if (!isObject(area)) return [];
      const inArea = (...keys: JsonPath): Place => at('area', ...keys);
      return isObject(area.disc) ? [inArea('disc', 'centre')] : cornersOf(area, inArea);
    }
  }
};

const cornersOf = (shape: JsonObject, at: (...keys: JsonPath) => Place): readonly Place[] =>
  (['rectangle', 'corners'] as const).flatMap((key) => {
    const list = shape[key];
    return Array.isArray(list) ? list.map((_, i) => at(key, i)) : [];
  });

/** Whether something can sit on an end there and belong to it: a centre, a slot's end, a fork's mouth; not a corner. */
const canBelong = (place: Place): boolean =>
  !place.path.includes('rectangle') && !place.path.includes('corners');

/** Tells of a place every other one that lies on it within a millionth of a mm, and goes where an end there goes. */
export type Company = (path: JsonPath) => readonly Place[];

/** What lies together in a document, looked up once for as many places as are asked about. */
export const companyIn = (document: JsonObject, values: ReadonlyMap<string, number>): Company => {
  const all = allFeatures(document)
    .flatMap(placesOf)
    .filter(canBelong)
    .map((place) => ({ place, key: place.path.join('/'), at: pointAt(document, place.path, values) }));
  const lieOn = (a: Point | null, b: Point): boolean => a !== null && distance(a, b) <= SAME_POINT;
  return (path) => {
    const key = path.join('/');
    const here = pointAt(document, path, values);
    if (here === null) return [];
    return all.filter((other) => other.key !== key && lieOn(other.at, here)).map((other) => other.place);
  };
};

/** What lies on one place of a document; for several places, `companyIn`. */
export const placesTogether = (
  document: JsonObject,
  path: JsonPath,
  values: ReadonlyMap<string, number>,
): readonly Place[] => companyIn(document, values)(path);

/** Every name that a feature of the document bears. */
export const namesTaken = (document: JsonObject): ReadonlySet<string> =>
  new Set(allFeatures(document).map((f) => f.name));

/** A name for something new: the word with the first number that is free, `hole 1`. */
export const freshName = (document: JsonObject, word: string): string => {
  const taken = namesTaken(document);
  for (let n = 1; ; n++) if (!taken.has(numbered(word, n))) return numbered(word, n);
};

/** A name for a copy: the name itself where it is free, else counted on from it: `pin`, `pin 2`, `pin 3`. */
export const copyName = (taken: ReadonlySet<string>, name: string): string => {
  if (!taken.has(name)) return name;
  const counted = /^(.*\S) (\d{1,6})$/.exec(name);
  const word = counted?.[1] ?? name;
  for (let n = counted ? Number(counted[2]) + 1 : 2; ; n++) {
    if (!taken.has(numbered(word, n))) return numbered(word, n);
  }
};

const numbered = (word: string, n: number): string => {
  const tail = ` ${n}`;
  return `${word.slice(0, LONGEST_NAME - tail.length)}${tail}`;
};
