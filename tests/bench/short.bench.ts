import fc from 'fast-check';
import { type PlannedPart, planPart, writePrograms } from '../../gcode/chain.ts';
import { writtenPasses } from '../../gcode/survival/written-passes.ts';
import { hasErrors } from '../../sketch/part/severity.ts';
import { solidOf } from '../../sketch/part/solid.ts';
import type { Point, Point3 } from '../../sketch/shape/point.ts';
import { visitingOrder, wayLength } from '../../toolpath/passes/visiting-order.ts';
import { barMap, chooseCell, copyMap, type HeightMap } from '../../toolpath/removal/height-map.ts';
import type { Stroke } from '../../toolpath/removal/stroke.ts';
import { sweep } from '../../toolpath/removal/sweep.ts';
import { AIR } from '../../toolpath/route/clearances.ts';
import type { JobStep } from '../../toolpath/route/route.ts';
import type { SurveyPass } from '../../toolpath/survival/force-survey.ts';
import { randomLever } from '../random-lever.ts';
import { SAMPLES, sampleText } from '../samples.ts';
import { countAir } from './air.ts';
import { idleBytes } from './idle-words.ts';
import type { Row } from './row.ts';
import { squaredTo, wallsOf, wayAlongWalls } from './walls.ts';

// How short the programs are, each measure against the least there could be. Measured on the written text, cut out of a
// height map in steps of a tenth of a millimetre.

const STEP = 0.1;

interface Measures {
  /**
   * Way of the laps that clear, and the least there could be, mm: pass by pass the area cut over the stepover, or, where
   * strips are narrower than a stepover, the way along the walls that border on what is cut.
   */
  laps: number;
  lapsLeast: number;
  lapsArea: number;
  /** Seconds under feed, and of these with nothing cut. */
  cutting: number;
  air: number;
  /** Times the cutter is lifted to go elsewhere, and how often the straight way there was not clear. */
  lifts: number;
  liftsLeast: number;
  bytes: number;
  idle: number;
}

const NONE: Measures = {
  laps: 0,
  lapsLeast: 0,
  lapsArea: 0,
  cutting: 0,
  air: 0,
  lifts: 0,
  liftsLeast: 0,
  bytes: 0,
  idle: 0,
};

const sum = (all: readonly Measures[]): Measures =>
  all.reduce((a, b) => {
    const keys = Object.keys(a) as (keyof Measures)[];
    return Object.fromEntries(keys.map((k) => [k, a[k] + b[k]])) as unknown as Measures;
  }, NONE);

/** A motion in pieces of about a step. */
const inPieces = (s: Stroke): readonly { readonly stroke: Stroke; readonly length: number }[] => {
  const { centre, sweep: turn, from, to } = s;
  const rise = to.z - from.z;
  const r = centre ? Math.hypot(from.x - centre.x, from.y - centre.y) : 0;
  const across = centre && turn ? r * Math.abs(turn) : Math.hypot(to.x - from.x, to.y - from.y);
  const length = Math.hypot(across, rise);
  const n = Math.max(1, Math.ceil(length / STEP));
  const start = centre ? Math.atan2(from.y - centre.y, from.x - centre.x) : 0;
  const at = (t: number) => {
    if (t === 0) return from;
    if (t === 1) return to;
    const z = from.z + rise * t;
    if (!centre || !turn) return { x: from.x + (to.x - from.x) * t, y: from.y + (to.y - from.y) * t, z };
    const angle = start + turn * t;
    return { x: centre.x + r * Math.cos(angle), y: centre.y + r * Math.sin(angle), z };
  };
  return Array.from({ length: n }, (_, k) => ({
    stroke: {
      ...s,
      from: at(k / n),
      to: at((k + 1) / n),
      ...(turn === undefined ? {} : { sweep: turn / n }),
    },
    length: length / n,
  }));
};

