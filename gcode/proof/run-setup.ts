import type { Bar } from '../../sketch/part/part.ts';
import type { Point3 } from '../../sketch/shape/point.ts';
import type { Cutter } from '../../toolpath/machine/cutter.ts';
import { cellMiddle, type HeightMap } from '../../toolpath/removal/height-map.ts';
import type { WantedColumns } from '../../toolpath/removal/raster.ts';
import { sweep } from '../../toolpath/removal/sweep.ts';
import { toPart, toProgram } from '../../toolpath/route/frame.ts';
import type { Motion, Reading } from '../reading/motion.ts';
import { type CutPath, cutPath, lowestTip, upOf } from './cut-path.ts';
import type { CutRecord } from './cut-record.ts';
import { type EngagementWatch, watchEngagement } from './engagement-watch.ts';
import { mm, type ProofFinding, placeText } from './finding.ts';
import type { Holding } from './hold.ts';
import { comingFree, type FreePiece, watchPieces } from './loose.ts';
import { type PassGroup, passGroups } from './passes.ts';
import { isMaterial } from './pieces.ts';
import type { ProofPass, ProofSetup } from './proof.ts';

/** What came of cutting one setup in the map. */
export interface SetupRun {
  readonly paths: readonly CutPath[];
  readonly groups: readonly PassGroup[];
  readonly passes: readonly ProofPass[];
  readonly findings: readonly ProofFinding[];
  readonly rapidsInStock: number;
  readonly cutLength: number;
  readonly rapidLength: number;
  readonly time: number;
  readonly tools: readonly Cutter[];
}

/** A rapid that only brushes stock by this much sideways or below is not called a crash, mm. */
const RAPID_RUB = { radius: 0.02, tip: 0.01 };
/** Slack on the flutes' length before a cut is called deeper than they are, mm. */
const FLUTE_SLACK = 0.05;
/** A skin thinner than this is nothing, mm. */
const NO_WEB = 1e-3;

/** Where the rim in the material is measured: nowhere without a record, else in steps that state a limit or everywhere. */
export interface Rim {
  readonly record: CutRecord | null;
  readonly everywhere: boolean;
}

/** Something amiss that a motion did while cutting. */
interface Mishap {
  readonly kind: 'rapid' | 'stalled' | 'flutes';
  readonly depth: number;
  readonly at: Point3;
  readonly line: number;
  readonly cutter: Cutter;
}

