import type { PassSurvival } from '../../toolpath/survival/pass-survival.ts';
import { forkMoments } from '../../toolpath/survival/planned-passes.ts';
import { type SetupSqueeze, squeezeInSteps } from '../../toolpath/survival/squeeze-route.ts';
import { surviveInSteps } from '../../toolpath/survival/survival.ts';
import { survivalQuestion } from '../chain.ts';
import { surveyTerms } from '../survival/survey-report.ts';
import type { SurveyAsk, SurveyNews } from './survey.ts';

/** Forces, bending and hold of every pass, told as they come. The page ends this worker to stop it. */
self.onmessage = (event: MessageEvent<SurveyAsk>): void => {
  const { planned, programs } = event.data;
  const tell = (news: SurveyNews): void => self.postMessage(news);
  try {
    const passes: PassSurvival[] = [];
    const squeezes: SetupSqueeze[] = [];
    const terms = surveyTerms(planned);
    const question = survivalQuestion(planned, programs);
    for (const news of surviveInSteps(question, terms)) {
      switch (news.kind) {
        case 'refused':
          tell({ kind: 'failed', message: news.reason });
          return;
        case 'estimated':
          passes.push(...news.passes);
          tell({ kind: 'passes', passes: [...passes], share: 0, secondsLeft: null });
          break;
        case 'solving':
          tell({ kind: 'progress', share: news.share, secondsLeft: news.secondsLeft });
          break;
        case 'solved':
          passes[news.pass] = news.result;
          tell({
            kind: 'passes',
            passes: [...passes],
            share: news.share,
            secondsLeft: news.secondsLeft,
          });
          break;
      }
    }
    for (const squeezed of squeezeInSteps(question, planned.part.forks, forkMoments(planned.plan), terms)) {
      squeezes.push(squeezed);
      tell({ kind: 'squeezed', squeezes: [...squeezes] });
    }
    tell({ kind: 'done' });
  } catch (error) {
    tell({ kind: 'failed', message: error instanceof Error ? error.message : String(error) });
  }
};
