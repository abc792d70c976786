import { intersection, union } from '../../sketch/shape/boolean.ts';
import { clipPath } from '../../sketch/shape/clip-path.ts';
import { offset } from '../../sketch/shape/offset.ts';
import { isEmpty, type Path, type Region, regionArea, reverseContour } from '../../sketch/shape/region.ts';
import { leadRound } from './front-lead.ts';
import { buriedAlong, type Ground } from './rim.ts';
import { isClosed } from './track.ts';

/**
 * Clearing from what is open already, front by front: the places where the cutter's middle has been grow by a step, as
 * far as the walls let them and with every corner rounded, and the edge of what they have grown to is the next cut. The
 * step is made so small that the rim is never buried deeper than a stated angle. Program coordinates, mm.
 */
export interface FrontTerms {
  readonly radius: number;
  /** Largest angle of the rim in the material, radians. */
  readonly engagement: number;
  readonly direction: 'climb' | 'conventional';
}

/** One cut: from what is cleared through the material and back into what is cleared. */
export interface Cut {
  readonly path: Path;
  /** Which growth it belongs to: it needs those of smaller number near it to be done. */
  readonly front: number;
  /** Most of the rim in the material on each of its segments, radians. */
  readonly buried: readonly number[];
  /** Where the middle has been when all fronts before this one are cut. */
  readonly before: Region;
}

export interface Grown {
  readonly cuts: readonly Cut[];
  /** Where the cutter's middle has been in the end. */
  readonly swept: Region;
}

/** Rounding of the corners, in radii of the cutter: the first that fits, then smaller and smaller. */
const FIRST_ROUND = 2;
export const NEXT_ROUND = 0.7;
/** No corner is rounded by less than this, mm: what it leaves is a film. */
export const LAST_ROUND = 0.03;
/** Steps smaller than this are none, mm; in corners smaller by the share that they are rounded less. */
const LEAST_STEP = 0.02;
const LEAST_SHARE = 0.02;
/** A growth of less than this, mm², is none; in small corners less than this share of the round's square. */
const NO_GROWTH = 2e-3;
const GROWTH_SHARE = 0.02;
/** The edge of what is swept counts as swept this far out, mm. */
const EDGE = 0.004;
/** A step that was too large is made smaller by this; one that did is made larger after some more. */
const SHORTER = 0.8;
const LONGER = 1.2;
const PATIENCE = 5;
/** After so many fronts it is looked whether anything is left. */
const LOOK_EVERY = 10;
/** An angle that asks for more looks than this, at fronts and at smaller steps, is too small to be kept here. */
const MOST_LOOKS = 500;

const open = (region: Region, round: number): Region => offset(offset(region, -round), round);

/** How the corners are rounded, largest first, mm. */
export const roundsFor = (radius: number): readonly number[] => {
  const rounds: number[] = [];
  for (let r = FIRST_ROUND * radius; r > LAST_ROUND; r *= NEXT_ROUND) rounds.push(r);
  return [...rounds, LAST_ROUND];
};

/** What there is to grow over. */
export interface Field {
  /** Where the cutter's middle may be. */
  readonly allowed: Region;
  /** Material that stands before anything is cut. */
  readonly standing: Region;
  /** Whether there is material that a sweep has not reached. */
  readonly left: (swept: Region) => boolean;
}

/**
 * Grows from `from` (where the middle is or has been) over all that is allowed and that it can get to, as long as
 * anything is left. `rounds` are how corners are rounded, one after the other; from a hole, which has no room for large
 * ones, they are come back to as it grows.
 */
export const growFronts = (
  from: Region,
  { allowed, standing, left }: Field,
  terms: FrontTerms,
  rounds: readonly number[] = roundsFor(terms.radius),
  first = 0,
  isHole = false,
): Grown => {
  const most = terms.radius * (1 - Math.cos(terms.engagement));
  const cuts: Cut[] = [];
  let swept = from;
  let front = first;
  let level = 0;
  let step = most;
  let good = 0;
  let rising = isHole;
  let raised = false;
  for (let looks = 0; looks < MOST_LOOKS && level < rounds.length; looks++) {
    const round = rounds[level]!;
    const grown = open(intersection(offset(swept, step), allowed), round);
    const both = union([swept, grown]);
    const gain = regionArea(both) - regionArea(swept);
    if (gain < Math.min(NO_GROWTH, GROWTH_SHARE * round ** 2)) {
      if (!raised && front > first) rising = false;
      raised = false;
      level++;
      step = Math.min(most, step * 2);
      if (!left(swept)) break;
      continue;
    }
    const done = cutsOf(grown, swept, standing, terms, front);
    if (done === null) {
      step *= SHORTER;
      good = 0;
      if (step < Math.min(LEAST_STEP, LEAST_SHARE * round)) {
        level++;
        step = most;
      }
      continue;
    }
    cuts.push(...done);
    if (done.length === 0 && gain < NO_GROWTH) level++;
    swept = regionArea(both) - regionArea(grown) < NO_GROWTH ? grown : both;
    front++;
    good++;
    if (good >= PATIENCE && step < most) {
      step = Math.min(most, step * LONGER);
      good = 0;
    }
    if (front % LOOK_EVERY === 0 && !left(swept)) break;
    raised = rising && level > 0;
    if (raised) level--;
  }
  return { cuts, swept };
};

/** The edges of what is grown beyond what was swept; null where the rim would be buried too deep. */
const cutsOf = (
  grown: Region,
  swept: Region,
  standing: Region,
  { radius, engagement, direction }: FrontTerms,
  front: number,
): readonly Cut[] | null => {
  const ground: Ground = { standing, swept, radius };
  const known = offset(swept, EDGE);
  const cuts: Cut[] = [];
  for (const contour of grown.contours) {
    const run = direction === 'climb' ? contour : reverseContour(contour);
    for (const piece of isEmpty(known) ? [run] : clipPath(run, known, 'outside')) {
      const path = isClosed(piece) ? leadRound(piece, swept, engagement) : piece;
      const buried = buriedAlong(path, ground, engagement);
      const most = Math.max(...buried);
      if (most > engagement) return null;
      if (most > 0) cuts.push({ path, front, buried, before: swept });
    }
  }
  return cuts;
};
