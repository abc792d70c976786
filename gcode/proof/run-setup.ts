import type { Cutter } from '../../toolpath/machine/cutter.ts';
import { bothBoxes, NO_CELLS } from '../../toolpath/removal/cut.ts';
import { type CutPath, cutPath, lowestTip, upOf } from '../../toolpath/removal/cut-path.ts';
import type { CutRecord } from '../../toolpath/removal/cut-record.ts';
import { type CellBox, cellMiddle, type HeightMap } from '../../toolpath/removal/height-map.ts';
import type { WantedColumns } from '../../toolpath/removal/raster.ts';
import type { Stroke } from '../../toolpath/removal/stroke.ts';
import { sweep } from '../../toolpath/removal/sweep.ts';
import type { Ending, Motion } from '../reading/motion.ts';
import { type EngagementWatch, watchEngagement } from './engagement-watch.ts';
import type { ProofFinding } from './finding.ts';
import type { Holding } from './hold.ts';
import { comingFree, watchPieces } from './loose.ts';
import { NO_WEB } from './pass-tally.ts';
import { lowestFeed, type PassName, type PassPart, passSplitter } from './passes.ts';
import { type RowRuns, runsOf } from './pieces.ts';
import type { ProofPass, ProofSetup } from './proof.ts';
import { freeFinding, type Mishap, type MishapKind, mishapFindings, missingTool } from './report-run.ts';
import type { KnownPass, SetupMemory } from './setup-memory.ts';
import type { ProgramSource } from './source.ts';

/** What came of cutting one setup in the map. */
export interface SetupRun {
  readonly ending: Ending;
  readonly groups: readonly PassName[];
  readonly passes: readonly ProofPass[];
  readonly findings: readonly ProofFinding[];
  readonly rapidsInStock: number;
  readonly cutLength: number;
  readonly rapidLength: number;
  readonly time: number;
  readonly tools: readonly Cutter[];
}

/** What a setup is cut with and in. The map is changed in place. */
export interface SetupTask {
  readonly map: HeightMap;
  readonly columns: WantedColumns;
  readonly setup: ProofSetup;
  /** Its index. */
  readonly index: number;
  readonly source: ProgramSource;
  readonly holding: Holding;
  /** Up height over which nothing stands at the start. */
  readonly over: number;
  /** mm/min. */
  readonly rapidSpeed: number;
  readonly rim: Rim;
  /** Is shown every motion before it is cut, and whether it is known to stay out of the part; says whether it does not. */
  readonly meet: (path: CutPath, clean: boolean) => boolean;
  /** What is known of the setup's passes from the proof before. */
  readonly memory: SetupMemory | null;
}

/** A rapid that only brushes stock by this much sideways or below is not called a crash, mm. */
const RAPID_RUB = { radius: 0.02, tip: 0.01 };
/** Slack on the flutes' length before a cut is called deeper than they are, mm. */
const FLUTE_SLACK = 0.05;

/** Where the rim in the material is measured: nowhere without a record, else in steps that state a limit or everywhere. */
export interface Rim {
  readonly record: CutRecord | null;
  readonly everywhere: boolean;
}

/** A pass under way. */
interface Going {
  readonly name: PassName;
  readonly number: number;
  readonly asked: boolean;
  /** Null where it must be cut. */
  readonly known: KnownPass | null;
  readonly mishaps: Map<MishapKind, Mishap>;
  /** Motions met so far. */
  motions: number;
  opened: number;
  lowest: number | null;
  /** The cells that it cut anything in lie in here. */
  cells: CellBox;
  gouged: boolean;
}

