import type { Finding, Unit } from '../../sketch/part/part.ts';
import { cross, distance, type Point, type Point3, polar, subtract } from '../../sketch/shape/point.ts';
import type { Plan, PlannedSetup, PlannedStep } from '../../toolpath/passes/pass.ts';
import { roundStep, straightStep } from './nibble.ts';
import { setupRows, type TableRow } from './rows.ts';

/** How high the cusps may stay between stops of two handwheels, mm. */
export interface Cusps {
  /** Where a later pass cuts them away. */
  readonly rough: number;
  /** Where the file does. */
  readonly finish: number;
}

/** Finishing cusps a few strokes of a file take off; roughing ones well under what is left for finishing. Common practice, no source. */
export const CUSPS: Cusps = { rough: 0.2, finish: 0.03 };

/** A setup's rows as two handwheels can go them, one at a time. */
export interface HandRows {
  readonly rows: readonly TableRow[];
  /** What a hand cannot do; an error means that no table is to be printed as good. */
  readonly findings: readonly Finding[];
}

/**
 * The rows of a setup for handwheels: arcs and slanting lines become stops close enough to keep the cusps under the
 * wanted heights, each gone to by one handwheel and then the other, on the free side of the wall; ramps become steps
 * that never go lower than the ramp. Nothing is deeper and nothing nearer to the wall than the plan has it.
 */
export const handRows = (plan: Plan, setup: PlannedSetup, unit: Unit, cusps: Cusps = CUSPS): HandRows => {
  const findings: Finding[] = [];
  const rows = setup.steps.flatMap((step) => {
    const own = setupRows({ ...setup, steps: [step] }, unit);
    if (step.cutter.kind !== 'endmill') return own;
    if (!step.cutter.plunge.straight && own.some((row, i) => dives(own[i - 1], row))) {
      findings.push({
        code: 'hand-entry',
        severity: 'error',
        message: `${step.step.name}: the ${step.cutter.name} does not cut at its middle, and no hand can ramp it down: take a centre-cutting one, or drill a hole to go down in.`,
        feature: step.step.name,
        setup: setup.setup.number,
      });
    }
    return byHand(sunkStraight(own), {
      radius: step.cutter.diameter / 2,
      wall: wallSide(plan, step),
      cusps,
      unit,
    });
  });
  return { rows, findings };
};

/**
 * A ramp or helix on which the cutter would enter becomes one straight way down where it ends: what it would have cut
 * on its way is gone round at the level anyway, and a hand has only one handwheel for the height.
 */
const sunkStraight = (rows: readonly TableRow[]): readonly TableRow[] => {
  const done: TableRow[] = [];
  let entry: TableRow | null = null;
  rows.forEach((row, i) => {
    const sinks = dives(rows[i - 1], row);
    if (sinks && entry !== null) {
      entry = { ...entry, at: row.at, note: 'lift clear, across, slowly straight down into the work' };
      done[done.length - 1] = entry;
      return;
    }
    entry = row.coming === 'enter' ? row : null;
    done.push(row);
  });
  return done;
};

/** Whether a row goes down into the work while it goes along. */
const dives = (before: TableRow | undefined, row: TableRow): boolean =>
  before !== undefined &&
  before.pass === row.pass &&
  (row.coming === 'ramp' || row.coming === 'arc') &&
  row.at.z < before.at.z - SAME;

const SAME = 1e-6;

/** The side of its way on which the wall lies for a right-hand cutter: right when climbing, left when not. */
const wallSide = (plan: Plan, { step }: PlannedStep): 'left' | 'right' => {
  const terms =
    step.kind === 'release'
      ? plan.setups.flatMap((s) => s.steps).find((other) => other.step.name === step.of)?.step
      : step;
  return terms !== undefined && 'direction' in terms && terms.direction === 'climb' ? 'right' : 'left';
};

interface Cut {
  readonly radius: number;
  readonly wall: 'left' | 'right';
  readonly cusps: Cusps;
  readonly unit: Unit;
}

const byHand = (rows: readonly TableRow[], cut: Cut): readonly TableRow[] => {
  const done: TableRow[] = [];
  let here: Point3 | null = null;
  let pass = 0;
  let gone = new Map<string, 'forth' | 'back'>();
  for (const row of rows) {
    const first = row.pass !== pass || here === null;
    if (first) gone = new Map();
    pass = row.pass;
    // Sinking to and fro along a stretch, the wall lies on the other side on the way back.
    const wall = first || wayOf(gone, here!, row) === 'forth' ? cut.wall : OTHER[cut.wall];
    const added = first ? [row] : goneTo(here!, row, { ...cut, wall });
    // The words on a pass stand on its first row.
    done.push(...added.map((one, i) => (i === 0 ? { ...one, about: row.about } : { ...one, about: '' })));
    here = row.at;
  }
  return done;
};

const OTHER = { left: 'right', right: 'left' } as const;

/** Whether a stretch is gone the way it was gone first in this pass. */
const wayOf = (gone: Map<string, 'forth' | 'back'>, from: Point, row: TableRow): 'forth' | 'back' => {
  const [a, b] = [from, row.at].map((p) => `${p.x.toFixed(4)} ${p.y.toFixed(4)}`) as [string, string];
  // A full circle ends where it began, and is gone one way only.
  if (a === b) return 'forth';
  const [bend, other] = row.round === null ? ['', ''] : row.round.clockwise ? ['↻', '↺'] : ['↺', '↻'];
  const known = gone.get(`${a} ${b}${bend}`);
  if (known !== undefined) return known;
  gone.set(`${a} ${b}${bend}`, 'forth');
  gone.set(`${b} ${a}${other}`, 'back');
  return 'forth';
};