/** Cuts one setup's motions out of the map (changed in place) and notes what happens on the way. */
export const runSetup = (
  map: HeightMap,
  columns: WantedColumns,
  setup: ProofSetup,
  setupIndex: number,
  reading: Reading,
  holding: Holding,
  rapidSpeed: number,
  { record, everywhere }: Rim = { record: null, everywhere: false },
): SetupRun => {
  const groups = passGroups(reading);
  const cutters = new Map(setup.tools.map((c) => [c.number, c]));
  const findings: ProofFinding[] = [];
  const marks = new Int32Array(map.top.length).fill(-1);
  const paths: CutPath[] = [];
  const passes: ProofPass[] = [];
  const missing = new Map<number, Motion>();
  const used = new Map<number, Cutter>();
  const watch = watchPieces(map, columns, holding);
  const rim: EngagementWatch | null = record && watchEngagement(map, record);
  let rapidsInStock = 0;
  let cutLength = 0;
  let rapidLength = 0;
  let minutes = 0;
  groups.forEach((group, pass) => {
    let opened = 0;
    const limit = setup.limits?.find((l) => l.step === group.step)?.engagement ?? null;
    const asked = rim !== null && (everywhere || limit !== null);
    rim?.begin(asked, limit === null ? null : (limit * 180) / Math.PI);
    const mishaps: Mishap[] = [];
    for (let k = group.first; k < group.end; k++) {
      const motion = reading.motions[k]!;
      const length = motionLength(motion);
      if (motion.kind === 'rapid') {
        rapidLength += length;
        minutes += length / rapidSpeed;
      } else {
        cutLength += length;
        if (motion.feed > 0) minutes += length / motion.feed;
      }
      const cutter = cutters.get(motion.tool);
      if (cutter === undefined) {
        if (motion.kind !== 'rapid' && !missing.has(motion.tool)) missing.set(motion.tool, motion);
        continue;
      }
      used.set(cutter.number, cutter);
      const path = cutPath(motion, cutter, setup.frame, { setup: setupIndex, pass });
      paths.push(path);
      if (cutter.kind === 'tap') continue;
      rim?.meet(path);
      const bite = sweep(map, motion, cutter, setup.frame, {
        stamp: { marks, value: pass },
        ...(path.rapid ? { spare: RAPID_RUB } : {}),
      });
      if (bite.cells === 0) continue;
      opened += bite.opened;
      const note = (kind: Mishap['kind']): void => {
        const z = upOf(setup.frame.face) * lowestTip(path);
        const at = { ...cellMiddle(map, bite.deepestAt), z };
        mishaps.push({ kind, depth: bite.deepest, at, line: motion.line, cutter });
      };
      if (path.rapid) note('rapid');
      else if (motion.speed === 0) note('stalled');
      if (cutter.kind === 'endmill' && bite.deepest > cutter.fluteLength + FLUTE_SLACK) note('flutes');
    }
    rapidsInStock += mishaps.filter((m) => m.kind === 'rapid').length;
    findings.push(...mishapFindings(mishaps, setup, group));
    if (opened > 0) {
      const free = comingFree(map, columns, holding, watch);
      findings.push(...free.map((piece) => freeFinding(piece, setup, group)));
    }
    if (group.lowest !== null) {
      passes.push({
        step: group.step,
        z_mm: group.lowest,
        kind: group.kind,
        webLeft_mm: thinnestWeb(map, columns, marks, pass),
        ...(rim && asked ? { engagement: rim.most() } : {}),
      });
    }
  });
  for (const [tool, motion] of missing) findings.push(missingTool(tool, motion, setup));
  return {
    paths,
    groups,
    passes,
    findings,
    rapidsInStock,
    cutLength,
    rapidLength,
    time: minutes * 60 + reading.dwell,
    tools: [...used.values()].sort((a, b) => a.number - b.number),
  };
};

/** The worst of each kind of mishap in a pass, with how many there were. */
const mishapFindings = (
  mishaps: readonly Mishap[],
  setup: ProofSetup,
  group: PassGroup,
): readonly ProofFinding[] =>
  (['rapid', 'stalled', 'flutes'] as const).flatMap((kind) => {
    const all = mishaps.filter((m) => m.kind === kind);
    if (all.length === 0) return [];
    const worst = all.reduce((a, b) => (b.depth > a.depth ? b : a));
    const more = all.length > 1 ? ` (and ${all.length - 1} more in this pass)` : '';
    return [
      {
        ...mishapText(kind, worst, more),
        severity: 'error' as const,
        setup: setup.number,
        at: worst.at,
        feature: group.step,
      },
    ];
  });

const mishapText = (
  kind: Mishap['kind'],
  worst: Mishap,
  more: string,
): { readonly code: string; readonly message: string } => {
  const where = `line ${worst.line}, near ${placeText(worst.at)}${more}`;
  switch (kind) {
    case 'rapid':
      return {
        code: 'rapid-in-stock',
        message: `A rapid goes through material, ${mm(worst.depth)} mm deep: ${where}. Lift clear before moving.`,
      };
    case 'stalled':
      return {
        code: 'spindle-stopped-in-cut',
        message: `The cutter goes into the work with the spindle standing still: ${where}.`,
      };
    case 'flutes':
      return {
        code: 'deeper-than-flutes',
        message: `The ${mm(worst.cutter.diameter)} mm endmill cuts ${mm(worst.depth)} mm deep at once, but its flutes are ${mm(worst.cutter.fluteLength)} mm long: ${where}. Take less at a time or a longer cutter.`,
      };
  }
};

