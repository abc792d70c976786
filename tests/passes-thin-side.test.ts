import { describe, expect, it } from 'vitest';
import type { Part } from '../sketch/part/part.ts';
import { betterBackward, forkLine, pressOf, sidesOf } from '../toolpath/passes/thin-side.ts';
import type { JobStep } from '../toolpath/route/route.ts';
import { PLATE } from './passes-programs.ts';

// How thick the walls beside an opening are, on a plate of 60 × 30 mm from its lower left corner: figures off the drawing.

const at = (x: number, y: number) => ({ x, y });
const near = (mm: number) => expect.closeTo(mm, 6);

describe('beside an opening stands', () => {
  it('what lies between its walls and the outline, seen along its way', () => {
    // 4 wide about Y 10: 8 mm are left below, 18 above.
    expect(sidesOf(PLATE, at(10, 10), at(40, 10), 4, 'front')).toEqual({ left: near(18), right: near(8) });
    expect(sidesOf(PLATE, at(40, 10), at(10, 10), 4, 'front')).toEqual({ left: near(8), right: near(18) });
    // Along Y at X 50: to the left 48 mm, to the right 8.
    expect(sidesOf(PLATE, at(50, 5), at(50, 25), 4, 'front')).toEqual({ left: near(48), right: near(8) });
  });

  it('the other way about with the back up', () => {
    expect(sidesOf(PLATE, at(10, 10), at(40, 10), 4, 'back')).toEqual({ left: near(8), right: near(18) });
  });

  it('as much as at the thinnest of nine places along it', () => {
    // Slanted from 12 over the lower edge to 21 over it: the first of nine places is half a ninth along.
    const { right } = sidesOf(PLATE, at(10, 12), at(40, 21), 0, 'front');
    const slope = Math.atan2(9, 30);
    expect(right).toBeCloseTo((12 + 9 / 18) / Math.cos(slope), 6);
  });

  it('nothing that counts where a place lies off the part; none where all do', () => {
    // Half of this one lies beyond the right edge.
    expect(sidesOf(PLATE, at(40, 10), at(80, 10), 4, 'front')).toEqual({ left: near(18), right: near(8) });
    const beside = sidesOf(PLATE, at(70, 10), at(90, 10), 4, 'front');
    expect(beside).toEqual({ left: Number.POSITIVE_INFINITY, right: Number.POSITIVE_INFINITY });
    // A wall that ends on the very edge is none.
    expect(sidesOf(PLATE, at(10, 2), at(40, 2), 4, 'front').right).toBe(Number.POSITIVE_INFINITY);
  });

  it('a wall as far as the first edge that it comes to', () => {
    const notch = [at(0, 0), at(60, 0), at(60, 20), at(0, 20), at(0, 14), at(55, 14), at(55, 10), at(0, 10)];
    const plates = [{ ...PLATE.plates[0]!, corners: notch }];
    expect(sidesOf({ ...PLATE, plates }, at(10, 5), at(40, 5), 4, 'front')).toEqual({
      left: near(3),
      right: near(3),
    });
  });
});

describe('an opening had better be begun at its other end', () => {
  it('where the left wall is thicker by more than a tenth', () => {
    expect(betterBackward({ left: 11.01, right: 10 })).toBe(true);
    expect(betterBackward({ left: 11, right: 10 })).toBe(false);
    expect(betterBackward({ left: 5, right: 10 })).toBe(false);
  });
});

describe('the loops press', () => {
  const slotted = (y: number): Part => ({
    ...PLATE,
    slots: [
      { name: 'other', from: at(5, 5), to: at(6, 5), width: 2, depth: null, face: 'front' },
      { name: 'slot', from: at(10, y), to: at(40, y), width: 4, depth: null, face: 'front' },
    ],
  });
  const forked = (y: number, root: Part['forks'][number]['root']): Part => ({
    ...PLATE,
    forks: [
      { name: 'other', mouth: at(60, 5), direction: Math.PI, width: 2, depth: 5, root: { kind: 'round' } },
      { name: 'fork', mouth: at(0, y), direction: 0, width: 4, depth: 20, root },
    ],
  });
  const SLOT = { kind: 'slot', slot: 'slot' } as JobStep;
  const FORK = { kind: 'fork', fork: 'fork' } as JobStep;

  it('on the thick wall of a slot, whichever it is', () => {
    expect(pressOf(slotted(20), SLOT, 'front')).toEqual({ on: near(18), away: near(8), sense: 'thick' });
    expect(pressOf(slotted(10), SLOT, 'front')).toEqual({ on: near(18), away: near(8), sense: 'thick' });
    expect(pressOf(slotted(10), SLOT, 'back')).toEqual({ on: near(18), away: near(8), sense: 'thick' });
  });

  it('on either of two that are alike, to a tenth', () => {
    expect(pressOf(slotted(15), SLOT, 'front')).toEqual({ on: near(13), away: near(13), sense: 'alike' });
    // 12.4 and 13.6 differ by less than a tenth, 12.3 and 13.7 by more.
    expect(pressOf(slotted(14.4), SLOT, 'front')).toMatchObject({ sense: 'alike' });
    expect(pressOf(slotted(15.6), SLOT, 'front')).toMatchObject({ on: near(13.6), sense: 'alike' });
    expect(pressOf(slotted(14.3), SLOT, 'front')).toMatchObject({ on: near(13.7), sense: 'thick' });
  });

  it('on the thin tine of a fork that cannot be begun at its root', () => {
    const square = { kind: 'square', cornerRadius: 1 } as const;
    expect(pressOf(forked(10, square), FORK, 'front')).toEqual({
      on: near(8),
      away: near(18),
      sense: 'thin',
    });
    expect(pressOf(forked(20, square), FORK, 'front')).toEqual({
      on: near(18),
      away: near(8),
      sense: 'thick',
    });
    expect(pressOf(forked(10, { kind: 'round' }), FORK, 'front')).toEqual({
      on: near(18),
      away: near(8),
      sense: 'thick',
    });
  });

  it('on nothing where a side has no wall, and for what is no opening or is gone', () => {
    expect(pressOf(slotted(2), SLOT, 'front')).toBeNull();
    expect(pressOf(slotted(28), SLOT, 'front')).toBeNull();
    expect(pressOf(PLATE, SLOT, 'front')).toBeNull();
    expect(pressOf(PLATE, FORK, 'front')).toBeNull();
    expect(pressOf(slotted(20), { kind: 'outline' } as JobStep, 'front')).toBeNull();
  });
});

describe('the middle line of a fork', () => {
  it('goes from its mouth to half its width before its end, whichever way it points', () => {
    const fork = { name: 'f', mouth: at(3, 4), width: 6, depth: 13, root: { kind: 'round' } as const };
    expect(forkLine({ ...fork, direction: 0 })).toEqual({ from: at(3, 4), to: at(13, 4) });
    const up = forkLine({ ...fork, direction: Math.PI / 2 });
    expect(up.to.x).toBeCloseTo(3, 9);
    expect(up.to.y).toBeCloseTo(14, 9);
  });
});
