import type { Quantity } from '../part/dimensions.ts';
import { type Term, termText } from '../part/formula-tree.ts';
import { quoted } from '../part/names.ts';
import { plain } from '../part/units.ts';
import { allFeatures } from './features.ts';
import { mapQuantities } from './formulas.ts';
import type { JsonObject, JsonPath } from './json.ts';
import { figureKind } from './measure.ts';
import { isTied, numberAt, statedDimensions, tidy, valuesOf } from './quantity.ts';
import { learnAngles, learnFrom, type Powers, powerOf, scaled, treeOf } from './scaling.ts';

export type Enlarged =
  | {
      readonly ok: true;
      readonly document: JsonObject;
      /** Formulas that had to become numbers, since no formula of that kind gives a length at every scale. */
      readonly worked: readonly { readonly path: JsonPath; readonly formula: string }[];
      /** What stayed as it was, in sentences. */
      readonly kept: readonly string[];
    }
  | { readonly ok: false; readonly message: string };

export interface EnlargeOptions {
  /** Keeps the bar's thickness, and with it every height and depth. */
  readonly keepThickness?: boolean;
}

/** Further from the same size than this no drawing goes in one step. */
const LARGEST_SCALE = 1000;

/**
 * The whole part at another scale: every length times `scale`. Named dimensions are scaled by what they are (a length,
 * an angle, a count), which is read off the formulas they stand in; the formulas stay, bare lengths in them scaled.
 * Threads with their tap drills, angles, shares, counts, the least wall and the route stay as they are.
 */
export const enlargePart = (
  document: JsonObject,
  scale: number,
  { keepThickness = false }: EnlargeOptions = {},
): Enlarged => {
  if (!(scale >= 1 / LARGEST_SCALE && scale <= LARGEST_SCALE)) {
    return { ok: false, message: `A scale from ${1 / LARGEST_SCALE} to ${LARGEST_SCALE} is wanted.` };
  }
  if (scale === 1) return { ok: true, document, worked: [], kept: keptIn(document, new Map()) };
  const powers = powersIn(document, keepThickness);
  const values = valuesOf(document);
  const worked: { path: JsonPath; formula: string }[] = [];
  const next = mapQuantities(document, (quantity, path): Quantity => {
    const name = path[0] === 'dimensions' ? String(path[1]) : null;
    const power = name === null ? powerAt(path, keepThickness) : (powers.get(name) ?? 0);
    if (typeof quantity === 'number') return power === 0 ? quantity : tidy(quantity * scale ** power);
    const tree = treeOf(quantity);
    const now = tree && scaled(tree, power, scale, powers);
    if (now !== null && now === tree) return quantity;
    const value = numberAt(document, path, values);
    if (now !== null && isTied(quantity)) return termText(now);
    if (value === null) return quantity;
    if (isTied(quantity)) worked.push({ path, formula: quantity });
    else if (now !== null && isNeat(now)) return termText(now);
    return tidy(value * scale ** power);
  });
  return { ok: true, document: next, worked, kept: keptIn(document, powers) };
};

/**
 * The scale at which a named dimension comes to a value in the document's unit; null for one that is no length, and
 * where no scale leads there.
 */
export const scaleFor = (document: JsonObject, name: string, wanted: number): number | null => {
  const now = valuesOf(document).get(name);
  const scale = now === undefined ? Number.NaN : wanted / now;
  return powersIn(document, false).get(name) === 1 && scale > 0 && Number.isFinite(scale) ? scale : null;
};

/** Whether a fraction is still one of whole numbers. */
const isNeat = (term: Term): boolean =>
  term.kind === 'two' &&
  term.sign === '/' &&
  [term.left, term.right].every((t) => t.kind === 'number' && Number.isInteger(tidy(t.value)));

/** Heights and depths, which stay with the thickness of the bar. */
const isHeight = (path: JsonPath): boolean => {
  const [kind, key] = [path[0], path.at(-1)];
  if (kind === 'bar') return key === 'thickness';
  if (kind === 'lands') return path.length === 3 && (key === 'top' || key === 'bottom');
  return (
    (kind === 'holes' && (key === 'depth' || key === 'boreDepth')) || (kind === 'slots' && key === 'depth')
  );
};

/** The power of the scale that a figure of the part grows with. */
const powerAt = (path: JsonPath, keepThickness: boolean): number => {
  if (figureKind(path) !== 'length' || isFixed(path)) return 0;
  return keepThickness && isHeight(path) ? 0 : 1;
};

/** A tap drill goes with its thread; the least wall is what can be cut, at any scale. */
const isFixed = (path: JsonPath): boolean =>
  path[0] === 'leastWall' || (path[0] === 'holes' && path.at(-1) === 'drill');

/**
 * What each named dimension is, read off its uses: first those that can only be angles, then those that stand for
 * lengths, then those that only stand where nothing is scaled.
 */
const powersIn = (document: JsonObject, keepThickness: boolean): Powers => {
  const powers = new Map<string, number>();
  const stated = statedDimensions(document);
  const formulas = new Map<string, Term>();
  for (const [name, own] of stated) {
    const tree = typeof own === 'string' ? treeOf(own) : null;
    if (tree !== null) formulas.set(name, tree);
  }
  const uses: { readonly tree: Term; readonly path: JsonPath }[] = [];
  mapQuantities(document, (quantity, path) => {
    const tree = typeof quantity === 'string' && path[0] !== 'dimensions' ? treeOf(quantity) : null;
    if (tree !== null) uses.push({ tree, path });
    return quantity;
  });
  const learn = (name: string, power: number): void => {
    if (stated.has(name) && !powers.has(name)) powers.set(name, power);
  };
  /** What follows from what is known: down into the formulas of dimensions, and up from them. */
  const settle = (which: readonly { readonly tree: Term; readonly path: JsonPath }[]): void => {
    for (let before = -1; before < powers.size; ) {
      before = powers.size;
      for (const { tree, path } of which) learnFrom(tree, powerAt(path, keepThickness), powers, learn);
      for (const [name, tree] of formulas) {
        const own = powers.get(name);
        if (own !== undefined) learnFrom(tree, own, powers, learn);
        const power = powerOf(tree, powers);
        if (own === undefined && typeof power === 'number') learn(name, power);
      }
    }
  };
  for (const tree of [...formulas.values(), ...uses.map((u) => u.tree)]) learnAngles(tree, powers, learn);
  settle(uses.filter((u) => figureKind(u.path) !== 'length'));
  settle(uses.filter((u) => powerAt(u.path, keepThickness) !== 0));
  settle(uses);
  // What cannot be told stays, and formulas over it are written so that they come out right all the same.
  for (const name of stated.keys()) learn(name, 0);
  return powers;
};

/** What a part at another scale still has as it was. */
const keptIn = (document: JsonObject, powers: Powers): readonly string[] => [
  ...allFeatures(document).flatMap(({ kind, name, value }) => {
    if (kind !== 'holes' || value.purpose !== 'tapped') return [];
    const drill = value.drill === undefined ? '' : ' with its tap drill';
    return [`The thread ${String(value.thread)} of ${quoted(name)} stays${drill}.`];
  }),
  ...[...statedDimensions(document)].flatMap(([name, own]) => {
    if (isTied(own) || (powers.get(name) ?? 0) !== 0) return [];
    const shown = typeof own === 'number' ? plain(own, 6) : own;
    return [`The dimension ${quoted(name)} stays at ${shown}: it is no length that grows with the part.`];
  }),
  ...(document.leastWall === undefined ? [] : ['The least wall stays as it is.']),
  ...(document.route === undefined ? [] : ['The route’s own lengths stay as they are.']),
];
