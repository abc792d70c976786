import { describe, expect, test } from 'vitest';
import type { Solid } from '../sketch/part/solid.ts';
import { rectangle } from '../sketch/shape/region.ts';
import { standardProfile } from '../toolpath/machine/default-profile.ts';
import type { SurveyPass } from '../toolpath/survival/force-survey.ts';
import type { PassSurvival, SurvivalQuestion } from '../toolpath/survival/pass-survival.ts';
import { surviveRoute } from '../toolpath/survival/survival.ts';
import { survivalRows } from '../toolpath/survival/survival-rows.ts';
import { survivalFindings } from '../toolpath/survival/verdict.ts';

/** The part is judged by what it does itself, also where the cutter presses on scrap. */

const bar = {
  length: 70,
  width: 12,
  thickness: 6,
  material: 'low-carbon steel',
  corner: { x: 0, y: 0 },
  sawn: 0,
} as const;
const frame = { face: 'front', zero: { x: 0, y: 0, z: 6 } } as const;
const cutter = standardProfile.cutters.find((c) => c.kind === 'endmill' && c.diameter === 6)!;

/** Feeds along X at some Y, at a height under the top of the work. */
const pass = (x0: number, x1: number, ys: readonly number[], z: number): SurveyPass => ({
  ...{ label: `at ${z}`, step: 'clear', setup: 1, still: null, kind: 'rough', cutter, speed: 1500, frame },
  motions: ys.map((y) => ({
    stroke: { kind: 'feed', from: { x: x0, y, z }, to: { x: x1, y, z } },
    feed: 90,
  })),
});
const questionOf = (
  wanted: readonly [x0: number, x1: number, y0: number, y1: number],
  jaws: { readonly from: number; readonly to: number },
  passes: readonly SurveyPass[],
): SurvivalQuestion & { readonly wanted: Solid } => {
  const [x0, x1, y0, y1] = wanted;
  const region = rectangle({ x: x0, y: y0 }, { x: x1, y: y1 });
  const hold = { kind: 'vice', jaws, grip: 3, parallels: null, gripped: 'the sides' } as const;
  return {
    bar,
    setups: [{ number: 1, frame, hold }],
    passes,
    wanted: { slabs: [{ bottom: 0, top: 6, region }] },
  };
};
const TERMS = { cell: 0.25, brick: 1, frequency: false } as const;
const last = (question: SurvivalQuestion, terms = {}): PassSurvival =>
  surviveRoute(question, { ...TERMS, ...terms }).at(-1)!;
const codes = (p: PassSurvival) => survivalFindings([p], standardProfile).map((f) => [f.code, f.severity]);

describe('Scrap that is left as a thin foil beyond the part', () => {
  const foil = questionOf([0, 30, 0, 12], { from: 0, to: 28 }, [
    pass(37, 75, [2, 6, 10], -3),
    pass(37, 75, [2, 6, 10], -5.5),
  ]);
  const { wanted: _, ...blind } = foil;

  test.each([
    ['solved', {}],
    ['closed form', { only: () => false }],
  ])('moves as it will, and the part is judged alone (%s)', (basis, terms) => {
    const judged = last(foil, terms);
    expect(judged.basis).toBe(basis);
    expect(judged.scrap!).toBeGreaterThan(0.2);
    expect(judged.movement!).toBeLessThan(0.02);
    // Without knowing the part it is the foil that is told.
    expect(last(blind, terms).movement!).toBeCloseTo(judged.scrap!, 6);
    expect(last(blind, terms).scrap).toBeNull();
    expect(judged.error!.wall).toBeLessThan(0.1);
  });

  test('is a note with both figures, and stands in the row', () => {
    const judged = last(foil);
    expect(codes(judged)).toEqual([['scrap-moves', 'note']]);
    expect(codes(last(blind)).map(([code]) => code)).toContain('work-moves');
    const [note] = survivalFindings([judged], standardProfile);
    expect(note!.message).toMatch(
      /scrap outside the part moves (about 0\.\d+|more than 1) mm .* the part alone is judged/,
    );
    expect(survivalRows([judged])[0]).toMatchObject({
      scrapMoves_mm: Number(judged.scrap!.toFixed(5)),
      movement_mm: Number(judged.movement!.toFixed(5)),
    });
  });
});

test('a push on scrap that bends the part is not lost', () => {
  // A strip along the middle of the bar, held at its left end; the cutter works on the scrap beside its far end.
  const far = questionOf([0, 70, 4, 8], { from: 0, to: 12 }, [pass(50, 70, [0], -2)]);
  const judged = last(far);
  expect(judged.bending.every((b) => b.scrap !== null)).toBe(true);
  expect(judged.movement! / judged.scrap!).toBeGreaterThan(0.8);
  expect(judged.movement!).toBeGreaterThan(0.02);
  expect(codes(judged).map(([code]) => code)).toContain('work-moves');
});

test('what roughing leaves on a wall of the part is the part', () => {
  const wall = questionOf([0, 30, 0, 12], { from: 0, to: 28 }, [pass(33.4, 33.4, [], -2)]);
  const along: SurveyPass = {
    ...wall.passes[0]!,
    motions: [
      { stroke: { kind: 'feed', from: { x: 33.4, y: 15, z: -2 }, to: { x: 33.4, y: -4, z: -2 } }, feed: 90 },
    ],
  };
  // Climbing or not, the push is on one of the two walls of the groove: that of the part, 0.4 mm before its line, counts as the part.
  const judged = surviveRoute({ ...wall, passes: [along] }, TERMS)[0]!;
  const flipped = surviveRoute(
    {
      ...wall,
      passes: [
        {
          ...along,
          motions: along.motions.map(({ stroke, feed }) => ({
            stroke: { ...stroke, from: stroke.to, to: stroke.from },
            feed,
          })),
        },
      ],
    },
    TERMS,
  )[0]!;
  expect([judged, flipped].some((p) => p.bending.some((b) => b.scrap === null))).toBe(true);
});
