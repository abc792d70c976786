import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { type PlannedPart, planPart } from '../gcode/chain.ts';

const sample = (name: string) => JSON.parse(readFileSync(`samples/${name}.json`, 'utf8'));
const planned = (route: object, name = 'vent-latch-lever'): PlannedPart => {
  const read = planPart(JSON.stringify({ ...sample(name), route }));
  if (!read.ok) throw new Error(read.findings[0]?.message);
  return read;
};
const errorsOf = ({ findings }: PlannedPart) => findings.filter((f) => f.severity === 'error');

describe('Terms that no job step can be cut with are named, and the step is not planned:', () => {
  test.each<readonly [string, string, object, string, RegExp]>([
    ['a drill to mill with', 'outline', { cutter: '2.5 mm drill' }, 'cutter-of-wrong-kind', /drill.*endmill/],
    ['an endmill to ream with', 'ream 4.0', { cutter: '4 mm endmill' }, 'cutter-of-wrong-kind', /reamer/],
    ['passes of a micrometre', 'outline', { stepDown: 0.001 }, 'pass-too-shallow', /0\.001 mm/],
    ['laps of a micrometre', 'outline', { stepover: 0.001 }, 'laps-too-near', /0\.001 mm/],
    ['laps farther apart than the cutter', 'outline', { stepover: 12.5 }, 'laps-too-far', /12\.5 mm/],
    ['a finishing lap of half the bar', 'outline', { wallAllowance: 7 }, 'allowance-too-large', /7 mm.*3 mm/],
    ['a finishing pass over a rough one', 'outline', { floorAllowance: 5 }, 'allowance-too-large', /5 mm/],
    ['a web as thick as the bar', 'fork', { web: 9 }, 'web-too-thick', /9 mm/],
    ['pecks of a micrometre', 'drill 2.5', { peck: 0.001 }, 'peck-too-short', /0\.001 mm/],
    ['a speed the spindle has not', 'outline', { speed: 100_000 }, 'speed-beyond-spindle', /100000.*5000/],
    ['hardly a turn a minute', 'outline', { speed: 1e-9 }, 'speed-beyond-spindle', /100 to/],
    ['a feed the machine has not', 'outline', { feed: 5000 }, 'feed-beyond-machine', /5000.*800/],
    ['a feed into a drill that is none', 'drill 2.5', { feed: 400 }, 'feed-beyond-machine', /400.*150/],
    ['no feed to speak of', 'outline', { feed: 1e-9 }, 'feed-beyond-machine', /1 to 800/],
  ])('%s', (_, step, terms, code, words) => {
    const made = planned({ adjust: { [step]: terms } });
    const [finding] = errorsOf(made);
    expect(finding).toMatchObject({ code, feature: step });
    expect(finding!.message).toMatch(words);
    const steps = made.plan.setups.flatMap((setup) => setup.steps.map((s) => s.step.name));
    expect(steps).not.toContain(step);
  });

  test.each<readonly [string, object, string]>([
    ['jaws the wrong way round', { jaws: { from: 50, to: -50 } }, 'jaws-of-no-length'],
    ['a grip deeper than the bar', { grip: 9.5 }, 'grip-too-deep'],
  ])('%s', (_, hold, code) => {
    expect(errorsOf(planned({ setups: { 1: hold } })).map((f) => f.code)).toContain(code);
  });

  test('what is proposed has none of them, on any sample', () => {
    for (const name of [
      'vent-latch-lever',
      'winch-bell-crank',
      'shutter-link',
      'bellows-lever',
      'damper-yoke',
    ]) {
      expect(errorsOf(planned({}, name))).toEqual([]);
    }
  });

  test('the limits themselves can be cut with', () => {
    const adjust = {
      outline: { stepDown: 0.5, stepover: 12, wallAllowance: 6, floorAllowance: 0.5, speed: 5000, feed: 800 },
      'drill 2.5': { peck: 0.1, feed: 150, speed: 100 },
    };
    expect(errorsOf(planned({ adjust }))).toEqual([]);
  });
});
