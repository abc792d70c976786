import { describe, expect, test } from 'vitest';
import { barMap, copyMap, mapVolume } from '../toolpath/removal/height-map.ts';
import { brickAt, eachBrick } from '../toolpath/survival/elasticity/bricks.ts';
import {
  beamMovement,
  quickMovement,
  sectionsTo,
  wallMovement,
} from '../toolpath/survival/elasticity/estimate.ts';
import { lowestFrequency, lumpedMass } from '../toolpath/survival/elasticity/frequency.ts';
import { chooseBrick, type Grid, gridFrom, gridOf } from '../toolpath/survival/elasticity/grid.ts';
import { bend } from '../toolpath/survival/elasticity/load.ts';
import { nodesFacing, nodesInside } from '../toolpath/survival/elasticity/nodes.ts';
import { facePatch, patchAt } from '../toolpath/survival/elasticity/patch.ts';
import { cantilever, defaultBox, endLoad, even, mustHold, STEEL, timoshenkoTip } from './elastic-bars.ts';
import { LEVER, leverMap } from './elastic-lever.ts';

const volumeOf = (grid: Grid): number => {
  let volume = 0;
  eachBrick(grid, (i, j, k, _corners, brick) => {
    volume += grid.share[brick]! * brickAt(grid, i, j, k).volume;
  });
  return volume;
};

const has = (planes: Float64Array, at: number, within = 1e-6): boolean =>
  planes.some((plane) => Math.abs(plane - at) < within);

const plainBar = (length: number, width: number, thickness: number, cell = 0.1) =>
  barMap({ length, width, thickness, material: 'brass', corner: { x: 0, y: -width / 2 }, sawn: 0 }, cell);

describe('Bricks from the height map', () => {
  test('a body of 2.5 mm in a 9 mm bar is three whole layers, with planes on both of its faces', () => {
    const { zs } = gridOf(leverMap('thinned'))!;
    expect(has(zs, 3.25)).toBe(true);
    expect(has(zs, 5.75)).toBe(true);
    expect(zs.filter((z) => z > 3.25 + 1e-6 && z < 5.75 - 1e-6)).toHaveLength(2);
    for (let n = 1; n < zs.length; n++) expect(zs[n]! - zs[n - 1]!).toBeLessThanOrEqual(1.2);
  });

  test('the walls of a fork lie on planes, so a tine is whole bricks', () => {
    const { ys } = gridOf(leverMap('forked'))!;
    expect(has(ys, LEVER.fork.width / 2)).toBe(true);
    expect(has(ys, -LEVER.fork.width / 2)).toBe(true);
  });

  test('no material is lost or made: the volume within 1 % at every stage', () => {
    for (const stage of ['bar', 'outlined', 'forked', 'thinned'] as const) {
      const map = leverMap(stage);
      expect(Math.abs(volumeOf(gridOf(map)!) / mapVolume(map) - 1)).toBeLessThan(0.01);
    }
  });

  test('the mass is that of the map', () => {
    const map = leverMap('forked');
    const grid = gridOf(map)!;
    const stock = mustHold(grid, nodesFacing(grid, '-z', { z1: 0, x1: 10 }));
    const held = stock.free.reduce((sum, free) => sum + (free === 0 ? 1 : 0), 0);
    expect(held).toBeGreaterThan(0);
    const all = lumpedMass({ ...stock, free: stock.free.map(() => 1) });
    const along = all.reduce((sum, mass, n) => sum + (n % 3 === 0 ? mass : 0), 0);
    expect(Math.abs(along / (mapVolume(map) * STEEL.density * 1e-12) - 1)).toBeLessThan(0.01);
  });

  test('an empty map, an empty box and planes that do not rise', () => {
    const map = plainBar(10, 5, 3);
    const gone = copyMap(map);
    gone.top.fill(0);
    expect(gridOf(gone)).toBeUndefined();
    expect(gridOf(map, { box: { x0: 50, x1: 60, y0: 0, y1: 1 } })).toBeUndefined();
    expect(() => gridOf(map, { cell: 0 })).toThrow(RangeError);
    expect(() => gridFrom(Float64Array.of(0, 0), even(1, 1), even(1, 1), Float64Array.of(1))).toThrow(
      RangeError,
    );
    expect(() => gridFrom(even(1, 1), even(1, 1), even(1, 1), new Float64Array(2))).toThrow(RangeError);
  });

  test('a box takes a part of the bar, and given planes are kept from pass to pass', () => {
    const grid = gridOf(plainBar(20, 10, 4), { box: { x0: 5, x1: 12, y0: -5, y1: 0 } })!;
    expect(
      [grid.xs[0], grid.xs[grid.nx], grid.ys[0], grid.ys[grid.ny]].map((n) => Number(n!.toFixed(6))),
    ).toEqual([5, 12, -5, 0]);
    const before = gridOf(leverMap('forked'))!;
    const after = gridOf(leverMap('thinned'), { planes: before })!;
    expect(after.xs).toEqual(before.xs);
    expect(after.bricks).toBeLessThan(before.bricks);
  });

  test('a large bar gets coarser bricks', () => {
    expect(chooseBrick(20 * 80 * 12)).toBe(1);
    expect(chooseBrick(40 * 200 * 20)).toBeCloseTo(Math.cbrt(4), 6);
  });

  test('two steps closer than 0.3 of a cell share a plane, and the step between them is a fill share', () => {
    const map = plainBar(20, 10, 4);
    map.top.fill(3.8, 0, map.top.length / 3);
    const grid = gridOf(map)!;
    expect(has(grid.zs, 4)).toBe(true);
    expect(has(grid.zs, 3.8)).toBe(false);
    expect(has(gridOf(map, { through: { zs: [1.37] } })!.zs, 1.37)).toBe(true);
    expect(Math.abs(volumeOf(grid) / mapVolume(map) - 1)).toBeLessThan(1e-4);
  });
});

