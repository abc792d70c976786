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
    this.cutRun(index, index, height);
  }

  /** The same for every cell from one to another of a row. */
  cutRun(first: number, last: number, height: number): void {
    if (this.front) this.lower(first, last, height);
    else this.raise(first, last, -height);
  }

  /**
   * Nearly all the time of a simulation is spent here and in `raise`. Neighbours mostly stand alike, so that what is
   * taken is reckoned once for a run of like cells.
   */
  private lower(first: number, last: number, height: number): void {
    const { top, bottom } = this.map;
    for (let i = first; i <= last; ) {
      const high = top[i]!;
      const low = bottom[i]!;
      if (height >= high - SAME_HEIGHT || high <= low) {
        i++;
        continue;
      }
      const left = height - low > SAME_HEIGHT ? height : low;
      const from = i;
      // By fours while all are alike: the guards cost more than the work.
      while (
        i + 3 <= last &&
        top[i] === high &&
        top[i + 1] === high &&
        top[i + 2] === high &&
        top[i + 3] === high &&
        bottom[i] === low &&
        bottom[i + 1] === low &&
        bottom[i + 2] === low &&
        bottom[i + 3] === low
      ) {
        top[i] = left;
        top[i + 1] = left;
        top[i + 2] = left;
        top[i + 3] = left;
        i += 4;
      }
      while (i <= last && top[i] === high && bottom[i] === low) top[i++] = left;
      this.count(from, i, high - low, height - low);
    }
  }

  private raise(first: number, last: number, height: number): void {
    const { top, bottom } = this.map;
    for (let i = first; i <= last; ) {
      const high = top[i]!;
      const low = bottom[i]!;
      if (height <= low + SAME_HEIGHT || high <= low) {
        i++;
        continue;
      }
      const left = high - height > SAME_HEIGHT ? height : high;
      const from = i;
      while (
        i + 3 <= last &&
        top[i] === high &&
        top[i + 1] === high &&
        top[i + 2] === high &&
        top[i + 3] === high &&
        bottom[i] === low &&
        bottom[i + 1] === low &&
        bottom[i + 2] === low &&
        bottom[i + 3] === low
      ) {
        bottom[i] = left;
        bottom[i + 1] = left;
        bottom[i + 2] = left;
        bottom[i + 3] = left;
        i += 4;
      }
      while (i <= last && top[i] === high && bottom[i] === low) bottom[i++] = left;
      this.count(from, i, high - low, high - height);
    }
  }

  /** Cells from one to before another that stood `before` high and now stand `after`. */
  private count(from: number, to: number, before: number, after: number): void {
    const cells = to - from;
    const taken = before - Math.max(0, after);
    this.cells += cells;
    this.height += cells * taken;
    if (taken > this.deepest) {
      this.deepest = taken;
      this.deepestAt = from;
    }
    if (after <= SAME_HEIGHT) this.opened += cells;
    else if (after < this.thinnest) this.thinnest = after;
    if (this.stamp !== undefined) this.stamp.marks.fill(this.stamp.value, from, to);
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
