import { type CutPath, lowestTip } from '../../toolpath/removal/cut-path.ts';
import { newRecord } from '../../toolpath/removal/cut-record.ts';
import { barMap, chooseCell } from '../../toolpath/removal/height-map.ts';
import { extentOf, uncutExtent } from '../../toolpath/removal/map-extent.ts';
import { wantedColumns } from '../../toolpath/removal/raster.ts';
import type { Reading } from '../reading/motion.ts';
import { readProgram } from '../reading/read.ts';
import type { ProofFinding } from './finding.ts';
import { indexSolid } from './gouge.ts';
import { clearOf, holdingOf } from './hold.ts';
import { type Bridge, inBridge, leftovers } from './leftover.ts';
import { levelGatherer } from './levels.ts';
import { dropLoosePieces } from './pieces.ts';
import type { Proof, ProofInput, ProofSetupReport } from './proof.ts';
import type { ProofMemory } from './proof-memory.ts';
import { reachOf } from './reach.ts';
import { engagementFindings } from './report-engagement.ts';
import { excessFindings } from './report-excess.ts';
import { faultFindings } from './report-faults.ts';
import { watchGouges } from './report-gouges.ts';
import { holdFindings } from './report-hold.ts';
import { runSetup } from './run-setup.ts';
import { watchShanks } from './shank.ts';
import { type ProgramSource, readingSource, textSource } from './source.ts';
import { stockBox } from './stock-box.ts';
import { type Wall, wallsOf } from './wall-faces.ts';
import { type WallExcess, watchWalls } from './walls.ts';

/** Walls nearer than this many cells are left to the exact check. */
const WALL_BAND = 1.5;
const RAPID_SPEED = 2000;
/** Floats of heights and distances are good to this; a part exactly at a tolerance fits, mm. */
const ROUNDING = 1e-5;

/** How far a proof is. */
export interface ProofProgress {
  readonly kind: 'reading' | 'cutting' | 'comparing';
  /** Number of the setup. */
  readonly setup: number;
  /** Share of all that is to be done, 0 to 1. */
  readonly share: number;
}

/**
 * Reads the programs back, cuts the bar with them and compares with the wanted part.
 *
 * Gouges and the shortfall of walls are exact geometry of the swept cutter against the wanted lines and arcs (errors
 * at most 0.0005 mm); floors, webs and what else is left standing come from the height map, exact in Z and good to
 * one cell in plan. Throws a RangeError only for a bar of no size.
 */
export const prove = (input: ProofInput, memory: ProofMemory | null = null): Proof =>
  atOnce(proveInSteps(input, memory));

/** The same for programs already read: one reading to each setup, in order. */
export const proveReadings = (input: ProofInput, readings: readonly Reading[]): Proof =>
  atOnce(proveSources(input, readings.map(readingSource)));

/**
 * The same in steps of some thousand motions: whoever takes them may tell how far it is, and stop between any two.
 * Programs may have a million lines; none of their motions is kept. With a memory, what the last proof found of passes
 * that are the same and concerned by no change is taken over; what comes out is the same.
 */
export const proveInSteps = (
  input: ProofInput,
  memory: ProofMemory | null = null,
): Generator<ProofProgress, Proof> => {
  const texts = input.setups.map((setup) => setup.text);
  // A program that is remembered is read once, and its motions are kept.
  const few = texts.reduce((sum, text) => sum + text.length, 0) <= MOST_REMEMBERED;
  if (!memory || !few) return proveSources(input, texts.map(textSource));
  const readings = texts.map(readProgram);
  return proveSources(input, readings.map(readingSource), { memory, readings });
};

/** Programs longer than this, characters, are not remembered. */
const MOST_REMEMBERED = 2e6;

interface Remembering {
  readonly memory: ProofMemory;
  readonly readings: readonly Reading[];
}

