import type { Point } from '../../sketch/shape/point.ts';
import type { Corner, Facet } from './bent-facets.ts';

/** Most steps of the key of a picture. */
export const MOST_BANDS = 8;

/** The round step (1, 2 or 5 of some power of ten) that makes at most so many bands of 0 to `most`. */
export const bandStep = (most: number): number => {
  if (!(most > 0)) return 1;
  const least = most / MOST_BANDS;
  const power = 10 ** Math.floor(Math.log10(least));
  const factor = [1, 2, 5, 10].find((f) => f * power >= least * (1 - 1e-9)) ?? 10;
  // 5 × 10⁻⁴ by division and not by a product: no noise in the last figure.
  return power < 1 ? factor / Math.round(1 / power) : factor * power;
};

/** A movement in mm with as many decimals as the key's step asks for. */
export const stepText = (value: number, step: number): string =>
  value.toFixed(Math.max(0, -Math.floor(Math.log10(step) + 1e-9)));

/** What is to be drawn of some facets: by band the patches that fill it, by level the lines of equal movement. */
export interface Banded {
  readonly bands: ReadonlyMap<number, readonly (readonly Point[])[]>;
  /** By number of the level from 1: the line between band n − 1 and band n. */
  readonly lines: ReadonlyMap<number, readonly (readonly Point[])[]>;
}

/** A corner as it is drawn. */
interface Spot extends Point {
  readonly size: number;
}

/** Facets drawn bent, `exaggeration` times as far as they move, and parted into bands of `step` mm of movement. */
export const bandsOf = (facets: readonly Facet[], step: number, exaggeration: number): Banded => {
  const bands = new Map<number, (readonly Point[])[]>();
  const pieces = new Map<number, (readonly [Point, Point])[]>();
  const keep = <T>(map: Map<number, T[]>, key: number, value: T): void => {
    const list = map.get(key);
    if (list) list.push(value);
    else map.set(key, [value]);
  };
  for (const { corners } of facets) {
    const four = corners.map((c) => spotOf(c, exaggeration));
    const [low, high] = [bandOf(least(four), step), bandOf(greatest(four), step)];
    if (low === high) {
      keep(bands, low, four);
      continue;
    }
    const middle = meanOf(four);
    four.forEach((spot, n) => {
      const triangle = [spot, four[(n + 1) % 4]!, middle];
      const top = bandOf(greatest(triangle), step);
      for (let band = bandOf(least(triangle), step); band <= top; band++) {
        const patch = between(triangle, band * step, (band + 1) * step);
        if (patch.length >= 3) keep(bands, band, patch);
        const line = band === 0 ? null : crossing(triangle, band * step);
        if (line) keep(pieces, band, line);
      }
    });
  }
  const lines = new Map([...pieces].map(([level, list]) => [level, chained(list)] as const));
  return { bands, lines };
};

const spotOf = ({ x, y, dx, dy, size }: Corner, k: number): Spot => ({ x: x + k * dx, y: y + k * dy, size });
const bandOf = (size: number, step: number): number => Math.floor(size / step + 1e-9);
const least = (spots: readonly Spot[]): number => Math.min(...spots.map((s) => s.size));
const greatest = (spots: readonly Spot[]): number => Math.max(...spots.map((s) => s.size));
const meanOf = (four: readonly Spot[]): Spot => ({
  x: four.reduce((sum, s) => sum + s.x, 0) / 4,
  y: four.reduce((sum, s) => sum + s.y, 0) / 4,
  size: four.reduce((sum, s) => sum + s.size, 0) / 4,
});

const along = (a: Spot, b: Spot, size: number): Spot => {
  const t = (size - a.size) / (b.size - a.size);
  return { x: a.x + t * (b.x - a.x), y: a.y + t * (b.y - a.y), size };
};

/** The part of a patch whose movement lies between two sizes. */
const between = (patch: readonly Spot[], low: number, high: number): readonly Spot[] =>
  cut(
    cut(patch, low, (s) => s.size >= low),
    high,
    (s) => s.size <= high,
  );

const cut = (patch: readonly Spot[], size: number, inside: (s: Spot) => boolean): readonly Spot[] =>
  patch.flatMap((spot, n) => {
    const next = patch[(n + 1) % patch.length]!;
    const kept = inside(spot) ? [spot] : [];
    return inside(spot) === inside(next) ? kept : [...kept, along(spot, next, size)];
  });

const crossing = (triangle: readonly Spot[], size: number): readonly [Point, Point] | null => {
  const ends = triangle.flatMap((a, n) => {
    const b = triangle[(n + 1) % 3]!;
    return a.size < size === b.size < size ? [] : [along(a, b, size)];
  });
  return ends.length === 2 ? [ends[0]!, ends[1]!] : null;
};

/** Ends nearer than this are one, mm. */
const SAME = 1e-4;
const keyOf = ({ x, y }: Point): string => `${Math.round(x / SAME)} ${Math.round(y / SAME)}`;

/** Loose pieces of lines joined end to end; closed ones end where they begin. */
export const chained = (pieces: readonly (readonly [Point, Point])[]): readonly (readonly Point[])[] => {
  const at = new Map<string, number[]>();
  pieces.forEach((piece, n) => {
    for (const end of piece) {
      const key = keyOf(end);
      const list = at.get(key);
      if (list) list.push(n);
      else at.set(key, [n]);
    }
  });
  const used = new Uint8Array(pieces.length);
  const onward = (from: Point): Point[] => {
    const way: Point[] = [];
    for (let here = from; ; ) {
      const key = keyOf(here);
      const n = at.get(key)?.find((i) => used[i] === 0);
      if (n === undefined) return way;
      used[n] = 1;
      const [a, b] = pieces[n]!;
      here = keyOf(a) === key ? b : a;
      way.push(here);
    }
  };
  return pieces.flatMap(([a, b], n) => {
    if (used[n] === 1) return [];
    used[n] = 1;
    return [[...onward(a).reverse(), a, b, ...onward(b)]];
  });
};
