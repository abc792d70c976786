import { cellsOf, changeOf, copyCells, cutsThrough, type KeyedPasses, keyed } from './changed-cells.ts';
import { type Cut, cellsUnder, isEmptyBox, staysOver } from './cut.ts';
import { type CellBox, copyMap, type HeightMap, sameGrid } from './height-map.ts';
import { sweep } from './sweep.ts';

export type { Cut } from './cut.ts';

/** The work after each pass, cheaply in any order. */
export interface Film {
  /** Number of passes. */
  readonly length: number;
  /**
   * The map after a number of passes, 0 (the bar) to `length`: the film's own, to be read at once and not to be changed.
   * Throws a RangeError beyond, and an Error once a keeper has gone on to another film.
   */
  at(passes: number): HeightMap;
  /** The same as the caller's own copy. */
  after(passes: number): HeightMap;
}

/** Makes films one after another, each in the place of the one before. */
export interface FilmKeeper {
  film(start: HeightMap, passes: readonly (readonly Cut[])[]): Film;
  /** Cuts swept since the keeper was made, and frames taken over from the film before. */
  readonly counts: { readonly swept: number; readonly frames: number };
}

/** Memory that the kept frames of one film may fill, bytes. */
const MOST_MEMORY = 96e6;
/** Films of more cuts than this are not remembered: telling what changed would take longer than cutting. */
const MOST_CUTS = 200_000;
/** Where more than this share of the map's cells is concerned by a change, nothing is taken over. */
const MOST_CHANGED = 0.5;

/** A film of its own, from a map that is not changed. */
export const film = (
  start: HeightMap,
  passes: readonly (readonly Cut[])[],
  memory: number = MOST_MEMORY,
): Film => filmKeeper(memory).film(start, passes);

interface Reel {
  readonly start: HeightMap;
  /** Its highest material, mm. */
  readonly thickness: number;
  readonly keyed: KeyedPasses | null;
  readonly spacing: number;
  /** Maps after so many passes. */
  readonly kept: Map<number, HeightMap>;
}

/**
 * A film over passes (each a list of motions) keeps frames at even spacing, as many as the memory allows, made when
 * first asked for; what lies between is cut again from the frame before it, and stepping forward cuts one pass only.
 *
 * The next film takes the frames over after passes that are the same: only in the cells that a differing cut may touch
 * is anything cut again, by the cuts that touch these cells. What a cell comes to depends on its own cuts and on no
 * other cell, so this is what cutting all anew would give, to the last bit.
 */