describe('A skin thinner than a layer', () => {
  test('has a layer of its own, and bends as a thin plate does', () => {
    const plain = { ...STEEL, poisson: 0 };
    for (const thickness of [0.2, 0.5]) {
      const map = plainBar(24, 6, 4);
      for (let n = 0; n < map.top.length; n++) if (n % map.columns >= 40) map.top[n] = thickness;
      const grid = gridOf(map)!;
      expect(has(grid.zs, thickness)).toBe(true);
      const stock = mustHold(grid, nodesInside(grid, { x1: 4 }), plain);
      const { moved } = bend(stock, [endLoad(grid, [0, 0, 0.01])]);
      expect(Math.abs(moved[0]![2] / timoshenkoTip(0.01, 20, 6, thickness, plain) - 1)).toBeLessThan(0.01);
    }
  });
});

describe('An arm whose walls lie between the planes', () => {
  /** Movement of a clamped arm bent edgewise against Timoshenko's. */
  const ratioOf = (width: number, shift: number): number => {
    const plain = { ...STEEL, poisson: 0 };
    const [length, height] = [30, 3];
    const rows = Math.ceil(width + 2);
    const share = (j: number): number => Math.max(0, Math.min(j + 1, shift + width) - Math.max(j, shift));
    const shares = Float64Array.from({ length: length * rows * 3 }, (_, n) =>
      share(Math.floor(n / 3 / length)),
    );
    const grid = gridFrom(even(length, length), even(rows, rows), even(height, 3), shares);
    const stock = mustHold(grid, nodesFacing(grid, '-x', { x1: 0 }), plain);
    const { moved } = bend(stock, [endLoad(grid, [0, 10, 0])]);
    return moved[0]![1] / timoshenkoTip(10, length, height, width, plain);
  };

  test('four and six bricks across: bends edgewise as it should within 7 %', () => {
    for (const width of [4, 6]) {
      const ratios = [0, 0.2, 0.4, 0.5, 0.6, 0.8].map((shift) => ratioOf(width, shift));
      for (const ratio of ratios) expect(Math.abs(ratio - 1)).toBeLessThan(0.07);
      const mean = ratios.reduce((sum, ratio) => sum + ratio / ratios.length, 0);
      expect(Math.abs(mean - 1)).toBeLessThan(0.025);
    }
  });
});

