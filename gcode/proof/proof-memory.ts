import type { Cutter } from '../../toolpath/machine/cutter.ts';
import { changeOf, copyCells, type KeyedPasses } from '../../toolpath/removal/changed-cells.ts';
import {
  bothBoxes,
  boxesMeet,
  cellsUnder,
  isEmptyBox,
  mayTouch,
  NO_CELLS,
} from '../../toolpath/removal/cut.ts';
import { type CellBox, copyMap, type HeightMap } from '../../toolpath/removal/height-map.ts';
import type { WantedColumns } from '../../toolpath/removal/raster.ts';
import type { Reading } from '../reading/motion.ts';
import { keyedPasses } from './pass-keys.ts';
import { passGroups } from './passes.ts';
import type { PassEngagement, ProofInput, ProofSetup } from './proof.ts';
import {
  type Around,
  aroundCut,
  type KnownWalls,
  together,
  type WallMemory,
  wallMemory,
} from './wall-memory.ts';
import { changedWanted, type SlabText, slabTexts } from './wanted-change.ts';

/** What cutting a pass came to, but for what is told of pieces that come free. */
export interface PassOutcome {
  /** Cells that were cut through. */
  readonly opened: number;
  readonly webLeft: number | null;
  /** As in `ProofPass`: undefined where it was not measured. */
  readonly engagement: PassEngagement | null | undefined;
  /** Whether any motion went into the wanted part. */
  readonly gouged: boolean;
}

/** A pass that need not be cut again, or not all of it. */
export interface KnownPass extends PassOutcome {
  /** The cells in which some of its motions are to be cut again; null where none is. */
  readonly within: CellBox | null;
  /** Whether a motion, by its number in the pass, is to be cut and judged again there. */
  readonly again: (motion: number) => boolean;
  /** What the rest of it came to, the map standing but for `within` as it stood before the pass. */
  readonly rest: (map: HeightMap, columns: WantedColumns) => Pick<PassOutcome, 'opened' | 'webLeft'>;
  /** Puts the map into the state after it; the outcome is kept, but where something went amiss (null). */
  readonly apply: (map: HeightMap, outcome: PassOutcome | null) => void;
}

/** One setup's passes, by their number. */
export interface SetupMemory {
  /** What is known of a pass, the map standing as it stands before it. */
  readonly known: (pass: number) => KnownPass | null;
  /** Keeps what a pass came to, with the map after it. */
  readonly keep: (pass: number, outcome: PassOutcome, map: HeightMap) => void;
  /** The setup is done. */
  readonly close: () => void;
}

/**
 * What passes came to in the proof before: a pass is taken over when its motions are the same, and of these only those
 * are cut again that come near a place where the work stands otherwise than it did, or is wanted otherwise, and only there. One proof at a time; of one that is given up
 * half way only the setup that was being cut is forgotten.
 */
export interface ProofMemory {
  /** Begins a proof of a part in a map of these cells, one reading to each setup; gives what is known of its walls. */
  readonly begin: (map: HeightMap, input: ProofInput, readings: readonly Reading[]) => WallMemory;
  readonly setup: (index: number, map: HeightMap, setup: ProofSetup, reading: Reading) => SetupMemory;
  /**
   * Since the memory was made: motions cut and motions taken over; places on known walls that were judged anew, and those
   * that were taken over.
   */
  readonly counts: { cut: number; known: number; readonly places: { judged: number; known: number } };
}

/** A skin thinner than this is nothing, mm. */
export const NO_WEB = 1e-3;
/** Memory that kept maps may fill, bytes. */
const MOST_MEMORY = 96e6;
/** Round a cutter's cells, those it is measured by as well. */
const MARGIN = 4;
/** A drill may look this much beyond its radius for the hole that it is meant for, mm, and as a share of the radius. */
const DRILL_LOOKS = { share: 0.15, beyond: 0.15 };

interface Kept extends PassOutcome {
  readonly map: HeightMap;
  readonly firstLine: number;
}

interface Remembered {
  readonly start: HeightMap;
  readonly passes: KeyedPasses;
  readonly boxes: readonly (readonly CellBox[])[];
  readonly wanted: readonly SlabText[];
  readonly kept: (Kept | null)[];
}

