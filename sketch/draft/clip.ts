import type { Quantity } from '../part/dimensions.ts';
import { readPart } from '../part/document.ts';
import { jsonFault } from '../part/json.ts';
import { mmPer } from '../part/units.ts';
import type { Point } from '../shape/point.ts';
import { allFeatures, armName, copyName, type Feature, featuresOf, namesTaken } from './features.ts';
import { mapQuantities } from './formulas.ts';
import { isObject, type Json, type JsonObject, setIn } from './json.ts';
import type { Freed } from './lay.ts';
import { layFeature } from './lay.ts';
import { figureKind } from './measure.ts';
import { FEATURE_KINDS } from './new-feature.ts';
import { mmIn, namesUsed, numberAt, tidy, valuesOf } from './quantity.ts';
import { appended, type LeftOut, nowhere, type Relaid, retied } from './relay.ts';
import { isSound, shiftBy } from './rigid.ts';

const CLIP_FORMAT = 'leverwright-clip';
const CLIP_VERSION = 1;
/** Longer texts than this are no clip of ours. */
const LONGEST_TEXT = 2_000_000;

/**
 * Features taken out of a part, as plain JSON: their lists as a part file has them, in the unit they were drawn in, and
 * the values that the dimensions in their formulas had.
 */
export type Clip = JsonObject;

export type ClipReading =
  | { readonly ok: true; readonly clip: Clip }
  | { readonly ok: false; readonly message: string };

/** These features as a clip. */
export const clipOf = (document: JsonObject, names: readonly string[]): Clip => {
  const features = featuresOf(document, names);
  const lists = Object.fromEntries(
    FEATURE_KINDS.flatMap((kind) => {
      const own = features.filter((f) => f.kind === kind).map((f) => f.value);
      return own.length === 0 ? [] : [[kind, own] as const];
    }),
  );
  const values = valuesOf(document);
  const used = new Set<string>();
  mapQuantities(lists, (quantity) => {
    for (const name of namesUsed(quantity)) used.add(name);
    return quantity;
  });
  const dimensions = Object.fromEntries([...values].filter(([name]) => used.has(name)));
  return { format: CLIP_FORMAT, version: CLIP_VERSION, unit: document.unit ?? 'mm', dimensions, ...lists };
};

/** A clip as text, for the clipboard. */
export const clipText = (clip: Clip): string => JSON.stringify(clip);

/** Reads whatever text the clipboard holds: never throws, and takes only what a part file could hold. */
export const readClip = (text: string): ClipReading => {
  const none: ClipReading = { ok: false, message: 'The clipboard holds no features of a part.' };
  if (text.length > LONGEST_TEXT || jsonFault(text) !== null) return none;
  const value = JSON.parse(text) as Json;
  if (!isObject(value) || value.format !== CLIP_FORMAT) return none;
  if (value.version !== CLIP_VERSION) {
    return { ok: false, message: 'The clipboard was filled by another version of Leverwright.' };
  }
  const { format: _format, version: _version, ...rest } = value;
  const reading = readPart(hostOf(rest));
  if (!reading.ok)
    return { ok: false, message: reading.findings[0]?.message ?? 'The clipboard cannot be read.' };
  // What the reader gives back holds nothing but what the schema knows.
  const read = reading.document as unknown as JsonObject;
  const lists = FEATURE_KINDS.flatMap((kind) =>
    read[kind] === undefined ? [] : [[kind, read[kind]] as const],
  );
  return {
    ok: true,
    clip: {
      format: CLIP_FORMAT,
      version: CLIP_VERSION,
      unit: reading.document.unit,
      dimensions: reading.dimensions,
      ...Object.fromEntries(lists),
    },
  };
};

/** A clip's features as a part of their own, on a bar that stands for any. */
const hostOf = (clip: JsonObject): JsonObject => ({
  format: 'leverwright-part',
  version: 1,
  name: 'Clip',
  bar: { length: 1, width: 1, thickness: 1, material: 'brass' },
  ...clip,
});

/**
 * The document with a clip's features put in, shifted by so much (mm), under fresh names. Formulas stay where the
 * document has their dimensions at the same values and the shift leaves them; others become numbers. An arm is tied to
 * the pasted ends, and left out where they are not both in the clip.
 */
export const pasteClip = (document: JsonObject, clip: Clip, shift: Point): Relaid => {
  if (!isSound(shiftBy(shift))) return nowhere;
  const { format: _format, version: _version, ...rest } = clip;
  const settled = settledIn(document, hostOf(rest));
  const values = valuesOf(document);
  const taken = new Set(namesTaken(document));
  const tied = new Map<Json | undefined, string>();
  const names: string[] = [];
  const freed: Freed[] = [...settled.freed];
  const leftOut: LeftOut[] = [];
  let next = document;
  for (const feature of allFeatures(settled.host)) {
    const { kind, name } = feature;
    const [from, to] = [tied.get(feature.value.from), tied.get(feature.value.to)];
    if (kind === 'arms' && (from === undefined || to === undefined)) {
      leftOut.push({ feature: name, why: 'its ends were not copied with it' });
      continue;
    }
    const plain = layInto(document, feature, shift, values);
    freed.push(...plain.freed);
    const value: JsonObject =
      kind === 'arms'
        ? retied(plain.value, from!, to!, taken)
        : { ...plain.value, name: copyName(taken, name) };
    const named = typeof value.name === 'string' ? value.name : armName(value.from, value.to);
    taken.add(named);
    names.push(named);
    if (kind === 'ends') tied.set(name, named);
    next = appended(next, feature, value);
  }
  return { ok: true, document: next, names, freed, leftOut };
};

/** A feature of the clip as it lies in the document once it is shifted. */
const layInto = (
  document: JsonObject,
  feature: Feature,
  shift: Point,
  values: ReadonlyMap<string, number>,
): { readonly value: JsonObject; readonly freed: readonly Freed[] } => {
  // Laid as the only one of its kind in the document, so that its paths lead to itself.
  const path = [feature.kind, 0];
  const alone = setIn({ ...document, [feature.kind]: [] }, path, feature.value) as JsonObject;
  return layFeature(alone, { ...feature, path, index: 0 }, shiftBy(shift), values);
};

/** A clip's features in the document's unit, with only such formulas as mean the same in the document. */
const settledIn = (
  document: JsonObject,
  host: JsonObject,
): { readonly host: JsonObject; readonly freed: readonly Freed[] } => {
  const there = valuesOf(host);
  const here = valuesOf(document);
  const per = mmPer(host.unit === 'inch' ? 'inch' : 'mm') / mmIn(document);
  const freed: Freed[] = [];
  const alike = (name: string): boolean =>
    Math.abs((here.get(name) ?? Number.NaN) - (there.get(name) ?? Number.NaN)) <= 1e-9;
  const settled = mapQuantities(host, (quantity, path): Quantity => {
    const [kind, index] = path;
    if (kind === 'dimensions' || kind === 'bar') return quantity;
    const names = [...namesUsed(quantity)];
    const isLength = figureKind(path) === 'length';
    if (typeof quantity === 'string' && (per === 1 || !isLength) && names.every(alike)) return quantity;
    const value = numberAt(host, path, there);
    if (value === null) return quantity;
    if (names.length > 0) {
      const feature = allFeatures(host).find((f) => f.kind === kind && f.index === index);
      freed.push({ feature: feature?.name ?? '', formula: String(quantity) });
    }
    return per === 1 && typeof quantity === 'number' ? quantity : tidy(isLength ? value * per : value);
  });
  return { host: settled, freed };
};
