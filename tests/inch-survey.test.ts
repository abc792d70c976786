import { beforeAll, describe, expect, test } from 'vitest';
import { type PlannedPart, planPart, survivalQuestion, survive, writePrograms } from '../gcode/chain.ts';
import { surveyHtml } from '../gcode/sheet/survey-pages.ts';
import { type Survival, survivalLines } from '../gcode/survival/report.ts';
import { ON_PAPER, type WorstPicture, worstPictures } from '../gcode/survival/worst-pictures.ts';
import { standardProfile } from '../toolpath/machine/default-profile.ts';
import { surviveRoute } from '../toolpath/survival/survival.ts';
import { sampleText } from './samples.ts';

/** A part in inches is told in inches wherever the survey speaks; the file it writes stays in mm and says so in its keys. */

const TERMS = { cell: 0.3, brick: 2, frequency: false, places: 1 } as const;
const document = JSON.parse(sampleText('bellows-lever'));
const plannedWith = (route: unknown): PlannedPart => {
  const planned = planPart(JSON.stringify({ ...document, route }));
  if (!planned.ok) throw new Error('the sample is refused');
  return planned;
};
/** Names of cutters, job steps and step terms that are called by their own size are names. */
const withoutNames = (text: string): string =>
  standardProfile.cutters.reduce((t, c) => t.replaceAll(c.name, 'cutter'), text);

const planned = plannedWith(undefined);
let survival: Survival;
let pictures: readonly WorstPicture[];

beforeAll(() => {
  const programs = writePrograms(planned.part, planned.plan, planned.profile);
  const asked = survivalQuestion(planned, programs);
  const solved = (i: number): boolean => asked.passes[i]!.step.startsWith('thin');
  survival = survive(planned, programs, { ...TERMS, only: solved, clamp: 3000 });
  const passes = surviveRoute(asked, { ...TERMS, only: solved });
  pictures = worstPictures(asked, TERMS, passes, ON_PAPER, planned.part.unit);
});

describe('A part in inches', () => {
  test('is surveyed in sentences and lines without a mm', () => {
    expect(survival.findings.map((f) => f.code)).toContain('work-moves');
    const said = [...survival.findings.map((f) => f.message), ...survivalLines(survival, 'inch')];
    expect(said.join('\n')).toMatch(/moves about \d\.\d{4} in under the cutter/);
    for (const line of said) expect(withoutNames(line)).not.toMatch(/\bmm[³²]?(?![a-z])/);
  });

  test('has the very movement of its file in the terminal’s table, turned to inches', () => {
    const lines = survivalLines(survival, 'inch');
    for (const row of survival.passes.filter((p) => p.movement_mm !== null && p.movement_mm < 1)) {
      const line = lines.find((l) => l.startsWith(`  ${row.setup} ${row.pass} `))!;
      expect(line).toContain((row.movement_mm! / 25.4).toFixed(4));
    }
  });

  test('is printed in inches, pictures and their keys included', () => {
    const html = surveyHtml(planned.part, survival, pictures);
    const told = withoutNames(html.replace(/<style>[\s\S]*?<\/style>/g, '').replace(/<[^>]*>/g, ' '));
    expect(told).not.toMatch(/\bmm[³²]?(?![a-z])/);
    expect(told).toMatch(/equal movement, in/);
    const worst = survival.passes.find((p) => p.movement_mm! > 0.02 && p.movement_mm! < 1)!;
    expect(told).toContain(`${(worst.movement_mm! / 25.4).toFixed(4)} !`);
  });

  test('is warned of its hold and its terms in inches', () => {
    const said = plannedWith({
      setups: { 1: { grip: 0.03 } },
      adjust: { fork: { stepDown: 0.0001 } },
    }).findings.map((f) => f.message);
    expect(said.join('\n')).toContain('only 0.03 in is held');
    expect(said.join('\n')).toContain('passes of 0.0001 in only rub');
    for (const message of said) expect(withoutNames(message)).not.toMatch(/\bmm\b/);
  });
});
