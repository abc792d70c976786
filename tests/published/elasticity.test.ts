import { CholeskyDecomposition, Matrix } from 'ml-matrix';
import { describe, expect, test } from 'vitest';
import { brickOf, stiffnessOf } from '../../toolpath/survival/elasticity/brick.ts';
import { eachBrick, placesOf } from '../../toolpath/survival/elasticity/bricks.ts';
import { lowestFrequency } from '../../toolpath/survival/elasticity/frequency.ts';
import type { Grid } from '../../toolpath/survival/elasticity/grid.ts';
import { bend, forcesOf } from '../../toolpath/survival/elasticity/load.ts';
import { moduliOf } from '../../toolpath/survival/elasticity/material.ts';
import { nodesInside } from '../../toolpath/survival/elasticity/nodes.ts';
import { patchAt, patchOf } from '../../toolpath/survival/elasticity/patch.ts';
import { box, cantilever, defaultBox, endLoad, mustHold, STEEL, timoshenkoTip } from '../elastic-bars.ts';

// Closed forms: S. P. Timoshenko's beam with G. R. Cowper's shear coefficient; Kirchhoff plates; Roark's Formulas for
// Stress and Strain, 7th edition, table 11.4 (ν = 0.3). Bricks are of the default size, about 1 mm, throughout.

/** A clamp also stops the bar from narrowing at its root, which no beam theory knows; without Poisson it has nothing to stop. */
const PLAIN = { ...STEEL, poisson: 0 };

describe('Timoshenko’s cantilever, tip movement F L³/(3 E I) + F L/(κ G A), at the default bricks', () => {
  const bars: readonly (readonly [number, number, number])[] = [
    [20, 10, 10],
    [80, 10, 10],
    [40, 6, 2.5],
    [80, 20, 2.5],
    [20, 6, 1],
    [30, 6, 0.5],
  ];
  for (const [length, width, height] of bars) {
    const grid = defaultBox([length, width, height]);
    const layers = grid.nz === 1 ? 'one layer' : `${grid.nz} layers`;
    test(`${length} × ${width} × ${height} mm, ${layers}, both ways, without Poisson’s effect: within 1 %`, () => {
      const stock = cantilever(grid, PLAIN);
      const up = bend(stock, [endLoad(grid, [0, 0, 10])]);
      const aside = bend(stock, [endLoad(grid, [0, 10, 0])]);
      expect(up.end).toBe('reached');
      const along = up.moved[0]![2] / timoshenkoTip(10, length, width, height, PLAIN);
      expect(Math.abs(along - 1)).toBeLessThan(0.01);
      const across = aside.moved[0]![1] / timoshenkoTip(10, length, height, width, PLAIN);
      expect(Math.abs(across - 1)).toBeLessThan(0.01);
    });
  }

  for (const [length, width, height] of [
    [80, 10, 10],
    [60, 6, 6],
    [80, 6, 2.5],
    [40, 6, 2.5],
    [40, 6, 1],
  ] as const) {
    test(`${length} × ${width} × ${height} mm of steel: within 2 %, the root’s held narrowing included`, () => {
      const grid = defaultBox([length, width, height]);
      const { moved } = bend(cantilever(grid), [endLoad(grid, [0, 0, 10])]);
      const ratio = moved[0]![2] / timoshenkoTip(10, length, width, height, STEEL);
      expect(Math.abs(ratio - 1)).toBeLessThan(0.02);
    });
  }
});

describe('A wide plate strip clamped along one edge bends with E/(1 − ν²) (Kirchhoff plate under a line load)', () => {
  test('20 mm long, 120 mm wide, 2.5 mm thick, at mid-width: within 2 %', () => {
    const [length, width, thick] = [20, 120, 2.5];
    const grid = defaultBox([length, width, thick]);
    const { movement } = bend(cantilever(grid), [endLoad(grid, [0, 0, width])]);
    const tip = nodesInside(grid, { x0: length, y0: width / 2, y1: width / 2 });
    const moved = [...tip].reduce((sum, n) => sum + movement[3 * n + 2]! / tip.length, 0);
    const { plane, shear } = moduliOf(STEEL);
    const strip = length ** 3 / ((plane * thick ** 3) / 4) + length / ((5 / 6) * shear * thick);
    expect(Math.abs(moved / strip - 1)).toBeLessThan(0.02);
    // The plain beam would be some 10 % off: the check can tell the two apart.
    expect(Math.abs(moved / (strip * (1 / (1 - STEEL.poisson ** 2))) - 1)).toBeGreaterThan(0.07);
  });
});

