/** Where an older list's entries are found again in a newer one, in the same order: for each new entry its old place, or −1. */
export type Matching = Int32Array;

/** Lists whose differing middles are longer than this, one times the other, are not looked through for what they share. */
const MOST_PAIRS = 250_000;

/**
 * The longest list of entries that both have in the same order: equal beginnings and endings first, what lies between
 * by the usual table of lengths. Very long middles count as wholly different.
 */
export const matching = (old: readonly string[], now: readonly string[]): Matching => {
  const found = new Int32Array(now.length).fill(-1);
  let first = 0;
  while (first < old.length && first < now.length && old[first] === now[first]) found[first] = first++;
  let a = old.length;
  let b = now.length;
  while (a > first && b > first && old[a - 1] === now[b - 1]) found[--b] = --a;
  const [m, n] = [a - first, b - first];
  if (m === 0 || n === 0 || m * n > MOST_PAIRS) return found;
  const wide = n + 1;
  const lengths = new Int32Array((m + 1) * wide);
  for (let i = m - 1; i >= 0; i--) {
    for (let j = n - 1; j >= 0; j--) {
      lengths[i * wide + j] =
        old[first + i] === now[first + j]
          ? lengths[(i + 1) * wide + j + 1]! + 1
          : Math.max(lengths[(i + 1) * wide + j]!, lengths[i * wide + j + 1]!);
    }
  }
  for (let i = 0, j = 0; i < m && j < n; ) {
    if (old[first + i] === now[first + j]) found[first + j++] = first + i++;
    else if (lengths[(i + 1) * wide + j]! >= lengths[i * wide + j + 1]!) i++;
    else j++;
  }
  return found;
};

/** What lies between two entries that both lists share: the old ones gone from there and the new ones come. */
export interface Gap {
  readonly gone: readonly number[];
  readonly come: readonly number[];
}

export const gapsOf = (found: Matching, old: number): readonly Gap[] => {
  const gaps: Gap[] = [];
  let before = 0;
  let come: number[] = [];
  const close = (until: number): void => {
    const gone = Array.from({ length: until - before }, (_, k) => before + k);
    if (gone.length + come.length > 0) gaps.push({ gone, come });
    come = [];
  };
  found.forEach((place, k) => {
    if (place < 0) {
      come.push(k);
      return;
    }
    close(place);
    before = place + 1;
  });
  close(old);
  return gaps;
};
