import { difference, union } from '../../sketch/shape/boolean.ts';
import { offset } from '../../sketch/shape/offset.ts';
import { distance, type Point } from '../../sketch/shape/point.ts';
import { type Path, type Region, regionArea } from '../../sketch/shape/region.ts';
import { arc, type Segment } from '../../sketch/shape/segment.ts';
import { AIR } from '../route/clearances.ts';
import type { Cleared, Clearing } from './area.ts';
import { liftsAt } from './bridges.ts';
import { sinkRound } from './entry.ts';
import { orderCuts } from './front-order.ts';
import { allowedFor, type FrontPlan, type LevelGround, planFronts } from './front-plan.ts';
import type { Pen } from './pen.ts';
import type { KeepOut } from './scene.ts';
import { followFed } from './tooth-load.ts';
import { startOf } from './track.ts';
import { ceilingUnder, stockBetween, type Workpiece } from './workpiece.ts';

/** Fronts of levels that were planned before: most levels of a job step are alike. */
export interface FrontMemory {
  readonly known: Known[];
  /** Whether an opening could not be peeled with its cutter and was cut by laps. */
  unpeeled: boolean;
}

interface Known {
  readonly ground: LevelGround;
  readonly allowed: Region;
  readonly allowance: number;
  readonly plan: FrontPlan;
}

export const frontMemory = (): FrontMemory => ({ known: [], unpeeled: false });

/** The fronts of a level, from the memory where one like it was planned. */
export const frontsOf = (
  memory: FrontMemory,
  ground: LevelGround,
  clearing: Clearing,
  allowance: number,
): FrontPlan => {
  if (clearing.pattern.kind !== 'fronts') throw new RangeError('only fronts are planned as fronts');
  const allowed = allowedFor(ground, clearing, clearing.cutter.diameter / 2, allowance);
  const like = memory.known.find((k) => k.allowance === allowance && isLike(k, { ground, allowed }));
  if (like) return like.plan;
  const plan = planFronts(ground, allowed, clearing, clearing.pattern, allowance);
  memory.known.push({ allowed, ground, allowance, plan });
  return plan;
};

/** Levels that differ by less than this are alike, mm². */
const ALIKE = 1e-3;

type Alike = Pick<Known, 'ground' | 'allowed'>;

const isLike = (a: Alike, b: Alike): boolean =>
  (
    [
      [a.ground.target, b.ground.target],
      [a.ground.standing, b.ground.standing],
      [a.ground.barred, b.ground.barred],
      [a.allowed, b.allowed],
    ] as const
  ).every(([p, q]) => regionArea(difference(p, q)) + regionArea(difference(q, p)) < ALIKE);

/** Levels with one more at the tops of bridges that lie between two: below it the cutter keeps off them. */
export const bridgeLevels = (
  levels: readonly number[],
  top: number,
  { bridges, pattern }: Clearing,
): readonly number[] => {
  if (pattern.kind !== 'fronts') return levels;
  const tops = [...new Set(bridges.map((b) => b.z))];
  return levels.flatMap((z, i) => [
    ...tops.filter((b) => b > z + 1e-6 && b < (levels[i - 1] ?? top) - 1e-6).sort((a, b) => b - a),
    z,
  ]);
};

/** Why the limit is not kept, and where; null where it is. */
export const unkeptWords = (
  { known, unpeeled }: FrontMemory,
  { pattern, cutter }: Clearing,
): NonNullable<Cleared['unkept']> | null => {
  if (pattern.kind !== 'fronts' && pattern.kind !== 'peel') return null;
  const limit = `${Math.round((pattern.engagement * 180) / Math.PI)}°`;
  if (pattern.kind === 'peel') {
    if (!unpeeled) return null;
    return {
      at: null,
      why: `the ${cutter.name} would have to go round in loops too close to be cut to be buried by no more than the ${limit} that are stated, and cuts it by laps; a smaller cutter or a larger angle would do`,
    };
  }
  const at = known.find((k) => k.plan.left !== null)?.plan.left;
  if (!at) return null;
  return {
    at,
    why: `there is no room for the ${cutter.name} to go round, and it is buried by more than the ${limit} that are stated; a smaller cutter, a wider bar or a larger angle would do`,
  };
};

/** Makes the moves of a level's fronts. */
export const runFronts = (
  pen: Pen,
  work: Workpiece,
  clearing: Clearing,
  plan: FrontPlan,
  z: number,
): void => {
  const radius = clearing.cutter.diameter / 2;
  const { entry } = clearing;
  const anticlockwise = clearing.terms.direction === 'climb';
  for (const { hole, chain, cuts } of plan.stages) {
    if (hole !== null) {
      const first = chain[0]?.segment.from ?? { x: hole.at.x + hole.radius, y: hole.at.y };
      const round = { segments: [arc(first, first, hole.at, anticlockwise)] };
      const ceiling = ceilingUnder(work, hole.at, radius + hole.radius);
      pen.goTo(first, ceiling, z);
      if (ceiling !== null && ceiling > z + 1e-6) {
        pen.feedTo({ ...first, z: Math.min(pen.at()!.z, ceiling + AIR / 4) }, entry.plungeFeed);
        // Once more round at the full depth, and the rings begin.
        const left = sinkRound(pen, round, z, entry);
        pen.follow(left.segments, entry.feed);
        pen.follow(toStart(left, first, hole.at, anticlockwise), entry.feed);
      } else pen.feedTo({ ...first, z }, entry.plungeFeed);
    }
    followFed(pen, chain, entry);
    for (const { cut, stay } of orderCuts(cuts, radius, hole === null ? null : pen.at())) {
      const from = startOf(cut.path);
      if (stay) followFed(pen, [{ segment: { kind: 'line', from: pen.at()!, to: from }, buried: 0 }], entry);
      else {
        pen.goTo(from, null, z);
        pen.feedTo({ ...from, z }, entry.plungeFeed);
      }
      followFed(
        pen,
        cut.path.segments.map((segment, i) => ({ segment, buried: cut.buried[i]! })),
        entry,
      );
    }
  }
};

/** On round the hole to where its rings begin. */
const toStart = (round: Path, first: Point, centre: Point, anticlockwise: boolean): readonly Segment[] =>
  distance(startOf(round), first) < 1e-6 ? [] : [arc(startOf(round), first, centre, anticlockwise)];

/** What stands above a level, for its fronts. */
export const groundAt = (
  work: Workpiece,
  clearing: Clearing,
  target: Region,
  keepOut: KeepOut,
  z: number,
): LevelGround => ({
  target,
  standing: stockBetween(work, z, 1e6),
  keepOut,
  barred: union(liftsAt(clearing.bridges, z).map((lift) => lift.strip)),
});

/**
 * The finishing lap turns back before a bridge by as much as keeps it out of the fillet there: with `allowance` left on
 * the wall its rim would meet the fillet as well.
 */
export const gentleFinish = (clearing: Clearing, allowance: number): Clearing =>
  clearing.pattern.kind !== 'fronts'
    ? clearing
    : {
        ...clearing,
        bridges: clearing.bridges.map((b) => ({
          ...b,
          strip: offset(b.strip, shortOfBridge(allowance, clearing.pattern)),
        })),
      };

/** How far before a bridge's strip a finishing lap turns back, mm. */
export const shortOfBridge = (allowance: number, pattern: Clearing['pattern']): number =>
  pattern.kind === 'fronts' ? (1.5 * allowance) / Math.tan(Math.min(1.2, 0.8 * pattern.engagement)) : 0;
