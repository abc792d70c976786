import { describe, expect, test } from 'vitest';
import { brickOf, diagonalOf, stiffnessMaker, stiffnessOf } from '../toolpath/survival/elasticity/brick.ts';
import { eachBrick, placesOf } from '../toolpath/survival/elasticity/bricks.ts';
import { carryMovement } from '../toolpath/survival/elasticity/carry.ts';
import type { Grid } from '../toolpath/survival/elasticity/grid.ts';
import { holdGrid } from '../toolpath/survival/elasticity/held.ts';
import { bend, type Vector } from '../toolpath/survival/elasticity/load.ts';
import { moduliOf } from '../toolpath/survival/elasticity/material.ts';
import { nodesFacing, nodesInside } from '../toolpath/survival/elasticity/nodes.ts';
import { patchAt } from '../toolpath/survival/elasticity/patch.ts';
import { stiffnessTimes } from '../toolpath/survival/elasticity/product.ts';
import { solve } from '../toolpath/survival/elasticity/solve.ts';
import { box, cantilever, defaultBox, endLoad, mustHold, STEEL, timoshenkoTip } from './elastic-bars.ts';
import { wilsonTaylor } from './wilson-brick.ts';

const MODULI = moduliOf(STEEL);

/** Repeatable numbers between −1 and 1. */
const noise = (count: number, seed = 7): Float64Array => {
  let state = seed;
  return Float64Array.from({ length: count }, () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 0x80000000 - 1;
  });
};

describe('The brick', () => {
  const sizes = [
    [1, 1, 1],
    [1, 0.83, 0.4],
    [0.2, 3, 1.1],
  ] as const;

  test('worked by hand equals one with nine incompatible modes, integrated and condensed numerically', () => {
    for (const [dx, dy, dz] of sizes) {
      for (const poisson of [0, 0.3, 0.45]) {
        const material = { ...STEEL, poisson };
        const own = stiffnessOf(brickOf(dx, dy, dz), moduliOf(material));
        const other = wilsonTaylor([dx, dy, dz], material);
        const greatest = Math.max(...other);
        own.forEach((value, n) => {
          expect(Math.abs(value - other[n]!)).toBeLessThan(1e-11 * greatest);
        });
      }
    }
  });

  test('comes out the same from its parts and has the diagonal that is claimed', () => {
    const make = stiffnessMaker(MODULI);
    for (const [dx, dy, dz] of sizes) {
      const brick = brickOf(dx, dy, dz);
      const matrix = stiffnessOf(brick, MODULI);
      const diagonal = diagonalOf(brick, MODULI);
      make(brick).forEach((value, n) => {
        expect(Math.abs(value - matrix[n]!)).toBeLessThan(1e-11 * diagonal[0]);
      });
      for (let n = 0; n < 24; n++) expect(matrix[25 * n]).toBeCloseTo(diagonal[(n % 3) as 0 | 1 | 2], 6);
    }
  });

  test('resists no rigid movement', () => {
    const matrix = stiffnessOf(brickOf(1, 0.8, 0.5), MODULI);
    const rigid = (corner: number): number[][] => {
      const [x, y, z] = [corner & 1, 0.8 * ((corner >> 1) & 1), 0.5 * (corner >> 2)];
      return [
        [1, 0, 0],
        [0, 1, 0],
        [0, 0, 1],
        [0, z, -y],
        [-z, 0, x],
        [y, -x, 0],
      ];
    };
    for (let mode = 0; mode < 6; mode++) {
      for (let row = 0; row < 24; row++) {
        let force = 0;
        for (let c = 0; c < 24; c++) force += matrix[24 * row + c]! * rigid(Math.floor(c / 3))[mode]![c % 3]!;
        expect(Math.abs(force)).toBeLessThan(1e-9 * matrix[0]!);
      }
    }
  });
});

/** Bricks of unequal sizes, some partly filled, with a hole. */
const rough = (): Grid =>
  box([9, 6, 4], [7, 5, 4], (i, j, k) =>
    i === 3 && j === 2 ? 0 : j === 4 ? 0.35 : i === 6 && k === 3 ? 0.6 : 1,
  );

