import type { Material } from '../../sketch/part/part.ts';
import { copyMap, type HeightMap } from '../removal/height-map.ts';
import { type WantedColumns, wantedColumns } from '../removal/raster.ts';
import { CUTTING_FORCE, cuttingFault } from './cutting-force.ts';
import { materialFault } from './elasticity/material.ts';
import { uncut } from './engagement.ts';
import { type Finishes, finishesAt, LEAVES_NOTHING } from './finished.ts';
import { cutPass, type ForcePlace, type SurveyPass, surveyPass } from './force-survey.ts';
import { type HeldWidth, heldWidth, type Seat, seatOf } from './grip.ts';
import { ELASTIC } from './materials.ts';
import { cutterGive, cutterLoad, holdLoad, shareAtWall } from './pass-load.ts';
import type {
  PassSurvival,
  PlaceBending,
  SurvivalNews,
  SurvivalQuestion,
  SurvivalSetup,
  SurvivalTerms,
} from './pass-survival.ts';
import { loadPlaces } from './quick-look.ts';
import { type PartBeside, partBeside } from './scrap.ts';
import { errorOf, finishesOf, mostScrap, passSolver, type SurveyPlace } from './solve-pass.ts';
import { startMap, stockWalker } from './stock-walk.ts';
import type { Look, Moment } from './survey-memory.ts';

export { startMap } from './stock-walk.ts';

const PLACES = 3;
/** A skin thinner than this is nothing, mm. */
const NO_WEB = 1e-3;
/** Walls nearer than this many cells are not taken for web. */
const WALL_BAND = 1.5;

/**
 * Force, bending and hold for every pass of a route, step by step: first all passes by closed forms, then one pass after
 * the other solved. The stock after a pass is used for the bending of that pass, which is on the careful side; for a
 * drill, the stock before it. Whoever takes the steps may stop between any two of them and keeps what came. Returns
 * every pass, solved or estimated. Throws nothing.
 */
export function* surviveInSteps(
  question: SurvivalQuestion,
  terms: SurvivalTerms = {},
  now: () => number = Date.now,
): Generator<SurvivalNews, readonly PassSurvival[]> {
  const { material } = question.bar;
  const reason = refusal(material, terms);
  if (reason !== undefined) {
    yield { kind: 'refused', reason };
    return [];
  }
  const moments = terms.memory?.along(question, terms);
  const looks = lookThrough(question, terms, moments);
  const results = looks.map((look) => look.quick);
  yield { kind: 'estimated', passes: [...results] };
  const waiting = looks.map((look, i) => (terms.only?.(i) === false ? 0 : look.places.length));
  const all = waiting.reduce((sum, n) => sum + n, 0);
  let done = 0;
  const start = now();
  const progress = () => ({
    share: all === 0 ? 1 : done / all,
    secondsLeft: done === 0 ? null : (((now() - start) / done) * (all - done)) / 1000,
  });
  const solve = passSolver(terms.elastic ?? ELASTIC[material], terms);
  const walk = stockWalker(question, terms);
  for (const [i, { quick, setup, jaws, places }] of looks.entries()) {
    if (waiting[i] === 0 || !setup || jaws === null || terms.cancelled?.()) continue;
    const pass = question.passes[i]!;
    const known = moments?.[i + 1];
    if (known?.solved !== undefined) {
      results[i] = known.solved;
      done += places.length;
      yield { kind: 'solved', pass: i, result: known.solved, ...progress() };
      continue;
    }
    const { map } = walk(i);
    const steps = solve({ map, setup, jaws, pass, quick, places });
    for (let step = steps.next(); ; step = steps.next()) {
      if (step.done) {
        if (step.value === null) break;
        results[i] = step.value;
        if (known) known.solved = step.value;
        yield { kind: 'solved', pass: i, result: step.value, ...progress() };
        break;
      }
      done++;
      yield { kind: 'solving', pass: i, ...progress() };
    }
  }
  return results;
}

/** The same without a pause. Empty for constants that make no sense. */
export const surviveRoute = (
  question: SurvivalQuestion,
  terms: SurvivalTerms = {},
): readonly PassSurvival[] => {
  const steps = surviveInSteps(question, terms);
  for (let step = steps.next(); ; step = steps.next()) if (step.done) return step.value;
};

const refusal = (material: Material, terms: SurvivalTerms): string | undefined =>
  materialFault(terms.elastic ?? ELASTIC[material]) ?? cuttingFault(terms.cutting ?? CUTTING_FORCE[material]);