describe('The lever in its bar', () => {
  const jaws = (grid: Grid) => {
    const held = { x0: 0, x1: 30, z1: 3.25 };
    const half = LEVER.width / 2 - 0.01;
    return [
      ...nodesFacing(grid, '-y', { ...held, y1: -half }),
      ...nodesFacing(grid, '+y', { ...held, y0: half }),
    ];
  };
  const through = { xs: [30], zs: [3.25] };
  const toe = [LEVER.toe.x, 0, LEVER.thickness] as const;
  const pressed = (grid: Grid) =>
    bend(mustHold(grid, jaws(grid)), [{ patch: patchAt(grid, toe, 2)!, force: [0, 0, -50] }]);

  test('moves as it does with bricks of half the size, within 5 %, forked and thinned', () => {
    for (const stage of ['forked', 'thinned'] as const) {
      const map = leverMap(stage);
      const [coarse, fine] = [
        pressed(gridOf(map, { through })!),
        pressed(gridOf(map, { through, cell: 0.5 })!),
      ];
      expect([coarse.end, fine.end]).toEqual(['reached', 'reached']);
      expect(Math.abs(coarse.moved[0]![2] / fine.moved[0]![2] - 1)).toBeLessThan(0.05);
    }
  });

  test('moves more with every stage, and its lowest frequency falls', () => {
    const stages = (['bar', 'outlined', 'forked', 'thinned'] as const).map(
      (stage) => gridOf(leverMap(stage))!,
    );
    const moves = stages.map((grid) => -pressed(grid).moved[0]![2]);
    const tones = stages.map((grid) => lowestFrequency(mustHold(grid, jaws(grid))).frequency);
    for (let n = 1; n < stages.length; n++) {
      expect(moves[n]).toBeGreaterThan(moves[n - 1]!);
      expect(tones[n]).toBeLessThan(tones[n - 1]!);
    }
  });

  test('a skin left under the outline holds the far side of the cut', () => {
    const grid = gridOf(leverMap('outlined', 0.1, 8))!;
    const through = gridOf(leverMap('outlined'))!;
    expect(-pressed(grid).moved[0]![2]).toBeLessThan(-0.5 * pressed(through).moved[0]![2]);
  });
});

describe('A patch', () => {
  const grid = defaultBox([10, 8, 5]);
  const sumOf = (weights: Float64Array): number => weights.reduce((sum, w) => sum + w, 0);

  test('hands out the whole force, its middle where it says', () => {
    for (const place of [
      [5, 4, 5],
      [0, 0, 0],
      [9.7, 3.3, 2.2],
    ] as const) {
      const patch = patchAt(grid, place, 1.2)!;
      expect(sumOf(patch.weights)).toBeCloseTo(1, 12);
      expect(Math.hypot(...patch.at.map((at, a) => at - place[a]!))).toBeLessThan(1.2);
      const stack = (grid.nx + 1) * (grid.ny + 1);
      const middle = [0, 0, 0];
      patch.nodes.forEach((node, n) => {
        const v = Math.floor(node / (grid.nz + 1));
        expect(v).toBeLessThan(stack);
        middle[0]! += patch.weights[n]! * grid.xs[v % (grid.nx + 1)]!;
        middle[1]! += patch.weights[n]! * grid.ys[Math.floor(v / (grid.nx + 1))]!;
        middle[2]! += patch.weights[n]! * grid.zs[node % (grid.nz + 1)]!;
      });
      middle.forEach((at, a) => {
        expect(at).toBeCloseTo(patch.at[a]!, 9);
      });
    }
  });

  test('of a jaw presses evenly: two of them shorten a block by F L / (E A)', () => {
    const [near, far] = [facePatch(grid, '-y', { y1: 0 })!, facePatch(grid, '+y', { y0: 8 })!];
    expect(near.at.map((x) => Number(x.toFixed(9)))).toEqual([5, 0, 2.5]);
    expect(sumOf(far.weights)).toBeCloseTo(1, 12);
    expect(facePatch(grid, '-y', { y0: 3 })).toBeUndefined();
    expect(facePatch(grid, '+y', { y0: 8, z1: 2 })!.at[2]).toBeCloseTo(1, 9);
    // Held at three corners only: the jaws' forces undo each other, so nothing is taken up there.
    const corner = (x: number, y: number) => [...nodesInside(grid, { x0: x, x1: x, y0: y, y1: y, z1: 0 })];
    const plain = { ...STEEL, poisson: 0 };
    const stock = mustHold(grid, [...corner(0, 0), ...corner(10, 0)], plain, [...corner(0, 8)]);
    const bent = bend(
      stock,
      [
        { patch: near, force: [0, 2000, 0] },
        { patch: far, force: [0, -2000, 0] },
      ],
      { tolerance: 1e-9 },
    );
    const shorter = bent.moved[0]![1] - bent.moved[1]![1];
    expect(shorter / ((2000 * 8) / (STEEL.young * 10 * 5))).toBeCloseTo(1, 6);
  });

  test('beside the stock it goes to the nearest brick', () => {
    const patch = patchAt(grid, [14, 4, 9], 1)!;
    expect(patch.at[0]).toBeCloseTo(10, 4);
    expect(patch.at[1]).toBeCloseTo(4, 4);
    expect(patch.at[2]).toBeCloseTo(5, 4);
  });
});

