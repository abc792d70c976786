import { expect, test } from 'vitest';
import type { Part } from '../sketch/part/part.ts';
import { sharedWith } from '../sketch/part/sharing.ts';
import { SAMPLES, samplePart } from './samples.ts';

const yoke = (): Part => samplePart('damper-yoke');

test('a part that is the same all through is the very part it was', () => {
  for (const name of SAMPLES) {
    const before = samplePart(name);
    const after = samplePart(name);
    expect(after).not.toBe(before);
    expect(sharedWith(before, after)).toBe(before);
    expect(sharedWith(null, after)).toBe(after);
  }
});

test('what has changed is as it is now, and all else is what it was', () => {
  const before = yoke();
  const read = yoke();
  const after: Part = {
    ...read,
    name: 'Another yoke',
    holes: [{ ...read.holes[1]!, depth: 6 }, read.holes[0]!],
    forks: read.forks.map((f) => ({ ...f, root: { kind: 'square' as const, cornerRadius: 2 } })),
    lands: [],
  };
  const shared = sharedWith(before, after);
  expect(shared).toEqual(after);
  expect(shared.holes[1]).toBe(before.holes[0]);
  expect(shared.ends.every((end, i) => end === before.ends[i])).toBe(true);
  expect(shared.bar).toBe(before.bar);
});

test('a number that differs in its last bit or in the sign of nothing is another', () => {
  const before = yoke();
  for (const y of [-0, Number.MIN_VALUE]) {
    const read = yoke();
    const [end, ...others] = read.ends;
    const moved = { ...end!, centre: { x: end!.centre.x, y } };
    const shared = sharedWith(before, { ...read, ends: [moved, ...others] });
    expect(before.ends[0]!.centre.y).toBe(0);
    expect(shared.ends[0]).toBe(moved);
    expect(shared.ends[1]).toBe(before.ends[1]);
  }
});

test('what one has and the other has not is a difference', () => {
  const before = yoke();
  const { insideRadius: _, ...bare } = yoke();
  const filled = { ...bare, insideRadius: 1 };
  expect(sharedWith(before, filled).insideRadius).toBe(1);
  expect(sharedWith(filled, before).insideRadius).toBe(before.insideRadius);
});