export const filmKeeper = (memory: number = MOST_MEMORY): FilmKeeper => {
  const counts = { swept: 0, frames: 0 };
  let last: Reel | null = null;

  const cutAll = (map: HeightMap, cuts: readonly Cut[], thickness: number, within?: CellBox): void => {
    let before: Cut | null = null;
    for (const cut of cuts) {
      const { stroke, cutter, frame } = cut;
      if (!staysOver(cut, thickness)) {
        const follows =
          before?.stroke.to === stroke.from && before.cutter === cutter && before.frame === frame;
        sweep(map, stroke, cutter, frame, within ? { within, follows } : { follows });
      }
      before = cut;
    }
    counts.swept += cuts.length;
  };

  /** Takes over from the film before what is the same; its frames are no longer its own. */
  const takeOver = (old: Reel, now: Reel): void => {
    if (!old.keyed || !now.keyed || old.spacing !== now.spacing || !sameMap(old.start, now.start)) return;
    const { start } = now;
    const { thickness } = now;
    const { same, cuts } = changeOf(old.keyed, now.keyed);
    const cells = cellsOf(cuts, start, thickness);
    const share = ((cells.i1 - cells.i0 + 1) * (cells.j1 - cells.j0 + 1)) / start.top.length;
    if (!isEmptyBox(cells) && share > MOST_CHANGED) return;
    /** Where the frames lie that can be had, by the number of passes. */
    const from = new Map<number, HeightMap>();
    same.forEach((place, k) => {
      const frame = place < 0 ? undefined : old.kept.get(place + 1);
      if (frame && (k + 1) % now.spacing === 0) from.set(k + 1, frame);
    });
    const until = Math.max(0, ...from.keys());
    // As far as the passes are the same from the start, nothing is cut again.
    let first = same.findIndex((place, k) => place !== k);
    if (first < 0) first = same.length;
    let base = Math.min(first, until);
    while (base > 0 && !from.has(base)) base--;
    const work = isEmptyBox(cells) ? null : copyMap(from.get(base) ?? start);
    for (let k = 1; k <= until; k++) {
      if (work && k > base)
        cutAll(work, cutsThrough(now.keyed.passes[k - 1]!, cells, start, thickness), thickness, cells);
      const frame = from.get(k);
      if (frame) {
        if (work && k > first) copyCells(work, frame, cells);
        now.kept.set(k, frame);
        counts.frames++;
        continue;
      }
      // A new pass that cuts in these cells alone leaves all others as the frame before it shows them.
      const before = now.kept.get(k - 1);
      if (!work || k <= base || k % now.spacing !== 0 || !before) continue;
      if (!now.keyed.passes[k - 1]!.every((cut) => liesIn(cellsUnder(cut, start, thickness), cells)))
        continue;
      const made = copyMap(before);
      copyCells(work, made, cells);
      now.kept.set(k, made);
    }
  };

  const make = (start: HeightMap, passes: readonly (readonly Cut[])[]): Film => {
    const bytes = start.top.byteLength + start.bottom.byteLength;
    const most = Math.max(1, Math.floor(memory / bytes) - 2);
    const spacing = Math.max(1, Math.ceil(passes.length / most));
    const own = copyMap(start);
    const few = passes.reduce((sum, pass) => sum + pass.length, 0) <= MOST_CUTS;
    const thickness = highest(own);
    const known = few ? keyed(passes) : null;
    const reel: Reel = { start: own, thickness, keyed: known, spacing, kept: new Map([[0, own]]) };
    if (last) takeOver(last, reel);
    last = reel;
    let current: { at: number; map: HeightMap } | null = null;
    const at = (count: number): HeightMap => {
      if (!Number.isInteger(count) || count < 0 || count > passes.length) {
        throw new RangeError(`the film has ${passes.length} passes, not ${count}`);
      }
      if (last !== reel) throw new Error('a newer film has taken the place of this one');
      const known = reel.kept.get(count);
      if (known) return known;
      let key = count;
      while (!reel.kept.has(key)) key--;
      if (!current || current.at > count || current.at < key) {
        current = { at: key, map: copyMap(reel.kept.get(key)!) };
      }
      while (current.at < count) {
        cutAll(current.map, passes[current.at]!, thickness);
        current.at++;
        if (current.at % spacing === 0 && !reel.kept.has(current.at)) {
          reel.kept.set(current.at, copyMap(current.map));
        }
      }
      return current.map;
    };
    return { length: passes.length, at, after: (count) => copyMap(at(count)) };
  };
  return { film: make, counts };
};

const liesIn = (box: CellBox, cells: CellBox): boolean =>
  isEmptyBox(box) || (box.i0 >= cells.i0 && box.i1 <= cells.i1 && box.j0 >= cells.j0 && box.j1 <= cells.j1);

const sameMap = (a: HeightMap, b: HeightMap): boolean =>
  sameGrid(a, b) && alike(a.top, b.top) && alike(a.bottom, b.bottom);

/** Loops by hand: a call for each of a million cells would be felt at every edit. */
const alike = (a: Float32Array, b: Float32Array): boolean => {
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return false;
  return true;
};

const highest = ({ top }: HeightMap): number => {
  let most = 0;
  for (let i = 0; i < top.length; i++) if (top[i]! > most) most = top[i]!;
  return most;
};
