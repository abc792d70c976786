import { expect, test } from 'vitest';
import { planPart, survivalQuestion, writePrograms } from '../gcode/chain.ts';
import { hasErrors } from '../sketch/part/severity.ts';
import { CUTTING_FORCE } from '../toolpath/survival/cutting-force.ts';
import {
  type EngagementProposal,
  proposalSentence,
  proposeEngagements,
  withEngagements,
} from '../toolpath/survival/engagement-proposal.ts';
import type { PassSurvival } from '../toolpath/survival/pass-survival.ts';
import { surviveInSteps } from '../toolpath/survival/survival.ts';
import { sampleText } from './samples.ts';

/** The angle that a part bears, step by step, from the movement that the estimates find. */

const plan = (route?: object) => {
  const planned = planPart(JSON.stringify({ ...JSON.parse(sampleText('vent-latch-lever')), route }));
  if (!planned.ok || hasErrors(planned.findings)) throw new Error('refused');
  return planned;
};

/** Every pass by closed forms. */
const estimated = (planned: ReturnType<typeof plan>): readonly PassSurvival[] => {
  const programs = writePrograms(planned.part, planned.plan, planned.profile);
  for (const news of surviveInSteps(survivalQuestion(planned, programs)))
    if (news.kind === 'estimated') return news.passes;
  throw new Error('nothing was estimated');
};

const lever = plan();
const passes = estimated(lever);
const propose = (tolerance: number): readonly EngagementProposal[] =>
  proposeEngagements(lever.part, lever.plan, passes, {
    tolerance,
    cutting: CUTTING_FORCE[lever.part.bar.material],
    cutters: lever.profile.cutters,
  });
/** Where the force is to fall to a share of what it is, for the step that moves most. */
const worst = propose(1e3).reduce((a, b) => (b.movement > a.movement ? b : a));
const askedFor = (share: number, step = worst.step): EngagementProposal => {
  const { movement } = propose(1e3).find((p) => p.step === step)!;
  return propose((movement * share) / 0.9).find((p) => p.step === step)!;
};

test('every step that can be kept to an angle is looked at, and where it moves little none is needed', () => {
  const all = propose(1e3);
  const can = lever.plan.setups
    .flatMap((s) => s.steps)
    .filter(
      ({ step }) =>
        'engagement' in step &&
        passes.some((p) => p.force.step === step.name && p.force.kind !== 'finish' && p.bending.length > 0),
    );
  expect(can.length).toBeGreaterThan(2);
  expect(all.map((p) => p.step)).toEqual(can.map(({ step }) => step.name));
  expect(all.every((p) => p.kind === 'none needed')).toBe(true);
  expect(all.every((p) => p.movement > 0)).toBe(true);
});

test('the less it may move the smaller the angle, until only shallower passes help', () => {
  const kinds = [0.9, 0.8, 0.6, 0.3, 0.02].map((share) => askedFor(share, 'fork'));
  const angles = kinds.flatMap((p) => (p.kind === 'limit' ? [p.angle] : []));
  expect(angles.length).toBeGreaterThan(1);
  for (let i = 1; i < angles.length; i++) expect(angles[i]!).toBeLessThanOrEqual(angles[i - 1]!);
  expect(kinds.at(-1)?.kind).toBe('shallower');
  // As wide as its cutter: it asks for a smaller one.
  const first = kinds.find((p) => p.kind === 'limit');
  expect(first?.kind === 'limit' && first.cutter).toBeTruthy();
});

test('what is proposed can be laid over the route as it is, keeps the rest, and is then stated', () => {
  const proposals = propose(0.9 * worst.movement);
  expect(proposals.some((p) => p.kind === 'limit')).toBe(true);
  const steps = lever.route.setups.flatMap((s) => s.steps);
  const own = { adjust: { fork: { wallAllowance: 0.1 } }, tolerance: 0.03 };
  const route = withEngagements(own, steps, [
    ...proposals.filter((p) => p.step !== 'fork'),
    { step: 'fork', movement: 0.05, kind: 'limit', angle: 60, cutter: '4 mm endmill' },
  ]);
  expect(route.tolerance).toBe(0.03);
  expect(route.adjust?.fork).toEqual({ wallAllowance: 0.1, engagement: 60, cutter: '4 mm endmill' });
  expect(route.adjust?.['release fork']).toEqual({ cutter: '4 mm endmill' });
  const then = plan(route);
  const stated = proposeEngagements(then.part, then.plan, passes, {
    tolerance: 0.01,
    cutting: CUTTING_FORCE[then.part.bar.material],
    cutters: then.profile.cutters,
  });
  for (const p of proposals) {
    if (p.kind === 'limit') expect(stated.find((s) => s.step === p.step)?.kind).toBe('stated');
  }
}, 60_000);

test('each is said in a sentence with its numbers', () => {
  const say = (p: EngagementProposal) => proposalSentence(p, 0.02, 'mm');
  expect(say({ step: 'fork', movement: 0.0151, kind: 'none needed' })).toBe(
    'fork: the work moves about 0.015 mm, within 0.02 mm: no limit is needed.',
  );
  expect(say({ step: 'fork', movement: 0.041, kind: 'limit', angle: 40, cutter: '3 mm endmill' })).toBe(
    'fork: the work moves about 0.041 mm; buried by 40° at most with the 3 mm endmill it would stay within 0.02 mm.',
  );
  expect(say({ step: 'fork', movement: 0.3, kind: 'shallower' })).toMatch(/only shallower passes/);
  expect(say({ step: 'fork', movement: 0.03, kind: 'stated', angle: 60 })).toMatch(/limit of 60°; more than/);
});

test('what is too little to be told is said to be less, not about less', () => {
  const still = { ...propose(1e3)[0]!, movement: 1e-6 };
  expect(proposalSentence(still, 1, 'inch')).toMatch(/: the work moves less than 0\.0001 in, within /);
  expect(proposalSentence({ ...still, movement: 0.0254 }, 1, 'inch')).toContain(
    'moves about 0.0010 in, within ',
  );
});
