import type { Fork } from '../../sketch/part/part.ts';
import type { Point } from '../../sketch/shape/point.ts';
import { type HeightMap, mapVolume } from '../removal/height-map.ts';
import type { ViceHold } from '../route/route.ts';
import { type BentWork, mostOf } from './bent-work.ts';
import { placesOf } from './elasticity/bricks.ts';
import { chooseBrick, gridOf } from './elasticity/grid.ts';
import { holdGrid } from './elasticity/held.ts';
import { bend, patchMovement } from './elasticity/load.ts';
import type { ElasticMaterial } from './elasticity/material.ts';
import { nodesFacing } from './elasticity/nodes.ts';
import { facePatch, patchAt } from './elasticity/patch.ts';
import { BEARS, type Jaws, seatPlanes } from './grip.ts';
import { isPressed, packedMap } from './packing.ts';
import type { SurvivalSetup } from './pass-survival.ts';

/** Two places of the part whose distance the jaws may change: the two sides of a fork's mouth. */
export interface Gap {
  readonly name: string;
  readonly near: Point;
  readonly far: Point;
  readonly z: number;
}

/** A setup that holds its work in a vice. */
export interface InVice extends SurvivalSetup {
  readonly hold: ViceHold;
}

/** What done-up jaws make of the work, mm. Estimates. */
export interface Squeezed {
  /** How far anything moves up or down: a thin body bows. */
  readonly bow: number;
  /** How much nearer the sides of each gap come; less than 0 where it opens. */
  readonly gaps: readonly { readonly name: string; readonly closes: number }[];
  /** The jaws' faces come this much closer. */
  readonly shortens: number;
}

/** The same with how the whole of the work moves between the jaws: what a picture of it is made from. */
export interface SqueezeField extends BentWork, Squeezed {
  readonly kind: 'squeezed';
  /** N. */
  readonly clamp: number;
}

/**
 * How the jaws distort what they hold, with the packing in its forks where they close on it. See `squeezeStock`.
 */
export const squeeze = (
  map: HeightMap,
  setup: InVice,
  jaws: Jaws,
  material: ElasticMaterial,
  clamp: number,
  gaps: readonly Gap[] = [],
  brick?: number,
): Squeezed | null => {
  const found = squeezeField(map, setup, jaws, material, clamp, gaps, brick);
  return found && { bow: found.bow, gaps: found.gaps, shortens: found.shortens };
};

/** The same with the movement of every node. */
export const squeezeField = (
  map: HeightMap,
  setup: InVice,
  jaws: Jaws,
  material: ElasticMaterial,
  clamp: number,
  gaps: readonly Gap[] = [],
  brick?: number,
): SqueezeField | null => {
  const free = squeezeStock(map, setup, jaws, material, clamp, gaps, brick);
  const pressed = free !== null && isPressed(free.grid, free.movement, setup.hold, jaws);
  const packed = pressed ? packedMap(map, setup.hold, jaws) : null;
  return packed ? squeezeStock(packed, setup, jaws, material, clamp, gaps, brick) : free;
};

/**
 * How the jaws distort what they hold: the near jaw is taken as fixed with the work stuck to it, the far one presses with
 * an even pressure. Real jaws press hardest where the work is stiffest, so take the figures for the careful side at soft
 * places. Null where nothing is held. The parallels are left out.
 */
const squeezeStock = (
  map: HeightMap,
  setup: InVice,
  jaws: Jaws,
  material: ElasticMaterial,
  clamp: number,
  gaps: readonly Gap[],
  brick: number | undefined,
): SqueezeField | null => {
  const { from, to } = setup.hold.jaws;
  const grid = gridOf(map, {
    cell: brick ?? chooseBrick(mapVolume(map)),
    through: seatPlanes(jaws, setup),
  });
  if (grid === undefined) return null;
  const band = { x0: from, x1: to, z0: jaws.low, z1: jaws.high };
  const fixed = nodesFacing(grid, '-y', { ...band, y1: jaws.near + BEARS });
  const pressed = facePatch(grid, '+y', { ...band, y0: jaws.far - BEARS });
  const held = holdGrid(grid, material, { clamped: fixed });
  if (held.kind !== 'held' || pressed === undefined) return null;
  const { movement, moved } = bend(held, [{ patch: pressed, force: [0, -clamp, 0] }]);
  const places = placesOf(held.grid);
  let bow = 0;
  for (let n = 2; n < places.length; n += 3) bow = Math.max(bow, Math.abs(movement[n]!));
  const acrossAt = ({ x, y }: Point, z: number): number => {
    const patch = patchAt(held.grid, [x, y, z], 0.5);
    return patch === undefined ? 0 : patchMovement(patch, movement)[1];
  };
  return {
    kind: 'squeezed',
    ...{ setup, jaws, map, clamp, movement, bow },
    grid: held.grid,
    most: mostOf(movement),
    gaps: gaps.map(({ name, near, far, z }) => ({ name, closes: acrossAt(near, z) - acrossAt(far, z) })),
    shortens: -moved[0]![1],
  };
};

/** The mouths of forks that open along the jaws, just inside the tines, at a height in the part. */
export const forkGaps = (forks: readonly Fork[], z: number): readonly Gap[] =>
  forks.map((fork) => {
    const [c, s] = [Math.cos(fork.direction), Math.sin(fork.direction)];
    const at = (side: number): Point => ({
      x: fork.mouth.x + c * INSIDE - s * side * (fork.width / 2 + INSIDE),
      y: fork.mouth.y + s * INSIDE + c * side * (fork.width / 2 + INSIDE),
    });
    const [one, other] = [at(-1), at(1)];
    const [near, far] = one.y < other.y ? [one, other] : [other, one];
    return { name: fork.name, near, far, z };
  });

/** How far inside a tine's corner one measures, mm. */
const INSIDE = 0.5;
