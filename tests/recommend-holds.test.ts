import { describe, expect, test } from 'vitest';
import { planPart, recommendSubject } from '../gcode/chain.ts';
import { jutsOut } from '../toolpath/passes/juts-out.ts';
import type { RouteDocument } from '../toolpath/route/document.ts';
import { assess } from '../toolpath/survival/assess.ts';
import { smallerCutters } from '../toolpath/survival/depth-rounds.ts';
import { seekPacking } from '../toolpath/survival/hold-choice.ts';
import { limitedWays } from '../toolpath/survival/other-cuts.ts';
import {
  leftLimitSentence,
  otherCutSentence,
  packingSentence,
} from '../toolpath/survival/recommend-words.ts';
import { sampleText } from './samples.ts';

/** What a recommendation may change in how the work is held and with what it is cut: only what the solve shows to help. */

const planned = planPart(sampleText('vent-latch-lever'));
if (!planned.ok) throw new Error('the sample is refused');
const { subject, own } = recommendSubject(planned);
const COARSE = { cell: 0.4, brick: 1.75, places: 1, squeezed: true, tolerance: 0.02 } as const;

const packed = (wish: RouteDocument) => {
  const steps = seekPacking(subject, wish, wish, assess(subject, wish, COARSE), COARSE);
  for (let step = steps.next(); ; step = steps.next()) if (step.done) return step.value;
};

describe('A block under what juts out', () => {
  test('reaches from the jaws to the bar’s end, on whichever side more of it is free', () => {
    const [first, second] = planned.plan.setups;
    // Turned over, the jaws run along all of it and bear on the full-width block alone: the arm is free to the bar's end.
    expect(jutsOut(second!)).toEqual({ from: 28, to: 71 });
    const away = (from: number, to: number, of = first!) => ({
      ...of,
      setup: { ...of.setup, hold: { ...of.setup.hold, jaws: { from, to } } as typeof of.setup.hold },
    });
    expect(jutsOut(first!)).toBeNull();
    expect(jutsOut(away(-40, 28))).toEqual({ from: 28, to: 71 });
    expect(jutsOut(away(30, 130))).toEqual({ from: -1, to: 30 });
    expect(jutsOut(away(20, 130, second!))).toEqual({ from: 28, to: 71 });
  });

  test('is proposed where a drill pushes the thinned arm down and the solve shows that it carries it', () => {
    // The pin's hole drilled last, in the arm as it then is.
    const names = planned.route.setups.map((s) => s.steps.map((step) => step.name));
    const late = ['drill 3.8', ...names[0]!.filter((n) => n.startsWith('ream'))];
    const order = {
      1: names[0]!.filter((n) => !late.includes(n)),
      2: [...names[1]!.filter((n) => !n.startsWith('release')), ...late, 'release fork'],
    };
    const { choices, wish } = packed({ order });
    const block = choices.find((c) => c.piece.kind === 'block')!;
    expect(block.setup).toBe(2);
    expect(block.before).toBeGreaterThan(0.02);
    expect(block.after).toBeLessThan(block.before / 2);
    expect(block.piece).toEqual({ kind: 'block', from: 28, to: 71 });
    expect(wish.setups!['2']!.packing).toContainEqual(block.piece);
    expect(packingSentence(block, 'mm', 0.02)).toMatch(
      /^Setup 2: a drill pushes what juts out of the jaws down by about 0\.\d+ mm; with a sacrificial block under it from X \d/,
    );
  });

  test('is not, where it is an endmill that moves the work, however far', () => {
    const { choices } = packed(own);
    expect(assess(subject, own, COARSE).movement).toBeGreaterThan(0.2);
    expect(choices.map((c) => c.piece.kind)).toEqual(['fork']);
    expect(choices[0]!.after).toBeLessThan(0.02);
    expect(choices[0]!.before).toBeGreaterThan(0.05);
  });
});