describe('The product without a matrix', () => {
  test('equals the sum over the bricks of their matrices', () => {
    const grid = rough();
    const u = noise(3 * grid.nodes);
    const found = new Float64Array(u.length);
    stiffnessTimes(grid, MODULI, u, found);
    const wanted = new Float64Array(u.length);
    const make = stiffnessMaker(MODULI);
    eachBrick(grid, (i, j, k, corners, brick) => {
      const matrix = make(
        brickOf(grid.xs[i + 1]! - grid.xs[i]!, grid.ys[j + 1]! - grid.ys[j]!, grid.zs[k + 1]! - grid.zs[k]!),
      );
      for (let n = 0; n < 576; n++) {
        const [r, c] = [Math.floor(n / 24), n % 24];
        wanted[3 * corners[Math.floor(r / 3)]! + (r % 3)]! +=
          grid.stiffness[brick]! * matrix[n]! * u[3 * corners[Math.floor(c / 3)]! + (c % 3)]!;
      }
    });
    const greatest = Math.max(...wanted.map(Math.abs));
    found.forEach((value, n) => {
      expect(Math.abs(value - wanted[n]!)).toBeLessThan(1e-12 * greatest);
    });
  });

  test('passes the patch test: even strain of any kind leaves no force on inner nodes', () => {
    const cells: [number, number, number] = [4, 3, 3];
    const grid = box([5, 3.3, 2.2], cells);
    const places = placesOf(grid);
    const strain = noise(9, 3);
    const u = Float64Array.from({ length: 3 * grid.nodes }, (_, n) => {
      const at = n - (n % 3);
      return [0, 1, 2].reduce((sum, a) => sum + strain[3 * (n % 3) + a]! * places[at + a]!, 0);
    });
    const force = new Float64Array(u.length);
    stiffnessTimes(grid, MODULI, u, force);
    const greatest = Math.max(...force.map(Math.abs));
    const surface = new Set(
      (['-x', '+x', '-y', '+y', '-z', '+z'] as const).flatMap((side) => [...nodesFacing(grid, side)]),
    );
    expect(grid.nodes - surface.size).toBe(3 * 2 * 2);
    for (let n = 0; n < grid.nodes; n++) {
      if (surface.has(n)) continue;
      for (let a = 0; a < 3; a++) expect(Math.abs(force[3 * n + a]!)).toBeLessThan(1e-12 * greatest);
    }
    // The energy is that of even strain over the whole volume.
    const { lambda, shear } = MODULI;
    const e = (r: number, c: number): number => (strain[3 * r + c]! + strain[3 * c + r]!) / 2;
    const trace = e(0, 0) + e(1, 1) + e(2, 2);
    let density = lambda * trace * trace;
    for (let r = 0; r < 3; r++) for (let c = 0; c < 3; c++) density += 2 * shear * e(r, c) ** 2;
    expect(u.reduce((sum, x, n) => sum + x * force[n]!, 0) / (density * 5 * 3.3 * 2.2)).toBeCloseTo(1, 10);
  });

  test('is symmetric and never negative', () => {
    const grid = rough();
    const [u, v] = [noise(3 * grid.nodes, 1), noise(3 * grid.nodes, 2)];
    const [ku, kv] = [new Float64Array(u.length), new Float64Array(u.length)];
    stiffnessTimes(grid, MODULI, u, ku);
    stiffnessTimes(grid, MODULI, v, kv);
    const along = (a: Float64Array, b: Float64Array): number => a.reduce((sum, x, n) => sum + x * b[n]!, 0);
    expect(along(v, ku) / along(u, kv)).toBeCloseTo(1, 10);
    expect(along(u, ku)).toBeGreaterThan(0);
  });
});

