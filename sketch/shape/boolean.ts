import { clip } from './clipping.ts';
import { isEmpty, NOTHING, type Region } from './region.ts';

/** Everything in any of the regions. */
export const union = (regions: readonly Region[]): Region => {
  const full = regions.filter((r) => !isEmpty(r));
  return full.length === 0
    ? NOTHING
    : clip(
        full.flatMap((r) => r.contours),
        [],
        'union',
      );
};

/** What is in `a` and not in `b`. */
export const difference = (a: Region, b: Region): Region =>
  isEmpty(a) || isEmpty(b) ? a : clip(a.contours, b.contours, 'difference');

/** What is in both. */
export const intersection = (a: Region, b: Region): Region =>
  isEmpty(a) || isEmpty(b) ? NOTHING : clip(a.contours, b.contours, 'intersection');
