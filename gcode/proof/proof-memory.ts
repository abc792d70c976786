import { type Change, cellsOf, changeOf, type KeyedPasses } from '../../toolpath/removal/changed-cells.ts';
import { type CutPath, cutPath } from '../../toolpath/removal/cut-path.ts';
import type { HeightMap } from '../../toolpath/removal/height-map.ts';
import type { MapExtent } from '../../toolpath/removal/map-extent.ts';
import type { WantedColumns } from '../../toolpath/removal/raster.ts';
import type { Motion, Reading } from '../reading/motion.ts';
import { type HeardPass, levelsOfPasses } from './levels.ts';
import { keyedPasses } from './pass-keys.ts';
import type { ProofInput, ProofSetup } from './proof.ts';
import type { KnownObstacles } from './reach.ts';
import { bytesOfSetup, type Remembered, type SetupMemory, setupMemory } from './setup-memory.ts';
import type { Wall } from './wall-faces.ts';
import { aroundCut, type KnownWalls, together, type WallMemory, wallMemory } from './wall-memory.ts';
import { columnsOf, type KnownColumns, type SlabText, slabTexts } from './wanted-change.ts';

/**
 * What passes came to in the proof before: a pass is taken over when its motions are the same, and of these only those
 * are cut again that come near a place where the work stands otherwise than it did, or is wanted otherwise, and only there. One proof at a time; of one that is given up
 * half way only the setup that was being cut is forgotten.
 */
export interface ProofMemory {
  /** Begins a proof of a part in a map of these cells, one reading to each setup. */
  readonly begin: (
    map: HeightMap,
    input: ProofInput,
    readings: readonly Reading[],
    wallBand: number,
  ) => KnownPart;
  /** A setup of the proof that was begun, about to be cut in the map, in which so much stands. */
  readonly setup: (index: number, map: HeightMap, extent: MapExtent) => SetupMemory;
  /**
   * Since the memory was made: motions cut and motions taken over; cells of the map looked at for pieces; cells of
   * which it was reckoned what is wanted there; passes asked what they bring to a wall; obstacles grown by the least
   * cutter; places on known walls that were
   * judged anew, and those that were taken over.
   */
  readonly counts: {
    cut: number;
    known: number;
    looked: number;
    reckoned: number;
    heard: number;
    grown: number;
    readonly places: { judged: number; known: number };
  };
}

/** What is known of the part before anything is cut. */
export interface KnownPart {
  readonly columns: WantedColumns;
  readonly walls: WallMemory;
  /** Obstacles of the proofs before. */
  readonly obstacles: Omit<KnownObstacles, 'texts'>;
  /** Heights at which each wall must be judged; null where they must be gathered from the text. */
  readonly levels: (walls: readonly Wall[]) => ReadonlyMap<Wall, readonly number[]> | null;
}

/** Memory that kept maps may fill, bytes. */
const MOST_MEMORY = 96e6;

/** A setup's program as it is to be proven. */
interface Begun {
  readonly task: ProofSetup;
  readonly passes: KeyedPasses;
  readonly firstLines: readonly number[];
  /** All of the cutters, as text. */
  readonly tools: string;
  readonly motions: readonly (readonly Motion[])[];
  readonly paths: readonly (readonly (CutPath | null)[])[];
  readonly heard: readonly HeardPass['heard'][];
}

