import { describe, expect, it } from 'vitest';
import type { Part } from '../sketch/part/part.ts';
import { isPeelable, openingOf, type PeelableStep, peelingCutter } from '../toolpath/passes/peel-cutter.ts';
import type { JobStep } from '../toolpath/route/route.ts';
import { PLATE } from './passes-programs.ts';
import { endmill } from './passes-samples.ts';

// Which cutter peels an opening: worked by hand from the three quarters of its width.

const at = { x: 0, y: 0 };
const part: Part = {
  ...PLATE,
  forks: [
    { name: 'wide', mouth: at, direction: 0, width: 9, depth: 20, root: { kind: 'round' } },
    { name: 'round', mouth: at, direction: 0, width: 8, depth: 20, root: { kind: 'round' } },
    {
      name: 'square',
      mouth: at,
      direction: 0,
      width: 7,
      depth: 20,
      root: { kind: 'square', cornerRadius: 1.5 },
    },
  ],
  slots: [
    { name: 'long', from: at, to: { x: 9, y: 0 }, width: 6, depth: null, face: 'front' },
    { name: 'short', from: at, to: { x: 4, y: 0 }, width: 5, depth: null, face: 'front' },
  ],
  holes: [
    { name: 'plain', purpose: 'clearance', centre: at, diameter: 12, depth: null, from: 'front' },
    {
      ...{ name: 'bored', purpose: 'counterbored', centre: at, diameter: 5, depth: null, from: 'front' },
      ...{ boreDiameter: 10, boreDepth: 3 },
    } as Part['holes'][number],
  ],
};
const step = (kind: string, name: string): PeelableStep =>
  ({ kind, [kind === 'pocket' ? 'hole' : kind]: name }) as never;

describe('the opening that a job step cuts', () => {
  it('is a fork, slot or hole by its name, as wide as it is drawn', () => {
    const open = (width: number, corner = Number.POSITIVE_INFINITY) => ({ width, corner });
    expect(openingOf(part, step('fork', 'round'))).toEqual(open(8));
    expect(openingOf(part, step('fork', 'square'))).toEqual(open(7, 1.5));
    expect(openingOf(part, step('slot', 'short'))).toEqual(open(5));
    expect(openingOf(part, step('pocket', 'plain'))).toEqual(open(12));
    expect(openingOf(part, step('pocket', 'bored'))).toEqual(open(10));
  });

  it('is none where the part no longer has it', () => {
    for (const kind of ['fork', 'slot', 'pocket']) expect(openingOf(part, step(kind, 'gone'))).toBeNull();
  });

  it('can be peeled: a fork, a slot, a pocket, and nothing else', () => {
    const can = (kind: string): boolean => isPeelable({ kind } as JobStep);
    expect(['fork', 'slot', 'pocket'].map(can)).toEqual([true, true, true]);
    expect(['outline', 'thin', 'square', 'release', 'drill', 'spot'].some(can)).toBe(false);
  });
});

describe('the cutter that peels an opening', () => {
  const mills = [2, 4, 6, 3, 5].map(endmill);
  const chosen = (width: number, corner = Number.POSITIVE_INFINITY, depth = 5, cutters = mills) =>
    peelingCutter(cutters, { width, corner }, depth)?.diameter ?? null;

  it('is the largest of at most three quarters of its width', () => {
    expect(chosen(8)).toBe(6);
    expect(chosen(7.99)).toBe(5);
    expect(chosen(20)).toBe(6);
    expect(chosen(4)).toBe(3);
    expect(chosen(2.6)).toBeNull();
    expect(peelingCutter([], { width: 8, corner: 1 }, 5)).toBeNull();
  });

  it('goes into the sharpest corner', () => {
    expect(chosen(8, 2.5)).toBe(5);
    expect(chosen(8, 2.499)).toBe(4);
    expect(chosen(8, 0.9)).toBeNull();
  });

  it('has flutes as long as the opening is deep', () => {
    expect(chosen(8, Number.POSITIVE_INFINITY, 20)).toBe(6);
    expect(chosen(8, Number.POSITIVE_INFINITY, 20.1)).toBeNull();
    const short = mills.map((m) => (m.diameter === 6 ? { ...m, fluteLength: 4 } : m));
    expect(chosen(8, Number.POSITIVE_INFINITY, 5, short)).toBe(5);
  });

  it('is an endmill, of two alike the first', () => {
    const twin = { ...endmill(6), name: 'the other' };
    expect(peelingCutter([endmill(6), twin], { width: 8, corner: 3 }, 5)!.name).toBe('6 mm endmill');
    const drill = { ...endmill(6), kind: 'drill' as const };
    expect(chosen(8, Number.POSITIVE_INFINITY, 5, [drill, endmill(3)])).toBe(3);
  });
});
