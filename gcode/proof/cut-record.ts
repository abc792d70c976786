import type { Bar } from '../../sketch/part/part.ts';
import { type CutPath, lowestTip, sharesBelow, stretch, upOf } from './cut-path.ts';
import { distanceTo } from './path-index.ts';

/**
 * Where cutters have been, exactly: every motion so far by the squares of an even grid that its cutter came near. Grown
 * as the programs are cut; asked for the material over a place where the height map's cells are too coarse.
 */
export interface CutRecord {
  readonly bar: Bar;
  readonly squares: Map<number, CutPath[]>;
}

const SQUARE = 2;
/** A film of material thinner than this is not said to stand, mm: text and chords are good to a few thousandths. */
const FILM = 0.01;
/** Heights of material below this are none, mm. */
export const NO_HEIGHT = 2e-3;

export const newRecord = (bar: Bar): CutRecord => ({ bar, squares: new Map() });

const key = (x: number, y: number): number =>
  (Math.floor(x / SQUARE) + 50_000) * 100_003 + Math.floor(y / SQUARE) + 50_000;

/** Adds a motion that has been made. Rapids cut as well as feeds do. */
export const recordPath = ({ squares }: CutRecord, path: CutPath): void => {
  const grow = path.radius + FILM;
  const { box } = path;
  for (let x = Math.floor((box.x0 - grow) / SQUARE); x * SQUARE <= box.x1 + grow; x++) {
    for (let y = Math.floor((box.y0 - grow) / SQUARE); y * SQUARE <= box.y1 + grow; y++) {
      const k = key((x + 0.5) * SQUARE, (y + 0.5) * SQUARE);
      const list = squares.get(k);
      if (list === undefined) squares.set(k, [path]);
      else list.push(path);
    }
  }
};

/** Whether the sawn bar was there to begin with. */
const inBar = ({ corner, sawn, length, width }: Bar, x: number, y: number): boolean =>
  x > corner.x - sawn && x < corner.x + length + sawn && y > corner.y && y < corner.y + width;

/**
 * Height of material over a place (part's coordinates) above a flat cutter's tip at an up height, mm, in the sense of
 * `path.face`; 0 where all of it is gone. `path` is the motion about to be made; `before`, the one it goes on from,
 * has its end where this one has its start, and only there a film counts for what it is.
 */
export const standingAbove = (
  record: CutRecord,
  path: CutPath,
  before: CutPath | undefined,
  tip: number,
  x: number,
  y: number,
): number => {
  const { bar } = record;
  if (!inBar(bar, x, y)) return 0;
  const up = upOf(path.face);
  let top = up > 0 ? bar.thickness : 0;
  let low = up > 0 ? 0 : -bar.thickness;
  const near = record.squares.get(key(x, y)) ?? [];
  for (let i = near.length - 1; i >= 0; i--) {
    const p = near[i]!;
    const own = p.face === path.face;
    const lowest = lowestTip(p);
    // What took less than is gone already has nothing to say.
    if (own ? lowest >= top : -lowest <= low) continue;
    const reach = p === before ? p.radius - 1e-6 : p.radius + FILM;
    if (distanceTo(p.segment, x, y) > reach) continue;
    const height = coveredTo(p, reach, x, y);
    if (own) top = Math.min(top, height);
    else low = Math.max(low, -height);
    if (top - Math.max(low, tip) <= NO_HEIGHT) return 0;
  }
  return Math.max(0, top - Math.max(low, tip));
};

/**
 * Lowest height at which a motion's full diameter is over a place that it covers: by halving where the tip rises or
 * sinks. Of a drill's cone nothing is counted.
 */
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
