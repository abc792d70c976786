import type { Cutter } from '../../toolpath/machine/cutter.ts';
import { copyCells, type KeyedPasses } from '../../toolpath/removal/changed-cells.ts';
import {
  bothBoxes,
  boxesMeet,
  cellsUnder,
  isEmptyBox,
  mayTouch,
  NO_CELLS,
} from '../../toolpath/removal/cut.ts';
import { type CutPath, lowestTip } from '../../toolpath/removal/cut-path.ts';
import { type CellBox, copyMap, type HeightMap, sameGrid } from '../../toolpath/removal/height-map.ts';
import { differingCells } from '../../toolpath/removal/map-extent.ts';
import { type Marked, type PassTally, sumOf, tallied, wholeTiles } from './pass-tally.ts';
import { type RowRuns, runsOf } from './pieces.ts';
import type { PassEngagement } from './proof.ts';
import { changedWanted, type SlabText, type WantedChange } from './wanted-change.ts';

/** What cutting a pass came to, but for what is told of pieces that come free. */
export interface PassOutcome {
  /** As in `ProofPass`: undefined where it was not measured. */
  readonly engagement: PassEngagement | null | undefined;
  /** Whether any motion went into the wanted part. */
  readonly gouged: boolean;
}

/** A pass that need not be cut again, or not all of it. */
export interface KnownPass extends PassOutcome {
  /** The cells in which some of its motions are to be cut again; null where none is. */
  readonly within: CellBox | null;
  /** Whether a motion, by its number in the pass, is to be cut again there. */
  readonly again: (motion: number) => boolean;
  /** Whether it comes so near to what is wanted otherwise than before that it is to be judged by that again. */
  readonly judged: (motion: number) => boolean;
}

/** One setup's passes, by their number. Between two passes that are known the map is true in the changed cells alone. */
export interface SetupMemory {
  /** A motion as the exact checks see it, by its number in the pass; null for one whose cutter is missing. */
  readonly path: (pass: number, motion: number) => CutPath | null;
  /** What is known of a pass; where that is nothing the map is true again, and the pass is to be cut in it. */
  readonly known: (pass: number) => KnownPass | null;
  /**
   * Takes a pass in that has been cut in these cells at most, as far as need be: cells that it cut through and the web it leaves. What it came
   * to is kept, but where something went amiss (null).
   */
  readonly finish: (
    pass: Marked,
    cells: CellBox,
    outcome: PassOutcome | null,
  ) => { readonly opened: number; readonly webLeft: number | null };
  /** The map as it stands, not to be changed, and its runs. */
  readonly whole: () => HeightMap;
  readonly runs: () => RowRuns;
  /** The setup is done: the map is true again. Gives its runs. */
  readonly close: () => RowRuns;
}

interface Kept extends PassOutcome {
  readonly map: HeightMap;
  readonly tally: PassTally;
  readonly firstLine: number;
  /** Where they were asked for. */
  runs: RowRuns | null;
}

/** What is remembered of a setup. */
export interface Remembered {
  readonly start: HeightMap;
  readonly startRuns: RowRuns | null;
  readonly endRuns: RowRuns;
  readonly passes: KeyedPasses;
  readonly boxes: readonly (readonly CellBox[])[];
  /** The bar's thickness at the start, by which the boxes go. */
  readonly thickness: number;
  readonly wanted: readonly SlabText[];
  readonly kept: readonly (Kept | null)[];
}

/** A setup about to be cut in a map, and what is remembered of it. */
export interface SetupTerms {
  readonly map: HeightMap;
  /** Whether the map is the bar before anything is cut from it, and so it was in `old`. */
  readonly uncut: boolean;
  readonly tools: readonly Cutter[];
  readonly passes: KeyedPasses;
  readonly paths: readonly (readonly (CutPath | null)[])[];
  /** Line of each pass's first motion. */
  readonly firstLines: readonly number[];
  readonly wanted: readonly SlabText[];
  readonly old: Remembered | null;
  /** How `old.passes` lie in these, and the cells that cuts concern which only the ones or the others have. */
  readonly change: { readonly same: ArrayLike<number>; readonly cells: CellBox } | null;
  readonly thickness: number;
  /** Bytes that may be filled. */
  readonly memory: number;
  readonly counts: { cut: number; known: number; looked: number };
  readonly remember: (setup: Remembered) => void;
}

