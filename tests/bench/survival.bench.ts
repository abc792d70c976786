import { planPart, survivalQuestion, writePrograms } from '../../gcode/chain.ts';
import type { SurvivalTerms } from '../../toolpath/survival/pass-survival.ts';
import { surviveInSteps } from '../../toolpath/survival/survival.ts';
import { sampleText } from '../samples.ts';
import { exponent, type Row, time } from './row.ts';

// The whole route of the sample that the page opens with: every pass of the written text, three places of each and the
// lowest frequency. Times are the processor's, on one core; what else runs on the machine still slows its memory.

const seconds = (since: NodeJS.CpuUsage): number => {
  const { user, system } = process.cpuUsage(since);
  return (user + system) / 1e6;
};

export default function* (): Generator<Row> {
  const planned = planPart(sampleText('vent-latch-lever'));
  if (!planned.ok) throw new Error('the sample is refused');
  const question = survivalQuestion(planned, writePrograms(planned.part, planned.plan, planned.profile));
  const run = (terms: SurvivalTerms): { quick: number; all: number; solves: number; most: number } => {
    const start = process.cpuUsage();
    let [quick, solves, most] = [0, 0, 0];
    for (const news of surviveInSteps(question, terms)) {
      if (news.kind === 'estimated') quick = seconds(start);
      if (news.kind === 'solving') solves++;
      most = Math.max(most, process.memoryUsage().rss);
    }
    return { quick, all: seconds(start), solves, most };
  };
  run({});
  const usual = run({});
  const count = question.passes.length;
  // Each size has twice the cells of the one before, less where planes must lie on faces of the part.
  const bricks = [1.26, 1, 0.794];
  const times = bricks.map((brick) => {
    const { quick, all } = run({ brick });
    return all - quick;
  });
  yield {
    name: `survival: ${count} passes by closed forms, to ${usual.solves} load places solved`,
    ours: time(usual.quick),
    baseline: time(usual.all - usual.quick),
    ratio: usual.quick / (usual.all - usual.quick),
    growth: exponent(
      bricks.map((b) => b ** -3),
      times,
    ),
  };
  const still = run({ frequency: false });
  yield {
    name: `survival: frequencies, to all of the survey (${(usual.most / 1e6).toFixed(0)} MB at most)`,
    ours: time(usual.all - still.all),
    baseline: time(usual.all),
    ratio: 1 - still.all / usual.all,
  };
}
