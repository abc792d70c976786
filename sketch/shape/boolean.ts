import { clipApart } from './clip-apart.ts';
import { plainDifference } from './plain-difference.ts';
import { isEmpty, NOTHING, type Region } from './region.ts';

/** Everything in any of the regions. */
export const union = (regions: readonly Region[]): Region => {
  const full = regions.filter((r) => !isEmpty(r));
  return full.length === 0
    ? NOTHING
    : clipApart(
        full.flatMap((r) => r.contours),
        [],
        'union',
      );
};

/** What is in `a` and not in `b`, whose contours may overlap. */
export const difference = (a: Region, b: Region): Region => {
  if (isEmpty(a) || isEmpty(b)) return a;
  const { holes, rest } = plainDifference(a, b);
  const cut = rest.length > 0 ? clipApart(a.contours, rest, 'difference') : a;
  return holes.length > 0 ? { contours: [...cut.contours, ...holes] } : cut;
};

/** What is in both. */
export const intersection = (a: Region, b: Region): Region =>
  isEmpty(a) || isEmpty(b) ? NOTHING : clipApart(a.contours, b.contours, 'intersection');
