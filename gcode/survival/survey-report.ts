import type { Finding, Part } from '../../sketch/part/part.ts';
import type { MachineProfile } from '../../toolpath/machine/profile.ts';
import type { Plan } from '../../toolpath/passes/pass.ts';
import type { Route } from '../../toolpath/route/route.ts';
import { assumptionsFor, machineTerms } from '../../toolpath/survival/machine-terms.ts';
import type { PassSurvival, SurvivalTerms } from '../../toolpath/survival/pass-survival.ts';
import {
  leastHolds,
  type SetupSqueeze,
  squeezeFindings,
  squeezeRows,
} from '../../toolpath/survival/squeeze-route.ts';
import { survivalRows } from '../../toolpath/survival/survival-rows.ts';
import { limitsOf, survivalFindings } from '../../toolpath/survival/verdict.ts';
import type { Survival } from './report.ts';

/** What a survey was made of. */
export interface SurveyedWork {
  readonly part: Part;
  readonly route: Route;
  readonly plan: Plan;
  readonly profile: MachineProfile;
}

/** What a survey of this work is worked out by. */
export const surveyTerms = ({ part, profile }: Pick<SurveyedWork, 'part' | 'profile'>) =>
  machineTerms(profile, part.bar.material);

/** What will not survive, of the passes and of the jaws' squeeze as far as they are known, in the part's unit. */
export const surveyFindings = (
  { part, route, profile }: SurveyedWork,
  passes: readonly PassSurvival[],
  squeezes: readonly SetupSqueeze[],
  { clamp }: SurvivalTerms = surveyTerms({ part, profile }),
): readonly Finding[] => {
  const limits = limitsOf(route);
  return [
    ...survivalFindings(passes, profile, part.unit, limits),
    ...squeezeFindings(squeezes, limits.movement, leastHolds(passes), clamp, part.unit),
  ];
};

/** What the estimates of this work take for granted, in sentences. */
export const surveyAssumptions = ({ part, route, profile }: SurveyedWork): readonly string[] =>
  assumptionsFor(
    profile,
    part.bar.material,
    route.setups.map((setup) => setup.hold),
    part.unit,
  );

/** A survey as it is written to a file: figures rounded to what they are worth. */
export const surveyReport = (
  work: SurveyedWork,
  passes: readonly PassSurvival[],
  squeezes: readonly SetupSqueeze[],
  terms: SurvivalTerms = surveyTerms(work),
): Survival => ({
  tolerance_mm: limitsOf(work.route).movement,
  assumptions: surveyAssumptions(work),
  findings: surveyFindings(work, passes, squeezes, terms),
  passes: survivalRows(passes),
  squeeze: squeezeRows(squeezes),
});
