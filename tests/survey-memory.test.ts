import { expect, test } from 'vitest';
import { planPart, recommendSubject } from '../gcode/chain.ts';
import type { RouteDocument } from '../toolpath/route/document.ts';
import { type Assessment, assess, subjectMemory } from '../toolpath/survival/assess.ts';
import { orderings } from '../toolpath/survival/orders.ts';
import { sampleText } from './samples.ts';

/** Ways of making a part that begin alike are worked out once as far as they do; nothing of that is ever seen in a figure. */

const planned = planPart(sampleText('vent-latch-lever'));
if (!planned.ok) throw new Error('the sample is refused');
const { subject } = recommendSubject(planned);
const fresh = { part: subject.part, profile: subject.profile, proposed: subject.proposed };
const COARSE = { cell: 0.5, brick: 2, places: 1, squeezed: true } as const;

const figuresOf = ({ passes, squeezes, seconds, movement, left, hold }: Assessment) => ({
  ...{ passes, squeezes, seconds, movement, left, hold },
});

const late = orderings(planned.route).at(-1)!.order;
const WAYS: readonly (readonly [string, RouteDocument])[] = [
  ['as it is', {}],
  ['another web', { adjust: { fork: { web: 0.8 } } }],
  ['packing, which changes no cut', { setups: { 2: { packing: [{ kind: 'fork', fork: 'fork' }] } } }],
  ['another grip', { setups: { 1: { grip: 3 } } }],
  ['another order', { order: late }],
  ['shallower in the last setup', { adjust: { 'thin body from the back': { stepDown: 1 } } }],
  ['as it is once more', {}],
];

const memory = subjectMemory();
const known = { ...subject, memory };

test.each(WAYS)('%s: the same figures with what is known of the ways before as without', (_, wish) => {
  const asked = assess(known, wish, COARSE);
  expect(asked.refused).toBeNull();
  expect(figuresOf(asked)).toEqual(figuresOf(assess(fresh, wish, COARSE)));
});

test('what is alike is taken over, what differs is not', () => {
  const [first, packed] = [assess(known, {}, COARSE), assess(known, WAYS[2]![1], COARSE)];
  const SURVEY = { ...COARSE, frequency: false };
  const moments = (way: Assessment, terms: object = SURVEY) => memory.survey.along(way.question!, terms);
  const setup1 = first.question!.passes.filter((p) => p.setup === 1).length;
  // Setup 1 is held and cut alike in both; in setup 2 packing is put in.
  expect(moments(packed)[setup1]).toBe(moments(first)[setup1]);
  expect(moments(packed)[setup1 + 1]).not.toBe(moments(first)[setup1 + 1]);
  expect(moments(first).some((m) => m.solved !== undefined)).toBe(true);
  // Another clamp is another question from the first pass on.
  expect(moments(first, { ...SURVEY, clamp: 3000 }).some((m) => m.look || m.solved)).toBe(false);
});
