import { describe, expect, test } from 'vitest';
import { planPart } from '../gcode/chain.ts';
import { holdWords } from '../gcode/sheet/words.ts';
import { barMap, type HeightMap } from '../toolpath/removal/height-map.ts';
import type { Packing, ViceHold } from '../toolpath/route/route.ts';
import { bend } from '../toolpath/survival/elasticity/load.ts';
import { patchAt } from '../toolpath/survival/elasticity/patch.ts';
import type { PassForce } from '../toolpath/survival/force-survey.ts';
import { closeJaws } from '../toolpath/survival/grip.ts';
import { ELASTIC } from '../toolpath/survival/materials.ts';
import { heldStock, packedFor } from '../toolpath/survival/solve-pass.ts';
import { squeeze } from '../toolpath/survival/squeeze.ts';
import { sampleText } from './samples.ts';

/** Packing in the vice: what it does to the squeeze and to the cutter's push, and what is said of it. */

const bar = {
  length: 40,
  width: 12,
  thickness: 8,
  material: 'low-carbon steel',
  corner: { x: 0, y: -6 },
  sawn: 0,
} as const;
const steel = ELASTIC['low-carbon steel'];
const PIECE: Packing = {
  kind: 'fork',
  fork: 'fork',
  mouth: { x: 0, y: 0 },
  direction: 0,
  width: 5,
  length: 15,
};
const setupOf = (packing: readonly Packing[], jaws = { from: -5, to: 45 }, grip = 8) => ({
  number: 1,
  frame: { face: 'front', zero: { x: 0, y: -6, z: 8 } } as const,
  hold: { kind: 'vice', jaws, grip, parallels: null, gripped: 'the sides', packing } satisfies ViceHold,
});

/** A slot 5 mm wide and 15 mm long from the left end, right through. */
const forked = (): HeightMap => {
  const map = barMap(bar, 0.25);
  for (let i = 0; i < map.top.length; i++) {
    const x = map.x0 + ((i % map.columns) + 0.5) * map.cell;
    const y = map.y0 + (Math.floor(i / map.columns) + 0.5) * map.cell;
    if (x < 15 && Math.abs(y) < 2.5) map.top[i] = map.bottom[i]!;
  }
  return map;
};
const squeezed = (map: HeightMap, packing: readonly Packing[]) => {
  const setup = setupOf(packing);
  const gap = { name: 'fork', near: { x: 0.5, y: -3 }, far: { x: 0.5, y: 3 }, z: 4 };
  return squeeze(map, setup, closeJaws(map, setup)!, steel, 8000, [gap], 1)!;
};
const forceOf = (up: number): PassForce => ({
  ...{ label: 'cut', setup: 1, step: 'cut', still: 0, kind: 'rough', most: 0, torque: 0, power: 0 },
  ...{ thrust: 0, chip: 0.02, removed: 1 },
  places: [
    {
      at: { x: 1, y: 1, z: -1 },
      travel: 0,
      push: { x: 0, y: 0, z: up },
      most: 0,
      atWall: { across: 0, most: 0 },
      depth: 2,
      buried: 1,
    },
  ],
});

/** How far a place goes under a force, with the packing where it is pressed. */
const moved = (
  packing: readonly Packing[],
  at: readonly [number, number, number],
  force: readonly [number, number, number],
  map = forked(),
): readonly number[] => {
  // The jaws hold the right half alone: the fork juts out.
  const setup = setupOf(packing, { from: 20, to: 45 }, 3);
  const question = { map, setup, jaws: closeJaws(map, setup)!, force: forceOf(force[2]) };
  const held = heldStock(question, steel, 1);
  if (held?.kind !== 'held') throw new Error('not held');
  const push = (stock: typeof held) => bend(stock, [{ patch: patchAt(stock.grid, at, 0.8)!, force }]);
  const free = push(held);
  const packed = packedFor(question, held, free.movement, steel, { brick: 1 });
  return (packed ? push(packed) : free).moved[0]!;
};

describe('Packing', () => {
  test('a piece in the fork makes it a bar again to the jaws: nearer by F w / (E A), as a solid one', () => {
    const [open, packed, solid] = [
      squeezed(forked(), []),
      squeezed(forked(), [PIECE]),
      squeezed(barMap(bar, 0.25), []),
    ];
    expect(open.gaps[0]!.closes).toBeGreaterThan(3 * packed.gaps[0]!.closes);
    expect(packed.shortens / solid.shortens).toBeCloseTo(1, 2);
    // Hooke over 40 × 8 mm².
    expect(packed.shortens / ((8000 * 12) / (steel.young * 40 * 8))).toBeCloseTo(0.97, 1);
  });

  test('it holds a tine that is pushed in, and never one that is pushed out', () => {
    const tip = [1, 4.2, 1.5] as const;
    const [inward, outward] = [-60, 60];
    const bare = moved([], tip, [0, inward, 0])[1]!;
    expect(Math.abs(moved([PIECE], tip, [0, inward, 0])[1]!)).toBeLessThan(0.8 * Math.abs(bare));
    const out = moved([], tip, [0, outward, 0])[1]!;
    expect(moved([PIECE], tip, [0, outward, 0])[1]!).toBeCloseTo(out, 12);
  });

  test('a block carries what is pushed down on it, and nothing that is lifted', () => {
    const block: Packing = { kind: 'block', from: 0, to: 8 };
    const at = [4, 4, 7] as const;
    const down = moved([], at, [0, 0, -100])[2]!;
    expect(Math.abs(moved([block], at, [0, 0, -100])[2]!)).toBeLessThan(0.3 * Math.abs(down));
    expect(moved([block], at, [0, 0, 100])[2]!).toBeCloseTo(-down, 9);
  });

  const wished = (packing: object, setup = 2, name = 'vent-latch-lever') => {
    const file = JSON.parse(sampleText(name));
    const plan = planPart(JSON.stringify({ ...file, route: { setups: { [setup]: { packing } } } }));
    if (!plan.ok) throw new Error('refused');
    return plan;
  };

  test('is a wish of the part file in its unit, and stands on the setup sheet', () => {
    const plan = wished([{ kind: 'block', from: 1, to: 2 }], 2, 'bellows-lever');
    const { hold } = plan.route.setups[1]!;
    expect(hold.kind === 'vice' && hold.packing).toEqual([{ kind: 'block', from: 25.4, to: 50.8 }]);
    const both = wished([
      { kind: 'fork', fork: 'fork' },
      { kind: 'block', from: 28, to: 60 },
    ]);
    expect(both.findings.filter((f) => f.severity === 'error')).toEqual([]);
    const words = holdWords(both.part, both.plan.setups[1]!);
    expect(words).toContain('fit a packing piece 5 mm wide and 9.5 mm long into fork: snug');
    expect(words).toContain('Pack a sacrificial block under the work from X 28.00 to X 60.00');
  });

  test.each([
    ['packing-fork-unknown', [{ kind: 'fork', fork: 'no such fork' }], 2],
    ['block-of-no-length', [{ kind: 'block', from: 30, to: 20 }], 2],
    ['packing-no-slot', [{ kind: 'fork', fork: 'fork' }], 1],
    ['block-under-nothing', [{ kind: 'block', from: 300, to: 320 }], 2],
    ['route-unreadable', [{ kind: 'pillow' }], 2],
  ])('%s is said', (code, packing, setup) => {
    expect(wished(packing, setup).findings.map((f) => f.code)).toContain(code);
  });
});
