import type { HeightMap } from '../removal/height-map.ts';
import { mapVolume } from '../removal/height-map.ts';
import type { Frame } from '../route/frame.ts';
import { bearingPlace, PATCH, turned } from './bearing.ts';
import { placesOf } from './elasticity/bricks.ts';
import { carryMovement } from './elasticity/carry.ts';
import { lowestFrequency } from './elasticity/frequency.ts';
import { chooseBrick, type Grid, gridOf } from './elasticity/grid.ts';
import { type Held, type HeldStock, holdGrid } from './elasticity/held.ts';
import { bend, type Load, patchMovement } from './elasticity/load.ts';
import type { ElasticMaterial } from './elasticity/material.ts';
import { patchAt } from './elasticity/patch.ts';
import type { Finishes } from './finished.ts';
import type { ForcePlace, PassForce, SurveyPass } from './force-survey.ts';
import { gripNodes, type Seat, seatPlanes } from './grip.ts';
import { forkPieces, isPressed, packedMap } from './packing.ts';
import { cutterGive, shareAtWall } from './pass-load.ts';
import type { PassSurvival, PlaceBending, SurvivalSetup, SurvivalTerms } from './pass-survival.ts';
import type { LoadPlace } from './quick-look.ts';

/** What is to be solved: the stock, how it lies and is held, and where a pass presses on it. */
export interface PassQuestion {
  readonly map: HeightMap;
  readonly setup: SurvivalSetup;
  readonly jaws: Seat;
  readonly pass: SurveyPass;
  /** The closed-form estimate, which the answer replaces. */
  readonly quick: PassSurvival;
  readonly places: readonly SurveyPlace[];
}

/** A place to be solved, and what the pass leaves there. */
export interface SurveyPlace extends LoadPlace {
  readonly finishes: Finishes;
}

/** The stock of a pass as it is held, and what presses on it. */
export interface HeldQuestion extends Pick<PassQuestion, 'map' | 'setup' | 'jaws'> {
  readonly force: PassForce;
}

/** The stock of a pass as bricks, held as its setup holds it; undefined where nothing is left. */
export const heldStock = (
  { map, setup, jaws, force }: HeldQuestion,
  material: ElasticMaterial,
  brick: number = chooseBrick(mapVolume(map)),
): Held | undefined => {
  const grid = gridOf(map, { cell: brick, through: seatPlanes(jaws, setup) });
  if (grid === undefined) return undefined;
  const { clamped, supported } = gripNodes(grid, placesOf(grid), jaws, setup);
  // Parallels press and never pull: they carry what a drill pushes down, and nothing that an endmill's helix lifts.
  const carried = force.places.every(({ push }) => push.z <= 0) ? supported : [];
  return holdGrid(grid, material, { clamped, supported: carried });
};

/** How the cutter presses at one place, in the part's coordinates; undefined on a grid without bricks. */
export const loadOf = (
  grid: Grid,
  map: HeightMap,
  frame: Frame,
  place: ForcePlace,
  diameter: number,
): Load | undefined => {
  const at = bearingPlace(map, place, frame, diameter);
  const patch = patchAt(grid, [at.x, at.y, at.z], PATCH);
  return patch && { patch, force: turned(frame, [place.push.x, place.push.y, place.push.z]) };
};

/** The stock with packing in its forks, where a movement of the unpacked stock presses on it; null where it does not. */
export const packedFor = (
  question: HeldQuestion,
  held: HeldStock,
  movement: Float64Array,
  material: ElasticMaterial,
  terms: Pick<SurvivalTerms, 'brick'>,
): HeldStock | null => {
  const { map, setup, jaws } = question;
  if (jaws.kind !== 'vice' || forkPieces(setup.hold).length === 0) return null;
  if (!isPressed(held.grid, movement, setup.hold, jaws)) return null;
  const packed = packedMap(map, setup.hold, jaws);
  const stock = packed && heldStock({ ...question, map: packed }, material, terms.brick);
  return stock?.kind === 'held' ? stock : null;
};

/** Yields after every solve; gives null when it was cancelled. */
export type PassSolving = Generator<void, PassSurvival | null>;

/** A frequency right to this share of itself is right enough to be set beside the teeth's. */
const FREQUENCY_WITHIN = 2e-3;

/**
 * Solves the passes of one survey in order. A pass's places start from one another, and the shape it rings in from that
 * of the pass before. Starting its movements from those of the pass before as well was measured and left out: carrying
 * them over cost a fifth more time than the rounds it saved.
 */
