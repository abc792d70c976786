import type { Unit } from '../../sketch/part/part.ts';
import { smallText } from '../../sketch/part/units.ts';
import type { SqueezeRow } from '../../toolpath/survival/squeeze-route.ts';

/** What the jaws do to the work, in lines for a terminal: one to a setup as it is put in, one when it is done. */
export const squeezeLines = (rows: readonly SqueezeRow[], unit: Unit): readonly string[] =>
  rows.length === 0
    ? []
    : [
        'What the jaws make of the work (estimates):',
        ...rows.flatMap(({ setup, before, after }) => [
          `  setup ${setup}, put in: ${squeezeWords(before, unit)}`,
          `  setup ${setup}, done:   ${squeezeWords(after, unit)}`,
        ]),
      ];

/** One state of the work in the jaws, as a sentence without its full stop. */
export const squeezeWords = (figures: SqueezeRow['before'], unit: Unit): string => {
  if (figures === null) return 'nothing is held';
  const forks = figures.forks.map(
    ({ name, closes_mm }) =>
      `${name} ${closes_mm < 0 ? 'opens' : 'closes'} ${smallText(Math.abs(closes_mm), unit)}`,
  );
  return [`it bows ${smallText(figures.bow_mm, unit)}`, ...forks].join(', ');
};