/** Round a cutter's cells, those it is measured by as well. */
const MARGIN = 4;
/** A drill may look this much beyond its radius for the hole that it is meant for, mm, and as a share of the radius. */
const DRILL_LOOKS = { share: 0.15, beyond: 0.15 };

export const setupMemory = (terms: SetupTerms): SetupMemory => {
  const { map, passes, old, change, thickness, counts, firstLines } = terms;
  const same = old && sameGrid(old.start, map) ? change : null;
  // Two bars of the same thickness in the same grid stand alike.
  const alike = same && terms.uncut && old!.thickness === thickness;
  const begun = alike ? NO_CELLS : same && differingCells(old!.start, map);
  const start = begun && isEmptyBox(begun) ? old!.start : copyMap(map);
  const each = bytesOf(start);
  let bytes = each;
  const boxes = passes.passes.map((pass, k): readonly CellBox[] => {
    // Of the same cuts in the same grid under the same thickness.
    const place = same?.same[k] ?? -1;
    return place >= 0 && old!.thickness === thickness
      ? old!.boxes[place]!
      : pass.map((cut) => cellsUnder(cut, map, thickness));
  });
  const where = old && same ? changedWanted(old.wanted, terms.wanted, map) : null;
  const concerned = begun && where && bothBoxes(bothBoxes(same!.cells, where), begun);
  // Outside of these cells the map stands after every pass as it stood before after the same pass, and at the end.
  const cells = concerned && (isEmptyBox(concerned) ? concerned : wholeTiles(concerned, map));
  /** What is met by a cutter that comes near some cells. */
  const about = (box: CellBox): CellBox => wider(box, margin(terms.tools, map));
  const near = cells && about(cells);
  const judging = where && about(where);
  /** Maps of passes that are gone, to be used again. */
  const taken = new Set(same ? Array.from(same.same) : []);
  const spare = same ? old!.kept.flatMap((k, place) => (k && !taken.has(place) ? [k.map] : [])) : [];
  const copied = (from: HeightMap): HeightMap => {
    const into = spare.pop();
    if (!into) return copyMap(from);
    into.top.set(from.top);
    into.bottom.set(from.bottom);
    return into;
  };
  const kept: (Kept | null)[] = passes.keys.map(() => null);
  /** True outside of `cells`, where the map itself may lag behind; true all over between two passes. */
  let ahead: HeightMap | null = null;
  let going: { readonly pass: number; readonly from: Kept | null; readonly again: boolean } | null = null;
  /** Runs that are true but for some cells, and where they are to be kept. */
  let last: { readonly runs: RowRuns | null; readonly but: CellBox | null; keep: (runs: RowRuns) => void };
  let startRuns: RowRuns | null = null;
  last = {
    runs: begun && old!.startRuns,
    but: begun,
    keep: (runs) => {
      startRuns = runs;
    },
  };
  const catchUp = (): void => {
    if (ahead === null) return;
    map.top.set(ahead.top);
    map.bottom.set(ahead.bottom);
    ahead = null;
  };
  const runs = (): RowRuns => {
    const { but } = last;
    const known = but && last.runs;
    const found = runsOf(ahead ?? map, known, but);
    counts.looked += known ? cellsIn(but) : map.top.length;
    last.keep(found);
    last = { runs: found, but: NO_CELLS, keep: () => {} };
    return found;
  };
  const knownPass = (pass: number): KnownPass | null => {
    const from = old?.kept[same?.same[pass] ?? -1];
    if (!cells || !near || !judging || !from) return null;
    const own = boxes[pass]!;
    const cuts = passes.passes[pass]!;
    const comes = (to: CellBox): readonly boolean[] =>
      own.map((box, k) => boxesMeet(box, to) && mayTouch(cuts[k]!, to, map, thickness));
    // The rim is measured in what stands all round it.
    if (from.engagement !== undefined && comes(near).includes(true)) return null;
    const again = comes(cells);
    const count = again.filter(Boolean).length;
    const paths = terms.paths[pass]!;
    counts.cut += count;
    counts.known += own.length - count;
    going = { pass, from, again: count > 0 };
    return {
      engagement: shifted(from.engagement, firstLines[pass]! - from.firstLine),
      gouged: from.gouged,
      within: count > 0 ? cells : null,
      again: (motion) => again[motion]!,
      // A flat end that stays over all that is wanted otherwise meets nothing else than it did; what is wanted may stand
      // higher than the work does.
      judged: (motion) =>
        !(paths[motion]!.point === 0 && staysAbove(paths[motion]!, where!)) &&
        comesOver(paths[motion]!, judging, map) &&
        mayTouch(cuts[motion]!, judging, map, Number.POSITIVE_INFINITY),
    };
  };
  return {
    path: (pass, motion) => terms.paths[pass]?.[motion] ?? null,
    known: (pass) => {
      const known = knownPass(pass);
      if (known) return known;
      catchUp();
      counts.cut += boxes[pass]?.length ?? 0;
      going = { pass, from: null, again: true };
      return null;
    },
    finish: (marked, box, outcome) => {
      const { pass, from, again } = going!;
      const tally = from && !again ? from.tally : tallied(marked, from ? cells! : box, from?.tally ?? null);
      let keepRuns = (_: RowRuns): void => {};
      if (from) {
        if (!isEmptyBox(cells!)) copyCells(map, from.map, cells!);
        ahead = from.map;
      }
      if (outcome && pass < kept.length && bytes + each <= terms.memory) {
        bytes += each;
        const firstLine = firstLines[pass]!;
        const made: Kept = { ...outcome, tally, map: from?.map ?? copied(map), firstLine, runs: null };
        keepRuns = (found) => {
          made.runs = found;
        };
        kept[pass] = made;
      }
      // What no one knew has cut nothing beside its own cells.
      last = from
        ? { runs: from.runs, but: cells, keep: keepRuns }
        : { runs: last.runs, but: last.but && bothBoxes(last.but, box), keep: keepRuns };
      return sumOf(tally);
    },
    whole: () => ahead ?? map,
    runs,
    close: () => {
      if (last.but !== NO_CELLS) last = { runs: cells && old!.endRuns, but: cells, keep: () => {} };
      const endRuns = runs();
      catchUp();
      terms.remember({ start, startRuns, endRuns, passes, boxes, thickness, wanted: terms.wanted, kept });
      return endRuns;
    },
  };
};

