import type { Bar, Face } from '../../sketch/part/part.ts';
import { type CutPath, lowestTip, sharesBelow, stretch, upOf } from './cut-path.ts';
import { distanceTo } from './path-index.ts';

/**
 * Where cutters have been, exactly: every motion so far by the squares of an even grid that its cutter came near. Grown
 * as the programs are cut; asked for the material over a place where the height map's cells are too coarse.
 */
export interface CutRecord {
  readonly bar: Bar;
  readonly squares: Map<number, Square>;
}

/** The motions near one square, by the face they were made from and their lowest tip. */
type Square = Readonly<Record<Face, Level[]>>;

interface Level {
  readonly lowest: number;
  readonly paths: CutPath[];
}

const SQUARE = 1;
/** A film of material thinner than this is not said to stand, mm: text and chords are good to a few thousandths. */
const FILM = 0.01;
/** Heights of material below this are none, mm; tips nearer than this are on one level. */
export const NO_HEIGHT = 2e-3;

export const newRecord = (bar: Bar): CutRecord => ({ bar, squares: new Map() });

const key = (x: number, y: number): number =>
  (Math.floor(x / SQUARE) + 50_000) * 100_003 + Math.floor(y / SQUARE) + 50_000;

/** Adds a motion that has been made. Rapids cut as well as feeds do. */
export const recordPath = ({ squares }: CutRecord, path: CutPath): void => {
  const grow = path.radius + FILM;
  const { box } = path;
  // Of a cone only the full diameter counts: what it leaves is met by the next cutter.
  const lowest = lowestTip(path) + path.point;
  for (let x = Math.floor((box.x0 - grow) / SQUARE); x * SQUARE <= box.x1 + grow; x++) {
    for (let y = Math.floor((box.y0 - grow) / SQUARE); y * SQUARE <= box.y1 + grow; y++) {
      const k = key((x + 0.5) * SQUARE, (y + 0.5) * SQUARE);
      let square = squares.get(k);
      if (square === undefined) {
        square = { front: [], back: [] };
        squares.set(k, square);
      }
      const levels = square[path.face];
      const level = levels.find((l) => Math.abs(l.lowest - lowest) < NO_HEIGHT / 2);
      if (level) level.paths.push(path);
      else levels.push({ lowest, paths: [path] });
    }
  }
};

/** Whether the sawn bar was there to begin with. */
const inBar = ({ corner, sawn, length, width }: Bar, x: number, y: number): boolean =>
  x > corner.x - sawn && x < corner.x + length + sawn && y > corner.y && y < corner.y + width;

/** A cutter about to move: the motion, and the one it goes on from, whose end is this one's start. */
export interface AboutTo {
  readonly record: CutRecord;
  readonly path: CutPath;
  readonly before: CutPath | undefined;
}

/** Whether material stands over a place (part's coordinates) above a flat tip at an up height of the motion's face. */
export const standsAbove = (about: AboutTo, tip: number, x: number, y: number): boolean => {
  const { record, path } = about;
  if (!inBar(record.bar, x, y)) return false;
  const square = record.squares.get(key(x, y));
  if (square === undefined) return true;
  // Mostly one of the motions at this very level has taken it, or none has.
  if (lowestOver(about, square[path.face], tip + 2 * NO_HEIGHT, tip, x, y) <= tip + NO_HEIGHT) return false;
  const other = square[path.face === 'front' ? 'back' : 'front'];
  if (other.length === 0) return true;
  return heightAbove(about, tip, x, y) > NO_HEIGHT;
};

/** Height of the material over a place above the tip, mm; 0 where all of it is gone. */
export const heightAbove = (about: AboutTo, tip: number, x: number, y: number): number => {
  const { record, path } = about;
  const { thickness } = record.bar;
  if (!inBar(record.bar, x, y)) return 0;
  const square = record.squares.get(key(x, y));
  const [full, none] = upOf(path.face) > 0 ? [thickness, 0] : [0, -thickness];
  if (square === undefined) return full - Math.max(none, tip);
  const top = lowestOver(about, square[path.face], full, tip, x, y);
  const other = square[path.face === 'front' ? 'back' : 'front'];
  const low = -lowestOver(about, other, -none, Number.NEGATIVE_INFINITY, x, y);
  return Math.max(0, top - Math.max(low, tip));
};

/** The lowest of `from` and the heights to which levels have cut over a place; no lower than need be known. */
const lowestOver = (
  { before }: AboutTo,
  levels: readonly Level[],
  from: number,
  enough: number,
  x: number,
  y: number,
): number => {
  let top = from;
  for (const { lowest, paths } of levels) {
    if (lowest > top) continue;
    for (let i = paths.length - 1; i >= 0; i--) {
      const p = paths[i]!;
      // Only where this motion goes on from does a film count for what it is.
      const reach = p === before ? p.radius - 1e-6 : p.radius + FILM;
      if (outside(p, reach, x, y) || distanceTo(p.segment, x, y) > reach) continue;
      top = Math.min(top, coveredTo(p, reach, x, y));
      if (top <= enough + NO_HEIGHT) return top;
      if (top <= lowest + NO_HEIGHT) break;
    }
  }
  return top;
};

const outside = ({ box }: CutPath, reach: number, x: number, y: number): boolean =>
  x < box.x0 - reach || x > box.x1 + reach || y < box.y0 - reach || y > box.y1 + reach;

/** Lowest height at which a motion's cutter is over a place that it covers: by halving where the tip rises or sinks. */
const coveredTo = (p: CutPath, reach: number, x: number, y: number): number => {
  const lowest = lowestTip(p) + p.point;
  if (Math.abs(p.u0 - p.u1) < 1e-9 || p.length < 1e-9) return lowest;
  let [yes, no] = [Math.max(p.u0, p.u1), Math.min(p.u0, p.u1)];
  const over = (u: number): boolean => {
    const shares = sharesBelow(p, u);
    return shares !== null && distanceTo(stretch(p, shares[0], shares[1]), x, y) <= reach;
  };
  if (over(no)) return lowest;
  for (let k = 0; k < 12; k++) {
    const middle = (yes + no) / 2;
    if (over(middle)) yes = middle;
    else no = middle;
  }
  return yes + p.point;
};
