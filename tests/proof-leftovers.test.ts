import { describe, expect, it } from 'vitest';
import { type Bridge, inBridge, leftovers } from '../gcode/proof/leftover.ts';
import type { Reach } from '../gcode/proof/reach.ts';
import type { Bar } from '../sketch/part/part.ts';
import type { Solid } from '../sketch/part/solid.ts';
import { NOTHING, rectangle } from '../sketch/shape/region.ts';
import type { HeightMap } from '../toolpath/removal/height-map.ts';
import { drawnColumns, drawnMap } from './proof-map.ts';

// What is left standing on maps of a few cells, 1 mm each, their corner at (10, 20): kinds, amounts, places, areas.

const bar: Bar = {
  length: 6,
  width: 4,
  thickness: 4,
  material: 'brass',
  corner: { x: 10, y: 20 },
  sawn: 0,
};
const everywhere: Reach = { radius: 1, shortfall: () => 0 };
/** The wanted part over X 10 to 12, as the places of `P` in the maps below are. */
const left = rectangle({ x: 10, y: 20 }, { x: 12, y: 30 });
const slab: Solid = { slabs: [{ bottom: 0, top: 4, region: left }] };

const told = (
  map: HeightMap,
  wanted: readonly string[],
  more: {
    readonly low?: number;
    readonly high?: number;
    readonly reach?: Reach;
    readonly bridges?: readonly Bridge[];
    readonly solid?: Solid;
    readonly tolerance?: number;
  } = {},
) => {
  const columns = drawnColumns(wanted, more.low, more.high);
  const found = leftovers(
    bar,
    more.solid ?? slab,
    map,
    columns,
    more.reach ?? everywhere,
    more.tolerance ?? 0.05,
    more.bridges ?? [],
  );
  const round = (v: number): number => Math.round(v * 1e4) / 1e4;
  return found.map(({ kind, amount, at, area, face }) => [
    kind,
    round(amount),
    [at.x, at.y, round(at.z)],
    round(area),
    face,
  ]);
};

describe('a floor', () => {
  const wanted = ['PPP', 'PPP'];
  it('too high is told with its worst place, its whole patch and the face it is cut from', () => {
    const map = drawnMap(['###', '###']);
    map.top.set([3, 3.001, 3.2, 3.0005, 3.3, 3.1]);
    // Cells 1, 2, 4 and 5 hang together; less than a thousandth over is nothing.
    expect(told(map, wanted, { high: 3 })).toEqual([['floor', 0.3, [11.5, 21.5, 3], 3, 'front']]);
    map.top[1] = 3.0021;
    expect(told(map, wanted, { high: 3 })).toEqual([['floor', 0.3, [11.5, 21.5, 3], 4, 'front']]);
  });

  it('may lie at the back; of both the higher one is told, and the front where they are alike', () => {
    const map = drawnMap(['###', '###']);
    map.bottom.fill(0.5);
    map.top.fill(3.25);
    expect(told(map, wanted, { low: 1, high: 3 })).toEqual([['floor', 0.5, [10.5, 20.5, 1], 6, 'back']]);
    map.top.fill(3.5);
    expect(told(map, wanted, { low: 1, high: 3 })).toEqual([['floor', 0.5, [10.5, 20.5, 3], 6, 'front']]);
    map.bottom.set([0.25], 5);
    expect(told(map, wanted, { low: 1, high: 3 })).toEqual([
      ['floor', 0.5, [10.5, 20.5, 3], 5, 'front'],
      ['floor', 0.75, [12.5, 21.5, 1], 1, 'back'],
    ]);
  });

  it('cut too deep is no leftover, nor is one by a wall, nor one that is gone', () => {
    const map = drawnMap(['###', '###']);
    map.top.fill(2.9);
    expect(told(map, wanted, { high: 3 })).toEqual([]);
    expect(told(drawnMap(['###', '###']), ['NNN', 'NNN'], { high: 3 })).toEqual([]);
    expect(told(drawnMap(['...', '...']), wanted, { high: 3 })).toEqual([]);
  });

  it('in two places that touch at a corner is told twice', () => {
    const map = drawnMap(['###', '###']);
    map.top.set([3.2, 3, 3, 3, 3.1, 3]);
    expect(told(map, wanted, { high: 3 })).toEqual([
      ['floor', 0.2, [10.5, 20.5, 3], 1, 'front'],
      ['floor', 0.1, [11.5, 21.5, 3], 1, 'front'],
    ]);
  });
});

