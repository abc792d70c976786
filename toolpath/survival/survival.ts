import type { Bar } from '../../sketch/part/part.ts';
import type { Point3 } from '../../sketch/shape/point.ts';
import { barMap, copyMap, type HeightMap } from '../removal/height-map.ts';
import { type Frame, toPart } from '../route/frame.ts';
import type { Hold } from '../route/route.ts';
import { cutterBending, cutterStress } from './cutter-bending.ts';
import { CUTTING_FORCE } from './cutting-force.ts';
import { placesOf } from './elasticity/bricks.ts';
import { type Grid, gridOf } from './elasticity/grid.ts';
import { holdGrid } from './elasticity/held.ts';
import { bend } from './elasticity/load.ts';
import { patchAt } from './elasticity/patch.ts';
import { type ForcePlace, type PassForce, type SurveyPass, surveyForces } from './force-survey.ts';
import { gripNodes, heldWidth, jawEdge } from './grip.ts';
import { ELASTIC } from './materials.ts';
import { type HoldFactors, holdFactors, type ViceHold } from './vice-hold.ts';

/** How one setup holds the work, and with what clamping force, N. */
export interface SurvivalSetup {
  readonly number: number;
  readonly frame: Frame;
  readonly hold: Hold;
}

export interface SurvivalTerms {
  /** Clamping force of the vice, N; an estimate of a firm hand when left out. */
  readonly clamp?: number;
  readonly friction?: number;
  /** Cell of the height map that forces are read off, mm. */
  readonly cell?: number;
  /** Places of each pass whose bending is solved, worst first. */
  readonly places?: number;
  /** Asked between solves; true stops the work, and what was done is given. */
  readonly cancelled?: () => boolean;
  readonly progress?: (done: number, all: number) => void;
}

/** Bending of the work at one place of a pass, mm, in program coordinates. All estimates. */
export interface PlaceBending {
  readonly place: ForcePlace;
  readonly moved: readonly [number, number, number];
  /** Size of the movement. */
  readonly movement: number;
}

export interface PassSurvival {
  readonly force: PassForce;
  readonly bending: readonly PlaceBending[];
  /** Largest movement under the cutter, mm; null when nothing was cut or nothing is held. */
  readonly movement: number | null;
  readonly hold: HoldFactors | null;
  /** How far the cutter itself gives at its tip, mm, and the stress at the root of its flutes, MPa; 0 for drills. */
  readonly cutter: { readonly bend: number; readonly stress: number };
  /** Teeth that pass in a second, Hz. */
  readonly toothPassing: number;
  /** Pieces already cut free at this moment: volume in mm³. */
  readonly loose: readonly number[];
}

/** Clamping force of a small vice done up firmly by hand, N. Value from memory. */
const FIRM = 8000;
const FRICTION = 0.15;
const SURVEY_CELL = 0.2;
/** Radius of the patch that a cutter presses on, mm. */
const PATCH = 0.8;

/**
 * Force, bending and hold for every pass of a route, on the stock as it then is. The stock after a pass is used for the
 * bending of that pass, which is on the careful side; for a drill, the stock before it. Throws nothing; a pass that leaves nothing in the jaws has no
 * movement and a hold of nothing.
 */
export const surviveRoute = (
  bar: Bar,
  setups: readonly SurvivalSetup[],
  passes: readonly SurveyPass[],
  terms: SurvivalTerms = {},
): readonly PassSurvival[] => {
  const map = barMap(bar, terms.cell ?? SURVEY_CELL);
  const data = CUTTING_FORCE[bar.material];
  const results: PassSurvival[] = [];
  let gripped = copyMap(map);
  let current = passes[0]?.setup;
  for (const [i, pass] of passes.entries()) {
    if (terms.cancelled?.()) break;
    if (current !== pass.setup) gripped = copyMap(map);
    current = pass.setup;
    const setup = setups.find((s) => s.number === pass.setup);
    // A drill presses on what is still solid under it; a cutter on what it leaves.
    const solid = pass.cutter.kind === 'drill' ? copyMap(map) : map;
    const [force] = surveyForces(map, [pass], data);
    if (!setup || !force) continue;
    results.push(surviveOne(bar, setup, gripped, solid, pass, force, terms));
    terms.progress?.(i + 1, passes.length);
  }
  return results;
};