const goneTo = (from: Point3, row: TableRow, cut: Cut): readonly TableRow[] => {
  const { at, coming } = row;
  if (coming !== 'straight' && coming !== 'ramp' && coming !== 'arc') return [row];
  const falls = at.z < from.z - SAME;
  const rises = at.z > from.z + SAME;
  const level = rises ? at.z : from.z;
  const upright = (to: Point3, note: string): TableRow => ({
    ...row,
    coming: 'plunge',
    at: to,
    note,
    round: null,
  });
  return [
    ...(rises ? [upright({ ...from, z: at.z }, 'straight up')] : []),
    ...across(from, row, level, cut),
    ...(falls ? [upright(at, 'straight down')] : []),
  ];
};

/** The way across at one height, by one handwheel at a time. */
const across = (from: Point, row: TableRow, z: number, cut: Cut): readonly TableRow[] => {
  const cusp = row.kind === 'rough' ? cut.cusps.rough : cut.cusps.finish;
  const stops = row.round === null ? alongLine(from, row.at, cut, cusp) : roundArc(from, row, cut, cusp);
  let here = from;
  return stops.flatMap((to): TableRow[] => {
    if (distance(here, to) < SAME) return [];
    const leg = { ...row, at: { ...to, z }, round: null };
    const step = subtract(to, here);
    const before = here;
    here = to;
    if (Math.abs(step.y) < SAME) return [{ ...leg, coming: 'straight', note: 'along X' }];
    if (Math.abs(step.x) < SAME) return [{ ...leg, coming: 'straight', note: 'along Y' }];
    // The corner that lies away from the wall.
    const side = cross(step, subtract({ x: to.x, y: before.y }, before));
    const xFirst = side > 0 === (cut.wall === 'right');
    return [{ ...leg, coming: xFirst ? 'x first' : 'y first', note: xFirst ? 'X, then Y' : 'Y, then X' }];
  });
};

/**
 * Roughing goes aslant from lap to lap over short ways on which either side may be a wall: so close that the corner
 * strays from them by no more than half of this, which is what roughing leaves on walls, mm.
 */
const SHORT_STEP = 0.4;

const alongLine = (from: Point, to: Point, cut: Cut, cusp: number): readonly Point[] => {
  const aslant = Math.abs(to.x - from.x) > SAME && Math.abs(to.y - from.y) > SAME;
  const length = distance(from, to);
  const short = cusp > cut.cusps.finish && length < 2 * cut.radius;
  const step = short ? SHORT_STEP : straightStep(cut.radius, cusp);
  const count = aslant ? Math.max(1, Math.ceil(length / step - 1e-9)) : 1;
  return Array.from({ length: count }, (_, i) => {
    const t = (i + 1) / count;
    return { x: from.x + (to.x - from.x) * t, y: from.y + (to.y - from.y) * t };
  });
};

const QUARTER = Math.PI / 2;

/** Stops on an arc, one at every quarter, so that between two of them neither handwheel turns back. */
const roundArc = (from: Point, row: TableRow, cut: Cut, cusp: number): readonly Point[] => {
  const { centre, clockwise } = row.round!;
  const r = distance(row.at, centre);
  const a0 = Math.atan2(from.y - centre.y, from.x - centre.x);
  const a1 = Math.atan2(row.at.y - centre.y, row.at.x - centre.x);
  const turn = clockwise ? -1 : 1;
  const raw = ((((a1 - a0) * turn) % (2 * Math.PI)) + 2 * Math.PI) % (2 * Math.PI);
  const sweep = distance(from, row.at) < SAME ? 2 * Math.PI : raw;
  const step = stepRound(r, clockwise === (cut.wall === 'right'), cut.radius, cusp);
  const ends = [...quartersBetween(a0, sweep, turn), sweep];
  let begun = 0;
  const stops = ends.flatMap((end) => {
    const count = Math.max(1, Math.ceil((end - begun) / step - 1e-9));
    const start = begun;
    begun = end;
    return Array.from({ length: count }, (_, i) =>
      polar(centre, r, a0 + turn * (start + ((end - start) * (i + 1)) / count)),
    );
  });
  // The last one as the plan has it, so that nothing adds up.
  return [...stops.slice(0, -1), row.at];
};

/** Turns from the start to each quarter line on the way, without both ends. */
const quartersBetween = (a0: number, sweep: number, turn: number): readonly number[] => {
  const first = turn > 0 ? Math.ceil(a0 / QUARTER) * QUARTER - a0 : a0 - Math.floor(a0 / QUARTER) * QUARTER;
  return [0, 1, 2, 3, 4].map((k) => first + k * QUARTER).filter((t) => t > 1e-6 && t < sweep - 1e-6);
};

/** The greatest turn from stop to stop of a cutter centre at radius `r`; the wall lies inside or outside of it. */
const stepRound = (r: number, outside: boolean, cutter: number, cusp: number): number => {
  const radius = outside ? r - cutter : r + cutter;
  // Swinging round a corner the cutter leaves nothing; but straying far from its way it could meet another wall.
  if (radius < 1e-6) return Math.min(QUARTER, 2 * Math.acos(Math.max(0, 1 - cusp / r)));
  return Math.min(QUARTER, roundStep({ radius, side: outside ? 'outside' : 'inside' }, cutter, cusp));
};
