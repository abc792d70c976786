import type { Quantity } from '../part/dimensions.ts';
import { readPart } from '../part/document.ts';
import { quoted } from '../part/names.ts';
import { plain } from '../part/units.ts';
import { type JsonObject, setIn } from './json.ts';
import { isTied, namesUsed, statedDimensions, tidy, valuesOf } from './quantity.ts';
import { solve } from './solve.ts';

/** The document after one named dimension was set. */
export interface Setting {
  readonly name: string;
  readonly document: JsonObject;
  readonly changed: string;
}

/** The named dimensions that quantities lean on in the end: those that are numbers themselves, in the file's order. */
export const freeDimensions = (document: JsonObject, quantities: readonly Quantity[]): readonly string[] => {
  const stated = statedDimensions(document);
  const seen = new Set<string>();
  const visit = (quantity: Quantity): void => {
    for (const name of namesUsed(quantity)) {
      const own = stated.get(name);
      if (own === undefined || seen.has(name)) continue;
      seen.add(name);
      visit(own);
    }
  };
  quantities.forEach(visit);
  return [...stated].flatMap(([name, own]) => (seen.has(name) && !isTied(own) ? [name] : []));
};

/** Numbers are written to six decimals; what a part makes of them may be off by a little more, mm or radians. */
const WRITTEN = 1e-4;

/**
 * Each of these dimensions, set so that `off` comes to nought, where it can be and the part is still one that can be
 * read. `refusal` is why the last of them was not: its part could not be.
 */
export const settingsFor = (
  document: JsonObject,
  names: readonly string[],
  off: (trial: JsonObject) => number | null,
): { readonly found: readonly Setting[]; readonly refusal: string | null } => {
  const values = valuesOf(document);
  const found: Setting[] = [];
  let refusal: string | null = null;
  for (const name of names) {
    const before = values.get(name);
    if (before === undefined) continue;
    const trial = (value: number): JsonObject => setIn(document, ['dimensions', name], value) as JsonObject;
    const exact = solve((value) => off(trial(value)), before);
    if (exact === null) continue;
    const value = tidy(exact);
    const next = trial(value);
    const reading = readPart(next);
    if (!reading.ok) refusal = reading.findings[0]?.message ?? null;
    else if (Math.abs(off(next) ?? 1) <= WRITTEN) {
      const changed = `${quoted(name)} is ${plain(value, 6)} now; it was ${plain(before, 6)}.`;
      found.push({ name, document: next, changed });
    }
  }
  return { found, refusal };
};
