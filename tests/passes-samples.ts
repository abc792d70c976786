import fc from 'fast-check';
import { difference, union } from '../sketch/shape/boolean.ts';
import type { Point3 } from '../sketch/shape/point.ts';
import { NOTHING, type Region, rectangle, regionBox } from '../sketch/shape/region.ts';
import { arc, line, pointAlong, type Segment, segmentLength } from '../sketch/shape/segment.ts';
import { thicken } from '../sketch/shape/thicken.ts';
import type { Cutter } from '../toolpath/machine/cutter.ts';
import type { Clearing } from '../toolpath/passes/area.ts';
import type { LapTerms } from '../toolpath/passes/laps.ts';
import type { Move, Pass } from '../toolpath/passes/pass.ts';
import type { KeepOut } from '../toolpath/passes/scene.ts';
import type { Workpiece } from '../toolpath/passes/workpiece.ts';
import { forks, levers, rectangles, simpleShapes } from './shape-samples.ts';

/** A stretch of cutting or air at feed: where it goes in the plane, and its heights at both ends. */
export interface Track {
  readonly segment: Segment;
  readonly from: Point3;
  readonly to: Point3;
  /** mm/min; endless for a rapid. */
  readonly feed: number;
}

/** All motions of moves as segments; straight plunges and lifts have a segment of no length. */
export const motionsOf = (moves: readonly Move[], start: Point3 | null = null): readonly Track[] => {
  const tracks: Track[] = [];
  let at = start;
  for (const move of moves) {
    if (move.kind === 'drill' || move.kind === 'stop') continue;
    if (move.kind === 'rapid') {
      const from = at ?? move.to;
      tracks.push({ segment: line(from, move.to), from, to: move.to, feed: Number.POSITIVE_INFINITY });
      at = move.to;
      continue;
    }
    if (at === null) throw new Error('a feed from nowhere');
    const segment = move.kind === 'feed' ? line(at, move.to) : arc(at, move.to, move.centre, !move.clockwise);
    tracks.push({ segment, from: at, to: move.to, feed: move.feed });
    at = move.to;
  }
  return tracks;
};

/** The motions at feed alone. */
export const tracksOf = (moves: readonly Move[], start: Point3 | null = null): readonly Track[] =>
  motionsOf(moves, start).filter((t) => Number.isFinite(t.feed));

export const tracksOfPasses = (passes: readonly Pass[]): readonly Track[] =>
  tracksOf(passes.flatMap((pass) => pass.moves));

/** The motions at feed of each pass; one may begin where the pass before left the cutter. */
export const tracksByPass = (
  passes: readonly Pass[],
): readonly { readonly pass: Pass; readonly tracks: readonly Track[] }[] => {
  let at: Point3 | null = null;
  return passes.map((pass) => {
    const motions = motionsOf(pass.moves, at);
    at = motions.at(-1)?.to ?? at;
    return { pass, tracks: motions.filter((t) => Number.isFinite(t.feed)) };
  });
};

/** Everything that a cutter sweeps on tracks whose lower end is no higher than `z`. */
export const sweptAt = (tracks: readonly Track[], z: number, radius: number): Region => {
  const low = tracks.filter((t) => Math.max(t.from.z, t.to.z) <= z + 1e-6);
  return low.length === 0 ? NOTHING : union(low.map((t) => thicken({ segments: [t.segment] }, radius)));
};

/** Places along a segment not farther apart than `step`, its ends among them. */
export const placesAlong = (segment: Segment, step: number): readonly { x: number; y: number }[] => {
  const count = Math.max(2, Math.ceil(segmentLength(segment) / step));
  return Array.from({ length: count + 1 }, (_, k) => pointAlong(segment, k / count));
};

export const walledBy = (walls: Region): KeepOut => ({ walls, barred: NOTHING, all: walls });

export const endmill = (diameter: number): Cutter => ({
  name: `${diameter} mm endmill`,
  number: 1,
  kind: 'endmill',
  diameter,
  flutes: 3,
  fluteLength: 20,
  material: 'high-speed steel',
  pointAngle: Math.PI,
  plunge: { straight: true, ramp: (3 * Math.PI) / 180 },
});

/** A pocket in a plate about it: what is to go, the plate that stays, and the plate before. */
export interface Pocket {
  readonly target: Region;
  readonly keep: Region;
  readonly plate: Region;
}

const pocketIn = (target: Region): Pocket => {
  const box = regionBox(target)!;
  const plate = rectangle({ x: box.min.x - 10, y: box.min.y - 10 }, { x: box.max.x + 10, y: box.max.y + 10 });
  return { target, keep: difference(plate, target), plate };
};

/** Closed pockets of all sorts, with islands some of them. */
export const pockets: fc.Arbitrary<Pocket> = fc
  .oneof(
    levers,
    rectangles,
    forks,
    fc.tuple(levers, simpleShapes).map(([a, b]) => union([a, b])),
    fc.tuple(rectangles, simpleShapes).map(([a, b]) => difference(a, b)),
  )
  .filter((target) => target.contours.length > 0)
  .map(pocketIn);

/** Outlines cut out of a bar: the other way about, the shape stays and all the bar round it goes. */
export const outlines: fc.Arbitrary<Pocket> = fc
  .oneof(
    levers,
    fc.tuple(levers, levers).map(([a, b]) => union([a, b])),
    forks,
  )
  .map((keep) => {
    const box = regionBox(keep)!;
    const plate = rectangle({ x: box.min.x - 3, y: box.min.y - 2 }, { x: box.max.x + 3, y: box.max.y + 2 });
    return { target: difference(plate, keep), keep, plate };
  });

export const lapTerms: fc.Arbitrary<LapTerms> = fc
  .record({
    radius: fc.constantFrom(0.5, 1, 1.5, 2, 2.5, 3, 4, 5),
    allowance: fc.constantFrom(0, 0.1, 0.2),
    share: fc.double({ min: 0.25, max: 1, noNaN: true }),
    direction: fc.constantFrom('climb' as const, 'conventional' as const),
  })
  .map(({ radius, allowance, share, direction }) => ({
    radius,
    allowance,
    stepover: share * radius,
    direction,
  }));

/** A plate from `bottom` up to 0 with a pocket or outline to be cut to `floor`. */
export const workOf = (pocket: Pocket, bottom: number): Workpiece => ({
  stock: [{ bottom, top: 0, region: pocket.plate }],
  wanted: [{ bottom, top: 0, region: pocket.keep }],
});

export const clearingOf = (pocket: Pocket, terms: LapTerms, over: Partial<Clearing> = {}): Clearing => ({
  area: rectangle({ x: -1e3, y: -1e3 }, { x: 1e3, y: 1e3 }),
  floor: -3,
  keepOut: () => walledBy(pocket.keep),
  cutter: endmill(2 * terms.radius),
  terms: {
    stepDown: 1.2,
    levels: { kind: 'equal' },
    stepover: terms.stepover,
    wallAllowance: terms.allowance,
    floorAllowance: 0,
    direction: terms.direction,
  },
  entry: { feed: 200, plungeFeed: 60, ramp: (3 * Math.PI) / 180 },
  clearHeight: 5,
  pattern: { kind: 'laps' },
  underside: null,
  kind: 'rough',
  bridges: [],
  ...over,
});
