import { difference, intersection, union } from '../../sketch/shape/boolean.ts';
import { components } from '../../sketch/shape/components.ts';
import { offset } from '../../sketch/shape/offset.ts';
import type { Box } from '../../sketch/shape/point.ts';
import { isEmpty, type Region, rectangle, regionArea, regionBox } from '../../sketch/shape/region.ts';
import { type Cut, type FrontTerms, type Grown, growFronts, NEXT_ROUND, roundsFor } from './fronts.ts';

/** Corners are rounded less than this only where they are, in radii. */
export const CORNER_SHARE = 0.34;
/** Less material than this in a corner is none, mm². */
const NO_CORNER = 1e-3;

/** What the wide rounds leave, mostly in corners: each looked at by itself, with what is about it and no more. */
export const cornersOf = (
  from: Region,
  allowed: Region,
  standing: Region,
  terms: FrontTerms,
  unmet: Region,
  first: number,
): Pick<Grown, 'cuts' | 'swept'> => {
  const { radius } = terms;
  const rounds = roundsFor(radius).filter((r) => r < (CORNER_SHARE * radius) / NEXT_ROUND);
  const margin = (1 + 3 * CORNER_SHARE) * radius;
  let swept = from;
  const cuts: Cut[] = [];
  for (const box of apartBoxes(
    components(unmet).filter((c) => regionArea(c) > NO_CORNER),
    margin,
  )) {
    const window = rectangle(box.min, box.max);
    const near = intersection(standing, offset(window, radius));
    const target = intersection(unmet, window);
    const left = (s: Region): boolean => regionArea(difference(target, offset(s, radius + 1e-3))) > NO_CORNER;
    const start = intersection(swept, window);
    if (isEmpty(start)) continue;
    const field = { allowed: intersection(allowed, window), standing: near, left };
    const grown = growFronts(start, field, terms, rounds, first);
    cuts.push(...grown.cuts);
    if (grown.cuts.length > 0) swept = union([swept, grown.swept]);
  }
  return { cuts, swept };
};

/** Boxes round pieces with a margin, those that meet made one. */
const apartBoxes = (pieces: readonly Region[], margin: number): readonly Box[] => {
  const boxes = pieces.flatMap((piece) => regionBox(piece) ?? []);
  const found: Box[] = [];
  for (const b of boxes) {
    let own: Box = {
      min: { x: b.min.x - margin, y: b.min.y - margin },
      max: { x: b.max.x + margin, y: b.max.y + margin },
    };
    for (let i = found.length - 1; i >= 0; i--) {
      const f = found[i]!;
      if (f.min.x > own.max.x || f.max.x < own.min.x || f.min.y > own.max.y || f.max.y < own.min.y) continue;
      own = {
        min: { x: Math.min(f.min.x, own.min.x), y: Math.min(f.min.y, own.min.y) },
        max: { x: Math.max(f.max.x, own.max.x), y: Math.max(f.max.y, own.max.y) },
      };
      found.splice(i, 1);
      i = found.length;
    }
    found.push(own);
  }
  return found;
};
