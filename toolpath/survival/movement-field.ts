import { turned } from './bearing.ts';
import { type BentWork, mostOf } from './bent-work.ts';
import { bend, patchMovement, type Vector } from './elasticity/load.ts';
import type { ForcePlace, PassForce, SurveyPass } from './force-survey.ts';
import { ELASTIC } from './materials.ts';
import type { Footing, LoosePiece, SurvivalQuestion, SurvivalTerms } from './pass-survival.ts';
import { heldStock, loadOf, packedFor } from './solve-pass.ts';
import { stockWalker } from './stock-walk.ts';

/** How the whole of the work moves while one pass presses on it at one place. Estimates; mm and N. */
export interface MovementField extends BentWork {
  readonly kind: 'field';
  readonly pass: SurveyPass;
  /** Where the cutter is, and its push on the work; program coordinates. */
  readonly place: ForcePlace;
  /** Where the work takes the push, in the part's coordinates. */
  readonly at: Vector;
  /** What the work does under the cutter, in program coordinates, and the size of it. */
  readonly moved: Vector;
  readonly under: number;
  /** Pieces already cut free: they are left out. */
  readonly loose: readonly LoosePiece[];
}

/** Why there is nothing to show, in words. */
export interface NoField {
  readonly kind: 'none';
  readonly why: string;
}

/** Why a pass has no movement to show; null where it has one. */
export const withoutMovement = (footing: Footing): string | null => {
  switch (footing) {
    case 'held':
      return null;
    case 'no force':
      return 'In this pass nothing is cut with a force worth a figure, so nothing is bent.';
    case 'nothing in the jaws':
      return 'In this pass jaws or plate have nothing to hold: what is not held has no movement to show.';
    case 'not held':
      return 'In this pass nothing is held against every shift and turn: there is no movement to show.';
  }
};

const none = (why: string): NoField => ({ kind: 'none', why });

/**
 * Movements of whole passes of one survey, asked for one at a time and in any order: the pass by its number among the
 * question's passes, its forces, and the place of it that presses. The stock, the bricks, the hold and the force are those
 * of the survey (`solve-pass.ts`), so under the cutter it moves as the survey says. Null when it was cancelled. Throws
 * nothing that a surveyed question could cause.
 */
export const movementFields = (
  question: SurvivalQuestion,
  terms: SurvivalTerms = {},
): ((pass: number, force: PassForce, place: ForcePlace) => MovementField | NoField | null) => {
  const walk = stockWalker(question, terms);
  const material = terms.elastic ?? ELASTIC[question.bar.material];
  return (number, force, place) => {
    const pass = question.passes[number];
    const setup = question.setups.find((s) => s.number === pass?.setup);
    if (pass === undefined || setup === undefined) return none('This pass is not among those surveyed.');
    const { map, jaws } = walk(number);
    if (jaws === null) return none(withoutMovement('nothing in the jaws')!);
    const cancel = terms.cancelled ? { cancelled: terms.cancelled } : {};
    const unpacked = heldStock({ map, setup, jaws, force }, material, terms.brick);
    if (unpacked === undefined || unpacked.kind === 'not held') return none(withoutMovement('not held')!);
    if (unpacked.kind === 'bad material') return none(`Nothing can be computed: ${unpacked.reason}.`);
    let held = unpacked;
    let load = loadOf(held.grid, map, setup.frame, place, pass.cutter.diameter);
    if (load === undefined) return none(withoutMovement('no force')!);
    let bent = bend(held, [load], cancel);
    if (bent.end === 'cancelled') return null;
    const packed = packedFor({ map, setup, jaws, force }, held, bent.movement, material, terms);
    const again = packed && loadOf(packed.grid, map, setup.frame, place, pass.cutter.diameter);
    if (packed && again) {
      [held, load] = [packed, again];
      bent = bend(held, [load], cancel);
      if (bent.end === 'cancelled') return null;
    }
    const moved = turned(setup.frame, bent.moved[0]!);
    return {
      kind: 'field',
      ...{ pass, setup, jaws, map, place, moved },
      grid: held.grid,
      movement: bent.movement,
      at: load.patch.at,
      under: Math.hypot(...moved),
      most: mostOf(bent.movement),
      loose: held.loose.map(({ volume, at }) => ({ volume, at })),
    };
  };
};

/** What the work does where a cutter would press at another place of the pass, in program coordinates; null off the work. */
export const movedAt = (
  { grid, map, setup, movement, pass }: MovementField,
  place: ForcePlace,
): Vector | null => {
  const load = loadOf(grid, map, setup.frame, place, pass.cutter.diameter);
  return load === undefined ? null : turned(setup.frame, patchMovement(load.patch, movement));
};
