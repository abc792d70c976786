import { describe, expect, it } from 'vitest';
import { difference } from '../sketch/shape/boolean.ts';
import { type Region, rectangle } from '../sketch/shape/region.ts';
import type { Clearing } from '../toolpath/passes/area.ts';
import { clearArea } from '../toolpath/passes/clearing.ts';
import type { Pass } from '../toolpath/passes/pass.ts';
import { clearingOf, workOf } from './passes-samples.ts';

// Pockets with sharp corners and a cutter of 4 mm, so that the only rounds are those on which a finishing lap comes and
// goes: where it begins, how far it comes from, how deep it goes down and how fast.

const at = (x: number, y: number) => ({ x, y });
const cleared = (
  target: Region,
  { allowance = 0.2, direction = 'climb' as 'climb' | 'conventional', more = {} as Partial<Clearing> } = {},
) => {
  const plate = rectangle(at(-20, -20), at(60, 60));
  const pocket = { target, keep: difference(plate, target), plate };
  const terms = { radius: 2, allowance, stepover: 1.5, direction };
  return clearArea(workOf(pocket, -6), clearingOf(pocket, terms, { floor: -1, ...more }));
};
const lastOf = ({ passes }: { readonly passes: readonly Pass[] }): Pass => passes.at(-1)!;
const told = ({ moves }: Pass): string[] =>
  moves.map((m) => {
    if (m.kind === 'drill' || m.kind === 'stop') return m.kind;
    const to = [m.to.x, m.to.y, m.to.z].map((v) => Number(v.toFixed(2)) + 0).join(' ');
    return m.kind === 'rapid' ? `rapid ${to}` : `${m.kind} ${to} F${m.feed}`;
  });
/** Radius of the round that it comes on, mm; 0 for none. */
const lead = (...of: Parameters<typeof cleared>): number => {
  const pass = lastOf(cleared(...of));
  expect(pass.kind).toBe('finish');
  const { moves } = pass;
  const k = moves.findIndex((m) => m.kind === 'arc');
  const [before, round] = [moves[k - 1], moves[k]];
  if (round?.kind !== 'arc' || before === undefined || !('to' in before)) return 0;
  return Number(Math.hypot(before.to.x - round.centre.x, before.to.y - round.centre.y).toFixed(3));
};
const WIDE = rectangle(at(0, 0), at(20, 12));

describe('a finishing lap', () => {
  it('comes to the middle of the longest side on a quarter round, and parts from there on most of another', () => {
    // Its radius is 0.6: it begins that far off, and is 0.2 + 0.3 off where it is lifted.
    // Over the floor that is cut already it crosses low.
    expect(told(lastOf(cleared(WIDE))).slice(1)).toEqual([
      ...['rapid 9.4 2.6 -0.5', 'feed 9.4 2.6 -1 F200', 'arc 10 2 -1 F200'],
      ...['feed 18 2 -1 F200', 'feed 18 10 -1 F200', 'feed 2 10 -1 F200', 'feed 2 2 -1 F200'],
      ...['feed 10 2 -1 F200', 'arc 10.59 2.5 -1 F200', 'rapid 10.59 2.5 5'],
    ]);
    const back = told(lastOf(cleared(WIDE, { direction: 'conventional' })));
    expect(back.filter((m) => m.startsWith('arc'))).toHaveLength(2);
    expect(back.indexOf('feed 2 10 -1 F200')).toBeGreaterThan(back.indexOf('feed 2 2 -1 F200'));
    // Taller than wide it begins on a side.
    const tall = told(lastOf(cleared(rectangle(at(0, 0), at(12, 20)))));
    expect(tall).toContain('arc 10 10 -1 F200');
  });

  it('comes from three tenths of the cutter’s radius, from one and a half times what is left where that is more', () => {
    expect(lead(WIDE)).toBe(0.6);
    expect(lead(WIDE, { allowance: 0.4 })).toBe(0.6);
    expect(lead(WIDE, { allowance: 0.5 })).toBe(0.75);
  });

  it('comes from nearer by where there is no room: by 0.7, 0.5 or 0.25 of that, or straight', () => {
    const slit = (width: number): Region => rectangle(at(0, 0), at(20, width));
    // 0.2 stand on the other wall as well: of the width 4 are the cutter's, 0.2 that wall's, the rest is for the round.
    expect([4.81, 4.79, 4.63, 4.61, 4.51].map((w) => lead(slit(w)))).toEqual([0.6, 0.42, 0.42, 0.3, 0.3]);
    // By less than is left on its own wall there is no coming.
    expect(lead(slit(4.49))).toBe(0);
    expect([4.41, 4.39, 4.26, 4.24].map((w) => lead(slit(w), { allowance: 0.1 }))).toEqual([
      0.3, 0.15, 0.15, 0,
    ]);
  });

  it('is all there is to say where nothing is left for it', () => {
    expect(cleared(WIDE, { allowance: 0 }).passes.map((p) => p.kind)).toEqual(['rough']);
    expect(cleared(WIDE, { more: { kind: 'release' } }).passes.map((p) => p.kind)).toEqual(['release']);
  });
});