export const proofMemory = (memory = MOST_MEMORY): ProofMemory => {
  const counts = { cut: 0, known: 0, places: { judged: 0, known: 0 } };
  const remembered: (Remembered | null)[] = [];
  /** Of the last proof that came to its end: what it cut, and the walls it left. */
  let finished: { readonly passes: readonly KeyedPasses[]; readonly walls: KnownWalls } | null = null;
  let begun: readonly KeyedPasses[] = [];
  let wanted: readonly SlabText[] = [];
  let measured = false;

  const setup: ProofMemory['setup'] = (index, map, task, reading) => {
    const old = remembered[index] ?? null;
    remembered[index] = null;
    let bytes = remembered.reduce((sum, r) => sum + (r ? bytesOf(r.start) * (1 + countOf(r.kept)) : 0), 0);
    const start = copyMap(map);
    const passes = begun[index]!;
    const thickness = highest(start);
    const boxes = passes.passes.map((pass) => pass.map((cut) => cellsUnder(cut, map, thickness)));
    const now: Remembered = { start, passes, boxes, wanted, kept: passes.keys.map(() => null) };
    const firstLines = passGroups(reading).map((g) => reading.motions[g.first]!.line);
    const change = old && sameGrid(old.start, start) ? changeOf(old.passes, passes, map, thickness) : null;
    const where = old && change ? changedWanted(old.wanted, wanted, map) : null;
    const cells =
      old && change && where
        ? bothBoxes(bothBoxes(change.cells, where), differingCells(old.start, start))
        : null;
    const near = cells && wider(cells, margin(task.tools, map));
    const known = (pass: number): KnownPass | null => {
      const place = change?.same[pass] ?? -1;
      const kept = old?.kept[place];
      if (!cells || !near || !kept) return null;
      const own = boxes[pass]!;
      const again = passes.passes[pass]!.map((cut) => mayTouch(cut, near, map, thickness));
      const count = again.filter(Boolean).length;
      // The rim is measured in what stands all round it.
      if (count > 0 && kept.engagement !== undefined) return null;
      counts.cut += count;
      counts.known += own.length - count;
      const shift = firstLines[pass]! - kept.firstLine;
      const all = own.reduce(bothBoxesOf, NO_CELLS);
      return {
        ...kept,
        engagement: shifted(kept.engagement, shift),
        within: count > 0 ? cells : null,
        again: (motion) => again[motion]!,
        rest: (current, columns) => (count > 0 ? takenBeside(current, kept.map, all, cells, columns) : kept),
        apply: (current, outcome) => {
          patch(kept.map, current, all, cells);
          if (outcome === null) return;
          if (!isEmptyBox(cells)) copyCells(current, kept.map, cells);
          now.kept[pass] = { ...outcome, map: kept.map, firstLine: firstLines[pass]! };
          bytes += bytesOf(start);
        },
      };
    };
    return {
      known,
      keep: (pass, outcome, after) => {
        counts.cut += boxes[pass]?.length ?? 0;
        if (pass >= now.kept.length || bytes + bytesOf(start) > memory) return;
        now.kept[pass] = { ...outcome, map: copyMap(after), firstLine: firstLines[pass]! };
        bytes += bytesOf(start);
      },
      close: () => {
        remembered[index] = now;
      },
    };
  };
  return {
    counts,
    begin: (map, input, readings) => {
      const everywhere = input.engagement === 'everywhere';
      if (everywhere !== measured) remembered.length = 0;
      measured = everywhere;
      wanted = slabTexts(input.wanted, map);
      const passes = input.setups.map((setup, k) => keyedPasses(readings[k]!, setup));
      begun = passes;
      const changed = finished ? aroundChanged(finished.passes, passes, map) : [];
      const keep = (walls: KnownWalls): void => {
        finished = { passes, walls };
      };
      return wallMemory(finished?.walls ?? null, changed, keep, counts.places);
    },
    setup,
  };
};

/** Where walls may be met otherwise than before. */
const aroundChanged = (
  old: readonly KeyedPasses[],
  now: readonly KeyedPasses[],
  map: HeightMap,
): readonly Around[] => {
  const none: KeyedPasses = { passes: [], cuts: [], keys: [] };
  const count = Math.max(old.length, now.length);
  const cuts = Array.from(
    { length: count },
    (_, k) => changeOf(old[k] ?? none, now[k] ?? none, map, highest(map)).cuts,
  ).flat();
  return together(cuts.filter((c) => c.stroke.kind !== 'rapid').map(aroundCut));
};