export const passSolver = (
  material: ElasticMaterial,
  terms: SurvivalTerms,
): ((question: PassQuestion) => PassSolving) => {
  let last: { readonly grid: Grid; readonly shape: Float64Array } | null = null;
  const cancel = terms.cancelled ? { cancelled: terms.cancelled } : {};
  return function* ({ map, setup, jaws, pass, quick, places }) {
    const nothing = {
      ...quick,
      basis: 'solved',
      bending: [],
      movement: null,
      scrap: null,
      error: null,
    } as const;
    const held = heldStock({ map, setup, jaws, force: quick.force }, material, terms.brick);
    if (held === undefined || held.kind === 'bad material') return { ...nothing, footing: 'not held' };
    const loose = held.loose.map(({ volume, at }) => ({ volume, at }));
    if (held.kind === 'not held') return { ...nothing, footing: 'not held', loose };
    const bending: PlaceBending[] = [];
    const movements: Float64Array[] = [];
    for (const { place, name, finishes, scrap } of places) {
      const load = loadOf(held.grid, map, setup.frame, place, pass.cutter.diameter);
      if (load === undefined) continue;
      const bent = bend(held, [load], { starts: movements, ...cancel });
      if (bent.end === 'cancelled') return null;
      movements.push(bent.movement);
      let [grid, movement, moved] = [held.grid, bent.movement, bent.moved[0]!];
      const packed = packedFor(
        { map, setup, jaws, force: quick.force },
        held,
        bent.movement,
        material,
        terms,
      );
      if (packed !== null) {
        const again = loadOf(packed.grid, map, setup.frame, place, pass.cutter.diameter);
        const pressed = again && bend(packed, [again], cancel);
        if (pressed?.end === 'cancelled') return null;
        if (pressed) [grid, movement, moved] = [packed.grid, pressed.movement, pressed.moved[0]!];
      }
      // On scrap the part is judged by what its nearest place does under the same push.
      const part = scrap && patchAt(grid, [scrap.part.x, scrap.part.y, scrap.part.z], PATCH);
      const judged = part ? patchMovement(part, movement) : moved;
      bending.push({
        ...bendingOf({ place, name, finishes }, turned(setup.frame, judged), cutterGive(pass, place)),
        scrap: scrap === null ? null : Math.hypot(...moved),
      });
      yield;
    }
    let frequency: number | null = null;
    if (terms.frequency !== false) {
      const start = last && { start: carryMovement(last.grid, last.shape, held.grid) };
      const ringing = lowestFrequency(held, { tolerance: FREQUENCY_WITHIN, ...start, ...cancel });
      if (ringing.end === 'cancelled') return null;
      frequency = ringing.frequency;
      last = { grid: held.grid, shape: ringing.shape };
    }
    return {
      ...quick,
      basis: 'solved',
      bending,
      movement: most(bending.map((b) => b.movement)),
      scrap: mostScrap(bending.map((b) => b.scrap)),
      finishes: finishesOf(bending),
      error: errorOf(bending),
      frequency,
      loose,
    };
  };
};

const most = (values: readonly number[]): number | null =>
  values.reduce<number | null>((worst, value) => Math.max(worst ?? 0, value), null);

/** The largest movement of scrap; null where no place is on scrap. */
export const mostScrap = (movements: readonly (number | null)[]): number | null =>
  most(movements.filter((m) => m !== null));

/** Whether anything is finished at any of these places. */
export const finishesOf = (bending: readonly PlaceBending[]): Finishes => ({
  wall: bending.some((b) => b.finishes.wall),
  floor: bending.some((b) => b.finishes.floor),
});

/** The largest errors: of the places where a wall or floor is finished, if there is one, for only those stay. */
export const errorOf = (
  bending: readonly PlaceBending[],
): { readonly wall: number; readonly floor: number } => {
  const worst = (what: 'wall' | 'floor'): number => {
    const stays = bending.filter((b) => b.finishes[what]);
    return most((stays.length > 0 ? stays : bending).map((b) => b.error[what])) ?? 0;
  };
  return { wall: worst('wall'), floor: worst('floor') };
};

/**
 * What a movement leaves: on a floor what goes up or down at the worst moment; on a wall what goes across the travel as
 * teeth leave it, taken to fall with the force.
 */
const bendingOf = (
  { place, name, finishes }: Pick<PlaceBending, 'place' | 'name' | 'finishes'>,
  moved: readonly [number, number, number],
  give: number,
): Omit<PlaceBending, 'scrap'> => {
  const across = Math.abs(-moved[0] * Math.sin(place.travel) + moved[1] * Math.cos(place.travel));
  return {
    place,
    name,
    moved,
    movement: Math.hypot(...moved),
    error: { wall: across * shareAtWall(place) + give, floor: Math.abs(moved[2]) },
    give,
    finishes,
  };
};
