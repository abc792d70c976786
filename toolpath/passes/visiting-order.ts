import { distance, type Point } from '../../sketch/shape/point.ts';

/** Up to so many places the shortest way is found for certain. */
export const EXACT = 12;

/** Length of a way through places in order, mm. */
export const wayLength = (places: readonly Point[]): number =>
  places.slice(1).reduce((sum, p, i) => sum + distance(places[i]!, p), 0);

/**
 * The order in which places are visited by a short way that begins and ends anywhere: indices of `places`. Up to twelve
 * places it is the shortest there is (M. Held and R. M. Karp, 1962); of more, one that neither turning a stretch round
 * nor moving one elsewhere makes shorter. `exact` sets another bound, at most twelve.
 */
export const visitingOrder = (places: readonly Point[], exact = EXACT): readonly number[] => {
  if (places.length < 3) return places.map((_, i) => i);
  const apart = places.map((p) => places.map((q) => distance(p, q)));
  return places.length <= exact ? shortest(apart) : short(apart);
};

type Apart = readonly (readonly number[])[];

/** Held and Karp: for every set of places and every last one of it, the shortest way through the set. */
const shortest = (apart: Apart): readonly number[] => {
  const n = apart.length;
  const sets = 1 << n;
  const best = new Float64Array(sets * n).fill(Number.POSITIVE_INFINITY);
  const before = new Int8Array(sets * n).fill(-1);
  for (let i = 0; i < n; i++) best[(1 << i) * n + i] = 0;
  for (let set = 1; set < sets; set++) {
    for (let last = 0; last < n; last++) {
      const length = best[set * n + last]!;
      if (!Number.isFinite(length)) continue;
      for (let next = 0; next < n; next++) {
        if (set & (1 << next)) continue;
        const at = (set | (1 << next)) * n + next;
        const longer = length + apart[last]![next]!;
        if (longer < best[at]! - 1e-12) {
          best[at] = longer;
          before[at] = last;
        }
      }
    }
  }
  let set = sets - 1;
  let last = 0;
  for (let i = 1; i < n; i++) if (best[set * n + i]! < best[set * n + last]! - 1e-12) last = i;
  const order: number[] = [];
  while (last >= 0) {
    order.push(last);
    const previous: number = before[set * n + last]!;
    set ^= 1 << last;
    last = previous;
  }
  return order.reverse();
};

/** The shortest of the ways that go to the nearest each time, one from every place, each mended till nothing helps. */
const short = (apart: Apart): readonly number[] => {
  const ways = apart.map((_, start) => mended(nearestFrom(apart, start), apart));
  return ways.reduce((a, b) => (lengthOf(b, apart) < lengthOf(a, apart) - 1e-12 ? b : a));
};

const lengthOf = (order: readonly number[], apart: Apart): number =>
  order.slice(1).reduce((sum, p, i) => sum + apart[order[i]!]![p]!, 0);

const nearestFrom = (apart: Apart, start: number): readonly number[] => {
  const left = new Set(apart.keys());
  const order: number[] = [];
  let here = start;
  for (;;) {
    order.push(here);
    left.delete(here);
    let next = -1;
    for (const i of left) if (next < 0 || apart[here]![i]! < apart[here]![next]!) next = i;
    if (next < 0) return order;
    here = next;
  }
};

/** Longest stretch that is moved as a whole. */
const STRETCH = 3;

/** Stretches are turned round (2-opt) and moved elsewhere, either way round (Or-opt), while that shortens the way. */
const mended = (from: readonly number[], apart: Apart): readonly number[] => {
  let order = [...from];
  /** Nothing lies before the first place or after the last: a way there costs nothing. */
  const way = (a: number | undefined, b: number | undefined): number =>
    a === undefined || b === undefined ? 0 : apart[a]![b]!;
  const n = order.length;
  for (;;) {
    let gain = 1e-9;
    let better: number[] | null = null;
    for (let i = 0; i < n; i++) {
      for (let j = i + 1; j < n; j++) {
        const [a, b, c, d] = [order[i - 1], order[i], order[j], order[j + 1]];
        const saved = way(a, b) + way(c, d) - way(a, c) - way(b, d);
        if (saved > gain) {
          gain = saved;
          better = [...order.slice(0, i), ...order.slice(i, j + 1).reverse(), ...order.slice(j + 1)];
        }
      }
      for (let length = 1; length <= STRETCH && i + length <= n; length++) {
        const stretch = order.slice(i, i + length);
        const rest = [...order.slice(0, i), ...order.slice(i + length)];
        const [first, last] = [stretch[0], stretch.at(-1)];
        const out =
          way(order[i - 1], first) + way(last, order[i + length]) - way(order[i - 1], order[i + length]);
        for (let k = 0; k <= rest.length; k++) {
          const [p, q] = [rest[k - 1], rest[k]];
          const straight = way(p, first) + way(last, q) - way(p, q);
          const turned = way(p, last) + way(first, q) - way(p, q);
          const saved = out - Math.min(straight, turned);
          if (saved <= gain) continue;
          gain = saved;
          const put = turned < straight ? [...stretch].reverse() : stretch;
          better = [...rest.slice(0, k), ...put, ...rest.slice(k)];
        }
      }
    }
    if (!better) return order;
    order = better;
  }
};