export const proofMemory = (memory = MOST_MEMORY): ProofMemory => {
  const counts = {
    cut: 0,
    known: 0,
    looked: 0,
    reckoned: 0,
    heard: 0,
    grown: 0,
    places: { judged: 0, known: 0 },
  };
  const remembered: (Remembered | null)[] = [];
  /** Of the last proof that came to its end: what it cut, and the walls it left. */
  let finished: { readonly passes: readonly KeyedPasses[]; readonly walls: KnownWalls } | null = null;
  let begun: readonly Begun[] = [];
  let wanted: readonly SlabText[] = [];
  const obstacles: KnownObstacles['made'] = new Map();
  let columns: KnownColumns | null = null;
  let measured = false;
  let since: (old: KeyedPasses | undefined, now: KeyedPasses | undefined) => Change = changes();

  return {
    counts,
    begin: (map, input, readings, wallBand) => {
      const everywhere = input.engagement === 'everywhere';
      if (everywhere !== measured) remembered.length = 0;
      measured = everywhere;
      wanted = slabTexts(input.wanted, map);
      const made = columnsOf(input.wanted, wanted, map, wallBand, columns);
      columns = { map, wanted, band: wallBand, columns: made.columns };
      counts.reckoned += made.reckoned;
      since = changes();
      const before = begun;
      begun = input.setups.map((setup, k) => beginning(setup, k, readings[k]!, before[k], since));
      const passes = begun.map((setup) => setup.passes);
      const changed = finished ? aroundChanged(finished.passes, passes, since) : [];
      const keep = (walls: KnownWalls): void => {
        finished = { passes, walls };
      };
      const all = begun.flatMap(({ task, motions, paths, heard }): readonly HeardPass[] =>
        motions.map((own, k) => ({ setup: task, motions: own, paths: paths[k]!, heard: heard[k]! })),
      );
      return {
        columns: made.columns,
        obstacles: { made: obstacles, counts },
        walls: wallMemory(finished?.walls ?? null, changed, keep, counts.places),
        levels: (walls) => levelsOfPasses(walls, all, counts),
      };
    },
    setup: (index, map, extent) => {
      const thickness = Math.max(0, extent.high);
      const old = remembered[index] ?? null;
      remembered[index] = null;
      const { task, passes, paths, firstLines } = begun[index]!;
      const change = old && since(old.passes, passes);
      return setupMemory({
        map,
        uncut: index === 0,
        tools: task.tools,
        passes,
        paths,
        firstLines,
        wanted,
        old,
        change: change && { same: change.same, cells: cellsOf(change.cuts, map, thickness) },
        thickness,
        memory: memory - remembered.reduce((sum, r) => sum + (r ? bytesOfSetup(r) : 0), 0),
        counts,
        remember: (setup) => {
          remembered[index] = setup;
        },
      });
    },
  };
};

const NO_PASSES: KeyedPasses = { passes: [], cuts: [], keys: [] };

/** What differs between passes, looked for once. */
const changes = (): ((old: KeyedPasses | undefined, now: KeyedPasses | undefined) => Change) => {
  const known = new Map<KeyedPasses, Map<KeyedPasses, Change>>();
  return (old = NO_PASSES, now = NO_PASSES) => {
    const from = known.get(old) ?? new Map<KeyedPasses, Change>();
    known.set(old, from);
    const change = from.get(now) ?? changeOf(old, now);
    from.set(now, change);
    return change;
  };
};

/** A program's passes; the paths of those that were there before are taken over. */
const beginning = (
  task: ProofSetup,
  index: number,
  reading: Reading,
  before: Begun | undefined,
  since: (old: KeyedPasses, now: KeyedPasses) => Change,
): Begun => {
  const { passes, firstLines, motions } = keyedPasses(reading, task);
  const tools = JSON.stringify(task.tools);
  const cutters = new Map(task.tools.map((c) => [c.number, c]));
  // A path goes by the motion's key, its line and the whole of the cutter.
  const same = before ? since(before.passes, passes).same : null;
  const alike = before?.tools === tools;
  const paths = motions.map((all, pass) => {
    const place = same?.[pass] ?? -1;
    if (alike && place === pass && before!.firstLines[pass] === firstLines[pass]) return before!.paths[pass]!;
    return all.map((motion) => {
      const cutter = cutters.get(motion.tool);
      return cutter ? cutPath(motion, cutter, task.frame, { setup: index, pass }) : null;
    });
  });
  // What a pass brings to walls goes by its key alone.
  const heard = motions.map(
    (_, pass) => before?.heard[same?.[pass] ?? -1] ?? new Map<string, readonly number[]>(),
  );
  return { task, passes, firstLines, tools, motions, paths, heard };
};

/** Where walls may be met otherwise than before. */
const aroundChanged = (
  old: readonly KeyedPasses[],
  now: readonly KeyedPasses[],
  since: (old: KeyedPasses | undefined, now: KeyedPasses | undefined) => Change,
) => {
  const count = Math.max(old.length, now.length);
  const cuts = Array.from({ length: count }, (_, k) => since(old[k], now[k]).cuts).flat();
  return together(cuts.filter((c) => c.stroke.kind !== 'rapid').map(aroundCut));
};
