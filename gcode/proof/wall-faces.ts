import type { Bar } from '../../sketch/part/part.ts';
import type { Solid } from '../../sketch/part/solid.ts';
import type { Contour } from '../../sketch/shape/region.ts';
import { NO_CELLS } from '../../toolpath/removal/cut.ts';
import type { CellBox } from '../../toolpath/removal/height-map.ts';
import { type IndexedRegion, indexRegion } from './distance.ts';
import { roomOutside, type Sample, samplesOn } from './wall-places.ts';

/** A wall that no cutter came nearer to than this is simply not cut, mm. */
export const FARTHEST = 2;
/** Slices thinner than this are not judged by themselves, mm. */
const THINNEST_SLICE = 0.004;

/** One closed wall of the wanted part, and the slabs, by their index, that it bounds. */
export interface Wall {
  /** Its value as text. */
  readonly key: string;
  readonly contour: Contour;
  readonly indexed: IndexedRegion;
  readonly slabs: readonly number[];
}

export interface Slice {
  readonly bottom: number;
  readonly top: number;
  readonly middle: number;
}

/** A wall's places, and the slices of all its slabs one after another. */
export interface Face {
  readonly slabs: readonly { readonly index: number; readonly first: number; readonly end: number }[];
  readonly slices: readonly Slice[];
  readonly samples: readonly Sample[];
  /** For each sample and slice, how far short the cutters are so far, and the setup of the nearest. */
  readonly short: Float64Array;
  readonly setup: Int16Array;
  /** For each sample the largest of its slices', and where it is. */
  readonly most: Float64Array;
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** Heights of the lowest and the highest slice's middle. */
  readonly low: number;
  readonly high: number;
  /** Samples that are still to be judged, by the squares of an even grid. */
  readonly squares: ReadonlyMap<number, readonly number[]>;
  /** The squares that these lie in: from column `i0` and row `j0` to `i1` and `j1`. */
  readonly asked: CellBox;
}

export const SQUARE = 2;
export const squareOf = (i: number, j: number): number => (i + 50_000) * 100_003 + (j + 50_000);

/** The walls of a part, each once; those of each slab in the order of its contours. */
export const wallsOf = (
  wanted: Solid,
): { readonly walls: readonly Wall[]; readonly bySlab: readonly (readonly Wall[])[] } => {
  const found = new Map<string, Wall & { slabs: number[] }>();
  const texts = new Map<Contour, string>();
  const bySlab = wanted.slabs.map(({ region }, slab) =>
    region.contours.map((contour): Wall => {
      const key = texts.get(contour) ?? JSON.stringify(contour);
      texts.set(contour, key);
      const wall = found.get(key) ?? {
        key,
        contour,
        indexed: indexRegion({ contours: [contour] }),
        slabs: [],
      };
      found.set(key, wall);
      wall.slabs.push(slab);
      return wall;
    }),
  );
  return { walls: [...found.values()], bySlab };
};

/** A face as it is before anything is cut: its slices lie between `levels`, heights of the part. */
export const faceOf = (bar: Bar, wanted: Solid, wall: Wall, levels: readonly number[]): Face => {
  const { contour } = wall;
  const { slices, slabs } = slicesOfWall(wanted, wall, levels);
  const samples = contour.segments.flatMap((segment, k) => {
    const before = contour.segments[(k - 1 + contour.segments.length) % contour.segments.length]!;
    return samplesOn(segment, before).flatMap((place): readonly Sample[] => {
      const room = roomOutside(bar, place.place, place.outward);
      return room <= 1e-3 ? [] : [{ ...place, room }];
    });
  });
  const x = Float64Array.from(samples, (sample) => sample.place.x);
  const y = Float64Array.from(samples, (sample) => sample.place.y);
  return {
    slabs,
    slices,
    samples,
    short: new Float64Array(samples.length * slices.length).fill(FARTHEST),
    setup: new Int16Array(samples.length * slices.length).fill(-1),
    most: new Float64Array(samples.length).fill(FARTHEST),
    x,
    y,
    low: Math.min(...slices.map((slice) => slice.middle)),
    high: Math.max(...slices.map((slice) => slice.middle)),
    ...squaresOf(x, y, () => true),
  };
};

/** The samples that are asked for, by squares. */
export const squaresOf = (
  x: Float64Array,
  y: Float64Array,
  isAsked: (k: number) => boolean,
): Pick<Face, 'squares' | 'asked'> => {
  const squares = new Map<number, number[]>();
  let { i0, j0, i1, j1 } = NO_CELLS;
  for (let k = 0; k < x.length; k++) {
    if (!isAsked(k)) continue;
    const [i, j] = [Math.floor(x[k]! / SQUARE), Math.floor(y[k]! / SQUARE)];
    [i0, j0] = [Math.min(i0, i), Math.min(j0, j)];
    [i1, j1] = [Math.max(i1, i), Math.max(j1, j)];
    const key = squareOf(i, j);
    const list = squares.get(key);
    if (list === undefined) squares.set(key, [k]);
    else list.push(k);
  }
  return { squares, asked: { i0, j0, i1, j1 } };
};

export const slicesOfWall = (
  wanted: Solid,
  wall: Wall,
  levels: readonly number[],
): Pick<Face, 'slabs' | 'slices'> => {
  const sorted = [...levels].sort((a, b) => a - b);
  const slices: Slice[] = [];
  const slabs = wall.slabs.map((index) => {
    const { bottom, top } = wanted.slabs[index]!;
    const first = slices.length;
    slices.push(...slicesOf(bottom, top, sorted));
    return { index, first, end: slices.length };
  });
  return { slabs, slices };
};

/** The slab cut at every height where some tip ends, for between two such heights nothing changes. `levels` rise. */
const slicesOf = (bottom: number, top: number, levels: readonly number[]): readonly Slice[] => {
  const slices: Slice[] = [];
  let from = bottom;
  for (const z of [...levels.filter((level) => level < top), top]) {
    if (z - from < THINNEST_SLICE && !(z === top && slices.length === 0)) continue;
    slices.push({ bottom: from, top: z, middle: (from + z) / 2 });
    from = z;
  }
  return slices;
};
