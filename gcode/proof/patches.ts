import type { HeightMap } from '../../toolpath/removal/height-map.ts';
import { eachNeighbour, isJoined } from './pieces.ts';

/** Cells joined to those reached that are not reached themselves and are asked for; one beside two of them comes twice. */
export const neighboursOf = (map: HeightMap, reached: Uint8Array, want: (i: number) => boolean): number[] => {
  const found: number[] = [];
  const { columns } = map;
  const lastRow = columns * (map.rows - 1);
  const look = (i: number, n: number): void => {
    if (isJoined(map, i, n) && want(n)) found.push(n);
  };
  // Most cells have none but reached ones beside them: nothing is called for these.
  for (let i = 0; i < reached.length; i++) {
    if (reached[i] !== 1) continue;
    const column = i % columns;
    if (column > 0 && reached[i - 1] === 0) look(i, i - 1);
    if (column < columns - 1 && reached[i + 1] === 0) look(i, i + 1);
    if (i >= columns && reached[i - columns] === 0) look(i, i - columns);
    if (i < lastRow && reached[i + columns] === 0) look(i, i + columns);
  }
  return found;
};

/** Connected groups of cells of one kind; cells of kind 0 are in none. */
export const patchesOf = (map: HeightMap, kinds: Uint8Array): readonly (readonly number[])[] => {
  const seen = new Uint8Array(kinds.length);
  const patches: number[][] = [];
  for (let start = 0; start < kinds.length; start++) {
    if (kinds[start] === 0 || seen[start] === 1) continue;
    const kind = kinds[start]!;
    const patch = [start];
    seen[start] = 1;
    for (let k = 0; k < patch.length; k++) {
      eachNeighbour(map, patch[k]!, (n) => {
        if (seen[n] === 1 || kinds[n] !== kind) return;
        seen[n] = 1;
        patch.push(n);
      });
    }
    patches.push(patch);
  }
  return patches;
};