describe('A smaller cutter', () => {
  const first = assess(subject, own, { ...COARSE, steps: [], squeezed: false });
  const thin = 'thin body from the back';
  const trouble = (step: string) => ({
    ...{ wish: own, first, changes: [] },
    hopeless: [{ step, movement: 0.3, place: null, needed: null, what: 'movement' as const }],
  });

  test('is the next and the one after, its laps as much closer, for the step in trouble alone', () => {
    const ways = smallerCutters(subject, own, trouble(thin));
    expect(ways.map((w) => w.cutters)).toEqual([
      [{ step: thin, from: '12 mm endmill', to: '10 mm endmill' }],
      [{ step: thin, from: '12 mm endmill', to: '8 mm endmill' }],
    ]);
    const step = first.route.setups.flatMap((s) => s.steps).find((s) => s.name === thin);
    if (step?.kind !== 'thin') throw new Error('not thinned');
    expect(ways[1]!.wish).toEqual({
      adjust: { [thin]: { cutter: '8 mm endmill', stepover: Number(((step.stepover * 8) / 12).toFixed(4)) } },
    });
  });

  test('is not, where the file says which cutter, nor for what is no trouble', () => {
    const said = { adjust: { [thin]: { cutter: '12 mm endmill' } } };
    expect(smallerCutters(subject, said, { ...trouble(thin), wish: said })).toEqual([]);
    expect(smallerCutters(subject, own, { ...trouble(thin), hopeless: [] })).toEqual([]);
    const bent = [{ step: thin, movement: 0.1, place: null, needed: null, what: 'wall' as const }];
    expect(smallerCutters(subject, own, { ...trouble(thin), hopeless: bent })).toEqual([]);
    const deeper = { step: thin, from: 1, to: 2, because: 'room' } as const;
    expect(smallerCutters(subject, own, { ...trouble(thin), hopeless: [], changes: [deeper] })).toEqual([]);
  });
});

describe('A limit on how deep the rim is buried', () => {
  const first = assess(subject, own, { ...COARSE, steps: [], squeezed: false });
  const thin = 'thin body from the back';
  const trouble = (wish: RouteDocument, ...steps: readonly string[]) => ({
    ...{ wish, first, changes: [] },
    hopeless: steps.map((step) => ({
      ...{ step, movement: 0.3, place: null, needed: null, what: 'movement' as const },
    })),
  });

  test('is tried at two angles, on the job step in trouble alone, and lays nothing over what the file says', () => {
    const said = { tolerance: 0.02, adjust: { outline: { stepDown: 1 } } };
    const ways = limitedWays(subject, said, trouble(said, thin));
    expect(ways.map((way) => way.wish)).toEqual(
      [60, 30].map((engagement) => ({ ...said, adjust: { ...said.adjust, [thin]: { engagement } } })),
    );
    // An angle that the file states, or laps that it states by a null, are left alone.
    for (const engagement of [45, null]) {
      const stated = { adjust: { [thin]: { engagement } } };
      expect(limitedWays(subject, stated, trouble(stated, thin))).toEqual([]);
    }
  });

  test('takes a smaller cutter into a fork as wide as its own, for the web as well, unless the file states the cutter', () => {
    const [way] = limitedWays(subject, own, trouble(own, 'fork'));
    const cutter = way!.cut.kind === 'limits' ? way!.cut.limits[0]!.cutter : null;
    expect(cutter).toMatch(/^[34] mm endmill$/);
    expect(way!.wish.adjust).toEqual({ fork: { engagement: 60, cutter }, 'release fork': { cutter } });
    const stated = { adjust: { fork: { cutter: '5 mm endmill' } } };
    expect(limitedWays(subject, stated, trouble(stated, 'fork'))).toEqual([]);
  });

  test('is taken where the solve shows that it helps, with the time beside it, and told where it does not', () => {
    const now = { ...first, movement: 0.031, seconds: 1500 };
    const limits = [{ step: thin, movement: 0.3, kind: 'limit', angle: 60, cutter: null } as const];
    expect(otherCutSentence({ kind: 'limits', limits }, { ...now, seconds: 2400 }, now, 'mm')).toBe(
      'thin body from the back: peeled, buried by 60° at most, the work moves at most about 0.031 mm in about 25 min of cutting; without that limit, about 0.031 mm in about 40 min.',
    );
    const usual = { ...now, movement: 0.019 };
    expect(leftLimitSentence(limits, { now, tooLong: null }, usual, 'mm')).toMatch(
      /would move at most about 0\.031 mm in about 25 min of cutting; without that limit, about 0\.019 mm in about 25 min\.$/,
    );
    expect(leftLimitSentence(limits, { now, tooLong: 10_440 }, usual, 'mm')).toMatch(
      /would take about 174 min of cutting; without that limit about 25 min do\.$/,
    );
  });
});
