import { intersection, union } from '../../sketch/shape/boolean.ts';
import { clipPath } from '../../sketch/shape/clip-path.ts';
import { offset } from '../../sketch/shape/offset.ts';
import { isEmpty, type Region, regionArea } from '../../sketch/shape/region.ts';
import { thicken } from '../../sketch/shape/thicken.ts';
import type { Clearing } from './area.ts';
import { HOLE_SHARE, type Hole } from './front-hole.ts';
import type { LevelGround } from './front-plan.ts';
import type { Cut, FrontTerms } from './fronts.ts';
import { peelGroove } from './groove.ts';
import { wallLaps } from './laps.ts';
import { canPeel } from './peel.ts';
import { evenly, type Fed, loopsFed } from './tooth-load.ts';

/** A stretch of a groove: its hole, and its opening and loops one after the other. */
export interface GrooveStage {
  readonly hole: Hole;
  readonly chain: readonly Fed[];
  /** Where the cutter's middle has been when they are done. */
  readonly swept: Region;
}

/** The loops of a groove of even width, where there is one. */
export const grooveRuns = (
  { standing, keepOut, barred, target }: LevelGround,
  { pattern, area }: Clearing,
  allowance: number,
  terms: FrontTerms,
): readonly GrooveStage[] => {
  const { radius, engagement } = terms;
  if (pattern.kind !== 'fronts' || pattern.groove === null) return [];
  const orbit = pattern.groove / 2;
  // What is mostly air, or has been cut, is no groove any more.
  if (!canPeel({ width: 2 * (radius + orbit), radius })) return [];
  if (regionArea(intersection(standing, area)) < MOSTLY * regionArea(area)) return [];
  const off = union([barred, offset(keepOut.barred, radius)]);
  const hole = Math.min(orbit, HOLE_SHARE * radius);
  const within = offset(area, -radius);
  const runs = peelGroove(keepOut.walls, radius + allowance, within, off, { ...terms, orbit }, hole) ?? [];
  return runs
    .filter((run) => !isEmpty(intersection(target, thicken(run.middle, orbit + radius))))
    .map((run) => ({
      hole: { at: run.at, radius: hole },
      chain: [...evenly(run.opening, engagement), ...loopsFed(run.loops, radius, engagement)],
      swept: thicken(run.middle, orbit),
    }));
};

/** A groove of which less than this share stands is cleared from the open, front by front. */
const MOSTLY = 0.7;

/** Walls may stray this far from the edge of what is swept, mm. */
const STRAY = 0.005;

/** Once along the walls of a groove, over what its loops leave between them. */
export const alongWalls = (
  { target, keepOut }: LevelGround,
  swept: Region,
  { radius, direction }: FrontTerms,
  front: number,
  allowance: number,
): readonly Cut[] => {
  const laps = wallLaps(target, keepOut, { radius, allowance, stepover: radius, direction });
  return laps.flatMap(({ path }) =>
    clipPath(path, offset(swept, STRAY), 'inside').map((piece) => ({
      path: piece,
      front,
      buried: piece.segments.map(() => Math.PI / 2),
      before: swept,
    })),
  );
};
