import { readPart } from '../part/document.ts';
import { isDimensionName } from '../part/formula.ts';
import { quoted } from '../part/names.ts';
import { allFeatures, armName, featureOf } from './features.ts';
import { mapQuantities, renameInFormula } from './formulas.ts';
import { isObject, type Json, type JsonObject, setIn } from './json.ts';
import { renameInRoute } from './route-names.ts';

/** A changed document, or why it was not changed. */
export type Renamed =
  | { readonly ok: true; readonly document: JsonObject }
  | { readonly ok: false; readonly message: string };

const no = (message: string): Renamed => ({ ok: false, message });

/**
 * A feature under another name. Arms follow the ends they run between, and the file's own route follows where a job
 * step is made for this feature alone. An arm given the name it would have anyway loses its own.
 */
export const renameFeature = (document: JsonObject, from: string, to: string): Renamed => {
  const feature = featureOf(document, from);
  if (feature === null) return no(`Nothing is called ${quoted(from)}.`);
  if (from === to) return { ok: true, document };
  if (!/\S/.test(to)) return no('A name needs at least one letter.');
  if (to.length > 120) return no('A name may have at most 120 characters.');
  const value = named(feature.value, feature.kind === 'arms' ? to : null, to);
  let next = setIn(renameInRoute(document, feature, to), feature.path, value) as JsonObject;
  if (feature.kind === 'ends') {
    for (const arm of allFeatures(document).filter((f) => f.kind === 'arms')) {
      for (const key of ['from', 'to'] as const) {
        if (arm.value[key] === from) next = setIn(next, [...arm.path, key], to) as JsonObject;
      }
    }
  }
  const names = allFeatures(next).map((f) => f.name);
  const twice = names.find((n, i) => names.indexOf(n) !== i);
  if (twice !== undefined) return no(`There is something called ${quoted(twice)} already.`);
  return { ok: true, document: next };
};

/** A feature with its name; the name of an arm is left out when it says no more than the arm does. */
const named = (value: JsonObject, arm: string | null, to: string): JsonObject => {
  if (arm === null || Object.hasOwn(value, 'name')) {
    if (arm === null || arm !== armName(value.from, value.to)) return { ...value, name: to };
    const { name: _, ...rest } = value;
    return rest;
  }
  return { name: to, ...value };
};

/** A named dimension under another name, in its own place; every formula that leans on it follows. */
export const renameDimension = (document: JsonObject, from: string, to: string): Renamed => {
  const stated: Json | undefined = document.dimensions;
  if (!isObject(stated) || !Object.hasOwn(stated, from)) {
    return no(`There is no dimension named ${quoted(from)}.`);
  }
  if (from === to) return { ok: true, document };
  if (!isDimensionName(to)) {
    return no(
      `A dimension cannot be named ${quoted(to)}: use a letter first, then letters, digits and underscores, ` +
        'at most 40, and none of the words a formula knows (pi, sqrt, sin …).',
    );
  }
  if (Object.hasOwn(stated, to)) return no(`There is a dimension named ${quoted(to)} already.`);
  const dimensions = Object.fromEntries(
    Object.entries(stated).map(([name, value]) => [name === from ? to : name, value]),
  );
  const next = mapQuantities({ ...document, dimensions }, (quantity) =>
    typeof quantity === 'string' ? renameInFormula(quantity, from, to) : quantity,
  );
  // A formula may have grown past the longest that is read.
  const reading = readPart(next);
  if (!reading.ok && readPart(document).ok)
    return no(reading.findings[0]?.message ?? 'It cannot be renamed.');
  return { ok: true, document: next };
};
