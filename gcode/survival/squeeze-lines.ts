import type { SqueezeRow } from '../../toolpath/survival/squeeze-route.ts';

/** What the jaws do to the work, in lines for a terminal: one to a setup as it is put in, one when it is done. */
export const squeezeLines = (rows: readonly SqueezeRow[]): readonly string[] =>
  rows.length === 0
    ? []
    : [
        'What the jaws make of the work (estimates):',
        ...rows.flatMap(({ setup, before, after }) => [
          `  setup ${setup}, put in: ${squeezeWords(before)}`,
          `  setup ${setup}, done:   ${squeezeWords(after)}`,
        ]),
      ];

/** One state of the work in the jaws, as a sentence without its full stop. */
export const squeezeWords = (figures: SqueezeRow['before']): string => {
  if (figures === null) return 'nothing is held';
  const forks = figures.forks.map(
    ({ name, closes_mm }) =>
      `${name} ${closes_mm < 0 ? 'opens' : 'closes'} ${Math.abs(closes_mm).toFixed(3)} mm`,
  );
  return [`it bows ${figures.bow_mm.toFixed(3)} mm`, ...forks].join(', ');
};
