import type { Unit } from '../../sketch/part/part.ts';
import { aboutText, placeFigure, smallFigure } from '../../sketch/part/units.ts';
import { toProgram } from '../../toolpath/route/frame.ts';
import type { MovementField } from '../../toolpath/survival/movement-field.ts';
import { BEYOND_BENDING, beyondFigure } from '../../toolpath/survival/verdict.ts';

/** A movement in mm in a cell of a table: beyond what linear bending holds for, only that it is. */
export const movementCell = (mm: number, unit: Unit): string =>
  mm > BEYOND_BENDING ? `> ${beyondFigure(unit)}` : smallFigure(mm, unit);

/** How many times as large movements are drawn, in words. */
export const exaggerationText = (times: number): string =>
  `drawn ${
    times >= 1
      ? Math.round(times)
          .toString()
          .replace(/\B(?=(\d{3})+$)/g, '\u202f')
      : times
  } times as large`;

/** What a picture of a movement is told with. Estimates; plain text. */
export interface MovementWords {
  /** How the work lies. */
  readonly lie: string;
  /** How far it moves. */
  readonly moves: string;
  /** What pushes it, and where. */
  readonly push: string;
  /** Pieces that are left out; null where there are none. */
  readonly loose: string | null;
}

export const movementWords = (field: MovementField, name: string | null, unit: Unit): MovementWords => {
  const { setup, place, under, most, loose, at } = field;
  const { push } = place;
  const spot = toProgram(setup.frame, { x: at[0], y: at[1], z: at[2] });
  const level = Math.hypot(push.x, push.y);
  const whole = Math.hypot(level, push.z);
  const up = Math.round(Math.abs(push.z));
  const parts = up === 0 ? '' : `, ${Math.round(level)} N level and ${up} N ${push.z > 0 ? 'up' : 'down'}`;
  const where = name === null ? '' : ` at the ${name}`;
  return {
    lie: `As it lies in setup ${setup.number}, ${setup.frame.face} up.`,
    moves: `The work moves ${aboutText(under, unit)} under the cutter and at most ${aboutText(most, unit)} anywhere.`,
    push: `The cutter pushes with about ${Math.round(whole)} N${parts}${where}, X ${placeFigure(spot.x, unit)}, Y ${placeFigure(spot.y, unit)}.`,
    loose:
      loose.length === 0
        ? null
        : `${loose.length === 1 ? 'A piece that is' : `${loose.length} pieces that are`} already cut free by then ${loose.length === 1 ? 'is' : 'are'} not coloured.`,
  };
};
