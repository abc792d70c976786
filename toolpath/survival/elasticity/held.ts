import type { Grid } from './grid.ts';
import { type ElasticMaterial, materialFault, moduliOf } from './material.ts';
import { multigrid, type Preconditioner } from './multigrid.ts';
import { gridOperator, type Operator } from './operator.ts';
import { type Piece, sortPieces } from './pieces.ts';

/** How the stock is held, as node numbers: `clamped` move nowhere, `supported` do not move along z. */
export interface Grips {
  readonly clamped: Iterable<number>;
  readonly supported?: Iterable<number>;
}

/** Stock that is held, ready to be loaded as often as wanted: all load cases share one grid and one preconditioner. */
export interface HeldStock {
  readonly kind: 'held';
  /** Without the pieces that are not held. */
  readonly grid: Grid;
  readonly material: ElasticMaterial;
  /** 1 where an unknown may move. */
  readonly free: Uint8Array;
  readonly operator: Operator;
  readonly precondition: Preconditioner;
  /** Pieces already cut free; they bear no load and are left out. */
  readonly loose: readonly Piece[];
}

export type Held =
  | HeldStock
  /** Nothing is held against every shift and turn. */
  | { readonly kind: 'not held'; readonly loose: readonly Piece[] }
  | { readonly kind: 'bad material'; readonly reason: string };

/**
 * Holds a grid: finds what is loose before anything is solved, and prepares the stiffness and its preconditioner.
 * Supports are two-sided: a node on the parallels can be pulled as well as pressed, which flatters work that would lift.
 */
export const holdGrid = (grid: Grid, material: ElasticMaterial, grips: Grips): Held => {
  const reason = materialFault(material);
  if (reason !== undefined) return { kind: 'bad material', reason };
  const free = new Uint8Array(3 * grid.nodes).fill(1);
  for (const n of grips.clamped) free.fill(0, 3 * n, 3 * n + 3);
  for (const n of grips.supported ?? []) free[3 * n + 2] = 0;
  const sorted = sortPieces(grid, free);
  if (!sorted.held) return { kind: 'not held', loose: sorted.loose };
  const moduli = moduliOf(material);
  const operator = gridOperator(sorted.grid, moduli, free);
  // Nodes that only loose bricks had do not move.
  for (let n = 0; n < free.length; n++) if (operator.inverse[n] === 0) free[n] = 0;
  const precondition = multigrid(sorted.grid, moduli, free, operator);
  return { kind: 'held', grid: sorted.grid, material, free, operator, precondition, loose: sorted.loose };
};