describe('Roark table 11.4, simply supported rectangle', () => {
  // Held along the middle of its edges; free to twist there, which Kirchhoff’s plate is not: about half of the rest.
  const cases = [
    { a: 40, alpha: 0.1267, beta: 0.0444 },
    { a: 48, alpha: 0.1478, beta: 0.0616 },
    { a: 56, alpha: 0.1621, beta: 0.077 },
    { a: 80, alpha: 0.1805, beta: 0.111 },
  ];
  const [b, thick, force] = [40, 1, 10];
  const middle = { z0: thick / 2, z1: thick / 2 };
  for (const { a, alpha, beta } of cases) {
    const grid = box([a, b, thick], [a, b, 2]);
    const places = placesOf(grid);
    const edges = [{ x1: 0 }, { x0: a }, { y1: 0 }, { y0: b }].flatMap((side) => [
      ...nodesInside(grid, { ...middle, ...side }),
    ]);
    const corners = [
      ...nodesInside(grid, { ...middle, x1: 0, y1: 0 }),
      ...nodesInside(grid, { ...middle, x0: a, y1: 0 }),
    ];
    const centre = nodesInside(grid, { ...middle, x0: a / 2, x1: a / 2, y0: b / 2, y1: b / 2 })[0]!;
    const stock = mustHold(grid, corners, STEEL, edges);

    test(`case 1b, load at the centre, a/b = ${a / b}: y = ${alpha} W b²/(E t³) within 2 %`, () => {
      const patch = patchAt(grid, [a / 2, b / 2, thick / 2], 1)!;
      const { movement } = bend(stock, [{ patch, force: [0, 0, force] }]);
      const found = (movement[3 * centre + 2]! * STEEL.young * thick ** 3) / (force * b * b);
      expect(Math.abs(found / alpha - 1)).toBeLessThan(0.02);
    });

    test(`case 1a, uniform load, a/b = ${a / b}: y = ${beta} q b⁴/(E t³) within 2 %`, () => {
      const nodes = nodesInside(grid, middle);
      const half = (at: number, end: number): number => (at === 0 || at === end ? 0.5 : 1);
      const share = Float64Array.from(
        nodes,
        (n) => (half(places[3 * n]!, a) * half(places[3 * n + 1]!, b)) / (a * b),
      );
      const patch = { ...patchOf(grid, nodes, places)!, weights: share };
      const { movement } = bend(stock, [{ patch, force: [0, 0, force] }]);
      const found = (movement[3 * centre + 2]! * STEEL.young * thick ** 3) / ((force / (a * b)) * b ** 4);
      expect(Math.abs(found / beta - 1)).toBeLessThan(0.02);
    });
  }
});

describe('First natural frequency of a clamped bar, (1.8751²/2π) √(E I/(ρ A L⁴))', () => {
  for (const [length, width, height] of [
    [80, 6, 6],
    [80, 6, 2.5],
    [60, 6, 1],
  ] as const) {
    test(`${length} × ${width} × ${height} mm: within 1 %`, () => {
      const stock = cantilever(defaultBox([length, width, height]));
      const found = lowestFrequency(stock);
      expect(found.end).toBe('reached');
      const gyration = height / Math.sqrt(12);
      const wave = Math.sqrt(STEEL.young / (STEEL.density * 1e-12));
      const wanted = ((1.8751 ** 2 / (2 * Math.PI)) * gyration * wave) / length ** 2;
      expect(Math.abs(found.frequency / wanted - 1)).toBeLessThan(0.01);
    });
  }
});

describe('ml-matrix, a dense Cholesky solve of the same small stock', () => {
  /** The whole stiffness, brick by brick. */
  const assembled = (grid: Grid): Matrix => {
    const matrix = Matrix.zeros(3 * grid.nodes, 3 * grid.nodes);
    eachBrick(grid, (i, j, k, corners, brick) => {
      const own = stiffnessOf(
        brickOf(grid.xs[i + 1]! - grid.xs[i]!, grid.ys[j + 1]! - grid.ys[j]!, grid.zs[k + 1]! - grid.zs[k]!),
        moduliOf(STEEL),
      );
      for (let r = 0; r < 24; r++) {
        for (let c = 0; c < 24; c++) {
          const row = 3 * corners[Math.floor(r / 3)]! + (r % 3);
          const column = 3 * corners[Math.floor(c / 3)]! + (c % 3);
          // The library wants symmetry to the last bit.
          const even = (own[r * 24 + c]! + own[c * 24 + r]!) / 2;
          matrix.set(row, column, matrix.get(row, column) + grid.stiffness[brick]! * even);
        }
      }
    });
    return matrix;
  };

  test('gives the same movement of every node, with a hole, a thin arm and half-full bricks', () => {
    const grid = box([12, 5, 3.6], [8, 4, 3], (i, j, k) =>
      i >= 3 && i < 6 && (k !== 1 || j === 0) ? 0 : i === 7 ? 0.3 + 0.2 * j : 1,
    );
    const stock = cantilever(grid);
    const loads = [
      { patch: patchAt(grid, [11, 2, 3], 1)!, force: [3, -5, 7] as const },
      { patch: patchAt(grid, [7, 4, 2], 1)!, force: [0, 2, -1] as const },
    ];
    const found = bend(stock, loads, { tolerance: 1e-11 });
    expect(found.end).toBe('reached');
    const matrix = assembled(stock.grid);
    const forces = forcesOf(stock, loads);
    const free = [...stock.free.keys()].filter((n) => stock.free[n] === 1);
    const solved = new CholeskyDecomposition(matrix.selection(free, free)).solve(
      Matrix.columnVector(free.map((n) => forces[n]!)),
    );
    const greatest = Math.max(...found.movement.map(Math.abs));
    expect(greatest).toBeGreaterThan(1e-5);
    free.forEach((n, row) => {
      expect(Math.abs(found.movement[n]! - solved.get(row, 0))).toBeLessThan(1e-8 * greatest);
    });
  });
});
