import type { Grid } from './grid.ts';
import { type Grips, type Held, holdGrid } from './held.ts';
import { type Bent, bend, type Load, type LoadTerms } from './load.ts';
import type { ElasticMaterial } from './material.ts';
import type { Piece } from './pieces.ts';

export interface Question extends Grips {
  readonly grid: Grid;
  readonly material: ElasticMaterial;
  /** Load cases, solved one after the other on the same held stock. */
  readonly cases: readonly (readonly Load[])[];
}

export type Answer =
  | {
      readonly kind: 'solved';
      /** One for each case; fewer when the work was cancelled, and the last one then says so. */
      readonly cases: readonly Bent[];
      readonly loose: readonly Piece[];
    }
  | Exclude<Held, { readonly kind: 'held' }>;

/** Holds a grid and bends it under each load case. Callers with more to ask of one stock use `holdGrid` and `bend`. */
export const solve = ({ grid, material, cases, ...grips }: Question, terms: LoadTerms = {}): Answer => {
  const held = holdGrid(grid, material, grips);
  if (held.kind !== 'held') return held;
  const bent: Bent[] = [];
  for (const loads of cases) {
    bent.push(bend(held, loads, terms));
    if (bent[bent.length - 1]!.end === 'cancelled') break;
  }
  return { kind: 'solved', cases: bent, loose: held.loose };
};