const bothBoxesOf = (a: CellBox, b: CellBox): CellBox => (isEmptyBox(b) ? a : bothBoxes(a, b));

const countOf = (kept: readonly (Kept | null)[]): number => kept.reduce((n, k) => n + (k ? 1 : 0), 0);

const bytesOf = (map: HeightMap): number => map.top.byteLength + map.bottom.byteLength;

const highest = ({ top }: HeightMap): number => {
  let most = 0;
  for (let i = 0; i < top.length; i++) if (top[i]! > most) most = top[i]!;
  return most;
};

const sameGrid = (a: HeightMap, b: HeightMap): boolean =>
  a.cell === b.cell && a.columns === b.columns && a.rows === b.rows && a.x0 === b.x0 && a.y0 === b.y0;

/** The box round all cells that stand otherwise in one map than in the other. */
const differingCells = (a: HeightMap, b: HeightMap): CellBox => {
  let cells = NO_CELLS;
  for (let j = 0; j < a.rows; j++) {
    const row = j * a.columns;
    const differs = (i: number): boolean =>
      a.top[row + i] !== b.top[row + i] || a.bottom[row + i] !== b.bottom[row + i];
    let i0 = 0;
    while (i0 < a.columns && !differs(i0)) i0++;
    if (i0 === a.columns) continue;
    let i1 = a.columns - 1;
    while (!differs(i1)) i1--;
    cells = bothBoxes(cells, { i0, i1, j0: j, j1: j });
  }
  return cells;
};

const wider = (box: CellBox, by: number): CellBox =>
  isEmptyBox(box) ? box : { i0: box.i0 - by, j0: box.j0 - by, i1: box.i1 + by, j1: box.j1 + by };

const margin = (tools: readonly Cutter[], map: HeightMap): number => {
  const largest = tools.reduce((most, c) => Math.max(most, c.diameter / 2), 0);
  return MARGIN + Math.ceil((DRILL_LOOKS.share * largest + DRILL_LOOKS.beyond) / map.cell);
};

/** What a pass took beside some cells, from the maps before and after it. */
const takenBeside = (
  before: HeightMap,
  after: HeightMap,
  box: CellBox,
  without: CellBox,
  columns: WantedColumns,
): Pick<PassOutcome, 'opened' | 'webLeft'> => {
  let opened = 0;
  let least = Number.POSITIVE_INFINITY;
  const look = (first: number, end: number): void => {
    for (let i = first; i < end; i++) {
      if (before.top[i] === after.top[i] && before.bottom[i] === after.bottom[i]) continue;
      const left = after.top[i]! - after.bottom[i]!;
      if (left <= 0) opened++;
      else if (left > NO_WEB && left < least && columns.top[i]! <= columns.bottom[i]!) least = left;
    }
  };
  for (let j = box.j0; j <= box.j1; j++) {
    const row = j * before.columns;
    const crossed = j >= without.j0 && j <= without.j1;
    look(row + box.i0, row + (crossed ? Math.min(box.i1 + 1, without.i0) : box.i1 + 1));
    if (crossed) look(row + Math.max(box.i0, without.i1 + 1), row + box.i1 + 1);
  }
  return { opened, webLeft: Number.isFinite(least) ? least : null };
};

/** Puts cells of one map into another, but not those that are to stay. */
const patch = (from: HeightMap, to: HeightMap, box: CellBox, stay: CellBox): void => {
  if (isEmptyBox(box)) return;
  if (isEmptyBox(stay) || !boxesMeet(box, stay)) {
    copyCells(from, to, box);
    return;
  }
  const { i0, j0, i1, j1 } = box;
  const [low, high] = [Math.max(j0, stay.j0), Math.min(j1, stay.j1)];
  for (const part of [
    { i0, i1, j0, j1: low - 1 },
    { i0, i1, j0: high + 1, j1 },
    { i0, i1: Math.min(i1, stay.i0 - 1), j0: low, j1: high },
    { i0: Math.max(i0, stay.i1 + 1), i1, j0: low, j1: high },
  ]) {
    if (!isEmptyBox(part)) copyCells(from, to, part);
  }
};

const shifted = (e: PassEngagement | null | undefined, by: number): PassEngagement | null | undefined =>
  e ? { ...e, line: e.line + by } : e;
