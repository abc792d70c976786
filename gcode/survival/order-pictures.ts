import type { Unit } from '../../sketch/part/part.ts';
import { aboutText } from '../../sketch/part/units.ts';
import { movementFields } from '../../toolpath/survival/movement-field.ts';
import type { OrderRow } from '../../toolpath/survival/orders.ts';
import type { SurvivalTerms } from '../../toolpath/survival/pass-survival.ts';
import { type ForkSqueeze, squeezeAt } from '../../toolpath/survival/squeeze-route.ts';
import { type MovementView, movementPicture, scaleFor } from './movement-picture.ts';
import { differences, squeezedWords } from './order-words.ts';
import type { PicturedWork } from './picture-marks.ts';

/** The work at one moment of one order, from above. */
export interface OrderFigure {
  readonly order: string;
  /** What is seen, with its number; begins small. */
  readonly words: string;
  readonly view: MovementView;
}

/** The same kind of moment in several orders, all to one scale so that they can be compared. Estimates. */
export interface OrderPictures {
  /** Bent by the jaws while a fork is cut or released, or by the cutter where it moves most. */
  readonly by: 'jaws' | 'cutter';
  readonly exaggeration: number;
  readonly step: number;
  readonly unit: Unit;
  readonly bands: number;
  readonly letter: number;
  readonly figures: readonly OrderFigure[];
}

interface Moment {
  readonly order: string;
  readonly words: string;
  readonly work: PicturedWork;
}

/**
 * What tells the orders apart, as pictures: the forks between the jaws at the moments when a cutter runs along them, and
 * the pass that moves the work most. What is alike in all of them is not drawn, unless nothing else is left. `across` letters
 * stand side by side over the work's length. One or two solves a picture.
 */
export const orderPictures = (
  rows: readonly OrderRow[],
  terms: SurvivalTerms,
  across: number,
  unit: Unit,
): readonly OrderPictures[] => {
  const planned = rows.filter((row) => row.refused === null);
  const told = differences(planned);
  const jaws = told.includes('closes') || told.includes('released');
  const cutter = told.includes('movement') || !jaws;
  return [
    ...(jaws
      ? groupOf(
          'jaws',
          planned.flatMap((row) => squeezedMoments(row, terms, unit)),
          across,
          unit,
        )
      : []),
    ...(cutter
      ? groupOf(
          'cutter',
          planned.flatMap((row) => worstMoment(row, terms, unit)),
          across,
          unit,
        )
      : []),
  ];
};

const groupOf = (
  by: OrderPictures['by'],
  moments: readonly Moment[],
  across: number,
  unit: Unit,
): readonly OrderPictures[] => {
  if (moments.length === 0) return [];
  const scale = scaleFor(
    moments.map((m) => m.work),
    unit,
  );
  const drawn = moments.map(({ order, words, work }) => ({
    order,
    words,
    picture: movementPicture(work, across, unit, scale),
  }));
  const [{ picture: first }] = drawn as [(typeof drawn)[number]];
  const { exaggeration, step, bands, letter } = first;
  const figures = drawn.map(({ order, words, picture }) => ({ order, words, view: picture.views[0] }));
  return [{ by, unit, exaggeration, step, bands, letter, figures }];
};

/** Each fork when it is cut and when its web is released. */
const squeezedMoments = ({ name, way }: OrderRow, terms: SurvivalTerms, unit: Unit): readonly Moment[] => {
  const { question } = way;
  if (question === null) return [];
  return way.squeezes
    .flatMap((s) => s.forks)
    .flatMap((moment: ForkSqueeze): readonly Moment[] => {
      const work = squeezeAt(question, moment, terms);
      return work === null ? [] : [{ order: name, words: squeezedWords(moment, unit), work }];
    });
};

/** The pass that moves the work most. */
const worstMoment = ({ name, way }: OrderRow, terms: SurvivalTerms, unit: Unit): readonly Moment[] => {
  const { question, worst } = way;
  if (question === null || worst === null) return [];
  const place = worst.bending.find((b) => b.movement === worst.movement);
  if (place === undefined) return [];
  const fields = movementFields(question, terms);
  const field = fields(way.passes.indexOf(worst), worst.force, place.place);
  if (field?.kind !== 'field') return [];
  const where = place.name === null ? '' : ` at the ${place.name}`;
  const words = `it moves most in ${worst.force.label}: ${aboutText(field.under, unit)}${where}`;
  return [{ order: name, words, work: field }];
};
