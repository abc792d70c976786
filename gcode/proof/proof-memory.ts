import { type Change, cellsOf, changeOf, type KeyedPasses } from '../../toolpath/removal/changed-cells.ts';
import { type CutPath, cutPath } from '../../toolpath/removal/cut-path.ts';
import type { HeightMap } from '../../toolpath/removal/height-map.ts';
import { extentOf } from '../../toolpath/removal/map-extent.ts';
import type { Reading } from '../reading/motion.ts';
import { keyedPasses } from './pass-keys.ts';
import type { ProofInput, ProofSetup } from './proof.ts';
import { bytesOfSetup, type Remembered, type SetupMemory, setupMemory } from './setup-memory.ts';
import { aroundCut, type KnownWalls, together, type WallMemory, wallMemory } from './wall-memory.ts';
import { type SlabText, slabTexts } from './wanted-change.ts';

/**
 * What passes came to in the proof before: a pass is taken over when its motions are the same, and of these only those
 * are cut again that come near a place where the work stands otherwise than it did, or is wanted otherwise, and only there. One proof at a time; of one that is given up
 * half way only the setup that was being cut is forgotten.
 */
export interface ProofMemory {
  /** Begins a proof of a part in a map of these cells, one reading to each setup; gives what is known of its walls. */
  readonly begin: (map: HeightMap, input: ProofInput, readings: readonly Reading[]) => WallMemory;
  /** A setup of the proof that was begun, about to be cut in the map. */
  readonly setup: (index: number, map: HeightMap) => SetupMemory;
  /**
   * Since the memory was made: motions cut and motions taken over; rows of the map looked through for pieces; places on
   * known walls that were judged anew, and those that were taken over.
   */
  readonly counts: {
    cut: number;
    known: number;
    looked: number;
    readonly places: { judged: number; known: number };
  };
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
  readonly paths: readonly (readonly (CutPath | null)[])[];
}

export const proofMemory = (memory = MOST_MEMORY): ProofMemory => {
  const counts = { cut: 0, known: 0, looked: 0, places: { judged: 0, known: 0 } };
  const remembered: (Remembered | null)[] = [];
  /** Of the last proof that came to its end: what it cut, and the walls it left. */
  let finished: { readonly passes: readonly KeyedPasses[]; readonly walls: KnownWalls } | null = null;
  let begun: readonly Begun[] = [];
  let wanted: readonly SlabText[] = [];
  let measured = false;
  let since: (old: KeyedPasses | undefined, now: KeyedPasses | undefined) => Change = changes();

  return {
    counts,
    begin: (map, input, readings) => {
      const everywhere = input.engagement === 'everywhere';
      if (everywhere !== measured) remembered.length = 0;
      measured = everywhere;
      wanted = slabTexts(input.wanted, map);
      since = changes();
      const before = begun;
      begun = input.setups.map((setup, k) => beginning(setup, k, readings[k]!, before[k], since));
      const passes = begun.map((setup) => setup.passes);
      const changed = finished ? aroundChanged(finished.passes, passes, since) : [];
      const keep = (walls: KnownWalls): void => {
        finished = { passes, walls };
      };
      return wallMemory(finished?.walls ?? null, changed, keep, counts.places);
    },
    setup: (index, map) => {
      const old = remembered[index] ?? null;
      remembered[index] = null;
      const { task, passes, paths, firstLines } = begun[index]!;
      const thickness = Math.max(0, extentOf(map).high);
      const change = old && since(old.passes, passes);
      return setupMemory({
        map,
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
  const same = before && before.tools === tools ? since(before.passes, passes).same : null;
  const paths = motions.map((all, pass) => {
    const place = same?.[pass] ?? -1;
    if (place === pass && before!.firstLines[pass] === firstLines[pass]) return before!.paths[pass]!;
    return all.map((motion) => {
      const cutter = cutters.get(motion.tool);
      return cutter ? cutPath(motion, cutter, task.frame, { setup: index, pass }) : null;
    });
  });
  return { task, passes, firstLines, tools, paths };
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