/** Steps cleared by laps round the walls; what is peeled or stroked goes by other bounds. */
const byLaps = (step: JobStep): boolean =>
  (step.kind === 'outline' || step.kind === 'square' || step.kind === 'fork' || step.kind === 'slot') &&
  !('engagement' in step && step.engagement);

/** Where the cutter was lifted from, and in which job step. */
interface Lifted {
  readonly from: Point3;
  readonly step: string;
}

/** Back down in the same place: to clear chips, not to go elsewhere. */
const isPeck = (up: Lifted, { from }: Stroke): boolean =>
  Math.hypot(from.x - up.from.x, from.y - up.from.y) < 1e-3;

/** Whether nothing stands within the usual clearance of the straight way, at the higher of its ends. */
const isClear = (map: HeightMap, { cutter, frame }: SurveyPass, from: Point3, to: Point3): boolean => {
  const z = Math.max(from.z, to.z) + 1e-3;
  const copy = { ...map, top: map.top.slice(), bottom: map.bottom.slice() };
  const wide = { ...cutter, diameter: cutter.diameter + 2 * AIR };
  return sweep(copy, { kind: 'feed', from: { ...from, z }, to: { ...to, z } }, wide, frame).cells === 0;
};

/** Which cells of a map were cut by motions that this is told of, each once, however often they came by. */
const cellsCut = (map: HeightMap) => {
  const cut = new Uint8Array(map.top.length);
  let before = copyMap(map);
  return {
    /** What came between is not told of. */
    goOn: (): void => {
      before = copyMap(map);
    },
    mark: (): void => {
      for (let i = 0; i < cut.length; i++)
        if (before.top[i] !== map.top[i] || before.bottom[i] !== map.bottom[i]) cut[i] = 1;
    },
    area: (): number => cut.reduce((sum, c) => sum + c, 0) * map.cell * map.cell,
    has: (cell: number): boolean => cut[cell] === 1,
  };
};

const measuresOf = ({ part, plan, profile }: PlannedPart): Measures => {
  const programs = writePrograms(part, plan, profile);
  const steps = new Map(plan.setups.flatMap((s) => s.steps.map((p) => [p.step.name, p.step] as const)));
  const floors = new Map(
    plan.setups.flatMap((s) =>
      s.steps.map(({ step, passes }) => [step.name, Math.min(...passes.map((p) => p.z))] as const),
    ),
  );
  const map = barMap(part.bar, chooseCell(part.bar, solidOf(part)));
  const m: Measures = { ...NONE };
  const air = countAir();
  let up: Lifted | null = null;
  for (const pass of writtenPasses(plan, programs, profile)) {
    const step = steps.get(pass.step);
    let way = 0;
    const laps = step && byLaps(step) && pass.kind === 'rough' ? cellsCut(map) : null;
    for (const { stroke, feed } of pass.motions) {
      if (stroke.kind === 'rapid') {
        air.lifted();
        if (stroke.to.z > stroke.from.z + 0.5) up ??= { from: stroke.from, step: pass.step };
        continue;
      }
      if (up !== null && !isPeck(up, stroke)) {
        m.lifts++;
        if (up.step !== pass.step || !isClear(map, pass, up.from, stroke.from)) m.liftsLeast++;
      }
      up = null;
      const level = Math.abs(stroke.to.z - stroke.from.z) < 1e-6;
      if (level) laps?.goOn();
      for (const { stroke: piece, length } of inPieces(stroke)) {
        const bite = sweep(map, piece, pass.cutter, pass.frame);
        m.cutting += (60 * length) / feed;
        // A reamer is fed out again so as not to score its hole: that is asked for, and no way to the cut.
        if (!(step?.kind === 'ream' && stroke.to.z > stroke.from.z))
          air.fed(length, (60 * length) / feed, bite.cells > 0);
        if (level) way += length;
      }
      if (level) laps?.mark();
    }
    if (laps && step && 'stepover' in step) {
      const { cutter, frame } = pass;
      const terms = { radius: cutter.diameter / 2, allowance: step.wallAllowance, frame };
      const walls =
        step.kind === 'square' ? squaredTo(part, frame) : wallsOf(part, step, frame, floors.get(step.name)!);
      const area = laps.area() / step.stepover;
      m.laps += way;
      m.lapsArea += area;
      // A cut as wide as its cutter takes more than a stepover at a time: it makes up for no other that goes too far.
      m.lapsLeast += Math.min(way, Math.max(area, wayAlongWalls(walls, terms, map, laps.has)));
    }
  }
  m.air = air.seconds();
  for (const { text } of programs) {
    m.bytes += text.length;
    m.idle += idleBytes(text);
  }
  return m;
};