/** Walks all passes once: forces, holds, cutters, and the quick estimate of every movement. */
const lookThrough = (
  question: SurvivalQuestion,
  terms: SurvivalTerms,
  moments: readonly Moment[] | undefined,
): readonly Look[] => {
  const { bar, passes, setups, wanted } = question;
  const map = startMap(question, terms);
  const stock = uncut(map, bar);
  const data = terms.cutting ?? CUTTING_FORCE[bar.material];
  const columns = wanted && wantedColumns(map, wanted, WALL_BAND * map.cell);
  const beside = columns ? partBeside(map, columns) : null;
  const marks = new Int32Array(map.top.length).fill(-1);
  let jaws: Seat | null = null;
  const enter = (i: number): SurvivalSetup | undefined => {
    const { setup: number } = passes[i]!;
    const setup = setups.find((s) => s.number === number);
    if (setup && (i === 0 || passes[i - 1]!.setup !== number)) jaws = seatOf(map, setup);
    return setup;
  };
  /** Passes before this one are cut out of the stock. */
  let next = 0;
  const look = (pass: SurveyPass, i: number): Look => {
    // Passes that are known are cut only where one comes after them that is not.
    for (; next < i; next++) {
      enter(next);
      cutPass(stock, passes[next]!);
    }
    next = i + 1;
    const setup = enter(i);
    // A drill presses on what is still solid under it; a cutter on what it leaves.
    const before = pass.cutter.kind === 'drill' ? copyMap(map) : null;
    const force = surveyPass(stock, pass, data, { marks, value: i });
    const solid = before ?? map;
    const held = setup && jaws ? heldWidth(solid, setup, jaws) : null;
    const places =
      setup && held ? placesOf(question, terms, solid, setup, held, pass, force.places, beside) : [];
    const web = columns ? thinnestWeb(map, columns, marks, i) : null;
    const bending = places.map(({ place, name, movement, scrap, finishes }): PlaceBending => {
      const give = cutterGive(pass, place);
      const error = { wall: movement * shareAtWall(place) + give, floor: movement };
      return {
        ...{ place, name, movement, error, give, finishes },
        moved: null,
        scrap: scrap?.movement ?? null,
      };
    });
    const quick: PassSurvival = {
      basis: 'closed form',
      footing: force.places.length === 0 ? 'no force' : held === null ? 'nothing in the jaws' : 'held',
      force,
      bending,
      movement: places[0]?.movement ?? null,
      scrap: mostScrap(bending.map((b) => b.scrap)),
      finishes: finishesOf(bending),
      error: places.length === 0 ? null : errorOf(bending),
      frequency: null,
      hold: setup && held ? holdLoad(setup, held, force, terms) : null,
      cutter: cutterLoad(pass, force),
      toothPassing: (pass.speed * pass.cutter.flutes) / 60,
      speed: pass.speed,
      web,
      loose: [],
      time: pass.time ?? null,
    };
    return { quick, setup, jaws, places };
  };
  return passes.map((pass, i) => {
    const known = moments?.[i + 1];
    const found = known?.look ?? look(pass, i);
    if (known) known.look = found;
    return found;
  });
};

const placesOf = (
  { names = [], bar, wanted }: SurvivalQuestion,
  terms: SurvivalTerms,
  map: HeightMap,
  setup: SurvivalSetup,
  held: HeldWidth,
  pass: SurveyPass,
  places: PassSurvival['force']['places'],
  beside: PartBeside | null,
): readonly SurveyPlace[] => {
  const stock = { map, material: terms.elastic ?? ELASTIC[bar.material], setup, held };
  const { diameter, kind } = pass.cutter;
  const finishes = (place: ForcePlace): Finishes =>
    wanted && kind === 'endmill' ? finishesAt(wanted, setup.frame, place, diameter) : LEAVES_NOTHING;
  // A drill stands where a hole of the part comes: what it presses on is not scrap beyond the part.
  return loadPlaces(stock, places, diameter, names, kind === 'drill' ? null : beside)
    .slice(0, terms.places ?? PLACES)
    .map((load) => ({ ...load, finishes: finishes(load.place) }));
};

/** Least material left in the pass's cells where none is wanted in the end; null when it leaves none. */
const thinnestWeb = (
  map: HeightMap,
  columns: WantedColumns,
  marks: Int32Array,
  pass: number,
): number | null => {
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < marks.length; i++) {
    if (marks[i] !== pass || columns.nearWall[i] === 1 || columns.top[i]! > columns.bottom[i]!) continue;
    const left = map.top[i]! - map.bottom[i]!;
    if (left > NO_WEB && left < least) least = left;
  }
  return Number.isFinite(least) ? least : null;
};
