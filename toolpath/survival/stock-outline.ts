import type { Point } from '../../sketch/shape/point.ts';
import type { HeightMap } from '../removal/height-map.ts';
import type { Frame } from '../route/frame.ts';
import { chained } from './bands.ts';

/** What is drawn of the stock as lines, in the part's coordinates, mm. */
export interface StockOutline {
  /** Round the material and round every hole through it, closed. */
  readonly loops: readonly (readonly Point[])[];
  /** Where the face that is up steps down. */
  readonly steps: readonly (readonly Point[])[];
}

/** A step of less than this is not drawn, mm. */
const LEAST_STEP = 0.25;
/** Stairs of the map's cells are smoothed by this many cells, those of holes and other short lines by fewer. */
const SMOOTH = { long: 1.05, short: 0.6 };
/** A line of fewer cells' sides than this is short. */
const SHORT = 120;
/** A line that turns by less than this is round there, radians; by more it has a corner. */
const ROUND = 0.9;
/** How near to a turn a round line is bent, mm at most. */
const NEAR = 0.8;
const THIN = 1e-3;

/** The stock from above as the map has it, its cells' stairs smoothed. */
export const stockOutline = (map: HeightMap, { face }: Frame): StockOutline => {
  const rim: (readonly [Point, Point])[] = [];
  const ledge: (readonly [Point, Point])[] = [];
  const { columns, rows } = map;
  const at = (c: number, r: number): Point => ({ x: map.x0 + c * map.cell, y: map.y0 + r * map.cell });
  const heightOf = (c: number, r: number): number | null => {
    if (c < 0 || r < 0 || c >= columns || r >= rows) return null;
    const i = r * columns + c;
    if (map.top[i]! - map.bottom[i]! <= THIN) return null;
    return face === 'front' ? map.top[i]! : map.bottom[i]!;
  };
  const meet = (one: number | null, other: number | null, from: Point, to: Point): void => {
    if ((one === null) !== (other === null)) rim.push([from, to]);
    else if (one !== null && other !== null && Math.abs(one - other) > LEAST_STEP) ledge.push([from, to]);
  };
  for (let r = 0; r <= rows; r++) {
    for (let c = 0; c <= columns; c++) {
      const here = heightOf(c, r);
      if (r < rows) meet(heightOf(c - 1, r), here, at(c, r), at(c, r + 1));
      if (c < columns) meet(heightOf(c, r - 1), here, at(c, r), at(c + 1, r));
    }
  }
  const smooth = (line: readonly Point[]): readonly Point[] =>
    rounded(rounded(thinned(halved(line), (line.length < SHORT ? SMOOTH.short : SMOOTH.long) * map.cell)));
  return { loops: chained(rim).map(smooth), steps: chained(ledge).map(smooth) };
};

/** The stock's silhouette from the edge at rest, in program coordinates (X, Z): closed. */
export const edgeOutline = (map: HeightMap, { face, zero }: Frame): readonly (readonly Point[])[] => {
  const sense = face === 'front' ? 1 : -1;
  const outlines: Point[][] = [];
  let high: Point[] = [];
  let low: Point[] = [];
  const close = (): void => {
    if (high.length > 0) outlines.push([...high, ...low.reverse(), high[0]!]);
    high = [];
    low = [];
  };
  for (let c = 0; c < map.columns; c++) {
    let [bottom, top] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
    for (let i = c; i < map.top.length; i += map.columns) {
      if (map.top[i]! - map.bottom[i]! <= THIN) continue;
      bottom = Math.min(bottom, map.bottom[i]!);
      top = Math.max(top, map.top[i]!);
    }
    if (!(top > bottom)) {
      close();
      continue;
    }
    const [x0, x1] = [map.x0 + c * map.cell - zero.x, map.x0 + (c + 1) * map.cell - zero.x];
    const [z0, z1] = [sense * (bottom - zero.z), sense * (top - zero.z)];
    high.push({ x: x0, y: z1 }, { x: x1, y: z1 });
    low.push({ x: x0, y: z0 }, { x: x1, y: z0 });
  }
  close();
  return outlines.map((line) => thinned(line, 0.05));
};