/** Cuts one setup's motions out of the map and notes what happens on the way; tells how far in its text it is. */
export function* runSetup(task: SetupTask): Generator<number, SetupRun> {
  const { map, columns, setup, holding, rim: asks } = task;
  const cutters = new Map(setup.tools.map((c) => [c.number, c]));
  const groups: PassName[] = [];
  const findings: ProofFinding[] = [];
  const marks = new Int32Array(map.top.length).fill(-1);
  const passes: ProofPass[] = [];
  const missing = new Map<number, Motion>();
  const used = new Map<number, Cutter>();
  const { memory } = task;
  /** The map as it stands, and its runs; with a memory the map itself may lag behind. */
  const whole = (): HeightMap => memory?.whole() ?? map;
  const runs = (): RowRuns => memory?.runs() ?? runsOf(map);
  const watch = watchPieces(map, columns, holding, runs());
  const rim: EngagementWatch | null = asks.record && watchEngagement(map, asks.record);
  let rapidsInStock = 0;
  let cutLength = 0;
  let rapidLength = 0;
  let minutes = 0;
  let going: Going | null = null;
  let before: Motion | null = null;

  const begin = (name: PassName): Going => {
    groups.push(name);
    const limit = setup.limits?.find((l) => l.step === name.step)?.engagement ?? null;
    const asked = rim !== null && (asks.everywhere || limit !== null);
    const number = groups.length - 1;
    const known = memory?.known(number) ?? null;
    // What is known is not measured again, but what is cut there later is measured by it.
    rim?.begin(asked && known === null, limit === null ? null : (limit * 180) / Math.PI);
    return {
      name,
      number,
      asked,
      known,
      mishaps: new Map(),
      motions: 0,
      opened: 0,
      lowest: null,
      cells: NO_CELLS,
      gouged: false,
    };
  };

  const finish = (pass: Going): void => {
    const { name, mishaps, known } = pass;
    const engagement = known ? known.engagement : rim && pass.asked ? rim.most() : undefined;
    const marked = { map, columns, marks, number: pass.number };
    // What went amiss is looked at anew each time.
    const outcome = mishaps.size === 0 ? { engagement, gouged: pass.gouged } : null;
    const { opened, webLeft } = memory?.finish(marked, pass.cells, outcome) ?? {
      opened: pass.opened,
      webLeft: thinnestWeb(map, columns, marks, pass),
    };
    rapidsInStock += mishaps.get('rapid')?.times ?? 0;
    findings.push(...mishapFindings(mishaps, setup, name));
    if (opened > 0) {
      const free = comingFree(whole(), columns, holding, watch, runs());
      findings.push(...free.map((piece) => freeFinding(piece, setup, name)));
    }
    if (pass.lowest !== null) {
      passes.push({
        step: name.step,
        z_mm: pass.lowest,
        kind: name.kind,
        webLeft_mm: webLeft,
        ...(engagement === undefined ? {} : { engagement }),
      });
    }
  };

  const cut = (motion: Motion, pass: Going): void => {
    const length = motionLength(motion);
    if (motion.kind === 'rapid') {
      rapidLength += length;
      minutes += length / task.rapidSpeed;
    } else {
      cutLength += length;
      if (motion.feed > 0) minutes += length / motion.feed;
    }
    const last = before;
    before = null;
    const { known } = pass;
    const place = pass.motions++;
    const again = known === null || known.again(place);
    const cutter = cutters.get(motion.tool);
    if (cutter === undefined) {
      if (motion.kind !== 'rapid' && !missing.has(motion.tool)) missing.set(motion.tool, motion);
      return;
    }
    used.set(cutter.number, cutter);
    const path =
      memory?.path(pass.number, place) ??
      cutPath(motion, cutter, setup.frame, { setup: task.index, pass: pass.number });
    if (task.meet(path, known !== null && !known.gouged && !known.judged(place))) pass.gouged = true;
    if (cutter.kind === 'tap') return;
    rim?.meet(path);
    if (!again) return;
    if (!path.rapid) before = motion;
    if (lowestTip(path) >= task.over) return;
    const follows = last?.to === motion.from && last.tool === motion.tool;
    const stamp = { marks, value: pass.number };
    const within = known?.within ? { within: known.within } : {};
    const bite = sweep(
      map,
      motion,
      cutter,
      setup.frame,
      path.rapid ? { stamp, ...within, follows, spare: RAPID_RUB } : { stamp, ...within, follows },
    );
    if (bite.cells === 0) return;
    pass.opened += bite.opened;
    pass.cells = bothBoxes(pass.cells, cellsRound(path, map));
    const note = (kind: MishapKind): void => {
      const known = pass.mishaps.get(kind);
      if (known !== undefined && known.depth >= bite.deepest) {
        known.times++;
        return;
      }
      const z = upOf(setup.frame.face) * lowestTip(path);
      const at = { ...cellMiddle(map, bite.deepestAt), z };
      const times = (known?.times ?? 0) + 1;
      pass.mishaps.set(kind, { kind, depth: bite.deepest, at, line: motion.line, cutter, times });
    };
    if (path.rapid) note('rapid');
    else if (motion.speed === 0) note('stalled');
    if (cutter.kind === 'endmill' && bite.deepest > cutter.fluteLength + FLUTE_SLACK) note('flutes');
  };

  const takePart = ({ begins, motions }: PassPart): void => {
    if (begins !== null || going === null) {
      if (going !== null) finish(going);
      going = begin(begins ?? { step: '', label: '', kind: 'rough' });
    }
    const pass = going;
    pass.lowest = lowestFeed(motions, pass.lowest);
    for (const motion of motions) cut(motion, pass);
  };

  const steps = task.source.steps();
  let splitter: ReturnType<typeof passSplitter> | null = null;
  let step = steps.next();
  for (; !step.done; step = steps.next()) {
    splitter ??= passSplitter(step.value.labels);
    for (const part of splitter.take(step.value.motions)) takePart(part);
    yield step.value.read;
  }
  for (const part of splitter?.end() ?? []) takePart(part);
  if (going !== null) finish(going);
  for (const [tool, motion] of missing) findings.push(missingTool(tool, motion, setup));
  return {
    ending: step.value,
    groups,
    passes,
    findings,
    rapidsInStock,
    cutLength,
    rapidLength,
    time: minutes * 60 + step.value.dwell,
    tools: [...used.values()].sort((a, b) => a.number - b.number),
  };
}