/** Random levers that can be made, always the same. */
const levers = (): readonly PlannedPart[] =>
  fc.sample(randomLever, { numRuns: 24, seed: 20_261_125 }).flatMap((document) => {
    const made = planPart(JSON.stringify(document));
    return made.ok && !hasErrors(made.findings) ? [made] : [];
  });

const rowsOf = (name: string, m: Measures): readonly Row[] => [
  {
    name: `short: ${name}, laps that clear, to area over stepover or the way along the walls`,
    ours: `${m.laps.toFixed(0)} mm`,
    baseline: `${m.lapsLeast.toFixed(0)} mm`,
    ratio: m.laps / m.lapsLeast,
    goal: '≤ 1.15',
  },
  {
    name: `short: ${name}, the same, to area over stepover alone`,
    ours: `${m.laps.toFixed(0)} mm`,
    baseline: `${m.lapsArea.toFixed(0)} mm`,
    ratio: m.laps / m.lapsArea,
  },
  {
    name: `short: ${name}, time under feed that cuts nothing, to all of it`,
    ours: `${m.air.toFixed(0)} s`,
    baseline: `${m.cutting.toFixed(0)} s`,
    ratio: m.air / m.cutting,
    goal: '≤ 0.08',
  },
  {
    name: `short: ${name}, lifts, to those on whose way something stands`,
    ours: m.lifts.toFixed(0),
    baseline: m.liftsLeast.toFixed(0),
    ratio: m.lifts / m.liftsLeast,
  },
  {
    name: `short: ${name}, bytes of the programs, to those that say something new`,
    ours: m.bytes.toFixed(0),
    baseline: (m.bytes - m.idle).toFixed(0),
    ratio: m.bytes / (m.bytes - m.idle),
    goal: '= 1',
  },
];

/** The order of holes: mended by hand's rules alone, against the shortest there is. */
const orders = (): Row => {
  const place = fc.record({ x: fc.integer({ min: 0, max: 900 }), y: fc.integer({ min: 0, max: 300 }) });
  const sets = fc.sample(fc.array(place, { minLength: 9, maxLength: 12 }), { numRuns: 60, seed: 20_261_125 });
  const length = (places: readonly Point[], exact?: number): number =>
    wayLength(visitingOrder(places, exact).map((i) => places[i]!));
  const [mended, shortest] = [
    sets.map((places) => length(places, 0)),
    sets.map((places) => length(places)),
  ].map((all) => all.reduce((a, b) => a + b, 0)) as [number, number];
  return {
    name: 'short: order of 9 to 12 holes as it is found for more than 12, to the shortest (which is taken)',
    ours: `${(mended / 10).toFixed(0)} mm`,
    baseline: `${(shortest / 10).toFixed(0)} mm`,
    ratio: mended / shortest,
    goal: '≤ 1.03',
  };
};

export default function* (): Generator<Row> {
  for (const name of SAMPLES) {
    const made = planPart(sampleText(name));
    if (!made.ok) throw new Error(`${name} is refused`);
    yield* rowsOf(name, measuresOf(made));
  }
  const family = levers().map(measuresOf);
  yield* rowsOf(`${family.length} random levers`, sum(family));
  yield orders();
}