/** Through the middles of a line's pieces: half as high a stair. Its ends stay, or meet again where it is closed. */
const halved = (line: readonly Point[]): readonly Point[] => {
  const middles = line.slice(1).map((p, n) => ({ x: (p.x + line[n]!.x) / 2, y: (p.y + line[n]!.y) / 2 }));
  const [first, last] = [line[0]!, line.at(-1)!];
  return isClosed(line) ? [...middles, middles[0]!] : [first, ...middles, last];
};

/** Small turns cut off on both sides (Chaikin's curve); corners stay. */
const rounded = (line: readonly Point[]): readonly Point[] => {
  const closed = isClosed(line);
  const points = closed ? line.slice(0, -1) : line;
  const count = points.length;
  if (count < 3) return line;
  const bent = points.flatMap((p, n): readonly Point[] => {
    if (!closed && (n === 0 || n === count - 1)) return [p];
    const [a, b] = [points[(n + count - 1) % count]!, points[(n + 1) % count]!];
    const [before, after] = [Math.hypot(p.x - a.x, p.y - a.y), Math.hypot(b.x - p.x, b.y - p.y)];
    const turn = Math.atan2(
      (p.x - a.x) * (b.y - p.y) - (p.y - a.y) * (b.x - p.x),
      (p.x - a.x) * (b.x - p.x) + (p.y - a.y) * (b.y - p.y),
    );
    if (Math.abs(turn) > ROUND) return [p];
    const toward = (q: Point, length: number): Point => {
      const share = Math.min(0.25, NEAR / length);
      return { x: p.x + share * (q.x - p.x), y: p.y + share * (q.y - p.y) };
    };
    return [toward(a, before), toward(b, after)];
  });
  return closed ? [...bent, bent[0]!] : bent;
};

const isClosed = (line: readonly Point[]): boolean => {
  const [first, last] = [line[0]!, line.at(-1)!];
  return Math.hypot(first.x - last.x, first.y - last.y) < 1e-9;
};

/** A line with the corners left out that lie within `slack` mm of what is left (Ramer, Douglas and Peucker). */
const thinned = (line: readonly Point[], slack: number): readonly Point[] => {
  if (line.length < 3) return line;
  const keep = new Uint8Array(line.length);
  keep[0] = 1;
  keep[line.length - 1] = 1;
  const spans: [number, number][] = [];
  if (isClosed(line)) {
    // A closed line is parted where it is farthest from its beginning.
    const far = farthest(line, 0, line.length - 1).index;
    keep[far] = 1;
    spans.push([0, far], [far, line.length - 1]);
  } else spans.push([0, line.length - 1]);
  for (let span = spans.pop(); span !== undefined; span = spans.pop()) {
    const { index, distance } = farthest(line, span[0], span[1]);
    if (distance <= slack) continue;
    keep[index] = 1;
    spans.push([span[0], index], [index, span[1]]);
  }
  return line.filter((_, n) => keep[n] === 1);
};

const farthest = (line: readonly Point[], from: number, to: number) => {
  const [a, b] = [line[from]!, line[to]!];
  const length = Math.hypot(b.x - a.x, b.y - a.y);
  let [index, distance] = [from, -1];
  for (let n = from + 1; n < to; n++) {
    const p = line[n]!;
    const off =
      length < 1e-9
        ? Math.hypot(p.x - a.x, p.y - a.y)
        : distanceToSpan(p, a, { x: (b.x - a.x) / length, y: (b.y - a.y) / length }, length);
    if (off > distance) [index, distance] = [n, off];
  }
  return { index, distance };
};

const distanceToSpan = (p: Point, a: Point, way: Point, length: number): number => {
  const t = Math.min(length, Math.max(0, (p.x - a.x) * way.x + (p.y - a.y) * way.y));
  return Math.hypot(p.x - a.x - t * way.x, p.y - a.y - t * way.y);
};
