import { contains, type Path, type Region } from '../../sketch/shape/region.ts';
import { directionAlong, pointAlong, segmentLength } from '../../sketch/shape/segment.ts';
import { boxed, nearTo, within } from './near-segments.ts';

/** What a cutter meets on its way: all places in one plane, mm. */
export interface Ground {
  /** Material that stands at the cutter's depth before anything of this level is cut. */
  readonly standing: Region;
  /** Where the cutter's middle has been: all within its radius of that is gone. */
  readonly swept: Region;
  readonly radius: number;
}

/** Thinner than this nothing is said to stand, mm; the proof forgives a hundredth. */
const FILM = 0.006;
/** Looks along a path are no farther apart than this, mm, and this share of the radius. */
const STEP = 0.25;
const STEP_SHARE = 1 / 10;
/** And no farther than this turn of an arc, radians. */
const STEP_TURN = Math.PI / 24;
/** Steps over the half of the rim that goes ahead, and halvings between two that differ. */
const RIM = 20;
const HALVINGS = 4;
/** So many of a path's own last segments may have cut what lies ahead of it round a corner. */
const OWN = 6;

/**
 * The most of a cutter's rim in the material on each segment of a path, radians. The path lies outside what is swept,
 * or on its edge; `enough` ends the look at the first place that is over it.
 */
export const buriedAlong = (
  path: Path,
  ground: Ground,
  enough = Number.POSITIVE_INFINITY,
): readonly number[] => {
  const { standing, radius } = ground;
  const walls = boxed(standing);
  const swept = boxed(ground.swept);
  const found: number[] = [];
  for (const [index, segment] of path.segments.entries()) {
    const own = path.segments.slice(Math.max(0, index - OWN), index);
    const turn = segment.kind === 'arc' ? Math.abs(segment.sweep) : 0;
    const step = Math.min(STEP, radius * STEP_SHARE);
    const count = Math.max(2, Math.ceil(segmentLength(segment) / step), Math.ceil(turn / STEP_TURN));
    let most = 0;
    for (let i = 0; i <= count && most <= enough; i++) {
      const at = pointAlong(segment, i / count);
      const way = directionAlong(segment, i / count);
      const edges = nearTo(walls, at, radius);
      if (edges.length === 0 && !contains(standing, at)) continue;
      const near = nearTo(swept, at, 2 * radius + FILM);
      const stands = (angle: number): boolean => {
        const [c, s] = [Math.cos(angle), Math.sin(angle)];
        const x = at.x + radius * (way.x * c - way.y * s);
        const y = at.y + radius * (way.y * c + way.x * s);
        if (within(near, x, y, radius + FILM) || within(own, x, y, radius + FILM)) return false;
        return edges.length === 0 || contains(standing, { x, y });
      };
      most = Math.max(most, rimWhere(stands));
    }
    found.push(most);
    if (most > enough) return found;
  }
  return found;
};

/** How much of the half of the rim that goes ahead something holds for, radians. */
const rimWhere = (holds: (angle: number) => boolean): number => {
  const across = Math.PI - 2e-3;
  let inside = 0;
  let from = -across / 2;
  let last = holds(from);
  for (let k = 1; k <= RIM; k++) {
    const to = -across / 2 + (across * k) / RIM;
    const now = holds(to);
    if (now && last) inside += to - from;
    else if (now !== last) {
      let [low, high] = [from, to];
      for (let i = 0; i < HALVINGS; i++) {
        const middle = (low + high) / 2;
        if (holds(middle) === last) low = middle;
        else high = middle;
      }
      inside += now ? to - high : low - from;
    }
    from = to;
    last = now;
  }
  return inside;
};