describe('beside the part', () => {
  it('a thin skin that hangs on it is a web, anything thicker is material, and what lies loose is nothing', () => {
    const wanted = ['PP....', 'PP....', 'PP....'];
    expect(told(drawnMap(['##ww..', '##....', '##.###']), wanted)).toEqual([
      ['web', 0.8, [12.5, 20.5, 0.4], 2, null],
    ]);
    // Half the bar's thickness is a web yet.
    expect(told(drawnMap(['##l...', '##....', '##....']), wanted)).toEqual([
      ['web', 2, [12.5, 20.5, 1], 1, null],
    ]);
    const thick = drawnMap(['##l...', '##....', '##....']);
    thick.top[2] = 2.0001;
    // As far from the part as its middle is.
    expect(told(thick, wanted)).toEqual([['material', 0.5, [12.5, 20.5, 1], 1, null]]);
    expect(told(drawnMap(['##.###', '##.###', '##....']), wanted)).toEqual([]);
  });

  it('what hangs on it by a web alone is not counted, nor what begins behind one', () => {
    const wanted = ['PP....', 'PP....', 'PP....'];
    expect(told(drawnMap(['##w###', '##.###', '##.###']), wanted)).toEqual([
      ['web', 0.8, [12.5, 20.5, 0.4], 1, null],
    ]);
    // A web from the lower half does not hang on an upper half, corner to corner nothing does.
    expect(told(drawnMap(['##uw..', '##....', '##....']), wanted)).toEqual([
      ['web', 2, [12.5, 20.5, 3], 1, null],
    ]);
    expect(told(drawnMap(['##....', '##....', '..ww..']), wanted)).toEqual([]);
  });

  it('a web is found on every side of the part and of what stands with it', () => {
    const middle = ['.....', '.....', '..P..', '.....', '.....'];
    const solid: Solid = {
      slabs: [{ bottom: 0, top: 4, region: rectangle({ x: 12, y: 22 }, { x: 13, y: 23 }) }],
    };
    for (const [row, column] of [
      [1, 2],
      [3, 2],
      [2, 1],
      [2, 3],
    ] as const) {
      const rows = middle.map((signs, j) =>
        [...signs].map((sign, i) => (sign === 'P' ? '#' : i === column && j === row ? 'w' : '.')).join(''),
      );
      expect(told(drawnMap(rows), middle, { solid })).toEqual([
        ['web', 0.8, [10.5 + column, 20.5 + row, 0.4], 1, null],
      ]);
    }
    // On the very edges of the map, and none round them.
    const edges = ['P....', '.....', '....P'];
    expect(told(drawnMap(['#...w', 'w...w', 'w...#']), edges)).toEqual([
      ['web', 0.8, [14.5, 20.5, 0.4], 2, null],
      ['web', 0.8, [10.5, 21.5, 0.4], 2, null],
    ]);
    expect(told(drawnMap(['#....', 'w....', '....#']), edges)).toEqual([
      ['web', 0.8, [10.5, 21.5, 0.4], 1, null],
    ]);
    expect(told(drawnMap(['#...w', '.....', 'w...#']), edges)).toEqual([]);
    expect(told(drawnMap(['#....', '....w', '....#']), edges)).toEqual([
      ['web', 0.8, [14.5, 21.5, 0.4], 1, null],
    ]);
    expect(told(drawnMap(['#w...', '.....', '...w#']), edges)).toEqual([
      ['web', 0.8, [11.5, 20.5, 0.4], 1, null],
      ['web', 0.8, [13.5, 22.5, 0.4], 1, null],
    ]);
  });

  it('material stands out by the lesser of its height and its way from the part, the least over all slabs', () => {
    const wanted = ['PP....', 'PP....', 'PP....'];
    const map = drawnMap(['#####.', '##....', '##....']);
    expect(told(map, wanted)).toEqual([['material', 2.5, [14.5, 20.5, 2], 3, null]]);
    map.top[4] = 2.25;
    map.bottom[4] = 0.05;
    expect(told(map, wanted)).toEqual([['material', 2.2, [14.5, 20.5, 1.15], 3, null]]);
    const near: Solid = {
      slabs: [
        { bottom: 0, top: 2, region: left },
        { bottom: 2, top: 4, region: rectangle({ x: 10, y: 20 }, { x: 13.75, y: 30 }) },
        { bottom: 4, top: 4.5, region: NOTHING },
      ],
    };
    expect(told(map, wanted, { solid: near })).toEqual([['material', 0.75, [14.5, 20.5, 1.15], 3, null]]);
  });

  it('by a wall nothing is told, but what stands there carries on', () => {
    expect(told(drawnMap(['##ww..']), ['PPn...'])).toEqual([['web', 0.8, [13.5, 20.5, 0.4], 1, null]]);
    expect(told(drawnMap(['##w...']), ['PPn...'])).toEqual([]);
  });
});

