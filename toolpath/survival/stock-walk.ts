import { barMap, copyMap, type HeightMap } from '../removal/height-map.ts';
import { sweep } from '../removal/sweep.ts';
import { type Seat, seatOf } from './grip.ts';
import type { SurvivalQuestion, SurvivalTerms } from './pass-survival.ts';

/** Cell of the map that forces are read off and bricks are made of, mm. */
const SURVEY_CELL = 0.2;
/** A map of more cells than this is made coarser. */
const MOST_CELLS = 400_000;

/** The uncut bar of a survey. Throws a RangeError for a bar of no size. */
export const startMap = ({ bar }: SurvivalQuestion, terms: SurvivalTerms): HeightMap => {
  const affordable = Math.sqrt(((bar.length + 2 * bar.sawn) * bar.width) / MOST_CELLS);
  return barMap(bar, terms.cell ?? Math.max(SURVEY_CELL, affordable));
};

/** The stock that one pass is solved on, and the jaws as its setup closed them; null where they closed on nothing. */
export interface PassStock {
  readonly map: HeightMap;
  readonly jaws: Seat | null;
}

/** Where a walk may be taken up again: before a pass that begins a setup. */
interface Station {
  readonly pass: number;
  readonly map: HeightMap;
}

/**
 * The stock of each pass: what it leaves, and for a drill what it finds. Asked in any order; onward is cheapest, and back
 * is walked from the beginning of the pass's setup. A map that was given is good until the next is asked for.
 */
export const stockWalker = (
  question: SurvivalQuestion,
  terms: SurvivalTerms,
): ((pass: number) => PassStock) => {
  const { passes, setups } = question;
  const stations: Station[] = [];
  let map = startMap(question, terms);
  let jaws: Seat | null = null;
  /** Passes before this one are cut out of the map. */
  let next = 0;
  const enter = (pass: number): void => {
    const { setup: number } = passes[pass]!;
    if (pass > 0 && passes[pass - 1]!.setup === number) return;
    const setup = setups.find((s) => s.number === number);
    jaws = setup === undefined ? null : seatOf(map, setup);
    if (stations.every((s) => s.pass < pass)) stations.push({ pass, map: copyMap(map) });
  };
  const cut = (pass: number): void => {
    const { motions, cutter, frame } = passes[pass]!;
    for (const { stroke } of motions) sweep(map, stroke, cutter, frame);
  };
  return (wanted) => {
    const drills = passes[wanted]!.cutter.kind === 'drill';
    // What a drill finds is gone when it has drilled.
    if (wanted < next - 1 || (drills && wanted < next)) {
      const from = stations.findLast((s) => s.pass <= wanted)!;
      map = copyMap(from.map);
      next = from.pass;
    }
    for (; next < wanted; next++) {
      enter(next);
      cut(next);
    }
    if (next > wanted) return { map, jaws };
    enter(wanted);
    if (drills) return { map, jaws };
    cut(wanted);
    next = wanted + 1;
    return { map, jaws };
  };
};
