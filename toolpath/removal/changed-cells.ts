import { bothBoxes, type Cut, cellsUnder, cutKey, isEmptyBox, mayTouch, NO_CELLS } from './cut.ts';
import { gapsOf, type Matching, matching } from './differing.ts';
import type { CellBox, HeightMap } from './height-map.ts';

/** Passes as they may be held against others: the cuts of each, and all that their effect goes by as text. */
export interface KeyedPasses {
  readonly passes: readonly (readonly Cut[])[];
  readonly cuts: readonly (readonly string[])[];
  readonly keys: readonly string[];
}

export const keyed = (passes: readonly (readonly Cut[])[]): KeyedPasses => {
  const cuts = passes.map((pass) => pass.map(cutKey));
  return { passes, cuts, keys: cuts.map((pass) => pass.join('\n')) };
};

/** How older passes lie in newer ones. */
export interface Change {
  /** For each new pass the old one that is the same, or −1. */
  readonly same: Matching;
  /** The cuts that have gone or come. */
  readonly cuts: readonly Cut[];
}

/** What differs between older and newer passes. */
export const changeOf = (old: KeyedPasses, now: KeyedPasses): Change => {
  const same = matching(old.keys, now.keys);
  const cuts: Cut[] = [];
  for (const { gone, come } of gapsOf(same, old.keys.length)) {
    const before = gone.flatMap((k) => old.passes[k]!);
    const after = come.flatMap((k) => now.passes[k]!);
    const kept = matching(
      gone.flatMap((k) => old.cuts[k]!),
      come.flatMap((k) => now.cuts[k]!),
    );
    const stays = new Set(kept);
    before.forEach((cut, k) => {
      if (!stays.has(k)) cuts.push(cut);
    });
    after.forEach((cut, k) => {
      if (kept[k]! < 0) cuts.push(cut);
    });
  }
  return { same, cuts };
};

/**
 * The box round all cells that some cuts may touch. Outside of those of a change every cell of the map is met by the same
 * cuts in the same order, so that it stands alike after a pass and after the old one that is the same.
 */
export const cellsOf = (cuts: readonly Cut[], map: HeightMap, thickness: number): CellBox =>
  cuts.reduce((cells, cut) => {
    const box = cellsUnder(cut, map, thickness);
    return isEmptyBox(box) ? cells : bothBoxes(cells, box);
  }, NO_CELLS);

/** The cuts that may touch any of the cells. */
export const cutsThrough = (
  cuts: readonly Cut[],
  cells: CellBox,
  map: HeightMap,
  thickness: number,
): readonly Cut[] => cuts.filter((cut) => mayTouch(cut, cells, map, thickness));

/** Puts the heights of some cells of one map into another of the same size. */
export const copyCells = (from: HeightMap, to: HeightMap, { i0, j0, i1, j1 }: CellBox): void => {
  for (let j = j0; j <= j1; j++) {
    const first = j * from.columns + i0;
    const last = j * from.columns + i1 + 1;
    to.top.set(from.top.subarray(first, last), first);
    to.bottom.set(from.bottom.subarray(first, last), first);
  }
};