const surviveOne = (
  bar: Bar,
  setup: SurvivalSetup,
  gripped: HeightMap,
  map: HeightMap,
  pass: SurveyPass,
  force: PassForce,
  terms: SurvivalTerms,
): PassSurvival => {
  const toothPassing = (pass.speed * pass.cutter.flutes) / 60;
  const cutter = cutterLoad(pass, force);
  const empty = { force, bending: [], movement: null, hold: null, cutter, toothPassing, loose: [] };
  if (force.places.length === 0) return empty;
  const { from, to } = setup.hold.jaws;
  const grid = gridOf(map, { through: { xs: [from, to], zs: [jawEdge(gripped, setup)] } });
  if (grid === undefined) return empty;
  const grip = gripNodes(grid, placesOf(grid), gripped, setup);
  const held = holdGrid(grid, ELASTIC[bar.material], grip);
  const loose = held.kind === 'bad material' ? [] : held.loose.map((piece) => piece.volume);
  const hold = factorsOf(setup, gripped, force, terms);
  if (held.kind !== 'held') return { ...empty, hold, loose };
  const bending: PlaceBending[] = [];
  for (const place of force.places.slice(0, terms.places ?? 2)) {
    if (terms.cancelled?.()) break;
    const bent = bendAt(map, held.grid, place, setup.frame, pass.cutter.diameter, (loads) =>
      bend(held, loads),
    );
    if (bent) bending.push(bent);
  }
  const movement = bending.reduce<number | null>((most, b) => Math.max(most ?? 0, b.movement), null);
  return { force, bending, movement, hold, cutter, toothPassing, loose };
};

/** Length of an endmill out of the collet beyond its flutes, mm. Common practice, no source. */
const BEYOND_FLUTES = 4;

const cutterLoad = ({ cutter }: SurveyPass, force: PassForce): PassSurvival['cutter'] => {
  if (cutter.kind !== 'endmill') return { bend: 0, stress: 0 };
  const stickOut = cutter.fluteLength + BEYOND_FLUTES;
  const loads = force.places.map(({ most, depth }) => ({
    bend: cutterBending(cutter, most, stickOut, depth / 2),
    stress: cutterStress(cutter, most, stickOut, depth / 2),
  }));
  return {
    bend: loads.reduce((worst, l) => Math.max(worst, l.bend), 0),
    stress: loads.reduce((worst, l) => Math.max(worst, l.stress), 0),
  };
};

/**
 * Where the stock as it then is takes the cutter's push, in the part's coordinates: on the rim that it points at, half
 * way up the cut, where a wall stays there; else on the floor under that rim or under the cutter's middle, for what
 * stood ahead has gone with the pass; else on the wall to the right or left of the travel.
 */
const bearingPlace = (map: HeightMap, place: ForcePlace, frame: Frame, diameter: number): Point3 => {
  const { at, push, depth } = place;
  const inPlane = Math.hypot(push.x, push.y);
  const reach = inPlane > 1e-9 ? (diameter / 2 + PATCH / 2) / inPlane : 0;
  const rim = { x: at.x + push.x * reach, y: at.y + push.y * reach };
  const beside = (turn: number): Point3 => {
    const out = diameter / 2 + PATCH / 2;
    const angle = place.travel + turn;
    return { x: at.x + out * Math.cos(angle), y: at.y + out * Math.sin(angle), z: at.z + depth / 2 };
  };
  const tries: readonly Point3[] = [
    { ...rim, z: at.z + depth / 2 },
    { ...rim, z: at.z - PATCH / 2 },
    { x: at.x, y: at.y, z: at.z - PATCH / 2 },
    beside(-Math.PI / 2),
    beside(Math.PI / 2),
  ].map((p) => toPart(frame, p));
  return tries.find((p) => isSolid(map, p)) ?? tries[0]!;
};

const isSolid = (map: HeightMap, p: Point3): boolean => {
  const column = Math.floor((p.x - map.x0) / map.cell);
  const row = Math.floor((p.y - map.y0) / map.cell);
  if (column < 0 || row < 0 || column >= map.columns || row >= map.rows) return false;
  const i = row * map.columns + column;
  return map.bottom[i]! <= p.z && p.z <= map.top[i]!;
};

const bendAt = (
  map: HeightMap,
  grid: Grid,
  place: ForcePlace,
  frame: Frame,
  diameter: number,
  solve: (loads: Parameters<typeof bend>[1]) => ReturnType<typeof bend>,
): PlaceBending | null => {
  const sense = frame.face === 'front' ? 1 : -1;
  const at = bearingPlace(map, place, frame, diameter);
  const patch = patchAt(grid, [at.x, at.y, at.z], PATCH);
  if (patch === undefined) return null;
  const force = [place.push.x, sense * place.push.y, sense * place.push.z] as const;
  const bent = solve([{ patch, force }]);
  const [x, y, z] = bent.moved[0]!;
  return { place, moved: [x, sense * y, sense * z], movement: Math.hypot(x, y, z) };
};

const factorsOf = (
  setup: SurvivalSetup,
  gripped: HeightMap,
  force: PassForce,
  terms: SurvivalTerms,
): HoldFactors | null => {
  const width = heldWidth(gripped, setup);
  if (width === null) return null;
  const vice: ViceHold = {
    clamp: terms.clamp ?? FIRM,
    friction: terms.friction ?? FRICTION,
    grip: setup.hold.grip,
    contact: width.contact,
    width: width.across,
  };
  const all = force.places.map((place) =>
    holdFactors(vice, {
      push: { along: place.push.x, left: place.push.y, up: place.push.z },
      inPlane: place.most,
      above: Math.max(0, place.at.z + place.depth / 2 - width.jawTop),
      overhang: Math.abs(place.at.x - width.middle),
    }),
  );
  return all.reduce((worst, f) => (f.least < worst.least ? f : worst));
};
