import { machineTerms } from '../../toolpath/survival/machine-terms.ts';
import type { PassSurvival } from '../../toolpath/survival/pass-survival.ts';
import { forksCutIn } from '../../toolpath/survival/planned-passes.ts';
import {
  leastHolds,
  type SetupSqueeze,
  squeezeFindings,
  squeezeInSteps,
  squeezeRows,
} from '../../toolpath/survival/squeeze-route.ts';
import { surviveInSteps } from '../../toolpath/survival/survival.ts';
import { survivalFindings, USUAL_LIMITS } from '../../toolpath/survival/verdict.ts';
import { survivalQuestion } from '../chain.ts';
import type { SurveyAsk, SurveyNews } from './survey.ts';

/** Forces, bending and hold of every pass, told as they come. The page ends this worker to stop it. */
self.onmessage = (event: MessageEvent<SurveyAsk>): void => {
  const { planned, programs } = event.data;
  const tell = (news: SurveyNews): void => self.postMessage(news);
  try {
    const passes: PassSurvival[] = [];
    const findings = () => survivalFindings(passes, planned.profile);
    const terms = machineTerms(planned.profile, planned.part.bar.material);
    const question = survivalQuestion(planned, programs);
    for (const news of surviveInSteps(question, terms)) {
      switch (news.kind) {
        case 'refused':
          tell({ kind: 'failed', message: news.reason });
          return;
        case 'estimated':
          passes.push(...news.passes);
          tell({ kind: 'passes', passes: [...passes], findings: findings(), share: 0, secondsLeft: null });
          break;
        case 'solving':
          tell({ kind: 'progress', share: news.share, secondsLeft: news.secondsLeft });
          break;
        case 'solved':
          passes[news.pass] = news.result;
          tell({
            kind: 'passes',
            passes: [...passes],
            findings: findings(),
            share: news.share,
            secondsLeft: news.secondsLeft,
          });
          break;
      }
    }
    const squeezes: SetupSqueeze[] = [];
    for (const squeezed of squeezeInSteps(question, planned.part.forks, terms)) {
      squeezes.push(squeezed);
      const { movement } = USUAL_LIMITS;
      tell({
        kind: 'squeezed',
        squeeze: squeezeRows(squeezes),
        findings: [
          ...findings(),
          ...squeezeFindings(squeezes, forksCutIn(planned.plan), movement, leastHolds(passes), terms.clamp),
        ],
      });
    }
    tell({ kind: 'done' });
  } catch (error) {
    tell({ kind: 'failed', message: error instanceof Error ? error.message : String(error) });
  }
};