const atOnce = (steps: Generator<ProofProgress, Proof>): Proof => {
  for (;;) {
    const step = steps.next();
    if (step.done) return step.value;
  }
};

/** Shares of the whole that reading and cutting take; the rest is comparing. */
const SHARES = { reading: 0.1, cutting: 0.85 };

function* proveSources(
  input: ProofInput,
  sources: readonly ProgramSource[],
  remembering: Remembering | null = null,
): Generator<ProofProgress, Proof> {
  const { bar, wanted } = input;
  const tolerance = {
    gouge: input.tolerance.gouge + ROUNDING,
    excess: input.tolerance.excess + ROUNDING,
  };
  const cell = input.cell ?? chooseCell(bar, wanted);
  const map = barMap(bar, cell);
  const band = WALL_BAND * cell;
  const known = remembering?.memory.begin(map, input, remembering.readings, band) ?? null;
  const columns = known?.columns ?? wantedColumns(map, wanted, band);
  const isWanted = (i: number): boolean => columns.top[i]! > columns.bottom[i]!;
  const slabs = indexSolid(wanted);
  const everywhere = input.engagement === 'everywhere';
  const measured = everywhere || input.setups.some((s) => (s.limits ?? []).length > 0);
  const rim = { record: measured ? newRecord(bar) : null, everywhere };
  const whole = Math.max(
    1,
    sources.reduce((sum, source) => sum + source.length, 0),
  );
  const allWalls = wallsOf(wanted);
  const levels = known?.levels(allWalls.walls) ?? (yield* levelsOf(input, sources, whole, allWalls.walls));
  const walls = watchWalls(bar, wanted, allWalls, levels, known?.walls ?? null);
  const findings: ProofFinding[] = [];
  const runs: Omit<ProofSetupReport, 'number'>[] = [];
  let done = 0;
  for (const [k, setup] of input.setups.entries()) {
    const source = sources[k]!;
    const extent = k === 0 ? uncutExtent(map) : extentOf(map);
    const stock = stockBox(bar, map, extent, setup);
    const holding = holdingOf(bar, setup.hold, setup.frame, map, extent);
    const clear = clearOf(holding);
    const gouges = watchGouges(slabs, setup, tolerance.gouge);
    const shanks = watchShanks(slabs, setup);
    const amiss: CutPath[] = [];
    const memory = remembering?.memory.setup(k, map, extent) ?? null;
    const run = yield* shares(
      runSetup({
        map,
        columns,
        setup,
        index: k,
        source,
        holding,
        over: setup.frame.face === 'front' ? extent.high : -extent.low,
        rapidSpeed: input.rapid ?? RAPID_SPEED,
        rim,
        memory,
        meet: (path, clean) => {
          const gouged = !clean && gouges.meet(path);
          shanks.meet(path);
          walls.meet(path);
          const low = lowestTip(path) < clear && amiss.length < MOST_HITS;
          const hits = low && holdFindings([path], [], holding, setup, bar);
          if (hits && hits.findings.length > 0) amiss.push(path);
          return gouged;
        },
      }),
      (read) => ({
        kind: 'cutting',
        setup: setup.number,
        share: SHARES.reading + (SHARES.cutting * (done + read)) / whole,
      }),
    );
    const rows = memory?.close();
    done += source.length;
    const hold = holdFindings(amiss, run.groups, holding, setup, bar);
    findings.push(
      ...faultFindings(setup, run.ending),
      ...run.findings,
      ...engagementFindings(setup, run.passes),
      ...gouges.findings(run.groups),
      ...hold.findings,
      ...shanks.findings(run.groups),
    );
    runs.push({
      stock_mm: stock,
      tools: run.tools.map((c) => ({ number: c.number, kind: c.kind, diameter_mm: c.diameter })),
      gougeMax_mm: gouges.deepest(),
      // Known when all setups are cut.
      excessMax_mm: 0,
      rapidsInStock: run.rapidsInStock,
      jawHits: hold.jawHits,
      cutLength_mm: run.cutLength,
      rapidLength_mm: run.rapidLength,
      time_s: run.time,
      passes: run.passes,
    });
    dropLoosePieces(map, isWanted, rows);
  }
  yield {
    kind: 'comparing',
    setup: input.setups.at(-1)?.number ?? 1,
    share: SHARES.reading + SHARES.cutting,
  };
  const texts = allWalls.bySlab.map((own) => own.map((wall) => wall.key));
  const reach = reachOf(
    wanted,
    input.owned ?? input.setups.flatMap((s) => s.tools),
    known && { ...known.obstacles, texts },
  );
  const bridges = input.bridges ?? [];
  const excess = excessFindings({
    input: { ...input, tolerance },
    map,
    walls: walls.excesses(tolerance.excess, (place) => besideBridge(place, bridges)),
    leftovers: leftovers(bar, wanted, map, columns, reach, tolerance.excess, bridges),
    reach,
  });
  findings.push(...excess.findings);
  const setups = input.setups.map(
    ({ number }, k): ProofSetupReport => ({
      number,
      ...runs[k]!,
      excessMax_mm: excess.bySetup[k]!,
    }),
  );
  const gougeMax = largest(setups.map((s) => s.gougeMax_mm));
  const fits =
    gougeMax <= tolerance.gouge &&
    excess.largest <= tolerance.excess &&
    !findings.some((f) => f.severity === 'error') &&
    setups.every((s) => s.rapidsInStock === 0 && s.jawHits === 0);
  return {
    verdict: fits ? 'fits' : 'does not fit',
    findings: inOrder(findings),
    setups,
    gougeMax_mm: gougeMax,
    excessMax_mm: excess.largest,
    resolution_mm: cell,
  };
}

