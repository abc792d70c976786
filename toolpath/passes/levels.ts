import type { MillingTerms } from '../route/route.ts';

/** A falling division stops falling here: no pass is thinner than this share of the first. */
const LEAST_SHARE = 0.25;

/**
 * Heights of the passes from `top` down to `floor` (mm, falling, the last is `floor`). No pass is deeper than
 * `stepDown`. Equal passes are all the same; falling passes are each `share` of the one before, and their first is
 * made as deep as keeps the last no thinner than a quarter of it.
 */
export const passLevels = (
  top: number,
  floor: number,
  stepDown: number,
  division: MillingTerms['levels'],
): readonly number[] => {
  const depth = top - floor;
  if (!(depth > 1e-9)) return [];
  if (!(stepDown > 0)) throw new RangeError('a step-down must be greater than nothing');
  const depths =
    division.kind === 'equal' ? equal(depth, stepDown) : falling(depth, stepDown, division.share);
  let z = top;
  return depths.map((d, i) => {
    z -= d;
    return i === depths.length - 1 ? floor : z;
  });
};

const equal = (depth: number, stepDown: number): readonly number[] => {
  const count = Math.max(1, Math.ceil(depth / stepDown - 1e-9));
  return Array.from({ length: count }, () => depth / count);
};

const falling = (depth: number, stepDown: number, share: number): readonly number[] => {
  const ratio = Math.min(1, Math.max(0.5, share));
  const weights: number[] = [];
  let sum = 0;
  for (let weight = 1; sum * stepDown < depth - 1e-9; weight = Math.max(LEAST_SHARE, weight * ratio)) {
    weights.push(weight);
    sum += weight;
  }
  return weights.map((w) => (w / sum) * depth);
};