describe('a bridge', () => {
  const wanted = ['PP....', 'PP....', 'PP....'];
  const bridge: Bridge = {
    at: { x: 12, y: 21.5 },
    outward: { x: 1, y: 0 },
    length: 1,
    width: 2,
    height: 0.8,
  };
  const map = (): HeightMap => drawnMap(['##....', '##ww##', '##....']);

  it('that is told of is one, in the middle of what stands of it, and holds what would be material', () => {
    expect(told(map(), wanted, { bridges: [bridge] })).toEqual([['bridge', 0.8, [13, 21.5, 0.4], 2, null]]);
    expect(told(map(), wanted)).toEqual([['web', 0.8, [12.5, 21.5, 0.4], 2, null]]);
  });

  it('is none where it is higher than stated by more than 0.02', () => {
    const high = map();
    high.top.set([0.82, 0.82], 8);
    expect(told(high, wanted, { bridges: [bridge] })[0]![0]).toBe('bridge');
    high.top.set([0.83, 0.83], 8);
    expect(told(high, wanted, { bridges: [bridge] })).toEqual([['web', 0.83, [12.5, 21.5, 0.415], 2, null]]);
  });

  it('does not spread beyond its size and 0.3 mm', () => {
    const short = told(map(), wanted, { bridges: [{ ...bridge, width: 1 }] });
    expect(short.map(([kind, , at]) => [kind, at])).toEqual([['bridge', [12.5, 21.5, 0.4]]]);
    const beside = told(map(), wanted, { bridges: [{ ...bridge, at: { x: 12, y: 22.4 } }] });
    expect(beside.map(([kind]) => kind)).toEqual(['web']);
    const within = told(map(), wanted, { bridges: [{ ...bridge, at: { x: 12, y: 22.29 } }] });
    expect(within.map(([kind]) => kind)).toEqual(['bridge']);
  });

  it('never takes wanted cells, nor those that are gone, and may lie over the edge of the map', () => {
    const wide = { ...bridge, length: 40, width: 40 };
    expect(told(map(), wanted, { bridges: [wide] })).toEqual([['bridge', 0.8, [13, 21.5, 0.4], 2, null]]);
    const corner = { ...bridge, at: { x: 10, y: 20 }, outward: { x: 0, y: 1 } };
    const solid: Solid = {
      slabs: [{ bottom: 0, top: 4, region: rectangle({ x: 10, y: 21 }, { x: 16, y: 23 }) }],
    };
    expect(
      told(drawnMap(['w.....', '######', '######']), ['......', 'PPPPPP', 'PPPPPP'], {
        bridges: [corner],
        solid,
      }),
    ).toEqual([['bridge', 0.8, [10.5, 20.5, 0.4], 1, null]]);
    const far = { ...bridge, at: { x: 16, y: 23 }, outward: { x: -1, y: 0 } };
    expect(told(drawnMap(['##...w', '##...w']), ['PP....', 'PP....'], { bridges: [far] })).toEqual([]);
    expect(
      told(drawnMap(['......', '......', '.....w']), ['......', '......', '......'], { bridges: [far] }),
    ).toEqual([['bridge', 0.8, [15.5, 22.5, 0.4], 1, null]]);
  });

  it('reaches from a little behind its place to its width, and to either side by half its length', () => {
    const askew = { at: { x: 5, y: 5 }, outward: { x: 0.6, y: 0.8 }, length: 4, width: 3, height: 1 };
    const at = (away: number, along: number): boolean =>
      inBridge(askew, { x: 5 + 0.6 * away - 0.8 * along, y: 5 + 0.8 * away + 0.6 * along });
    expect([at(3.29, 0), at(3.31, 0), at(-1.29, 0), at(-1.31, 0)]).toEqual([true, false, true, false]);
    expect([at(1, 2.29), at(1, 2.31), at(1, -2.29), at(1, -2.31)]).toEqual([true, false, true, false]);
  });
});