/** All cells that a motion's cutter may come over. */
const cellsRound = ({ box, radius }: CutPath, { x0, y0, cell, columns, rows }: HeightMap): CellBox => ({
  i0: Math.max(0, Math.floor((box.x0 - radius - x0) / cell)),
  i1: Math.min(columns - 1, Math.ceil((box.x1 + radius - x0) / cell)),
  j0: Math.max(0, Math.floor((box.y0 - radius - y0) / cell)),
  j1: Math.min(rows - 1, Math.ceil((box.y1 + radius - y0) / cell)),
});

/** Least material left in the pass's cells where none is wanted in the end; null when it leaves none. */
const thinnestWeb = (
  map: HeightMap,
  columns: WantedColumns,
  marks: Int32Array,
  pass: Going,
): number | null => {
  let least = Number.POSITIVE_INFINITY;
  const { i0, i1, j0, j1 } = pass.cells;
  for (let j = j0; j <= j1; j++) {
    for (let i = j * map.columns + i0; i <= j * map.columns + i1; i++) {
      if (marks[i] !== pass.number || columns.top[i]! > columns.bottom[i]!) continue;
      const left = map.top[i]! - map.bottom[i]!;
      if (left > NO_WEB && left < least) least = left;
    }
  }
  return Number.isFinite(least) ? least : null;
};

export const motionLength = (m: Stroke): number => {
  const rise = m.to.z - m.from.z;
  const across =
    m.kind === 'arc' && m.centre !== undefined && m.sweep !== undefined
      ? Math.hypot(m.from.x - m.centre.x, m.from.y - m.centre.y) * Math.abs(m.sweep)
      : Math.hypot(m.to.x - m.from.x, m.to.y - m.from.y);
  return Math.hypot(across, rise);
};