const cellsIn = (box: CellBox): number =>
  isEmptyBox(box) ? 0 : (box.i1 - box.i0 + 1) * (box.j1 - box.j0 + 1);

const staysAbove = (path: CutPath, { low, high }: WantedChange): boolean =>
  lowestTip(path) >= (path.face === 'front' ? high : -low);

/** Whether a motion's cutter comes over the box round some cells. */
const comesOver = ({ box, radius }: CutPath, cells: CellBox, { x0, y0, cell }: HeightMap): boolean =>
  !isEmptyBox(cells) &&
  box.x0 - radius <= x0 + (cells.i1 + 2) * cell &&
  box.x1 + radius >= x0 + (cells.i0 - 1) * cell &&
  box.y0 - radius <= y0 + (cells.j1 + 2) * cell &&
  box.y1 + radius >= y0 + (cells.j0 - 1) * cell;

const bytesOf = (map: HeightMap): number => map.top.byteLength + map.bottom.byteLength;

/** Bytes that what is remembered of a setup fills, about. */
export const bytesOfSetup = ({ start, kept }: Remembered): number =>
  bytesOf(start) * kept.reduce((n, k) => n + (k ? 1 : 0), 1);

const wider = (box: CellBox, by: number): CellBox =>
  isEmptyBox(box) ? box : { i0: box.i0 - by, j0: box.j0 - by, i1: box.i1 + by, j1: box.j1 + by };

const margin = (tools: readonly Cutter[], map: HeightMap): number => {
  const largest = tools.reduce((most, c) => Math.max(most, c.diameter / 2), 0);
  return MARGIN + Math.ceil((DRILL_LOOKS.share * largest + DRILL_LOOKS.beyond) / map.cell);
};

const shifted = (e: PassEngagement | null | undefined, by: number): PassEngagement | null | undefined =>
  e ? { ...e, line: e.line + by } : e;