describe('The quick estimate', () => {
  test('is the beam formula for an even bar', () => {
    const map = plainBar(60, 6, 4);
    const moved = quickMovement(map, STEEL, [60 - 1e-9, 0, 2], [0, 0, 10], 10)!;
    const shear = STEEL.young / 2.6;
    const wanted = (10 * 50 ** 3) / (3 * STEEL.young * 32) + (10 * 50) / ((5 / 6) * shear * 24);
    expect(moved[2] / wanted).toBeCloseTo(1, 3);
    expect(quickMovement(map, STEEL, [5, 0, 2], [0, 0, 10], 5)).toEqual([0, 0, 0]);
  });

  test('agrees with the solve on a slender stepped bar within 6 %', () => {
    const map = plainBar(50, 6, 6);
    for (let n = 0; n < map.top.length; n++) if (n % map.columns > 250) map.top[n] = 4;
    const grid = gridOf(map)!;
    const place = [49.5, 0, 4] as const;
    const stock = cantilever(grid);
    const solved = bend(stock, [{ patch: patchAt(grid, place, 0.8)!, force: [0, 3, -10] }]);
    const quick = quickMovement(map, STEEL, place, [0, 3, -10], 0)!;
    expect(Math.abs(quick[2] / solved.moved[0]![2] - 1)).toBeLessThan(0.06);
    expect(Math.abs(quick[1] / solved.moved[0]![1] - 1)).toBeLessThan(0.06);
  });

  test('follows a tine on its own as far as the root of the fork', () => {
    const map = leverMap('forked');
    const sections = sectionsTo(map, [0.5, 6, 9], 20)!;
    expect(sections[0]!.y).toBeCloseTo(5.25, 2);
    expect(sections[0]!.area).toBeCloseTo(5.5 * 9, 1);
    expect(sections[150]!.y).toBeCloseTo(0, 2);
    expect(sectionsTo(map, [0.5, 0, 9], 20)).toBeUndefined();
    expect(sectionsTo(map, [-3, 0, 9], 20)).toBeUndefined();
  });

  test('twists under a force beside the middle line', () => {
    const section = { length: 40, area: 24, upright: 32, edgewise: 72, y: 0, z: 2 };
    const middle = beamMovement([section], [40, 0, 2], [0, 0, 10], STEEL)[2];
    const beside = beamMovement([section], [40, 3, 2], [0, 0, 10], STEEL)[2];
    // Twist of a rectangle 6 × 4: J = 0.196 · 6 · 4³ = 75.3 mm⁴ (torsion table, value from memory); Saint-Venant's J is 80.
    const twist = (10 * 9 * 40) / ((STEEL.young / 2.6) * 75.3);
    expect((beside - middle) / twist).toBeGreaterThan(0.9);
    expect((beside - middle) / twist).toBeLessThan(1.05);
  });

  test('a standing wall agrees with the solve within 15 %', () => {
    const grid = defaultBox([40, 2, 9]);
    const stock = mustHold(grid, nodesInside(grid, { z1: 0 }));
    const { moved } = bend(stock, [{ patch: patchAt(grid, [20, 1, 8.5], 1)!, force: [0, 40, 0] }]);
    const quick = wallMovement({ height: 8.5, thickness: 2, length: 40 }, 2, 40, STEEL);
    expect(Math.abs(quick / moved[0]![1] - 1)).toBeLessThan(0.15);
  });
});
