import { barMap, chooseCell } from '../../toolpath/removal/height-map.ts';
import { wantedColumns } from '../../toolpath/removal/raster.ts';
import type { Reading } from '../reading/motion.ts';
import { readProgram } from '../reading/read.ts';
import type { CutPath } from './cut-path.ts';
import { newRecord } from './cut-record.ts';
import type { ProofFinding } from './finding.ts';
import { type Gouge, gougeOf, indexSolid } from './gouge.ts';
import { type Holding, holdingOf } from './hold.ts';
import { type Bridge, inBridge, leftovers } from './leftover.ts';
import { dropLoosePieces } from './pieces.ts';
import type { Proof, ProofInput, ProofSetupReport } from './proof.ts';
import { reachOf } from './reach.ts';
import { engagementFindings } from './report-engagement.ts';
import { excessFindings } from './report-excess.ts';
import { faultFindings } from './report-faults.ts';
import { gougeFindings } from './report-gouges.ts';
import { holdFindings } from './report-hold.ts';
import { runSetup, type SetupRun, stockBox } from './run-setup.ts';
import { shankFindings } from './shank.ts';
import { type WallExcess, wallExcesses } from './walls.ts';

/** Walls nearer than this many cells are left to the exact check. */
const WALL_BAND = 1.5;
const RAPID_SPEED = 2000;
/** Floats of heights and distances are good to this; a part exactly at a tolerance fits, mm. */
const ROUNDING = 1e-5;

/**
 * Reads the programs back, cuts the bar with them and compares with the wanted part.
 *
 * Gouges and the shortfall of walls are exact geometry of the swept cutter against the wanted lines and arcs (errors
 * at most 0.0005 mm); floors, webs and what else is left standing come from the height map, exact in Z and good to
 * one cell in plan. Throws a RangeError only for a bar of no size.
 */
export const prove = (input: ProofInput): Proof =>
  proveReadings(
    input,
    input.setups.map((setup) => readProgram(setup.text)),
  );

/** The same for programs already read: one reading to each setup, in order. */
export const proveReadings = (input: ProofInput, readings: readonly Reading[]): Proof => {
  const { bar, wanted } = input;
  const tolerance = {
    gouge: input.tolerance.gouge + ROUNDING,
    excess: input.tolerance.excess + ROUNDING,
  };
  const cell = input.cell ?? chooseCell(bar, wanted);
  const map = barMap(bar, cell);
  const columns = wantedColumns(map, wanted, WALL_BAND * cell);
  const isWanted = (i: number): boolean => columns.top[i]! > columns.bottom[i]!;
  const slabs = indexSolid(wanted);
  const everywhere = input.engagement === 'everywhere';
  const measured = everywhere || input.setups.some((s) => (s.limits ?? []).length > 0);
  const rim = { record: measured ? newRecord(bar) : null, everywhere };
  const findings: ProofFinding[] = [];
  const runs: {
    readonly run: SetupRun;
    readonly stock: ReturnType<typeof stockBox>;
    readonly gouges: readonly Gouge[];
    readonly jawHits: number;
  }[] = [];
  input.setups.forEach((setup, k) => {
    const reading = readings[k]!;
    const stock = stockBox(bar, map, setup);
    const holding: Holding = holdingOf(bar, setup.hold, setup.frame, map);
    findings.push(...faultFindings(setup, reading));
    const run = runSetup(map, columns, setup, k, reading, holding, input.rapid ?? RAPID_SPEED, rim);
    findings.push(...run.findings, ...engagementFindings(setup, run.passes));
    const gouges = gougesOf(run.paths, slabs);
    findings.push(...gougeFindings(gouges, run.groups, setup, tolerance.gouge));
    const hold = holdFindings(run.paths, run.groups, holding, setup, bar);
    findings.push(...hold.findings, ...shankFindings(run.paths, run.groups, slabs, setup));
    runs.push({ run, stock, gouges, jawHits: hold.jawHits });
    dropLoosePieces(map, isWanted);
  });
  const paths: readonly CutPath[] = runs.flatMap((r) => r.run.paths);
  const reach = reachOf(wanted, input.owned ?? input.setups.flatMap((s) => s.tools));
  const bridges = input.bridges ?? [];
  const excess = excessFindings({
    input: { ...input, tolerance },
    map,
    walls: wallExcesses(bar, wanted, paths, tolerance.excess, (place) => besideBridge(place, bridges)),
    leftovers: leftovers(bar, wanted, map, columns, reach, tolerance.excess, bridges),
    reach,
  });
  findings.push(...excess.findings);
  const setups = input.setups.map((setup, k): ProofSetupReport => {
    const { run, stock, gouges, jawHits } = runs[k]!;
    return {
      number: setup.number,
      stock_mm: stock,
      tools: run.tools.map((c) => ({ number: c.number, kind: c.kind, diameter_mm: c.diameter })),
      gougeMax_mm: largest(gouges.map((g) => g.amount)),
      excessMax_mm: excess.bySetup[k]!,
      rapidsInStock: run.rapidsInStock,
      jawHits,
      cutLength_mm: run.cutLength,
      rapidLength_mm: run.rapidLength,
      time_s: run.time,
      passes: run.passes,
    };
  });
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
};

/** Heights that a bridge's foot may stand above its stated height, mm. */
const BRIDGE_SLACK = 0.05;

/** A cutter that lifts over a bridge leaves a fillet of its own radius beside it: that is the bridge's, not the wall's. */
const besideBridge = (place: WallExcess, bridges: readonly Bridge[]): boolean =>
  bridges.some((b) => place.top - place.bottom <= b.height + BRIDGE_SLACK && inBridge(b, place.place));

const gougesOf = (paths: readonly CutPath[], slabs: ReturnType<typeof indexSolid>): readonly Gouge[] =>
  paths.flatMap((path) => {
    const gouge = gougeOf(path, slabs);
    return gouge === null ? [] : [gouge];
  });

const largest = (values: readonly number[]): number => values.reduce((a, b) => Math.max(a, b), 0);

const GRAVITY = { error: 0, warning: 1, note: 2 } as const;

/** Errors first, then warnings, then notes; each in the order they were found. */
const inOrder = (findings: readonly ProofFinding[]): readonly ProofFinding[] =>
  [...findings].sort((a, b) => GRAVITY[a.severity] - GRAVITY[b.severity]);