const freeFinding = (free: FreePiece, setup: ProofSetup, group: PassGroup): ProofFinding => ({
  code: 'piece-comes-free',
  message: free.isPart
    ? `The part itself comes free near ${placeText(free.at)} in pass “${passName(group)}”. Nothing holds it under a running cutter: leave bridges, or hold it another way.`
    : `A piece about ${mm(free.length, 1)} × ${mm(free.width, 1)} mm comes free near ${placeText(free.at)} in pass “${passName(group)}”. It can catch and fly: stop before it and take it away, or hold it.`,
  severity: 'warning',
  setup: setup.number,
  at: free.at,
  feature: group.step,
});

const missingTool = (tool: number, motion: Motion, setup: ProofSetup): ProofFinding => ({
  code: tool === 0 ? 'cut-without-tool' : 'tool-missing',
  message:
    tool === 0
      ? `Line ${motion.line} feeds with no cutter called for.`
      : `Line ${motion.line} cuts with cutter ${tool}, which is not among this setup's cutters: nothing it does can be proven.`,
  severity: 'error',
  setup: setup.number,
  at: toPart(setup.frame, motion.to),
});

export const passName = (group: PassGroup): string =>
  group.label === '' ? group.step : `${group.step}, ${group.label}`;

/** Least material left in the pass's cells where none is wanted in the end; null when it leaves none. */
const thinnestWeb = (
  map: HeightMap,
  columns: WantedColumns,
  marks: Int32Array,
  pass: number,
): number | null => {
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < marks.length; i++) {
    if (marks[i] !== pass || columns.top[i]! > columns.bottom[i]!) continue;
    const left = map.top[i]! - map.bottom[i]!;
    if (left > NO_WEB && left < least) least = left;
  }
  return Number.isFinite(least) ? least : null;
};

export const motionLength = (m: Motion): number => {
  const rise = m.to.z - m.from.z;
  const across =
    m.kind === 'arc' && m.centre !== undefined && m.sweep !== undefined
      ? Math.hypot(m.from.x - m.centre.x, m.from.y - m.centre.y) * Math.abs(m.sweep)
      : Math.hypot(m.to.x - m.from.x, m.to.y - m.from.y);
  return Math.hypot(across, rise);
};

/** The box of what stands, in a setup's program coordinates; the bar's own sides are exact. */
export const stockBox = (
  bar: Bar,
  map: HeightMap,
  setup: ProofSetup,
): { readonly min: readonly [number, number, number]; readonly max: readonly [number, number, number] } => {
  let x0 = Number.POSITIVE_INFINITY;
  let x1 = Number.NEGATIVE_INFINITY;
  let y0 = x0;
  let y1 = x1;
  let z0 = x0;
  let z1 = x1;
  for (let i = 0; i < map.top.length; i++) {
    if (!isMaterial(map, i)) continue;
    const column = i % map.columns;
    const row = (i - column) / map.columns;
    x0 = Math.min(x0, map.x0 + column * map.cell);
    x1 = Math.max(x1, map.x0 + (column + 1) * map.cell);
    y0 = Math.min(y0, map.y0 + row * map.cell);
    y1 = Math.max(y1, map.y0 + (row + 1) * map.cell);
    z0 = Math.min(z0, map.bottom[i]!);
    z1 = Math.max(z1, map.top[i]!);
  }
  if (x0 > x1) return { min: [0, 0, 0], max: [0, 0, 0] };
  x1 = Math.min(x1, bar.corner.x + bar.length + bar.sawn);
  y1 = Math.min(y1, bar.corner.y + bar.width);
  const a = toProgram(setup.frame, { x: x0, y: y0, z: z0 });
  const b = toProgram(setup.frame, { x: x1, y: y1, z: z1 });
  return {
    min: [Math.min(a.x, b.x), Math.min(a.y, b.y), Math.min(a.z, b.z)],
    max: [Math.max(a.x, b.x), Math.max(a.y, b.y), Math.max(a.z, b.z)],
  };
};
