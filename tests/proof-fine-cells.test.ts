import { describe, expect, it } from 'vitest';
import { type Bridge, type Leftover, leftovers } from '../gcode/proof/leftover.ts';
import type { ProofInput, ProofSetup } from '../gcode/proof/proof.ts';
import type { Reach } from '../gcode/proof/reach.ts';
import { excessFindings } from '../gcode/proof/report-excess.ts';
import type { Bar } from '../sketch/part/part.ts';
import type { Solid } from '../sketch/part/solid.ts';
import { rectangle } from '../sketch/shape/region.ts';
import { barMap, type HeightMap } from '../toolpath/removal/height-map.ts';
import { drawnColumns, drawnMap } from './proof-map.ts';

// What is left standing on maps of half a millimetre to the cell, their corner at (10, 20), and on large ones.

const bar: Bar = {
  length: 3,
  width: 2,
  thickness: 4,
  material: 'brass',
  corner: { x: 10, y: 20 },
  sawn: 0,
};
/** The wanted part over X 10 to 11. */
const slab: Solid = {
  slabs: [{ bottom: 0, top: 4, region: rectangle({ x: 10, y: 20 }, { x: 11, y: 60 }) }],
};
const shortBy = (by: number): Reach => ({ radius: 1, shortfall: () => by });

const told = (
  map: HeightMap,
  wanted: readonly string[],
  more: { readonly high?: number; readonly reach?: Reach; readonly bridges?: readonly Bridge[] } = {},
) => {
  const columns = drawnColumns(wanted, 0, more.high);
  const found = leftovers(bar, slab, map, columns, more.reach ?? shortBy(0), 0.05, more.bridges ?? []);
  const round = (v: number): number => Math.round(v * 1e4) / 1e4;
  return found.map(({ kind, amount, at, area }) => [
    kind,
    round(amount),
    [at.x, at.y, round(at.z)].map(round),
    round(area),
  ]);
};
const wanted = ['PP....', 'PP....', 'PP....'];

describe('places and areas', () => {
  it('of a floor, a web and of material', () => {
    const map = drawnMap(['###', '###'], 0.5);
    map.top.set([3, 3.1, 3.2, 3, 3, 3]);
    expect(told(map, ['PPP', 'PPP'], { high: 3 })).toEqual([['floor', 0.2, [11.25, 20.25, 3], 0.5]]);
    expect(told(drawnMap(['##ww..', '##....', '##w...'], 0.5), wanted)).toEqual([
      ['web', 0.8, [11.25, 20.25, 0.4], 0.5],
      ['web', 0.8, [11.25, 21.25, 0.4], 0.25],
    ]);
    expect(told(drawnMap(['##....', '#####.', '##....'], 0.5), wanted)).toEqual([
      ['material', 1.25, [12.25, 20.75, 2], 0.75],
    ]);
  });

  it('of a bridge', () => {
    const bridge: Bridge = {
      at: { x: 11, y: 20.75 },
      outward: { x: 1, y: 0 },
      length: 0.5,
      width: 1,
      height: 0.8,
    };
    const map = () => drawnMap(['##....', '##ww##', '##....'], 0.5);
    expect(told(map(), wanted, { bridges: [bridge] })).toEqual([['bridge', 0.8, [11.5, 20.75, 0.4], 0.5]]);
    // Two cells along the part, one cell away from it.
    const wide = drawnMap(['##w...', '##w...', '##....'], 0.5);
    const two = { ...bridge, at: { x: 11, y: 20.5 }, width: 0.5 };
    expect(told(wide, wanted, { bridges: [two] })).toEqual([['bridge', 0.8, [11.25, 20.5, 0.4], 0.5]]);
    // By the walls as well, where nothing else is left.
    expect(
      told(drawnMap(['##w...'], 0.5), ['PPn...'], { bridges: [{ ...bridge, at: { x: 11, y: 20.25 } }] }),
    ).toEqual([['bridge', 0.8, [11.25, 20.25, 0.4], 0.25]]);
  });

  it('of a bridge among large cells', () => {
    const rows = ['####....', '####....', '####....', '####....', '####ww##'];
    const parts = rows.map((row) => `PPPP${'.'.repeat(row.length - 4)}`);
    const bridge: Bridge = {
      at: { x: 18, y: 29 },
      outward: { x: 1, y: 0 },
      length: 2,
      width: 4,
      height: 0.8,
    };
    expect(told(drawnMap(rows, 2), parts, { bridges: [bridge] })).toEqual([
      ['bridge', 0.8, [20, 29, 0.4], 8],
    ]);
  });

  it('of a corner, with what of it lies by the walls', () => {
    const map = drawnMap(['####..', '##ww..', '##....'], 0.5);
    expect(told(map, ['PPnn..', 'PP....', 'PP....'], { reach: shortBy(0.4) })).toEqual([
      ['corner', 0.8, [11.25, 20.75, 0.4], 1],
    ]);
  });
});

