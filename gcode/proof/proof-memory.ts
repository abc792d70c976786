import type { Solid } from '../../sketch/part/solid.ts';
import { regionBox } from '../../sketch/shape/region.ts';
import type { Cutter } from '../../toolpath/machine/cutter.ts';
import { changeOf, copyCells, type KeyedPasses } from '../../toolpath/removal/changed-cells.ts';
import {
  bothBoxes,
  boxesMeet,
  type CellBox,
  type Cut,
  cellsUnder,
  cutKey,
  isEmptyBox,
  mayTouch,
  NO_CELLS,
} from '../../toolpath/removal/cut.ts';
import { copyMap, type HeightMap } from '../../toolpath/removal/height-map.ts';
import type { Motion, Reading } from '../reading/motion.ts';
import { passGroups } from './passes.ts';
import type { PassEngagement, ProofSetup } from './proof.ts';

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

/** A pass that need not be cut again. */
export interface KnownPass extends PassOutcome {
  /** Puts the map into the state after it. */
  readonly apply: (map: HeightMap) => void;
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
 * What passes came to in the proof before: a pass is taken over when its motions are the same and go nowhere near a
 * place where the work stands otherwise than it did, or is wanted otherwise. One proof at a time; of one that is given up
 * half way only the setup that was being cut is forgotten.
 */
export interface ProofMemory {
  /** Begins a proof of a part in a map of these cells; `everywhere` when the rim is measured in every pass. */
  readonly begin: (map: HeightMap, wanted: Solid, everywhere: boolean) => void;
  readonly setup: (index: number, map: HeightMap, setup: ProofSetup, reading: Reading) => SetupMemory;
  /** Motions cut and motions taken over since the memory was made. */
  readonly counts: { cut: number; known: number };
}

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

interface SlabText {
  readonly heights: string;
  readonly contours: ReadonlyMap<string, CellBox>;
}

export const proofMemory = (memory = MOST_MEMORY): ProofMemory => {
  const counts = { cut: 0, known: 0 };
  const remembered: (Remembered | null)[] = [];
  let wanted: readonly SlabText[] = [];
  let measured = false;

  const setup: ProofMemory['setup'] = (index, map, task, reading) => {
    const old = remembered[index] ?? null;
    remembered[index] = null;
    let bytes = remembered.reduce((sum, r) => sum + (r ? bytesOf(r.start) * (1 + countOf(r.kept)) : 0), 0);
    const start = copyMap(map);
    const passes = keyedPasses(reading, task);
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
      if (passes.passes[pass]!.some((cut) => mayTouch(cut, near, map, thickness))) return null;
      counts.known += own.length;
      const shift = firstLines[pass]! - kept.firstLine;
      const apply = (current: HeightMap): void => {
        patch(kept.map, current, own.reduce(bothBoxesOf, NO_CELLS), cells);
        if (!isEmptyBox(cells)) copyCells(current, kept.map, cells);
        now.kept[pass] = {
          ...kept,
          firstLine: firstLines[pass]!,
          engagement: shifted(kept.engagement, shift),
        };
        bytes += bytesOf(start);
      };
      return { ...kept, engagement: shifted(kept.engagement, shift), apply };
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
    begin: (map, solid, everywhere) => {
      if (everywhere !== measured) remembered.length = 0;
      measured = everywhere;
      wanted = slabTexts(solid, map);
    },
    setup,
  };
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

/** A program's passes, each with all that cutting and judging it goes by as text. */
const keyedPasses = (reading: Reading, setup: ProofSetup): KeyedPasses => {
  const cutters = new Map(setup.tools.map((c) => [c.number, c]));
  const cuts: string[][] = [];
  const keys: string[] = [];
  const passes = passGroups(reading).map((group): readonly Cut[] => {
    const motions = reading.motions.slice(group.first, group.end);
    const first = motions[0]!.line;
    const limit = setup.limits?.find((l) => l.step === group.step)?.engagement ?? null;
    const made: Cut[] = [];
    const texts: string[] = [];
    for (const motion of motions) {
      const cutter = cutters.get(motion.tool);
      texts.push(cutter ? motionKey(motion, cutter, setup) : `${motion.tool}`);
      made.push({
        stroke: motion,
        cutter: cutter ?? { kind: 'endmill', diameter: 0, pointAngle: Math.PI },
        frame: setup.frame,
      });
    }
    cuts.push(texts);
    const lines = motions.map((m) => m.line - first).join();
    keys.push(`${group.step}|${group.label}|${group.kind}|${limit}|${lines}\n${texts.join('\n')}`);
    return made;
  });
  return { passes, cuts, keys };
};

const motionKey = (motion: Motion, cutter: Cutter, { frame }: ProofSetup): string =>
  `${cutKey({ stroke: motion, cutter, frame })};${motion.kind},${motion.tool},${cutter.fluteLength},${motion.speed === 0}`;

const slabTexts = (solid: Solid, map: HeightMap): readonly SlabText[] =>
  solid.slabs.map(({ bottom, top, region }) => ({
    heights: `${bottom},${top}`,
    contours: new Map(
      region.contours.map((contour) => {
        const { min, max } = regionBox({ contours: [contour] })!;
        const column = (x: number): number => Math.floor((x - map.x0) / map.cell);
        const row = (y: number): number => Math.floor((y - map.y0) / map.cell);
        const box = { i0: column(min.x) - 1, i1: column(max.x) + 1, j0: row(min.y) - 1, j1: row(max.y) + 1 };
        return [JSON.stringify(contour), box];
      }),
    ),
  }));

/** Cells in which another shape is wanted than before; null where it is another stack of slabs. */
const changedWanted = (
  old: readonly SlabText[],
  now: readonly SlabText[],
  map: HeightMap,
): CellBox | null => {
  if (old.length !== now.length || old.some((s, k) => s.heights !== now[k]!.heights)) return null;
  let cells = NO_CELLS;
  old.forEach(({ contours }, k) => {
    const others = now[k]!.contours;
    for (const [text, box] of contours) if (!others.has(text)) cells = bothBoxes(cells, box);
    for (const [text, box] of others) if (!contours.has(text)) cells = bothBoxes(cells, box);
  });
  if (isEmptyBox(cells)) return cells;
  const within = (v: number, most: number): number => Math.max(0, Math.min(most - 1, v));
  return {
    i0: within(cells.i0, map.columns),
    i1: within(cells.i1, map.columns),
    j0: within(cells.j0, map.rows),
    j1: within(cells.j1, map.rows),
  };
};
