import { cellAt, type HeightMap } from '../../removal/height-map.ts';
import type { Vector } from './load.ts';
import type { ElasticMaterial } from './material.ts';

/** A stretch of a beam: its length and section, mm. */
export interface Section {
  readonly length: number;
  /** mm². */
  readonly area: number;
  /** Second moment for bending up and down (along z), mm⁴. */
  readonly upright: number;
  /** Second moment for bending sideways (along y), mm⁴. */
  readonly edgewise: number;
  /** Middle of the section across the bar and in height, mm. */
  readonly y: number;
  readonly z: number;
}

/** Shear coefficient of a rectangle, near enough for any solid section. */
const KAPPA = 5 / 6;

/**
 * Movement at the end of a clamped beam of varying section under a force there: bending and shear both ways, stretch,
 * and the twist of a force beside the middle line (Castigliano's theorem; Saint-Venant's J ≈ A⁴ / (40 I_p) for solid
 * sections). Sections come from the load towards the clamp. Exact for even slender beams; it knows nothing of holes'
 * edges, of a plate's width or of the grip's own give, so take it for the order of magnitude until the solve arrives.
 */
export const beamMovement = (
  sections: readonly Section[],
  place: Vector,
  force: Vector,
  { young, poisson }: ElasticMaterial,
): Vector => {
  const shear = young / (2 * (1 + poisson));
  let reach = 0;
  const moved: [number, number, number] = [0, 0, 0];
  for (const { length, area, upright, edgewise, y, z } of sections) {
    const near = reach;
    reach += length;
    // The mean square of the arm over this stretch.
    const arm = (near * near + near * reach + reach * reach) / 3;
    const twist = (40 * (upright + edgewise)) / area ** 4 / shear;
    const [besides, above] = [place[1] - y, place[2] - z];
    const torque = (force[2] * besides - force[1] * above) * twist * length;
    moved[0] += (force[0] * length) / (young * area);
    moved[1] +=
      force[1] * ((length * arm) / (young * edgewise) + length / (KAPPA * shear * area)) - torque * above;
    moved[2] +=
      force[2] * ((length * arm) / (young * upright) + length / (KAPPA * shear * area)) + torque * besides;
  }
  return moved;
};

/**
 * The sections between a place and the plane x = `clampX`, one for each column of the map, following only material
 * that is joined across y: a tine's sections are its own until the fork's root. Undefined when the place is off the
 * material or the material ends on the way.
 */
export const sectionsTo = (map: HeightMap, place: Vector, clampX: number): readonly Section[] | undefined => {
  const start = cellAt(map, place[0], place[1]);
  if (start < 0) return undefined;
  const step = clampX < place[0] ? -1 : 1;
  const first = start % map.columns;
  const end = Math.round((clampX - map.x0) / map.cell) + (step < 0 ? 0 : -1);
  let runs: readonly Run[] = [{ from: Math.floor(start / map.columns), to: Math.floor(start / map.columns) }];
  const sections: Section[] = [];
  for (let column = first; step < 0 ? column >= end : column <= end; column += step) {
    const before = runs;
    runs = runsOf(map, column).filter((run) =>
      before.some((old) => run.from <= old.to && run.to >= old.from),
    );
    if (runs.length === 0) return undefined;
    sections.push(sectionOf(map, column, runs));
  }
  return sections;
};

interface Run {
  readonly from: number;
  readonly to: number;
}

/** Stretches of joined material along y in one column of the map. */
const runsOf = (map: HeightMap, column: number): Run[] => {
  const runs: Run[] = [];
  let from = -1;
  for (let row = 0; row <= map.rows; row++) {
    const at = row * map.columns + column;
    const full = row < map.rows && map.top[at]! > map.bottom[at]!;
    if (full && from < 0) from = row;
    if (!full && from >= 0) {
      runs.push({ from, to: row - 1 });
      from = -1;
    }
  }
  return runs;
};

const sectionOf = (map: HeightMap, column: number, runs: readonly Run[]): Section => {
  let [area, my, mz, yy, zz] = [0, 0, 0, 0, 0];
  for (const { from, to } of runs) {
    for (let row = from; row <= to; row++) {
      const at = row * map.columns + column;
      const [top, bottom] = [map.top[at]!, map.bottom[at]!];
      const part = (top - bottom) * map.cell;
      const y = map.y0 + (row + 0.5) * map.cell;
      area += part;
      my += part * y;
      mz += (part * (top + bottom)) / 2;
      yy += part * (y * y + map.cell ** 2 / 12);
      zz += ((top ** 3 - bottom ** 3) / 3) * map.cell;
    }
  }
  const [y, z] = [my / area, mz / area];
  return { length: map.cell, area, y, z, upright: zz - area * z * z, edgewise: yy - area * y * y };
};

/** The quick estimate for stock clamped at x = `clampX`; undefined as in `sectionsTo`. All 0 for a place on the clamp. */
export const quickMovement = (
  map: HeightMap,
  material: ElasticMaterial,
  place: Vector,
  force: Vector,
  clampX: number,
): Vector | undefined => {
  const sections = sectionsTo(map, place, clampX);
  return sections === undefined ? undefined : beamMovement(sections, place, force, material);
};

/**
 * Movement at the top of a standing wall, clamped along its foot, under a force square to it (mm): a plate strip with
 * E/(1 − ν²) that the force takes in more and more of on its way down, from a contact of the given breadth but never
 * beyond the wall's length. It widens by three times the depth, with which a point force on a long wall moves
 * F h²/(6 D), as a clamped plate of endless length does (0.168 F h²/D, T. J. Jaramillo 1950, value from memory).
 */
export const wallMovement = (
  wall: { readonly height: number; readonly thickness: number; readonly length: number },
  breadth: number,
  force: number,
  { young, poisson }: ElasticMaterial,
): number => {
  const { height, thickness, length } = wall;
  const plane = young / (1 - poisson * poisson);
  const shear = young / (2 * (1 + poisson));
  const steps = 50;
  let moved = 0;
  for (let n = 0; n < steps; n++) {
    const down = ((n + 0.5) * height) / steps;
    const wide = Math.min(length, breadth + 3 * down);
    const second = (wide * thickness ** 3) / 12;
    moved += (force * (height / steps) * down * down) / (plane * second);
    moved += (force * (height / steps)) / (KAPPA * shear * wide * thickness);
  }
  return moved;
};
