import type { Face } from '../../sketch/part/part.ts';
import type { HeightMap } from './height-map.ts';

/** Heights nearer than this are one height: the map's floats are good to about a millionth of a mm. */
export const SAME_HEIGHT = 1e-5;

/** What one motion took away. */
export interface Bite {
  /** Cells in which anything was removed. */
  readonly cells: number;
  /** mm³. */
  readonly volume: number;
  /** Largest height taken from any one cell, mm, and that cell (−1 for none). */
  readonly deepest: number;
  readonly deepestAt: number;
  /** Least height left in a cell that was cut and not cut through, mm; Infinity when there is none. */
  readonly thinnest: number;
  /** Cells cut through in this motion. */
  readonly opened: number;
}

/** Marks every cell that loses material: `marks[cell] = value`. */
export interface Stamp {
  readonly marks: Int32Array;
  readonly value: number;
}

/**
 * The edge of the knife: takes a cell down to a height and keeps count. One object per motion; `reach` may be called
 * many times for a cell. Heights are "up" heights: the part's z with the front up, its negative with the back up.
 */
export class Knife {
  cells = 0;
  height = 0;
  deepest = 0;
  deepestAt = -1;
  thinnest = Number.POSITIVE_INFINITY;
  opened = 0;
  private readonly map: HeightMap;
  private readonly front: boolean;
  private readonly stamp: Stamp | undefined;

  constructor(map: HeightMap, face: Face, stamp?: Stamp) {
    this.map = map;
    this.front = face === 'front';
    this.stamp = stamp;
  }

  /** Whether a tip at this up height would find nothing in the cell. */
  clear(index: number, height: number): boolean {
    const { top, bottom } = this.map;
    if (top[index]! <= bottom[index]!) return true;
    return this.front ? height >= top[index]! - SAME_HEIGHT : -height <= bottom[index]! + SAME_HEIGHT;
  }

  cut(index: number, height: number): void {
    if (this.clear(index, height)) return;
    const { top, bottom } = this.map;
    const before = top[index]! - bottom[index]!;
    let after: number;
    if (this.front) {
      after = height - bottom[index]!;
      top[index] = after > SAME_HEIGHT ? height : bottom[index]!;
    } else {
      after = top[index]! + height;
      bottom[index] = after > SAME_HEIGHT ? -height : top[index]!;
    }
    const taken = before - Math.max(0, after);
    this.cells++;
    this.height += taken;
    if (taken > this.deepest) {
      this.deepest = taken;
      this.deepestAt = index;
    }
    if (after <= SAME_HEIGHT) this.opened++;
    else if (after < this.thinnest) this.thinnest = after;
    if (this.stamp !== undefined) this.stamp.marks[index] = this.stamp.value;
  }

  bite(): Bite {
    return {
      cells: this.cells,
      volume: this.height * this.map.cell * this.map.cell,
      deepest: this.deepest,
      deepestAt: this.deepestAt,
      thinnest: this.thinnest,
      opened: this.opened,
    };
  }
}