describe('a floor', () => {
  const heights = (floorAllowance: number, more: Partial<Clearing> = {}, floor = -1) => {
    const { terms } = clearingOf(
      { target: WIDE, keep: WIDE, plate: WIDE },
      {
        ...{ radius: 2, allowance: 0, stepover: 1.5, direction: 'climb' },
      },
    );
    const passes = cleared(WIDE, {
      allowance: 0,
      more: { floor, terms: { ...terms, floorAllowance }, ...more },
    }).passes;
    return passes.map((p) => `${p.kind} ${Number(p.z.toFixed(3))}`);
  };

  it('is finished by a pass of its own, of no more than half of what there is to cut', () => {
    expect(heights(0)).toEqual(['rough -1']);
    expect(heights(0.2)).toEqual(['rough -0.8', 'finish -1']);
    expect(heights(0.9)).toEqual(['rough -0.5', 'finish -1']);
    expect(heights(0.2, { kind: 'release' })).toEqual(['release -1']);
    expect(heights(0.2, {}, -2.5)).toEqual(['rough -1.15', 'rough -2.3', 'finish -2.5']);
  });

  it('is told with the web under it, or with the bridges that hold more', () => {
    const webs = (more: Partial<Clearing>) => cleared(WIDE, { allowance: 0, more }).passes.map((p) => p.web);
    expect(webs({})).toEqual([null]);
    expect(webs({ underside: -6 })).toEqual([5]);
    expect(webs({ underside: -0.5 })).toEqual([0]);
    const strip = rectangle(at(90, 90), at(91, 91));
    const bridge = { at: at(90, 90), outward: at(0, 1), length: 1, z: -0.4, strip };
    expect(webs({ underside: -6, bridges: [bridge] })).toEqual([expect.closeTo(5.6, 9)]);
    expect(webs({ underside: -6, bridges: [{ ...bridge, z: -3 }] })).toEqual([5]);
  });

  it('of nothing is no pass: a speck is none, nor what lies lower', () => {
    const work = { stock: [{ bottom: -6, top: 0, region: rectangle(at(0, 0), at(20, 0.0002)) }], wanted: [] };
    const clearing = clearingOf(
      { target: WIDE, keep: { contours: [] }, plate: WIDE },
      {
        ...{ radius: 2, allowance: 0, stepover: 1.5, direction: 'climb' },
      },
    );
    expect(clearArea(work, clearing)).toEqual({ passes: [], work });
    const low = { stock: [{ bottom: -6, top: -3, region: WIDE }], wanted: [] };
    expect(clearArea(low, clearing)).toEqual({ passes: [], work: low });
  });
});
