import { stiffnessMaker } from '../../toolpath/survival/elasticity/brick.ts';
import { brickAt, eachBrick } from '../../toolpath/survival/elasticity/bricks.ts';
import { conjugateGradients } from '../../toolpath/survival/elasticity/conjugate-gradients.ts';
import { lowestFrequency } from '../../toolpath/survival/elasticity/frequency.ts';
import { type Grid, gridOf } from '../../toolpath/survival/elasticity/grid.ts';
import { bend, forcesOf, type Load } from '../../toolpath/survival/elasticity/load.ts';
import { moduliOf } from '../../toolpath/survival/elasticity/material.ts';
import { nodesFacing } from '../../toolpath/survival/elasticity/nodes.ts';
import { patchAt } from '../../toolpath/survival/elasticity/patch.ts';
import { box, cantilever, endLoad, mustHold, STEEL, timoshenkoTip } from '../elastic-bars.ts';
import { LEVER, type LeverStage, leverMap } from '../elastic-lever.ts';

// How fast held stock is solved. Times depend on the machine and on what else runs, so every figure that is to be kept
// is a ratio to something measured in the same run: to copying memory, to the plain way of doing it, or to itself at
// another size. Times are the processor's, not the clock's, and the best of several.

const best = (times: number, work: () => void): number => {
  let least = Number.POSITIVE_INFINITY;
  for (let n = 0; n < times; n++) {
    const start = process.cpuUsage();
    work();
    const { user, system } = process.cpuUsage(start);
    least = Math.min(least, user + system);
  }
  return least / 1e6;
};

/** Bytes a second that the machine copies from one large array to another (read and written both counted). */
const copyBandwidth = (): number => {
  const from = new Float64Array(4_000_000).fill(1);
  const to = new Float64Array(from.length);
  return (2 * 8 * from.length) / best(15, () => to.set(from));
};

/** The baseline: one 24 × 24 matrix, gathered, multiplied and scattered brick by brick. */
const plainProduct = (grid: Grid) => {
  const matrix = stiffnessMaker(moduliOf(STEEL))(brickAt(grid, 0, 0, 0));
  const corners = new Int32Array(8 * grid.bricks);
  let count = 0;
  eachBrick(grid, (_i, _j, _k, nodes) => {
    for (let n = 0; n < 8; n++) corners[count++] = nodes[n]!;
  });
  const own = new Float64Array(24);
  return (u: Float64Array, out: Float64Array): void => {
    out.fill(0);
    for (let b = 0; b < corners.length; b += 8) {
      for (let n = 0; n < 8; n++) for (let a = 0; a < 3; a++) own[3 * n + a] = u[3 * corners[b + n]! + a]!;
      for (let n = 0; n < 8; n++) {
        for (let a = 0; a < 3; a++) {
          const row = 24 * (3 * n + a);
          let sum = 0;
          for (let c = 0; c < 24; c++) sum += matrix[row + c]! * own[c]!;
          out[3 * corners[b + n]! + a]! += sum;
        }
      }
    }
  };
};

const jacobi = (inverse: Float64Array) => (r: Float64Array, out: Float64Array) => {
  for (let n = 0; n < r.length; n++) out[n] = r[n]! * inverse[n]!;
};

const print = (label: string, value: string): void => console.log(`  ${label.padEnd(58)}${value}`);
const ms = (seconds: number): string => `${(1000 * seconds).toFixed(1)} ms`;

