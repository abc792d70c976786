import type { Unit } from '../../sketch/part/part.ts';
import { movementFields } from '../../toolpath/survival/movement-field.ts';
import type { PassSurvival, SurvivalQuestion, SurvivalTerms } from '../../toolpath/survival/pass-survival.ts';
import { type MovementPicture, movementPicture } from './movement-picture.ts';
import { type MovementWords, movementWords } from './movement-words.ts';

/** How many letters stand side by side over the work's length on paper. */
export const ON_PAPER = 50;

/** The pass of a setup in which the work moves most, as a picture. */
export interface WorstPicture {
  readonly setup: number;
  readonly pass: string;
  readonly picture: MovementPicture;
  readonly words: MovementWords;
}

/** The worst pass of each setup; none for a setup in which nothing moves that could be computed. One solve each. */
export const worstPictures = (
  question: SurvivalQuestion,
  terms: SurvivalTerms,
  passes: readonly PassSurvival[],
  across: number,
  unit: Unit,
): readonly WorstPicture[] => {
  const fields = movementFields(question, terms);
  return question.setups.flatMap(({ number }) => {
    let worst = -1;
    passes.forEach((pass, i) => {
      if (pass.force.setup !== number || pass.movement === null) return;
      if (pass.movement > (passes[worst]?.movement ?? -1)) worst = i;
    });
    const pass = passes[worst];
    const place = pass?.bending.find((b) => b.movement === pass.movement);
    if (!pass || !place) return [];
    const field = fields(worst, pass.force, place.place);
    if (field === null || field.kind === 'none') return [];
    return [
      {
        setup: number,
        pass: pass.force.label,
        picture: movementPicture(field, across, unit),
        words: movementWords(field, place.name, unit),
      },
    ];
  });
};
