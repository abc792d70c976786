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
import { best, exponent, type Row, time } from './row.ts';

// How fast held stock is solved. Times depend on the machine and on what else runs, so every figure that is to be kept
// is a ratio to something measured in the same run: to copying memory, to the plain way of doing it, or to itself at
// another size. Times are the processor's, not the clock's, and the best of several.

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

export default function* (): Generator<Row> {
  const bandwidth = copyBandwidth();
  // A bar of 80 × 20 × 9 mm, clamped at one end.
  const grid = box([80, 20, 9], [80, 20, 12]);
  const size = 3 * grid.nodes;
  const u = Float64Array.from({ length: size }, (_, n) => Math.sin(n));
  const out = new Float64Array(size);
  let stock = cantilever(grid);
  const loads = [endLoad(grid, [0, 0, 100])];
  const plain = plainProduct(grid);
  const baseline = best(10, () => plain(u, out));
  const product = best(40, () => stock.operator.times(u, out));
  yield {
    name: `elasticity: product of ${size} unknowns, times as fast as dense bricks`,
    ours: time(product),
    baseline: time(baseline),
    ratio: baseline / product,
  };
  yield {
    name: 'elasticity: the same, to copying 16 bytes for each unknown',
    ours: time(product),
    baseline: time((16 * size) / bandwidth),
    ratio: (product * bandwidth) / (16 * size),
  };
  const setup = best(5, () => {
    stock = cantilever(grid);
  });
  let bent = bend(stock, loads);
  const solve = best(5, () => {
    bent = bend(stock, loads);
  });
  const forces = forcesOf(stock, loads);
  const answer = new Float64Array(size);
  const diagonal = best(1, () => {
    answer.fill(0);
    conjugateGradients(stock.operator, jacobi(stock.operator.inverse), forces, answer, { mostRounds: 3000 });
  });
  // The same bar at three sizes of brick.
  const growth = [0.75, 1, 1.35].map((scale) => {
    const cells = [80, 20, 12].map((n) => Math.round(n * scale)) as [number, number, number];
    const bar = box([80, 20, 9], cells);
    let held = cantilever(bar);
    const load = [endLoad(bar, [0, 0, 100])];
    const cost = best(4, () => {
      held = cantilever(bar);
      bend(held, load);
    });
    return { unknowns: 3 * bar.nodes, cost };
  });
  yield {
    name: `elasticity: holding and ${bent.rounds} rounds, times as fast as the diagonal alone`,
    ours: time(setup + solve),
    baseline: time(diagonal),
    ratio: diagonal / (setup + solve),
    growth: exponent(
      growth.map((g) => g.unknowns),
      growth.map((g) => g.cost),
    ),
  };
  const beam = timoshenkoTip(100, 80, 20, 9, STEEL);
  const tip = bent.moved[0]![2];
  yield {
    name: 'elasticity: tip of the bar, to Timoshenko’s',
    ours: `${(1000 * tip).toFixed(1)} µm`,
    baseline: `${(1000 * beam).toFixed(1)} µm`,
    ratio: tip / beam,
  };

  // A lever of 70 × 16 × 9 mm at the default bricks, jaws on its heel.
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
    let found = bend(held, load);
    const solving = best(3, () => {
      found = bend(held, load);
    });
    const tone = best(2, () => lowestFrequency(held));
    const copied = (16 * 3 * lever.nodes * found.rounds) / bandwidth;
    yield {
      name: `elasticity: ${stage}, ${3 * lever.nodes} unknowns, grid, holding and solve, to copying`,
      ours: time(making + holding + solving),
      baseline: time(copied),
      ratio: (making + holding + solving) / copied,
    };
    yield {
      name: `elasticity: ${stage}, lowest frequency, to one solve`,
      ours: time(tone),
      baseline: time(holding + solving),
      ratio: tone / (holding + solving),
    };
  }
}