describe('Held stock under load', () => {
  test('balances: the work of the loads is twice the strain energy, and the reactions undo the loads', () => {
    const grid = rough();
    const stock = cantilever(grid);
    const loads = [
      { patch: patchAt(grid, [8, 2, 4], 0.8)!, force: [10, -4, -30] as const },
      { patch: patchAt(grid, [5, 5, 1], 0.8)!, force: [0, 12, 5] as const },
    ];
    const bent = bend(stock, loads, { tolerance: 1e-9 });
    expect(bent.end).toBe('reached');
    expect(bent.energy).toBeGreaterThan(0);
    expect(bent.work / (2 * bent.energy)).toBeCloseTo(1, 8);
    const force = new Float64Array(bent.movement.length);
    stiffnessTimes(stock.grid, MODULI, bent.movement, force);
    const held = [0, 0, 0];
    for (let n = 0; n < force.length; n++) if (stock.free[n] === 0) held[n % 3]! += force[n]!;
    expect(held[0]).toBeCloseTo(-10, 6);
    expect(held[1]).toBeCloseTo(-8, 6);
    expect(held[2]).toBeCloseTo(25, 6);
  });

  test('answers in proportion, and either way round (Maxwell and Betti)', () => {
    const grid = rough();
    const stock = cantilever(grid);
    const [a, b] = [patchAt(grid, [8, 1, 4], 0.8)!, patchAt(grid, [6, 5, 1], 0.8)!];
    const tolerance = 1e-10;
    const down = bend(
      stock,
      [
        { patch: a, force: [0, 0, -1] },
        { patch: b, force: [0, 0, 0] },
      ],
      { tolerance },
    );
    const more = bend(stock, [{ patch: a, force: [0, 0, -3] }], { tolerance });
    const aside = bend(
      stock,
      [
        { patch: b, force: [0, 1, 0] },
        { patch: a, force: [0, 0, 0] },
      ],
      { tolerance },
    );
    expect(more.moved[0]![2] / down.moved[0]![2]).toBeCloseTo(3, 8);
    expect(down.moved[1]![1]).toBeCloseTo(-aside.moved[1]![2], 10);
    expect(more.compliance[0]).toBeCloseTo(down.compliance[0]!, 10);
    expect(down.compliance[1]).toBe(0);
  });

  test('converges: the tip of a clamped bar with an order that rises past 1.2 over four meshes', () => {
    // The stress at the edge of the clamp grows without bound (about r^−0.29), which leaves an order of about 1.4.
    const tips = [2, 4, 8, 16].map((fine) => {
      const grid = box([16, 4, 4], [4 * fine, fine, fine]);
      return bend(cantilever(grid), [endLoad(grid, [0, 0, 1])], { tolerance: 1e-9 }).moved[0]![2];
    });
    const steps = tips.slice(1).map((tip, n) => tip - tips[n]!);
    const orders = steps.slice(1).map((step, n) => Math.log2(Math.abs(steps[n]! / step)));
    expect(orders.length).toBe(2);
    for (const order of orders) expect(order).toBeGreaterThan(1.2);
    expect(orders[1]).toBeGreaterThan(orders[0]!);
  });

  test('converges with order two where nothing is singular: without Poisson’s effect, against Timoshenko', () => {
    const plain = { ...STEEL, poisson: 0 };
    const gaps = [2, 4, 8].map((fine) => {
      const grid = box([16, 4, 4], [2 * fine, 1, fine]);
      const bent = bend(cantilever(grid, plain), [endLoad(grid, [0, 0, 1])], { tolerance: 1e-10 });
      return bent.moved[0]![2];
    });
    const fine = box([16, 4, 4], [64, 1, 32]);
    const limit = bend(cantilever(fine, plain), [endLoad(fine, [0, 0, 1])], { tolerance: 1e-10 })
      .moved[0]![2];
    expect(Math.abs(limit / timoshenkoTip(1, 16, 4, 4, plain) - 1)).toBeLessThan(0.005);
    const orders = gaps.slice(1).map((gap, n) => Math.log2(Math.abs((gaps[n]! - limit) / (gap - limit))));
    for (const order of orders) expect(order).toBeGreaterThan(1.7);
  });

  test('starts warm: from the last answer it needs no rounds, from like ones fewer, from a useless one no more', () => {
    const grid = defaultBox([40, 10, 5]);
    const stock = cantilever(grid);
    const load = (x: number, force: Vector) => [{ patch: patchAt(grid, [x, 5, 5], 1.5)!, force }];
    const cold = bend(stock, load(38, [0, 2, -50]));
    const aside = bend(stock, load(38, [0, 30, 0]));
    const again = bend(stock, load(38, [0, 6, -150]), { starts: [cold.movement] });
    expect(again.rounds).toBe(0);
    expect(again.moved[0]![2] / cold.moved[0]![2]).toBeCloseTo(3, 4);
    const like = bend(stock, load(37, [0, 10, -50]), { starts: [cold.movement, aside.movement] });
    expect(like.rounds).toBeLessThan(cold.rounds);
    const alone = bend(stock, load(37, [0, 10, -50]));
    expect(like.moved[0]![2] / alone.moved[0]![2]).toBeCloseTo(1, 5);
    const useless = bend(stock, load(38, [0, 2, -50]), {
      starts: [noise(3 * grid.nodes), cold.movement.slice(3)],
    });
    expect(useless.rounds).toBeLessThanOrEqual(cold.rounds + 1);
    expect(useless.moved[0]![2] / cold.moved[0]![2]).toBeCloseTo(1, 5);
  });

  test('carries a movement to the next pass’s bricks', () => {
    const before = box([20, 6, 4], [20, 6, 4]);
    const places = placesOf(before);
    const linear = (x: number, y: number, z: number, a: number): number => 1 + (a + 1) * x - 2 * y + a * z;
    const movement = Float64Array.from({ length: 3 * before.nodes }, (_, n) => {
      const at = n - (n % 3);
      return linear(places[at]!, places[at + 1]!, places[at + 2]!, n % 3);
    });
    const cut = (i: number, _j: number, k: number) => (i > 8 && k > 1 ? 0 : 1);
    for (const cells of [
      [20, 6, 4],
      [33, 8, 5],
    ] as const) {
      const after = box([20, 6, 4], cells, cut);
      const carried = carryMovement(before, movement, after);
      const at = placesOf(after);
      for (let n = 0; n < 3 * after.nodes; n++) {
        const node = n - (n % 3);
        expect(carried[n]).toBeCloseTo(linear(at[node]!, at[node + 1]!, at[node + 2]!, n % 3), 9);
      }
    }
    const warm = cantilever(box([20, 6, 4], [20, 6, 4], (i, _j, k) => (i > 17 && k > 2 ? 0 : 1)));
    const load = (grid: Grid) => [{ patch: patchAt(grid, [16, 3, 2], 1)!, force: [0, 0, -10] as const }];
    const last = bend(cantilever(before), load(before));
    const cold = bend(warm, load(warm.grid));
    const start = carryMovement(before, last.movement, warm.grid);
    expect(bend(warm, load(warm.grid), { starts: [start] }).rounds).toBeLessThan(cold.rounds);
  });

  test('rests on parallels: a supported face may slide but not sink', () => {
    const grid = defaultBox([20, 10, 4]);
    const below = nodesFacing(grid, '-z');
    const stock = mustHold(grid, nodesInside(grid, { x1: 0, z1: 0 }), STEEL, below);
    const { movement } = bend(stock, [{ patch: patchAt(grid, [15, 5, 4], 1)!, force: [40, 0, -80] }]);
    for (const n of below) expect(movement[3 * n + 2]).toBe(0);
    expect(Math.max(...[...below].map((n) => movement[3 * n]!))).toBeGreaterThan(0);
  });
});

