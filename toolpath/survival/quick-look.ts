import type { Point3 } from '../../sketch/shape/point.ts';
import type { HeightMap } from '../removal/height-map.ts';
import { toPart } from '../route/frame.ts';
import { bearingPlace, isSolid, PATCH, turned } from './bearing.ts';
import { quickMovement, wallMovement } from './elasticity/estimate.ts';
import type { Vector } from './elasticity/load.ts';
import type { ElasticMaterial } from './elasticity/material.ts';
import type { ForcePlace } from './force-survey.ts';
import type { HeldWidth } from './grip.ts';
import { type NamedPlace, nameAt } from './named-places.ts';
import type { SurvivalSetup } from './pass-survival.ts';
import type { PartBeside } from './scrap.ts';

/** Stock as it lies in a setup, for estimates that cost nothing. */
export interface QuickStock {
  readonly map: HeightMap;
  readonly material: ElasticMaterial;
  readonly setup: SurvivalSetup;
  readonly held: HeldWidth;
}

/**
 * Movement under the cutter by closed forms, mm: what juts out beyond the gripped length bends as a beam
 * (`beamMovement`), what stands above the jaws as a wall (`wallMovement`), and the spot itself gives as a half-space under
 * an even pressure does on the mean, 16 F (1 − ν²) / (3 π² a E) (K. L. Johnson, Contact Mechanics, 1985, from memory).
 * Knows nothing of parallels. For the order of magnitude, until the solve arrives.
 */
const quickAt = (stock: QuickStock, place: ForcePlace, at: Point3): number => {
  const { map, material, setup, held } = stock;
  const { frame } = setup;
  const spot: Vector = [at.x, at.y, at.z];
  const force = turned(frame, [place.push.x, place.push.y, place.push.z]);
  const size = Math.hypot(...force);
  const dent = (16 * size * (1 - material.poisson ** 2)) / (3 * Math.PI ** 2 * PATCH * material.young);
  const middle = held.middle + frame.zero.x;
  const [from, to] = [middle - held.contact / 2, middle + held.contact / 2];
  const outside = at.x < from ? from : at.x > to ? to : null;
  const beam = outside === null ? undefined : quickMovement(map, material, spot, force, outside);
  const wall = outside === null ? standing(stock, at, force) : 0;
  return dent + wall + (beam === undefined ? 0 : Math.hypot(...beam));
};

/** What stands above the jaws at a place, bent along its thinner way. */
const standing = ({ map, material, setup, held }: QuickStock, at: Point3, force: Vector): number => {
  const jaw = toPart(setup.frame, { x: 0, y: 0, z: held.jawTop }).z;
  const height = Math.abs(at.z - jaw);
  const above = setup.frame.face === 'front' ? at.z > jaw : at.z < jaw;
  if (!above || height < map.cell || !isSolid(map, at)) return 0;
  const [x, y] = [runThrough(map, at, 1, 0), runThrough(map, at, 0, 1)];
  const wall = (thickness: number, length: number, push: number): number =>
    wallMovement({ height, thickness, length }, 2 * PATCH, Math.abs(push), material);
  return Math.hypot(wall(x, y, force[0]), wall(y, x, force[1]));
};

/** Length of solid material through a place along X or Y, mm. */
const runThrough = (map: HeightMap, at: Point3, dx: number, dy: number): number => {
  let count = 1;
  for (const sense of [1, -1]) {
    for (let n = 1; ; n++) {
      const far = { x: at.x + sense * n * dx * map.cell, y: at.y + sense * n * dy * map.cell, z: at.z };
      if (!isSolid(map, far)) break;
      count++;
    }
  }
  return count * map.cell;
};

/** A place worth solving, its name, and how far the work is thought to move there, mm. */
export interface LoadPlace {
  readonly place: ForcePlace;
  readonly name: string | null;
  readonly movement: number;
  /** Where the cutter presses on scrap: the place of the part that is judged in its stead, and what the scrap is thought to do. */
  readonly scrap: { readonly part: Point3; readonly movement: number } | null;
}

/**
 * The places of a pass where the part is thought to move most, worst first: one for each named place of the part, and
 * one more for all that have no name. Of scrap under the cutter the same is told apart, so that it hides nothing of the part.
 */
export const loadPlaces = (
  stock: QuickStock,
  places: readonly ForcePlace[],
  diameter: number,
  names: readonly NamedPlace[],
  beside: PartBeside | null = null,
): readonly LoadPlace[] => {
  const worst = new Map<string, LoadPlace>();
  for (const place of places) {
    const name = nameAt(names, toPart(stock.setup.frame, place.at));
    const at = bearingPlace(stock.map, place, stock.setup.frame, diameter);
    const part = beside?.(stock.map, at) ?? null;
    const under = quickAt(stock, place, at);
    const found: LoadPlace =
      part === null
        ? { place, name, movement: under, scrap: null }
        : {
            place,
            name,
            movement: Math.min(under, quickAt(stock, place, part)),
            scrap: { part, movement: under },
          };
    const key = `${name ?? ''}/${part === null}`;
    const there = worst.get(key);
    if (there === undefined || rank(found) > rank(there)) worst.set(key, found);
  }
  return [...worst.values()].sort((a, b) => b.movement - a.movement);
};

/** Among places on scrap the worst scrap is told. */
const rank = ({ movement, scrap }: LoadPlace): number => scrap?.movement ?? movement;
