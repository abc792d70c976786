import type { Bar } from '../../sketch/part/part.ts';
import type { Solid } from '../../sketch/part/solid.ts';
import type { Cut } from '../../toolpath/removal/cut.ts';
import { arcBox } from '../../toolpath/removal/level-arc.ts';
import { strokeInPart } from '../../toolpath/removal/stroke.ts';
import { FARTHEST, type Face, type Slice, slicesOfWall, squaresOf, type Wall } from './wall-faces.ts';

/** How walls were met in the proof before. */
export interface WallMemory {
  /** A face on which all is known but what a motion that is not as before may concern; null where nothing is known. */
  readonly recall: (bar: Bar, wanted: Solid, wall: Wall, levels: readonly number[]) => Face | null;
  /** Keeps the faces of a proof that has met all motions. */
  readonly keep: (faces: ReadonlyMap<Wall, Face>) => void;
}

/** Faces by the value of their wall, and the bar that they were cut from. */
export interface KnownWalls {
  readonly bar: string;
  readonly faces: ReadonlyMap<string, Face>;
}

/** Places of the part, mm. */
export interface Around {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

/** The places whose walls a cut may concern. */
export const aroundCut = ({ stroke, cutter, frame }: Cut): Around => {
  const { kind, from, to, centre, sweep } = strokeInPart(stroke, frame);
  const box =
    kind === 'arc' && centre !== undefined && sweep !== undefined
      ? arcBox(centre, Math.hypot(from.x - centre.x, from.y - centre.y), { ...from, u: 0 }, sweep)
      : { x0: from.x, x1: from.x, y0: from.y, y1: from.y };
  const reach = cutter.diameter / 2 + FARTHEST + ROUNDING;
  return {
    x0: Math.min(box.x0, to.x) - reach,
    y0: Math.min(box.y0, to.y) - reach,
    x1: Math.max(box.x1, to.x) + reach,
    y1: Math.max(box.y1, to.y) + reach,
  };
};

const ROUNDING = 1e-6;

/** More places than this are taken as one that holds them all: each is asked for every place on a wall. */
const MOST_AROUND = 40;

export const together = (all: readonly Around[]): readonly Around[] =>
  all.length <= MOST_AROUND
    ? all
    : [
        all.reduce((a, b) => ({
          x0: Math.min(a.x0, b.x0),
          y0: Math.min(a.y0, b.y0),
          x1: Math.max(a.x1, b.x1),
          y1: Math.max(a.y1, b.y1),
        })),
      ];

/** What was known with the cuts that have gone or come since: a wall's places away from these stand as they did. */
export const wallMemory = (
  known: KnownWalls | null,
  changed: readonly Around[],
  keep: (known: KnownWalls) => void,
  counts: { judged: number; known: number },
): WallMemory => {
  let bar = '';
  return {
    recall: (stock, wanted, wall, levels) => {
      bar = JSON.stringify(stock);
      const old = known?.bar === bar ? known.faces.get(wall.key) : undefined;
      if (!old) return null;
      const { slices, slabs } = slicesOfWall(wanted, wall, levels);
      if (!sameSlices(old.slices, slices)) return null;
      const { x, y } = old;
      const { box } = wall.indexed;
      const near = changed.filter(
        (a) => box && box[0] <= a.x1 && box[2] >= a.x0 && box[1] <= a.y1 && box[3] >= a.y0,
      );
      if (near.length === 0) {
        counts.known += x.length;
        return { ...old, slices, slabs, ...squaresOf(NONE, NONE, () => false) };
      }
      const concerned = (k: number): boolean =>
        near.some((a) => x[k]! >= a.x0 && x[k]! <= a.x1 && y[k]! >= a.y0 && y[k]! <= a.y1);
      const face: Face = {
        ...old,
        slices,
        slabs,
        short: old.short.slice(),
        setup: old.setup.slice(),
        most: old.most.slice(),
        ...squaresOf(x, y, concerned),
      };
      for (const square of face.squares.values()) {
        for (const k of square) {
          face.short.fill(FARTHEST, k * slices.length, (k + 1) * slices.length);
          face.setup.fill(-1, k * slices.length, (k + 1) * slices.length);
          face.most[k] = FARTHEST;
        }
        counts.judged += square.length;
        counts.known -= square.length;
      }
      counts.known += x.length;
      return face;
    },
    keep: (faces) => keep({ bar, faces: new Map([...faces].map(([wall, face]) => [wall.key, face])) }),
  };
};

const NONE = new Float64Array(0);

const sameSlices = (a: readonly Slice[], b: readonly Slice[]): boolean =>
  a.length === b.length && a.every(({ bottom, top }, i) => bottom === b[i]!.bottom && top === b[i]!.top);