it('of a corner’s area only what is over the tolerance counts, at the back too', () => {
  const map = drawnMap(['##w...', '##....', '##....'], 0.5);
  // All is raised to 1, and the wanted cell by the wall stands 0.03 over.
  for (let i = 0; i < map.top.length; i++) if (map.top[i]! > map.bottom[i]!) map.bottom[i]! = 1;
  map.top[2] = 1.8;
  const columns = drawnColumns(['PN....', 'PP....', 'PP....'], 1, 4);
  columns.top[1] = 3.97;
  const narrow: Solid = {
    slabs: [{ ...slab.slabs[0]!, region: rectangle({ x: 10, y: 20 }, { x: 10.5, y: 60 }) }],
  };
  const area = (): number =>
    leftovers(bar, narrow, map, columns, shortBy(0.4), 0.05, []).find((l) => l.kind === 'corner')!.area;
  expect(area()).toBe(0.25);
  columns.top[1] = 3.9;
  expect(area()).toBe(0.5);
  columns.top[1] = 4;
  columns.bottom[1] = 1.1;
  expect(area()).toBe(0.5);
});

it('a film under a thousandth of a millimetre is nothing', () => {
  const film = (height: number): HeightMap => {
    const map = drawnMap(['##w...', '##....', '##....'], 0.5);
    map.top[2] = height;
    return map;
  };
  expect(told(film(0.0009), wanted)).toEqual([]);
  expect(told(film(0.0012), wanted)).toEqual([['web', 0.0012, [11.25, 20.25, 0.0006], 0.25]]);
});

it('what is thin and wanted carries what hangs on it, what is wanted and gone does not', () => {
  expect(told(drawnMap(['##w###', '##....', '##....'], 0.5), ['PPPPP.', 'PP....', 'PP....'])).toEqual([
    ['material', 1.75, [12.75, 20.25, 2], 0.25],
  ]);
  expect(told(drawnMap(['##.###', '##....', '##....'], 0.5), ['PPP...', 'PP....', 'PP....'])).toEqual([]);
});

describe('what is large', () => {
  const rows = (sign: string): string[] => Array.from({ length: 90 }, () => `##${sign.repeat(80)}`);
  const columns = rows('.').map((row) => row.replaceAll('#', 'P'));
  it('is no corner, though all of it were out of reach', () => {
    expect(told(drawnMap(rows('w'), 0.5), columns, { reach: shortBy(0.4) })).toEqual([
      ['web', 0.8, [11.25, 20.25, 0.4], 1800],
    ]);
    const smaller = rows('w').map((row, j) => (j < 74 ? row : '##'.padEnd(82, '.')));
    expect(told(drawnMap(smaller, 0.5), columns, { reach: shortBy(0.4) })).toEqual([
      ['corner', 0.8, [11.25, 20.25, 0.4], 1480],
    ]);
  });

  it('is told with the farthest of its places, or one near it', () => {
    const [[kind, amount, at, area]] = told(drawnMap(rows('#'), 0.5), columns) as [
      [string, number, readonly number[], number],
    ];
    expect([kind, area]).toEqual(['material', 1800]);
    expect(amount).toBeCloseTo(4, 9);
    expect(at[0]).toBeGreaterThan(14.9);
  });
});

const report = (terms: Pick<Parameters<typeof excessFindings>[0], 'walls' | 'leftovers'>) =>
  excessFindings({
    input: {
      setups: [{ number: 1 } as ProofSetup],
      tolerance: { gouge: 0.02, excess: 0.05 },
    } as unknown as ProofInput,
    map: barMap(bar, 0.5),
    reach: shortBy(0),
    ...terms,
  });

it('of a part of which nothing is cut eighty things are told', () => {
  const web = (k: number): Leftover => ({
    kind: 'web',
    amount: 1 + k / 100,
    at: { x: k, y: 0, z: 1 },
    area: 1,
    face: null,
  });
  const { findings } = report({
    walls: { over: [], within: [] },
    leftovers: Array.from({ length: 100 }, (_, k) => web(k)),
  });
  expect(findings).toHaveLength(80);
  expect(findings[0]!.at).toEqual({ x: 99, y: 0, z: 1 });
});

it('a stretch of wall has its length told over 1 mm, as the crow flies, and its first worst place', () => {
  const told = (...places: readonly (readonly [number, number, number])[]): readonly string[] =>
    report({
      walls: {
        over: places.map(([x, y, amount]) => ({
          slab: 0,
          amount,
          place: { x, y },
          outward: { x: 0, y: 1 },
          bottom: 0,
          top: 2,
          setup: 0,
        })),
        within: [],
      },
      leftovers: [],
    }).findings.map((f) => f.message.replace('The cutters stop ', '').replace(' of the drawing', ''));
  const between = ', between Z 0.00 and 2.00';
  expect(told([5, 9, 0.4], [6, 9, 0.4])).toEqual([`0.400 mm short of a wall at X 5.00, Y 9.00${between}.`]);
  expect(told([5, 9, 0.3], [6.01, 9, 0.4])).toEqual([
    `0.400 mm short of a wall at X 6.01, Y 9.00${between}, along about 1 mm of it.`,
  ]);
  // Square after square, also askew and to smaller figures; beyond an empty one it is another.
  expect(told([5, 9, 0.4], [4, 8, 0.1], [3, 7, 0.1], [2, 6, 0.1])).toEqual([
    `0.400 mm short of a wall at X 5.00, Y 9.00${between}, along about 4 mm of it.`,
  ]);
  expect(told([5, 9, 0.1], [7, 9, 0.2], [-2, 9, 0.2])).toEqual([
    `0.200 mm short of a wall at X 7.00, Y 9.00${between}.`,
    `0.200 mm short of a wall at X -2.00, Y 9.00${between}.`,
    `0.100 mm short of a wall at X 5.00, Y 9.00${between}.`,
  ]);
});
