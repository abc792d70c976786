import {
  evaluateFormula,
  type Formula,
  isDimensionName,
  namesIn,
  parseFormula,
  type Worked,
} from './formula.ts';
import { nearestName, quoted, sentence } from './names.ts';
import type { Finding } from './part.ts';

/** A number, or a formula over named dimensions. */
export type Quantity = number | string;

/** The named dimensions worked out, in the file's unit (an angle in degrees, a count as it is). */
export interface Dimensions {
  readonly values: ReadonlyMap<string, number>;
  readonly findings: readonly Finding[];
}

/**
 * Work out every named dimension. `overrides` take the place of what the file says. Names that cannot be used, formulas
 * that cannot be read or worked out, rings of formulas and overrides of names that are not there are errors.
 */
export const workOutDimensions = (
  stated: ReadonlyMap<string, Quantity>,
  overrides: ReadonlyMap<string, number> = new Map(),
): Dimensions => {
  const findings: Finding[] = [];
  const report = (code: string, message: string, feature: string): void => {
    findings.push({ code, message, severity: 'error', feature });
  };
  for (const [name, value] of overrides) {
    if (!stated.has(name)) {
      const near = nearestName(name, stated.keys());
      const hint = near === null ? '' : `; did you mean ${quoted(near)}?`;
      report(
        'dimension-unknown',
        sentence(`There is no dimension named ${quoted(name)} to set${hint}`),
        name,
      );
    } else if (!Number.isFinite(value)) {
      report(
        'dimension-not-finite',
        `${quoted(name)} was set to something that is not a finite number.`,
        name,
      );
    }
  }

  const values = new Map<string, number>();
  const formulas = new Map<string, Formula>();
  for (const [name, value] of stated) {
    if (!isDimensionName(name)) {
      report(
        'dimension-name',
        `A dimension cannot be named ${quoted(name)}: use a letter first, then letters, digits and underscores, ` +
          'and none of the words a formula knows (pi, sqrt, sin …).',
        name,
      );
      continue;
    }
    const set = overrides.get(name);
    if (set !== undefined || typeof value === 'number') {
      values.set(name, set ?? (value as number));
      continue;
    }
    const formula = parseFormula(value);
    if (formula.ok) formulas.set(name, formula.value);
    else report('formula', sentence(`Dimension ${quoted(name)}: ${formula.message}`), name);
  }

  const failed = new Set<string>();
  const visiting: string[] = [];
  const resolve = (name: string): number | null => {
    const known = values.get(name);
    if (known !== undefined) return known;
    const formula = formulas.get(name);
    if (formula === undefined || failed.has(name)) return null;
    const start = visiting.indexOf(name);
    if (start >= 0) {
      const ring = [...visiting.slice(start), name];
      report('dimension-ring', `These dimensions lean on each other in a ring: ${ring.join(' → ')}.`, name);
      for (const member of ring) failed.add(member);
      return null;
    }
    visiting.push(name);
    let sound = true;
    for (const needed of namesIn(formula)) {
      if (stated.has(needed) && resolve(needed) === null) sound = false;
    }
    visiting.pop();
    if (!sound || failed.has(name)) {
      failed.add(name);
      return null;
    }
    const worked = evaluateFormula(formula, (n) => values.get(n) ?? null, stated.keys());
    if (!worked.ok) {
      report('formula', sentence(`Dimension ${quoted(name)}: ${worked.message}`), name);
      failed.add(name);
      return null;
    }
    values.set(name, worked.value);
    return worked.value;
  };
  for (const name of formulas.keys()) resolve(name);
  return { values, findings };
};

/** A quantity's value in the file's unit, or what is wrong with it. */
export const workOut = (quantity: Quantity, values: ReadonlyMap<string, number>): Worked<number> => {
  if (typeof quantity === 'number') {
    return Number.isFinite(quantity)
      ? { ok: true, value: quantity }
      : { ok: false, message: 'it is not a finite number' };
  }
  const formula = parseFormula(quantity);
  if (!formula.ok) return formula;
  return evaluateFormula(formula.value, (n) => values.get(n) ?? null, values.keys());
};
