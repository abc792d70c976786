/** A function of one number; null where it has no value. */
export type Curve = (x: number) => number | null;

/** A solution leaves no more than this. */
const EXACT = 1e-9;
const MOST_STEPS = 60;

/**
 * Where the curve comes to nought, sought from `start` outward, so that the nearest is likely to be found: by secants
 * first, which find any straight dependence at once, then by halving a stretch in which it changes its sign. Null when
 * no such place is found, or when the curve does not stir round `start`.
 */
export const solve = (off: Curve, start: number): number | null => {
  const exact = (x: number): boolean => Math.abs(off(x) ?? 1) <= EXACT;
  if (exact(start)) return start;
  const step = Math.max(Math.abs(start), 1) * 1e-4;
  const stirs = [start - step, start + step].some((x) => {
    const [a, b] = [off(start), off(x)];
    return a !== null && b !== null && Math.abs(a - b) > 1e-12;
  });
  if (!stirs) return null;
  for (const x of [bySecants(off, start, step), byHalving(off, start)]) {
    if (x !== null && exact(x)) return x;
  }
  return null;
};

const bySecants = (off: Curve, start: number, step: number): number | null => {
  let [a, b] = [start, start + step];
  let [fa, fb] = [off(a), off(b)];
  for (let n = 0; n < MOST_STEPS; n++) {
    if (fa === null || fb === null) return null;
    if (fb === 0 || fa === fb) return b;
    const next = b - (fb * (b - a)) / (fb - fa);
    if (!Number.isFinite(next)) return null;
    [a, fa] = [b, fb];
    [b, fb] = [next, off(next)];
    if (a === b) return b;
  }
  return b;
};

/** Looks ever further to both sides for a crossing, and closes in on the first. */
const byHalving = (off: Curve, start: number): number | null => {
  const reach = Math.max(Math.abs(start), 1) / 64;
  for (const side of [1, -1]) {
    let near = start;
    for (let n = 0; n < 16; n++) {
      const far = start + side * reach * 2 ** n;
      const [a, b] = [off(near), off(far)];
      if (a === null || b === null) break;
      if (a * b <= 0) return halved(off, near, far, a);
      near = far;
    }
  }
  return null;
};

const halved = (off: Curve, from: number, to: number, atFrom: number): number => {
  let [a, b] = [from, to];
  for (let n = 0; n < 100; n++) {
    const middle = (a + b) / 2;
    const y = off(middle);
    if (y === null) break;
    if (y === 0) return middle;
    if (y * atFrom > 0) a = middle;
    else b = middle;
  }
  return (a + b) / 2;
};