/** A program that hits the vice more often than this has been told of it. */
const MOST_HITS = 5000;

/** Each program gone through once beforehand, for the heights at which walls have to be judged. */
function* levelsOf(
  input: ProofInput,
  sources: readonly ProgramSource[],
  whole: number,
  walls: readonly Wall[],
): Generator<ProofProgress, ReadonlyMap<Wall, readonly number[]>> {
  const gatherer = levelGatherer(walls);
  let done = 0;
  for (const [k, setup] of input.setups.entries()) {
    const cutters = new Map(setup.tools.map((c) => [c.number, c]));
    for (const { motions, read } of sources[k]!.steps()) {
      gatherer.take(motions, setup, cutters);
      yield { kind: 'reading', setup: setup.number, share: (SHARES.reading * (done + read)) / whole };
    }
    done += sources[k]!.length;
  }
  return gatherer.levels();
}

/** The steps of one part of the work, told as steps of the whole. */
function* shares<T>(
  steps: Generator<number, T>,
  progress: (done: number) => ProofProgress,
): Generator<ProofProgress, T> {
  for (;;) {
    const step = steps.next();
    if (step.done) return step.value;
    yield progress(step.value);
  }
}

/** Heights that a bridge's foot may stand above its stated height, mm. */
const BRIDGE_SLACK = 0.05;

/** A cutter that lifts over a bridge leaves a fillet of its own radius beside it: that is the bridge's, not the wall's. */
const besideBridge = (place: WallExcess, bridges: readonly Bridge[]): boolean =>
  bridges.some((b) => place.top - place.bottom <= b.height + BRIDGE_SLACK && inBridge(b, place.place));

const largest = (values: readonly number[]): number => values.reduce((a, b) => Math.max(a, b), 0);

const GRAVITY = { error: 0, warning: 1, note: 2 } as const;

/** Errors first, then warnings, then notes; each in the order they were found. */
const inOrder = (findings: readonly ProofFinding[]): readonly ProofFinding[] =>
  [...findings].sort((a, b) => GRAVITY[a.severity] - GRAVITY[b.severity]);
