import { toProgram } from '../../toolpath/route/frame.ts';
import type { MovementField } from '../../toolpath/survival/movement-field.ts';
import { BEYOND_BENDING } from '../../toolpath/survival/verdict.ts';

/** A movement in a cell of a table, mm: beyond what linear bending holds for, only that it is. */
export const movementCell = (mm: number): string =>
  mm > BEYOND_BENDING ? `> ${BEYOND_BENDING}` : mm.toFixed(3);

/** A movement in mm as it is said: thousandths, and ten-thousandths of what is smaller than a hundredth. */
export const movementText = (mm: number): string =>
  mm > 0 && mm < 5e-5 ? 'less than 0.0001 mm' : `${mm.toFixed(mm < 0.0095 ? 4 : 3)} mm`;

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

export const movementWords = (field: MovementField, name: string | null): MovementWords => {
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
    moves: `The work moves about ${movementText(under)} under the cutter and at most about ${movementText(most)} anywhere.`,
    push: `The cutter pushes with about ${Math.round(whole)} N${parts}${where}, X ${spot.x.toFixed(1)}, Y ${spot.y.toFixed(1)}.`,
    loose:
      loose.length === 0
        ? null
        : `${loose.length === 1 ? 'A piece that is' : `${loose.length} pieces that are`} already cut free by then ${loose.length === 1 ? 'is' : 'are'} not coloured.`,
  };
};
