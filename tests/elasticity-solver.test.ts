import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Grid, gridFrom, gridOf } from '../toolpath/survival/elasticity/grid.ts';
import { holdGrid } from '../toolpath/survival/elasticity/held.ts';
import { bend } from '../toolpath/survival/elasticity/load.ts';
import { nodesFacing } from '../toolpath/survival/elasticity/nodes.ts';
import { patchAt } from '../toolpath/survival/elasticity/patch.ts';
import { box, cantilever, endLoad, mustHold, STEEL } from './elastic-bars.ts';
import { leverMap } from './elastic-lever.ts';

const along = (a: Float64Array, b: Float64Array): number => a.reduce((sum, x, n) => sum + x * b[n]!, 0);

describe('Multigrid', () => {
  test('needs few rounds, hardly more on finer bricks', () => {
    const rounds = [1, 2, 3].map((fine) => {
      const grid = box([40, 10, 6], [20 * fine, 5 * fine, 3 * fine]);
      return bend(cantilever(grid), [endLoad(grid, [0, 0, 10])], { tolerance: 1e-8 }).rounds;
    });
    expect(Math.max(...rounds)).toBeLessThanOrEqual(16);
    expect(rounds[2]! - rounds[0]!).toBeLessThanOrEqual(6);
  });

  test('copes with a fork, a thin body and a skin', () => {
    const roundsOf = (grid: Grid): number => {
      const stock = mustHold(grid, [
        ...nodesFacing(grid, '-y', { x1: 30, y1: -7.9, z1: 3.25 }),
        ...nodesFacing(grid, '+y', { x1: 30, y0: 7.9, z1: 3.25 }),
      ]);
      return bend(stock, [{ patch: patchAt(grid, [62, 3, 9], 2)!, force: [10, 20, -50] }]).rounds;
    };
    expect(roundsOf(gridOf(leverMap('forked'))!)).toBeLessThanOrEqual(18);
    expect(roundsOf(gridOf(leverMap('thinned'))!)).toBeLessThanOrEqual(20);
    expect(roundsOf(gridOf(leverMap('outlined', 0.1, 8.5))!)).toBeLessThanOrEqual(36);
  });

  test('is the same both ways and never turns a force round, as conjugate gradients need', () => {
    const grid = box([12, 7, 3], [12, 7, 3], (i, j) => (i > 3 && i < 8 && j === 3 ? 0 : 1));
    const stock = cantilever(grid);
    const size = 3 * grid.nodes;
    const force = (turn: number): Float64Array =>
      Float64Array.from({ length: size }, (_, n) => Math.sin(turn * n * n) * stock.free[n]!);
    const [a, b] = [force(1.7), force(0.9)];
    const [pa, pb] = [new Float64Array(size), new Float64Array(size)];
    stock.precondition(a, pa);
    stock.precondition(b, pb);
    expect(along(pa, b) / along(a, pb)).toBeCloseTo(1, 9);
    expect(along(pa, a)).toBeGreaterThan(0);
    expect(pa.every((x, n) => stock.free[n] === 1 || x === 0)).toBe(true);
  });
});

describe('Whatever is left of the bar', () => {
  const stocks = fc.record({
    cells: fc.tuple(
      fc.integer({ min: 1, max: 9 }),
      fc.integer({ min: 1, max: 7 }),
      fc.integer({ min: 1, max: 5 }),
    ),
    layer: fc.double({ min: 0.2, max: 2, noNaN: true }),
    shares: fc.array(fc.oneof(fc.constant(1), fc.constant(0), fc.double({ min: 0, max: 1, noNaN: true })), {
      minLength: 8,
      maxLength: 400,
    }),
    side: fc.constantFrom('-x' as const, '+y' as const, '-z' as const),
    force: fc.tuple(
      fc.integer({ min: -50, max: 50 }),
      fc.integer({ min: -50, max: 50 }),
      fc.integer({ min: 1, max: 50 }),
    ),
  });

  test('it is held or said not to be, solved to tolerance, in balance and free of nonsense numbers', () => {
    let solved = 0;
    let loose = 0;
    fc.assert(
      fc.property(stocks, ({ cells: [nx, ny, nz], layer, shares, side, force }) => {
        const all = Float64Array.from({ length: nx * ny * nz }, (_, n) => shares[n % shares.length]!);
        const planes = (count: number, step: number): Float64Array =>
          Float64Array.from({ length: count + 1 }, (_, n) => n * step);
        const grid = gridFrom(planes(nx, 1), planes(ny, 1), planes(nz, layer), all);
        const ends = { '-x': { x1: 0 }, '+y': { y0: ny }, '-z': { z1: 0 } };
        const held = holdGrid(grid, STEEL, { clamped: nodesFacing(grid, side, ends[side]) });
        if (held.kind !== 'held') {
          expect(held.kind).toBe('not held');
          return;
        }
        loose += held.loose.length;
        const patch = patchAt(held.grid, [nx - 0.5, ny / 2, (nz - 0.5) * layer], 0.6)!;
        const bent = bend(held, [{ patch, force }], { tolerance: 1e-8 });
        expect(bent.end).toBe('reached');
        expect(bent.movement.every((x) => Number.isFinite(x))).toBe(true);
        expect(Math.abs(bent.work - 2 * bent.energy)).toBeLessThanOrEqual(1e-5 * bent.work + 1e-12);
        if (bent.work > 0) solved++;
      }),
      { numRuns: 150, seed: 41 },
    );
    expect(solved).toBeGreaterThan(40);
    expect(loose).toBeGreaterThan(20);
  });
});
