import type { Fork } from '../../sketch/part/part.ts';
import type { HeightMap } from '../removal/height-map.ts';
import { sweep } from '../removal/sweep.ts';
import { closeJaws, type Jaws } from './grip.ts';
import { ELASTIC } from './materials.ts';
import { FIRM } from './pass-load.ts';
import type { SurvivalQuestion, SurvivalSetup, SurvivalTerms } from './pass-survival.ts';
import { forkGaps, type Squeezed, squeeze } from './squeeze.ts';
import { startMap } from './survival.ts';

/** What the jaws make of the work when it is put into a setup and when the setup is done; null where nothing is held. */
export interface SetupSqueeze {
  readonly setup: number;
  readonly before: Squeezed | null;
  readonly after: Squeezed | null;
}

/** How each setup's jaws distort the work. Two solves a setup. Throws nothing that a valid bar could cause. */
export const squeezeRoute = (
  question: SurvivalQuestion,
  forks: readonly Fork[],
  terms: SurvivalTerms = {},
): readonly SetupSqueeze[] => {
  const { bar, passes } = question;
  const map = startMap(question, terms);
  const material = terms.elastic ?? ELASTIC[bar.material];
  const gaps = forkGaps(forks, bar.thickness / 2);
  const one = (stock: HeightMap, setup: SurvivalSetup, jaws: Jaws | null): Squeezed | null =>
    jaws && squeeze(stock, setup, jaws, material, terms.clamp ?? FIRM, gaps, terms.brick);
  return question.setups.map((setup) => {
    const jaws = closeJaws(map, setup);
    const before = one(map, setup, jaws);
    for (const pass of passes.filter((p) => p.setup === setup.number)) {
      for (const { stroke } of pass.motions) sweep(map, stroke, pass.cutter, pass.frame);
    }
    return { setup: setup.number, before, after: one(map, setup, jaws) };
  });
};
