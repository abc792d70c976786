import { describe, expect, test } from 'vitest';
import { barMap, type HeightMap } from '../toolpath/removal/height-map.ts';
import type { Fastening, PlateHold } from '../toolpath/route/route.ts';
import { bend } from '../toolpath/survival/elasticity/load.ts';
import { patchAt } from '../toolpath/survival/elasticity/patch.ts';
import type { ForcePlace, PassForce } from '../toolpath/survival/force-survey.ts';
import { heldWidth, seatOf } from '../toolpath/survival/grip.ts';
import { ELASTIC } from '../toolpath/survival/materials.ts';
import { holdLoad } from '../toolpath/survival/pass-load.ts';
import { heldStock } from '../toolpath/survival/solve-pass.ts';

/** Work on a plate, judged and bent: against statics and beams by hand. */

const bar = {
  length: 80,
  width: 20,
  thickness: 5,
  material: 'aluminium',
  corner: { x: 0, y: -10 },
  sawn: 0,
} as const;
const frame = { face: 'front', zero: { x: 0, y: -10, z: 5 } } as const;
const setupOf = (fastening: Fastening) => ({
  number: 1,
  frame,
  hold: { kind: 'plate', fastening } satisfies PlateHold,
});
const TAPE: Fastening = { kind: 'tape', shear: 0.15, peel: 0.05 };
/** Two M4 screws near the ends, 70 mm apart. */
const SCREWS: Fastening = {
  kind: 'screws',
  thread: 'M4',
  places: [
    { x: 5, y: 0, hole: null },
    { x: 75, y: 0, hole: null },
  ],
};

/** A force at a place of the program: along X, and up. */
const placeAt = (x: number, y: number, along: number, up: number): ForcePlace => ({
  at: { x, y, z: -1 },
  travel: 0,
  push: { x: along, y: 0, z: up },
  most: along,
  atWall: { across: 0, most: along },
  depth: 2,
  buried: Math.PI,
});
const forceOf = (place: ForcePlace): PassForce => ({
  ...{ label: 'cut', setup: 1, step: 'cut', still: 0, kind: 'rough' },
  ...{ places: [place], most: place.most, torque: 0, power: 0, thrust: 0, chip: 0.02, removed: 1 },
});

const factors = (map: HeightMap, fastening: Fastening, place: ForcePlace) => {
  const setup = setupOf(fastening);
  const held = heldWidth(map, setup, seatOf(map, setup)!);
  return held && holdLoad(setup, held, forceOf(place), {});
};

/** The bar with its underside lifted off the plate between two places. */
const hollow = (from: number, to: number): HeightMap => {
  const map = barMap(bar, 0.25);
  for (let i = 0; i < map.bottom.length; i++) {
    const x = map.x0 + ((i % map.columns) + 0.5) * map.cell;
    if (x > from && x < to) map.bottom[i] = 2;
  }
  return map;
};

describe('Work on a plate', () => {
  test('tape holds by all that lies on it: hand calculation of peeling, 10 mm off its middle', () => {
    const found = factors(barMap(bar, 0.25), TAPE, placeAt(50, 10, 100, 25))!;
    // The force acts at Z 0 less 1 plus half of 2, 5 mm over the plate. Evenly 25 / 1600, bent 6 · 100·5 / (1600·20) by the push, and by the lift 6 · 25·10 / (1600·80) along its 80 mm.
    expect(found.tip).toBeCloseTo(0.05 / (25 / 1600 + (6 * 500) / 32_000 + (6 * 250) / 128_000), 6);
    expect(found.slip).toBeCloseTo((0.15 * 1600) / 100, 6);
    expect(found).toMatchObject({ by: 'tape' });
  });

  test('where the underside is hollow there is no glue', () => {
    const [solid, half] = [barMap(bar, 0.25), hollow(20, 60)].map((map) =>
      factors(map, TAPE, placeAt(40, 10, 100, 0)),
    );
    expect(half!.slip / solid!.slip).toBeCloseTo(0.5, 6);
  });

  test('screws hold by friction under their heads, and turn about their middle: hand calculation', () => {
    const found = factors(barMap(bar, 0.25), SCREWS, placeAt(40, 16, 100, 20))!;
    const preload = 0.6 * 580 * 8.78;
    expect(found.slip).toBeCloseTo((0.15 * (2 * preload - 20)) / 100, 6);
    expect(found.twist).toBeCloseTo((2 * 0.15 * preload * 35) / (100 * 6), 6);
    // About the long edge, 10 mm from both; 100 N at 5 mm and 20 N of lift over half the width.
    expect(found.tip).toBeCloseTo((2 * preload * 10) / (100 * 5 + 20 * 10), 4);
  });

  test('a screw in what is gone holds nothing, and with the last of them nothing is held', () => {
    const map = barMap(bar, 0.25);
    const clear = (from: number, to: number): void => {
      for (let i = 0; i < map.top.length; i++) {
        const x = map.x0 + ((i % map.columns) + 0.5) * map.cell;
        if (x > from && x < to) map.top[i] = map.bottom[i]!;
      }
    };
    clear(0, 12);
    expect(factors(map, SCREWS, placeAt(40, 10, 100, 20))!.twist).toBe(0);
    clear(68, 80);
    expect(factors(map, SCREWS, placeAt(40, 10, 100, 20))).toBeNull();
  });

  test('lifted in the middle it bends between its screws as a beam does between clamped and free ends', () => {
    const map = barMap(bar, 0.25);
    const force = 50;
    const lifted = (fastening: Fastening): number => {
      const setup = setupOf(fastening);
      const held = heldStock(
        { map, setup, jaws: seatOf(map, setup)!, force: forceOf(placeAt(40, 10, 0, force)) },
        ELASTIC.aluminium,
        1.25,
      );
      if (held?.kind !== 'held') throw new Error('not held');
      const patch = patchAt(held.grid, [40, 0, 2.5], 2)!;
      return bend(held, [{ patch, force: [0, 0, force] }]).moved[0]![2];
    };
    const { young } = ELASTIC.aluminium;
    const inertia = (20 * 5 ** 3) / 12;
    // Timoshenko: F L³ / (192 E I) with both ends clamped over the 63 mm between the heads, F L³ / (48 E I) with both
    // free to turn over the 70 mm between the screws.
    const stiffest = (force * 63 ** 3) / (192 * young * inertia);
    const softest = (force * 70 ** 3) / (48 * young * inertia);
    const screwed = lifted(SCREWS);
    expect(screwed).toBeGreaterThan(stiffest);
    expect(screwed).toBeLessThan(softest);
    expect(lifted(TAPE)).toBeLessThan(stiffest / 20);
  });

  test('a drill that presses down is carried by the plate', () => {
    const map = barMap(bar, 0.25);
    const setup = setupOf(SCREWS);
    const seat = seatOf(map, setup)!;
    const sunk = (up: number): number => {
      const held = heldStock(
        { map, setup, jaws: seat, force: forceOf(placeAt(40, 10, 0, up)) },
        ELASTIC.aluminium,
        1.25,
      );
      if (held?.kind !== 'held') throw new Error('not held');
      const patch = patchAt(held.grid, [40, 0, 2.5], 2)!;
      return Math.abs(bend(held, [{ patch, force: [0, 0, up] }]).moved[0]![2]);
    };
    expect(sunk(-50)).toBeLessThan(sunk(50) / 20);
  });
});