export default (): void => {
  const bandwidth = copyBandwidth();
  print('memory copied', `${(bandwidth / 1e9).toFixed(1)} GB/s`);

  console.log('bar 80 × 20 × 9 mm, 80 × 20 × 12 bricks, clamped at one end');
  const grid = box([80, 20, 9], [80, 20, 12]);
  const size = 3 * grid.nodes;
  print('unknowns', String(size));
  const u = Float64Array.from({ length: size }, (_, n) => Math.sin(n));
  const out = new Float64Array(size);
  let stock = cantilever(grid);
  const loads = [endLoad(grid, [0, 0, 100])];
  const plain = plainProduct(grid);
  const baseline = best(10, () => plain(u, out));
  const product = best(40, () => stock.operator.times(u, out));
  print('product, one dense matrix a brick (baseline)', ms(baseline));
  print('product', `${ms(product)}, ${(baseline / product).toFixed(1)} times as fast as the baseline`);
  print('unknowns a second over 16 bytes copied', ((16 * size) / product / bandwidth).toFixed(3));
  const setup = best(5, () => {
    stock = cantilever(grid);
  });
  let bent = bend(stock, loads);
  const solve = best(5, () => {
    bent = bend(stock, loads);
  });
  print('holding (pieces, coarse grids, factor)', ms(setup));
  print('solve to the default tolerance', `${ms(solve)}, ${bent.rounds} rounds`);
  print(
    'unknowns × rounds a second over 16 bytes copied',
    ((16 * size * bent.rounds) / solve / bandwidth).toFixed(4),
  );
  const forces = forcesOf(stock, loads);
  const answer = new Float64Array(size);
  let run = { rounds: 0 };
  const diagonal = best(1, () => {
    answer.fill(0);
    run = conjugateGradients(stock.operator, jacobi(stock.operator.inverse), forces, answer, {
      mostRounds: 3000,
    });
  });
  print('solve with the diagonal only (baseline)', `${ms(diagonal)}, ${run.rounds} rounds`);
  print(
    'multigrid, holding and solve, against that',
    `${(diagonal / (setup + solve)).toFixed(1)} times as fast`,
  );
  const beam = timoshenkoTip(100, 80, 20, 9, STEEL);
  print('tip against Timoshenko', `${(100 * (bent.moved[0]![2] / beam - 1)).toFixed(2)} %`);

  console.log('growth: the same bar at three sizes of brick');
  const growth = [0.75, 1, 1.35].map((scale) => {
    const cells = [80, 20, 12].map((n) => Math.round(n * scale)) as [number, number, number];
    const bar = box([80, 20, 9], cells);
    let held = cantilever(bar);
    const load = [endLoad(bar, [0, 0, 100])];
    const time = best(4, () => {
      held = cantilever(bar);
      bend(held, load);
    });
    return { unknowns: 3 * bar.nodes, time };
  });
  for (const { unknowns, time } of growth) print(`${unknowns} unknowns, holding and solve`, ms(time));
  const [small, , large] = growth;
  const exponent = Math.log(large!.time / small!.time) / Math.log(large!.unknowns / small!.unknowns);
  print('exponent of the time over the unknowns', exponent.toFixed(2));

  console.log('a lever of 70 × 16 × 9 mm at the default bricks, jaws on its heel');
  const through = { xs: [30], zs: [3.25] };
  for (const stage of ['bar', 'outlined', 'forked', 'thinned'] satisfies LeverStage[]) {
    const map = leverMap(stage);
    let lever = gridOf(map, { through })!;
    const making = best(3, () => {
      lever = gridOf(map, { through })!;
    });
    const jaws = { x0: 0, x1: 30, z1: 3.25 };
    const half = LEVER.width / 2 - 0.01;
    const clamped = [
      ...nodesFacing(lever, '-y', { ...jaws, y1: -half }),
      ...nodesFacing(lever, '+y', { ...jaws, y0: half }),
    ];
    let held = mustHold(lever, clamped);
    const holding = best(3, () => {
      held = mustHold(lever, clamped);
    });
    const load: Load[] = [
      { patch: patchAt(lever, [LEVER.toe.x, 0, LEVER.thickness], 1.5)!, force: [20, 30, -50] },
    ];
    let answer = bend(held, load);
    const solving = best(3, () => {
      answer = bend(held, load);
    });
    const tone = best(2, () => lowestFrequency(held));
    print(
      `${stage}: ${3 * lever.nodes} unknowns`,
      `grid ${ms(making)}, holding ${ms(holding)}, solve ${ms(solving)} (${answer.rounds} rounds), frequency ${ms(tone)}`,
    );
  }
};
