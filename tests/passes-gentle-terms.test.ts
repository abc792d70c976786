import { describe, expect, it } from 'vitest';
import type { Point } from '../sketch/shape/point.ts';
import { disc, NOTHING, rectangle } from '../sketch/shape/region.ts';
import { arc, line, type Segment } from '../sketch/shape/segment.ts';
import { gentleTerms, patternOf, roomOutside, sharpestRound } from '../toolpath/passes/gentle-terms.ts';
import type { Scene } from '../toolpath/passes/scene.ts';
import { LINK, PLATE, TERMS } from './passes-programs.ts';
import { walledBy } from './passes-samples.ts';

// What a limit of engagement makes of a job step's terms, worked by hand.

const at = (x: number, y: number): Point => ({ x, y });
const rad = (degrees: number): number => (degrees * Math.PI) / 180;
const round = (v: number): number => Math.round(v * 1e4) / 1e4 + 0;

describe('terms under a limit', () => {
  const pocket = (corner: number) => {
    // A pocket of 20 × 10 in a plate, with rounded corners.
    const c = (x: number, y: number) => at(x, y);
    const [w, h, r] = [20, 10, corner];
    const hole: Segment[] = [
      line(c(0, h - r), c(0, r)),
      ...(r > 0 ? [arc(c(0, r), c(r, 0), c(r, r), true)] : []),
      line(c(r, 0), c(w - r, 0)),
      ...(r > 0 ? [arc(c(w - r, 0), c(w, r), c(w - r, r), true)] : []),
      line(c(w, r), c(w, h - r)),
      ...(r > 0 ? [arc(c(w, h - r), c(w - r, h), c(w - r, h - r), true)] : []),
      line(c(w - r, h), c(r, h)),
      ...(r > 0 ? [arc(c(r, h), c(0, h - r), c(r, h - r), true)] : []),
    ];
    const back = hole.map((s) =>
      s.kind === 'line' ? line(s.to, s.from) : arc(s.to, s.from, s.centre, false),
    );
    return { contours: [...rectangle(at(-9, -9), at(29, 19)).contours, { segments: back.reverse() }] };
  };

  it('know the sharpest inner corner that the middle goes round', () => {
    expect(sharpestRound(pocket(4), 2)).toBeCloseTo(2, 3);
    expect(sharpestRound(pocket(3), 2)).toBeCloseTo(1, 3);
    expect(sharpestRound(pocket(0), 2)).toBe(0);
    expect(sharpestRound(rectangle(at(0, 0), at(9, 9)), 2)).toBe(Number.POSITIVE_INFINITY);
    expect(sharpestRound(disc(at(0, 0), 9), 2)).toBe(Number.POSITIVE_INFINITY);
  });

  it('leave what six tenths of the limit take, nothing less than two hundredths, and what is stated at most', () => {
    const left = (limit: number | null, walls = rectangle(at(0, 0), at(9, 9))) =>
      round(gentleTerms(TERMS, limit && rad(limit), walledBy(walls), 3).wallAllowance);
    expect([null, 60, 20].map((limit) => left(limit))).toEqual([
      0.2,
      0.2,
      round(3 * (1 - Math.cos(rad(12)))),
    ]);
    expect([left(12), left(10)]).toEqual([round(3 * (1 - Math.cos(rad(7.2)))), 0]);
    expect(left(60, pocket(0))).toBe(0);
    expect(gentleTerms(TERMS, null, walledBy(NOTHING), 3)).toBe(TERMS);
    expect(gentleTerms(TERMS, 1, walledBy(NOTHING), 3)).toEqual(TERMS);
  });

  it('go front by front, or as they would without', () => {
    const plain = { kind: 'laps' } as const;
    expect(patternOf(null, plain, 4)).toBe(plain);
    expect(patternOf(1.2, plain)).toEqual({ kind: 'fronts', engagement: 1.2, groove: null });
    expect(patternOf(1.2, plain, 4)).toEqual({ kind: 'fronts', engagement: 1.2, groove: 4 });
  });

  it('know how much bar stands outside on the narrowest side, either face up', () => {
    // The bar runs from −18 to 48 and from −15 to 17.
    const room = (face: string, x0: number, y0: number, x1: number, y1: number) => {
      const scene = { part: LINK, frame: { face, zero: { x: 0, y: 0, z: 0 } } } as unknown as Scene;
      return roomOutside(scene, rectangle(at(x0, y0), at(x1, y1)));
    };
    expect(room('front', -8, -8, 37, 8)).toBe(7);
    expect(room('back', -8, -8, 37, 8)).toBe(7);
    expect([room('front', -8, -3, 37, 14), room('back', -8, -3, 37, 14)]).toEqual([3, 1]);
    expect([room('front', -17, 0, 37, 8), room('front', -8, 0, 47.5, 8)]).toEqual([1, 0.5]);
    expect(
      roomOutside({ part: PLATE, frame: { face: 'front', zero: { x: 0, y: 0, z: 0 } } } as never, NOTHING),
    ).toBe(0);
  });
});
