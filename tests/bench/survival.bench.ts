import { planPart, survivalQuestion, writePrograms } from '../../gcode/chain.ts';
import type { SurvivalTerms } from '../../toolpath/survival/pass-survival.ts';
import { surviveInSteps } from '../../toolpath/survival/survival.ts';
import { sampleText } from '../samples.ts';

// The whole route of the sample that the page opens with: every pass of the written text, three places of each and the
// lowest frequency. Times are the processor's, on one core; what else runs on the machine still slows its memory.

const print = (label: string, value: string): void => console.log(`  ${label.padEnd(58)}${value}`);
const seconds = (since: NodeJS.CpuUsage): number => {
  const { user, system } = process.cpuUsage(since);
  return (user + system) / 1e6;
};

export default (): void => {
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
  print(`${question.passes.length} passes by closed forms`, `${usual.quick.toFixed(1)} s`);
  print(`the same solved, ${usual.solves} load places and a frequency each`, `${usual.all.toFixed(1)} s`);
  print('memory at most', `${(usual.most / 1e6).toFixed(0)} MB`);
  const still = run({ frequency: false });
  print('share of the frequencies in it', `${(100 * (1 - still.all / usual.all)).toFixed(0)} %`);
  console.log('growth: the same route at three sizes of brick');
  const bricks = [1.26, 1, 0.794];
  const times = bricks.map((brick) => {
    const { quick, all } = run({ brick });
    print(`brick ${brick} mm, solves alone`, `${(all - quick).toFixed(1)} s`);
    return all - quick;
  });
  // Each size has twice the cells of the one before, less where planes must lie on faces of the part.
  const steps = times.slice(1).map((time, i) => time / times[i]!);
  print('time for twice the cells', steps.map((ratio) => `× ${ratio.toFixed(2)}`).join(', '));
};
