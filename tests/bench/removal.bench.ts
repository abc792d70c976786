import type { Bar } from '../../sketch/part/part.ts';
import { barMap, type HeightMap } from '../../toolpath/removal/height-map.ts';
import type { Stroke } from '../../toolpath/removal/stroke.ts';
import { sweep } from '../../toolpath/removal/sweep.ts';
import { frameOf } from '../../toolpath/route/frame.ts';
import { besides, best, exponent, type Row, time } from './row.ts';

// Cells cut by a flat end against plainly writing as many numbers into an array of the same kind, row by row.

const barOf = (length: number, width: number): Bar => ({
  length,
  width,
  thickness: 20,
  material: 'aluminium',
  corner: { x: 0, y: 0 },
  sawn: 0,
});
const mill = { kind: 'endmill', diameter: 6, pointAngle: Math.PI } as const;
const CELL = 0.1;

/** Levels cut one below the other, so that one map serves for many cuts. */
const LEVELS = 16;

const cutAll = (map: HeightMap, bar: Bar, way: (z: number) => readonly Stroke[]): number => {
  const frame = frameOf(bar, 'front', 'left-near');
  let cells = 0;
  for (let k = 1; k <= LEVELS; k++) {
    let before: Stroke | null = null;
    for (const stroke of way(-k)) {
      cells += sweep(map, stroke, mill, frame, { follows: before?.to === stroke.from }).cells;
      before = stroke;
    }
  }
  return cells;
};

/** Straight grooves side by side, each as wide as the cutter. */
const grooves =
  (bar: Bar) =>
  (z: number): readonly Stroke[] =>
    Array.from({ length: Math.floor(bar.width / 6) }, (_, k) => ({
      kind: 'feed',
      from: { x: 3, y: 3 + 6 * k, z },
      to: { x: bar.length - 3, y: 3 + 6 * k, z },
    }));

/** Half turns one round the other, each as wide as the cutter. */
const halfTurns =
  (bar: Bar) =>
  (z: number): readonly Stroke[] =>
    Array.from({ length: Math.floor(bar.width / 2 / 6) }, (_, k) => {
      const centre = { x: bar.length / 2, y: 0 };
      const r = 3 + 6 * k;
      return {
        kind: 'arc',
        from: { x: centre.x + r, y: 0, z },
        to: { x: centre.x - r, y: 0, z },
        centre,
        sweep: Math.PI,
      };
    });

/** A wavy line of steps of 0.1 mm, as a dense program has them. */
const crumbs = (z: number): readonly Stroke[] => {
  const place = (i: number) => ({ x: 3 + 0.09 * i, y: 30 + 12 * Math.sin(i / 60), z });
  const strokes: Stroke[] = [];
  let from = place(0);
  for (let i = 1; i <= 1000; i++) {
    const to = place(i);
    strokes.push({ kind: 'feed', from, to });
    from = to;
  }
  return strokes;
};

export default function* (): Generator<Row> {
  const bar = barOf(100, 60);
  for (const [name, way] of [
    ['straight grooves', grooves(bar)],
    ['half turns', halfTurns(bar)],
  ] as const) {
    const maps = Array.from({ length: 8 }, () => barMap(bar, CELL));
    let cells = 0;
    let turn = 0;
    const plain = new Float32Array(maps[0]!.top.length);
    const [cut, written] = besides(
      maps.length,
      () => {
        cells = cutAll(maps[turn++]!, bar, way);
      },
      () => {
        // The same number of cells, at one level after the other.
        const each = Math.round(cells / LEVELS);
        for (let k = 1; k <= LEVELS; k++) for (let i = 0; i < each; i++) plain[i] = -k;
      },
    );
    yield {
      name: `removal: cells cut in ${name}, to plain writes`,
      ours: `${(cells / cut / 1e6).toFixed(0)} M/s`,
      baseline: `${(cells / written / 1e6).toFixed(0)} M/s`,
      ratio: written / cut,
      goal: '≥ 0.5',
    };
  }

  // The same way on three maps, each of four times as many cells.
  const sizes = [1, 2, 4].map((k) => barOf(100 * k, 60 * k));
  const costs = sizes.map((big) => {
    const maps = Array.from({ length: 5 }, () => barMap(big, CELL));
    let turn = 0;
    return best(maps.length, () => cutAll(maps[turn++]!, big, crumbs));
  });
  const cells = sizes.map((big) => (big.length * big.width) / CELL / CELL);
  const whole = best(5, () => barMap(sizes[2]!, CELL));
  yield {
    name: 'removal: 16 000 steps of 0.1 mm on the largest map, to making that map; growth over the map',
    ours: time(costs[2]!),
    baseline: time(whole),
    ratio: costs[2]! / whole,
    growth: exponent(cells, costs),
  };
}
