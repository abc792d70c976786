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

/** Runs shorter than this are not worth the way to pairs. */
const LONG = 8;

interface Pairs {
  readonly top: Float64Array | null;
  readonly bottom: Float64Array | null;
}

/** The cells of a map two by two, known for as long as the map is: it is swept thousands of times. */
const pairsOf = (map: HeightMap): Pairs => {
  const known = allPairs.get(map);
  if (known !== undefined) return known;
  const made = { top: inPairs(map.top), bottom: inPairs(map.bottom) };
  allPairs.set(map, made);
  return made;
};

const allPairs = new WeakMap<HeightMap, Pairs>();

/** Null where the array does not begin at a whole double. */
const inPairs = ({ buffer, byteOffset, length }: Float32Array): Float64Array | null =>
  byteOffset % 8 === 0 ? new Float64Array(buffer, byteOffset, length >> 1) : null;

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
  private readonly topPairs: Float64Array | null;
  private readonly bottomPairs: Float64Array | null;

  constructor(map: HeightMap, face: Face, stamp?: Stamp) {
    this.map = map;
    const pairs = pairsOf(map);
    this.topPairs = pairs.top;
    this.bottomPairs = pairs.bottom;
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
      if (last - i >= LONG) i = this.fillAlike(this.topPairs, this.bottomPairs, top, bottom, i, last, left);
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
      if (last - i >= LONG) i = this.fillAlike(this.bottomPairs, this.topPairs, bottom, top, i, last, left);
      while (i <= last && top[i] === high && bottom[i] === low) bottom[i++] = left;
      this.count(from, i, high - low, high - height);
    }
  }

  /**
   * Sets cells of the one array from a cell on while both arrays stand as they do there, two cells at a time; gives the
   * first cell not set. Two floats side by side are read as one double: heights are finite, so that no pair of them is
   * a double that differs from itself. Of cells that differ in a zero's sign alone some are left to the caller.
   */
  private fillAlike(
    onePairs: Float64Array | null,
    otherPairs: Float64Array | null,
    one: Float32Array,
    other: Float32Array,
    start: number,
    last: number,
    left: number,
  ): number {
    if (onePairs === null || otherPairs === null) return start;
    const [a, b] = [one[start]!, other[start]!];
    let i = start;
    if ((i & 1) === 1) one[i++] = left;
    if (one[i] !== a || one[i + 1] !== a || other[i] !== b || other[i + 1] !== b) return i;
    let k = i >> 1;
    const end = (last - 1) >> 1;
    const alikeOne = onePairs[k]!;
    const alikeOther = otherPairs[k]!;
    one[i] = left;
    one[i + 1] = left;
    const set = onePairs[k++]!;
    // By fours while all are alike: the guards cost more than the work.
    while (
      k + 3 <= end &&
      onePairs[k] === alikeOne &&
      onePairs[k + 1] === alikeOne &&
      onePairs[k + 2] === alikeOne &&
      onePairs[k + 3] === alikeOne &&
      otherPairs[k] === alikeOther &&
      otherPairs[k + 1] === alikeOther &&
      otherPairs[k + 2] === alikeOther &&
      otherPairs[k + 3] === alikeOther
    ) {
      onePairs[k] = set;
      onePairs[k + 1] = set;
      onePairs[k + 2] = set;
      onePairs[k + 3] = set;
      k += 4;
    }
    while (k <= end && onePairs[k] === alikeOne && otherPairs[k] === alikeOther) onePairs[k++] = set;
    return 2 * k;
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
