/**
 * A symmetric matrix kept row by row from its first entry to the diagonal, and factored in place as L Lᵀ.
 *
 * Made for the coarsest grid, whose nodes are numbered along the bar, so that rows stay short. A pivot that vanishes
 * against its own diagonal belongs to a movement that nothing resists and nothing drives (a coarse node reaching only
 * held fine nodes); it is left out, and its unknown comes back as 0.
 */
export interface Band {
  readonly size: number;
  readonly first: Int32Array;
  readonly start: Int32Array;
  readonly values: Float64Array;
}

/** An empty matrix with room from `first[row]` to the diagonal in each row. */
export const emptyBand = (first: Int32Array): Band => {
  const start = new Int32Array(first.length + 1);
  for (let row = 0; row < first.length; row++) start[row + 1] = start[row]! + row - first[row]! + 1;
  return { size: first.length, first, start, values: new Float64Array(start[first.length]!) };
};

/** A pivot below this share of its diagonal is taken for nothing. */
const VANISHED = 1e-10;

export const factorBand = ({ size, first, start, values }: Band): void => {
  for (let row = 0; row < size; row++) {
    const head = first[row]!;
    const own = start[row]! - head;
    let rest = values[own + row]!;
    const diagonal = rest;
    for (let column = head; column < row; column++) {
      const from = Math.max(head, first[column]!);
      const other = start[column]! - first[column]!;
      let sum = values[own + column]!;
      for (let k = from; k < column; k++) sum -= values[own + k]! * values[other + k]!;
      const pivot = values[other + column]!;
      const entry = pivot > 0 ? sum / pivot : 0;
      values[own + column] = entry;
      rest -= entry * entry;
    }
    values[own + row] = rest > VANISHED * diagonal && rest > 0 ? Math.sqrt(rest) : 0;
  }
};

/** Solves with a factored matrix, in place of the right-hand side. */
export const solveBand = ({ size, first, start, values }: Band, x: Float64Array): void => {
  for (let row = 0; row < size; row++) {
    const own = start[row]! - first[row]!;
    const pivot = values[own + row]!;
    let sum = x[row]!;
    for (let k = first[row]!; k < row; k++) sum -= values[own + k]! * x[k]!;
    x[row] = pivot > 0 ? sum / pivot : 0;
  }
  for (let row = size - 1; row >= 0; row--) {
    const own = start[row]! - first[row]!;
    const pivot = values[own + row]!;
    const value = pivot > 0 ? x[row]! / pivot : 0;
    x[row] = value;
    if (value === 0) continue;
    for (let k = first[row]!; k < row; k++) x[k]! -= values[own + k]! * value;
  }
};
