/** Coordinates nearer than this are one place, mm. */
const SAME = 2e-3;

/**
 * Keeps which coordinates along one axis are already given by each other. A measure between two places that are joined
 * already says nothing new.
 */
export interface Ledger {
  /** Gives two coordinates by each other; false when they were already. */
  join(a: number, b: number): boolean;
  joined(a: number, b: number): boolean;
}

export const createLedger = (): Ledger => {
  const values: number[] = [];
  const owners: number[] = [];
  const placeOf = (v: number): number => {
    let i = values.findIndex((w) => Math.abs(w - v) < SAME);
    if (i < 0) {
      i = values.length;
      values.push(v);
      owners.push(i);
    }
    while (owners[i] !== i) i = owners[i]!;
    return i;
  };
  return {
    join: (a, b) => {
      const [p, q] = [placeOf(a), placeOf(b)];
      owners[q] = p;
      return p !== q;
    },
    joined: (a, b) => placeOf(a) === placeOf(b),
  };
};