describe('a corner that no cutter reaches', () => {
  const wanted = ['PPnn..', 'PP....', 'PP....'];
  const map = (): HeightMap => drawnMap(['####..', '##ww..', '##....']);
  /** Short of every place up to an X. */
  const shortUpTo = (x: number, most = 0.4): Reach => ({
    radius: 1,
    shortfall: (k, p) => (k !== 0 ? null : p.x < x ? most : 0),
  });

  it('is told apart from what else is left, with what stands of it by the walls', () => {
    expect(told(map(), wanted, { reach: shortUpTo(13) })).toEqual([
      // The cell by the wall beside it counts into its area.
      ['corner', 0.8, [12.5, 21.5, 0.4], 2, null],
      ['web', 0.8, [13.5, 21.5, 0.4], 1, null],
    ]);
    expect(told(map(), wanted, { reach: shortUpTo(16) })).toEqual([
      ['corner', 0.8, [12.5, 21.5, 0.4], 4, null],
    ]);
    expect(told(map(), wanted, { reach: shortUpTo(12) })).toEqual([['web', 0.8, [12.5, 21.5, 0.4], 2, null]]);
  });

  it('is none where nothing can be told, or a cutter just comes to it', () => {
    for (const short of [0, null]) {
      const reach: Reach = { radius: 1, shortfall: () => short };
      expect(told(map(), wanted, { reach }).map(([kind]) => kind)).toEqual(['web']);
    }
  });

  it('holds only what is over the tolerance, by the walls too', () => {
    const low = map();
    low.top.set([0.04, 0.8], 8);
    low.top.set([0.045, 0.045], 2);
    expect(told(low, wanted, { reach: shortUpTo(16) })).toEqual([
      ['corner', 0.8, [13.5, 21.5, 0.4], 1, null],
      ['web', 0.04, [12.5, 21.5, 0.02], 1, null],
    ]);
    low.top.set([0.06, 0.06], 2);
    expect(told(low, wanted, { reach: shortUpTo(16) })[0]).toEqual([
      'corner',
      0.8,
      [13.5, 21.5, 0.4],
      3,
      null,
    ]);
  });

  it('is asked for in the slabs beside what is left, not over it nor inside of them', () => {
    const asked: number[] = [];
    const reach: Reach = {
      radius: 1,
      shortfall: (k) => {
        asked.push(k);
        return 0;
      },
    };
    const wide = rectangle({ x: 10, y: 20 }, { x: 30, y: 30 });
    const solid: Solid = {
      slabs: [
        { bottom: 0, top: 0.5, region: left },
        { bottom: 0.5, top: 0.8, region: left },
        { bottom: 0.8, top: 4, region: left },
        { bottom: 0.2, top: 0.5, region: wide },
      ],
    };
    told(drawnMap(['##w...', '##....']), ['PP....', 'PP....'], { reach, solid });
    expect(asked).toEqual([0, 1]);
    // Over a floor: from the wanted floor up, at the front and at the back.
    asked.length = 0;
    const front = drawnMap(['##', '##']);
    const outside = rectangle({ x: 30, y: 20 }, { x: 40, y: 30 });
    const stack = (...heights: number[]): Solid => ({
      slabs: heights.slice(1).map((top, k) => ({ bottom: heights[k]!, top, region: outside })),
    });
    told(front, ['PP', 'PP'], { reach, high: 3, solid: stack(0, 1, 3, 3.5, 4, 5) });
    expect([...new Set(asked)]).toEqual([2, 3]);
    asked.length = 0;
    told(front, ['PP', 'PP'], { reach, low: 1, solid: stack(-1, 0, 0.5, 1, 3, 4) });
    expect([...new Set(asked)]).toEqual([1, 2]);
  });

  it('over a floor counts by its height over the floor', () => {
    const floor = drawnMap(['####', '####']);
    floor.top.set([3, 3, 3.2, 3.04], 0);
    floor.top.set([3, 3.2, 3.2, 3.2], 4);
    const beside: Solid = {
      slabs: [{ bottom: 3, top: 4, region: rectangle({ x: 30, y: 20 }, { x: 40, y: 30 }) }],
    };
    const found = told(floor, ['PPNN', 'PPPN'], { high: 3, reach: shortUpTo(99), solid: beside });
    // Of the cells by the wall, 2 and 7 stand over the tolerance, 3 does not.
    expect(found).toEqual([['corner', 0.2, [11.5, 21.5, 1.6], 4, null]]);
  });
});
