import { difference, intersection, union } from '../../sketch/shape/boolean.ts';
import { offset } from '../../sketch/shape/offset.ts';
import type { Point } from '../../sketch/shape/point.ts';
import { disc, isEmpty, type Region, rectangle, regionArea, regionBox } from '../../sketch/shape/region.ts';
import type { Clearing } from './area.ts';
import { CORNER_SHARE, cornersOf } from './front-corners.ts';
import { alongWalls, grooveRuns } from './front-groove.ts';
import { type Hole, holeIn } from './front-hole.ts';
import { type Cut, type Field, type FrontTerms, type Grown, growFronts, roundsFor } from './fronts.ts';
import type { KeepOut } from './scene.ts';
import type { Fed } from './tooth-load.ts';

type Fronts = Extract<Clearing['pattern'], { kind: 'fronts' }>;

/** What a level of fronts does: its holes and cuts in order, and whether the limit is kept all over it. */
export interface FrontPlan {
  readonly stages: readonly Stage[];
  /** Where material is left because the limit could not be kept there; null where all of it goes. */
  readonly left: Point | null;
  /** All that the fronts do not meet. */
  readonly unmet: Region;
}

export interface Stage {
  /** The hole that it is begun by; null where it begins in the open. */
  readonly hole: Hole | null;
  /** A groove's opening and loops, one after the other. */
  readonly chain: readonly Fed[];
  readonly cuts: readonly Cut[];
}

/** What a level of fronts has before it. Program coordinates, mm. */
export interface LevelGround {
  /** What is to go. */
  readonly target: Region;
  /** All that stands above the level. */
  readonly standing: Region;
  readonly keepOut: KeepOut;
  /** Bridges and the like that the middle keeps off at this level. */
  readonly barred: Region;
}

/** Less material than this that the sweep has not met is nothing left, mm². */
const NOTHING_LEFT = 0.02;
/** What is left in corners as films is no more than this, mm². */
const STILL_LEFT = 0.1;
/** The open begins this far from what stands, mm. */
const OFF = 0.05;
/** Steps are made for an angle smaller than the limit by this, radians: the text's own rounding. */
const MARGIN = (1 * Math.PI) / 180;
/** Round a bridge nobody minds what is left, in radii. */
const BESIDE = 1.3;
/** More holes than any level asks for. */
const MOST_HOLES = 12;

/** The fronts of one level. `allowed` is where the cutter's middle may go (`allowedFor`). */
export const planFronts = (
  ground: LevelGround,
  allowed: Region,
  clearing: Clearing,
  { engagement }: Fronts,
  allowance: number,
): FrontPlan => {
  const radius = clearing.cutter.diameter / 2;
  const { target, standing, barred } = ground;
  const terms: FrontTerms = {
    radius,
    engagement: engagement - MARGIN,
    direction: clearing.terms.direction,
  };
  const wide = roundsFor(radius).filter((r) => r >= CORNER_SHARE * radius);
  // What no place of the middle could reach is nobody's to clear.
  const reachable = intersection(target, offset(allowed, radius));
  const unmet = (swept: Region): Region => difference(reachable, offset(swept, radius + 1e-3));
  const left = (swept: Region): boolean => regionArea(unmet(swept)) > NOTHING_LEFT;
  const stages: Stage[] = [];
  let swept = difference(allowed, offset(standing, radius + OFF));
  let front = 0;
  const add = (hole: Hole | null, grown: Pick<Grown, 'cuts' | 'swept'>): void => {
    if (hole === null && grown.cuts.length === 0) return;
    stages.push({ hole, chain: [], cuts: grown.cuts });
    swept = grown.swept;
    front = 1 + Math.max(front, ...grown.cuts.map((c) => c.front));
  };
  const field: Field = { allowed, standing, left };
  const grow = (from: Region, isHole: boolean): Grown => growFronts(from, field, terms, wide, front, isHole);
  const corners = (): void => add(null, cornersOf(swept, allowed, standing, terms, unmet(swept), front));
  const grooves = grooveRuns(ground, clearing, allowance, terms);
  for (const { hole, chain, swept: own } of grooves) {
    stages.push({ hole, chain, cuts: [] });
    swept = union([swept, own]);
  }
  if (!isEmpty(swept) && left(swept)) {
    add(null, grow(swept, false));
    corners();
  }
  for (let holes = 0; holes < MOST_HOLES && left(swept); holes++) {
    const hole = holeIn(difference(allowed, swept), unmet(swept), radius);
    if (hole === null) break;
    add(hole, grow(union([swept, disc(hole.at, hole.radius)]), true));
    corners();
  }
  if (grooves.length > 0) {
    stages.push({ hole: null, chain: [], cuts: alongWalls(ground, swept, terms, front, allowance) });
  }
  // A bridge is sawn and filed: the fillets beside it are its own.
  const rest = isEmpty(barred) ? unmet(swept) : difference(unmet(swept), offset(barred, BESIDE * radius));
  const at = regionArea(rest) > STILL_LEFT ? regionBox(rest) : null;
  return {
    stages,
    left: at && { x: (at.min.x + at.max.x) / 2, y: (at.min.y + at.max.y) / 2 },
    unmet: rest,
  };
};

/** Where the cutter's middle may go, as far round about the target as there is something to do. */
export const allowedFor = (
  { target, keepOut, barred }: LevelGround,
  clearing: Clearing,
  radius: number,
  allowance: number,
): Region => {
  const box = regionBox(target)!;
  // Room for the largest rounding of a corner beyond the edge.
  const room = 6 * radius + 2;
  const about = rectangle(
    { x: box.min.x - room, y: box.min.y - room },
    { x: box.max.x + room, y: box.max.y + room },
  );
  const wide = regionBox(clearing.area)!;
  const bounded = wide.max.x - wide.min.x < 1e3;
  const walls = offset(keepOut.walls, radius + allowance);
  const others = union([walls, offset(keepOut.barred, radius), barred]);
  return difference(bounded ? intersection(about, offset(clearing.area, -radius)) : about, others);
};
