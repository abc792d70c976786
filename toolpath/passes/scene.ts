import type { Part } from '../../sketch/part/part.ts';
import { type Slab, solidOf } from '../../sketch/part/solid.ts';
import { union } from '../../sketch/shape/boolean.ts';
import type { Point } from '../../sketch/shape/point.ts';
import { contains, isEmpty, NOTHING, type Region, rectangle } from '../../sketch/shape/region.ts';
import type { Cutter } from '../machine/cutter.ts';
import type { Frame } from '../route/frame.ts';
import type { JobStep, Setup } from '../route/route.ts';
import type { EntryTerms } from './entry.ts';
import { type Jaws, jawsInTheWay } from './jaws.ts';
import type { PlateFeet } from './plate-feet.ts';
import { protectedAbove, slabsInProgram, type Workpiece } from './workpiece.ts';

/** What every job step of a setup shares: the part, how it lies, and what holds it. Program coordinates, mm. */
export interface Scene {
  readonly part: Part;
  readonly setup: Setup;
  readonly frame: Frame;
  /** Null where the work lies on a plate. */
  readonly jaws: Jaws | null;
  /** Heads of screws and clamps that stand on the work, and what the cutter keeps clear of them. */
  readonly feet: PlateFeet;
  readonly clearHeight: number;
  /** The part without its holes, slots and forks: what the outline and the lands are cut round. */
  readonly bare: readonly Slab[];
  /** Every job step of the route by name, for those that refer to another. */
  readonly steps: ReadonlyMap<string, JobStep>;
}

/** A job step about to be planned, with the cutter in the spindle and its feeds. */
export interface Task<S extends JobStep = JobStep> {
  readonly step: S;
  readonly cutter: Cutter;
  readonly entry: EntryTerms;
}

/** The part as its outline and lands alone make it. */
export const bareSlabs = (part: Part, frame: Frame): readonly Slab[] =>
  slabsInProgram(frame, solidOf({ ...part, holes: [], slots: [], forks: [] }).slabs);

/** All of the plane that a job can reach. */
export const EVERYWHERE: Region = rectangle({ x: -1e4, y: -1e4 }, { x: 1e4, y: 1e4 });

/** Where the cutter's body must not go with its tip at a height: walls are what laps run along, `barred` is only kept from. */
export interface KeepOut {
  readonly walls: Region;
  readonly barred: Region;
  /** Both. */
  readonly all: Region;
}

/**
 * Keep-out for a job step that ends at `floor`: its walls are the wanted solid above that floor at every level, so that
 * a land still to be relieved is not cut down on the way; the jaws bar the way when the tip is below their top. What
 * stands on the work counts as a wall at every level, so that laps go round it and nothing beside it is left by mistake.
 */
export const keepOutOf = (
  scene: Scene,
  wanted: readonly Slab[],
  floor: number,
  also: Region = NOTHING,
): ((z: number) => KeepOut) => {
  const solid = protectedAbove({ stock: [], wanted }, floor);
  const others = [also, scene.feet.keepOut].filter((region) => !isEmpty(region));
  const walls = others.length === 0 ? solid : union([solid, ...others]);
  const open: KeepOut = { walls, barred: NOTHING, all: walls };
  let low: KeepOut | null = null;
  return (z) => {
    const barred = jawsInTheWay(scene.jaws, z);
    if (isEmpty(barred)) return open;
    low ??= { walls, barred, all: union([walls, barred]) };
    return low;
  };
};

/** Height of the finished part's upper surface at a place, seen in this setup, its cut-outs filled; null off the part. */
export const surfaceAt = (scene: Scene, at: Point): number | null =>
  scene.bare.reduce<number | null>(
    (top, slab) => ((top === null || slab.top > top) && contains(slab.region, at) ? slab.top : top),
    null,
  );

/** Lowest material at a place now; null where there is none. */
export const undersideAt = (work: Workpiece, at: Point): number | null =>
  work.stock.reduce<number | null>(
    (low, slab) => ((low === null || slab.bottom < low) && contains(slab.region, at) ? slab.bottom : low),
    null,
  );

/** The part's place in program coordinates. */
export const placeOf = (frame: Frame, p: Point): Point => ({
  x: p.x - frame.zero.x,
  y: (frame.face === 'front' ? 1 : -1) * (p.y - frame.zero.y),
});