describe('Work that is cancelled, wrong or loose', () => {
  const stock = () => cantilever(defaultBox([40, 10, 5]));
  const push = (grid: Grid) => [{ patch: patchAt(grid, [38, 5, 5], 1.5)!, force: [0, 0, -50] as const }];

  test('stops when asked and keeps what it had', () => {
    const held = stock();
    let rounds = 0;
    const bent = bend(held, push(held.grid), {
      tolerance: 1e-12,
      cancelled: () => rounds >= 3,
      progress: (residual, round) => {
        expect(residual).toBeGreaterThan(0);
        rounds = round;
      },
    });
    expect(bent.end).toBe('cancelled');
    expect(bent.rounds).toBe(3);
    expect(bent.moved[0]![2]).toBeLessThan(0);
  });

  test('says so when it may not work on long enough, and when the load is no number', () => {
    const held = stock();
    expect(bend(held, push(held.grid), { mostRounds: 2 }).end).toBe('stalled');
    const [load] = push(held.grid);
    const bad = bend(held, [{ patch: load!.patch, force: [0, Number.NaN, 1] }]);
    expect(bad.end).toBe('stalled');
    expect(bad.movement.every((x) => Number.isFinite(x))).toBe(true);
  });

  test('with no load at all it does not move', () => {
    expect(bend(stock(), [])).toMatchObject({ end: 'reached', rounds: 0, work: 0, energy: 0 });
  });

  test('nonsense constants are refused in words', () => {
    const grid = defaultBox([4, 3, 2]);
    const clamped = nodesFacing(grid, '-x');
    for (const material of [
      { ...STEEL, young: 0 },
      { ...STEEL, young: Number.NaN },
      { ...STEEL, poisson: 0.5 },
      { ...STEEL, poisson: -1.2 },
      { ...STEEL, density: -1 },
    ]) {
      expect(holdGrid(grid, material, { clamped })).toMatchObject({
        kind: 'bad material',
        reason: expect.stringMatching(/must/),
      });
    }
  });

  test('nothing in the jaws, three nodes in a line or parallels alone: not held, without an exception', () => {
    const grid = defaultBox([6, 4, 3]);
    const edge = nodesInside(grid, { x1: 0, z1: 0 });
    expect(edge.length).toBeGreaterThan(2);
    for (const grips of [
      { clamped: [] },
      { clamped: edge },
      { clamped: [], supported: nodesFacing(grid, '-z') },
    ]) {
      const held = holdGrid(grid, STEEL, grips);
      expect(held).toMatchObject({ kind: 'not held', loose: [{ volume: 72, at: [3, 2, 1.5] }] });
    }
    expect(solve({ grid, material: STEEL, clamped: [], cases: [[]] }).kind).toBe('not held');
  });

  test('a piece already cut free is found and named, and the rest is solved as if it were not there', () => {
    const lone = (i: number) => i > 5;
    const whole = box([10, 4, 3], [10, 4, 3], (i) => (i === 5 ? 0 : 1));
    const alone = box([10, 4, 3], [10, 4, 3], (i) => (i === 5 || lone(i) ? 0 : 1));
    const ask = (grid: Grid) =>
      solve({
        grid,
        material: STEEL,
        clamped: nodesFacing(grid, '-x', { x1: 0 }),
        cases: [[{ patch: patchAt(grid, [4, 2, 3], 1)!, force: [0, 0, -20] }]],
      });
    const [found, wanted] = [ask(whole), ask(alone)];
    if (found.kind !== 'solved' || wanted.kind !== 'solved') throw new Error('expected both solved');
    expect(found.loose).toEqual([{ at: [8, 2, 1.5], volume: 48, bricks: 48 }]);
    expect(wanted.loose).toEqual([]);
    expect(found.cases[0]!.end).toBe('reached');
    expect(found.cases[0]!.moved[0]![2]).toBeCloseTo(wanted.cases[0]!.moved[0]![2], 9);
  });

  test('a piece that hangs by an edge only would turn about it: loose', () => {
    const grid = box([6, 4, 4], [6, 4, 4], (i, _j, k) => (i < 3 === k < 2 ? 1 : 0));
    const held = mustHold(grid, nodesFacing(grid, '-x', { x1: 0 }));
    expect(held.loose).toHaveLength(1);
    expect(held.loose[0]!.at).toEqual([4.5, 2, 3]);
    const bent = bend(held, [{ patch: patchAt(grid, [2, 2, 2], 1)!, force: [0, 0, -20] }]);
    expect(bent.end).toBe('reached');
  });

  test('a force on a loose piece moves nothing', () => {
    const grid = box([10, 4, 3], [10, 4, 3], (i) => (i === 5 ? 0 : 1));
    const held = mustHold(grid, nodesFacing(grid, '-x', { x1: 0 }));
    const bent = bend(held, [{ patch: patchAt(grid, [8, 2, 2], 0.5)!, force: [0, 0, -20] }]);
    expect(bent).toMatchObject({ end: 'reached', work: 0 });
  });
});
