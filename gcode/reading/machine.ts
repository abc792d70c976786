import type { Point, Point3 } from '../../sketch/shape/point.ts';
import type { FaultCode, Report } from './faults.ts';
import { faultList } from './faults.ts';
import type { Label, Motion, Reading, Stop } from './motion.ts';
import { LARGEST_NUMBER } from './words.ts';

/** Until the program says where the machine stands it is taken to be this far above program zero, mm. */
export const ASSUMED_HEIGHT = 100;

/** A program with more motions than this is not read to its end: memory is finite. */
const MOST_MOTIONS = 3_000_000;

interface Place {
  x: number;
  y: number;
  z: number;
}

/** The modes and the place of a machine in the midst of a program. mm, mm/min, turns/min. */
export interface Machine {
  unit: 'mm' | 'inch';
  unitStated: boolean;
  absolute: boolean;
  /** I and J are places, not increments (G90.1). */
  centresAbsolute: boolean;
  /** Motion code times ten; null before any. */
  motion: number | null;
  feed: number;
  speed: number;
  spindle: 'stopped' | 'clockwise' | 'anticlockwise';
  tool: number;
  selected: number;
  /** Whether the program changes tools with M6; without it a T word names the tool that is put in by hand. */
  changesTools: boolean;
  retract: 'old' | 'R';
  workOffset: string | null;
  ended: boolean;
  at: Place;
  known: { x: boolean; y: boolean; z: boolean };
  /** Numbers that stay from line to line of one canned cycle, in the program's unit; peck and dwell too. */
  sticky: { code: number; z: number; r: number; q: number; p: number } | null;
  /** Height before the run of canned cycles began, mm. */
  oldZ: number;
}

/** What has come out of a program so far, and the place in its text. */
export interface Account {
  readonly motions: Motion[];
  readonly labels: Label[];
  readonly stops: Stop[];
  readonly faults: ReturnType<typeof faultList>;
  readonly report: Report;
  line: number;
  dwell: number;
  full: boolean;
  /** Things said once only, until what they hang on changes. */
  readonly said: Set<FaultCode>;
  /** Points whose X (or Y) is not known until the program first names one. */
  readonly pending: { x: Place[]; y: Place[] };
}

export const newMachine = (): Machine => ({
  unit: 'mm',
  unitStated: false,
  absolute: true,
  centresAbsolute: false,
  motion: null,
  feed: 0,
  speed: 0,
  spindle: 'stopped',
  tool: 0,
  selected: 0,
  changesTools: false,
  retract: 'old',
  workOffset: null,
  ended: false,
  at: { x: 0, y: 0, z: ASSUMED_HEIGHT },
  known: { x: false, y: false, z: false },
  sticky: null,
  oldZ: ASSUMED_HEIGHT,
});

export const newAccount = (start: Place): Account => {
  const faults = faultList();
  const account: Account = {
    motions: [],
    labels: [],
    stops: [],
    faults,
    report: (code, message) => faults.add(code, message, account.line),
    line: 0,
    dwell: 0,
    full: false,
    said: new Set(),
    pending: { x: [start], y: [start] },
  };
  return account;
};

export const sayOnce = (a: Account, code: FaultCode, message: string): void => {
  if (a.said.has(code)) return;
  a.said.add(code);
  a.report(code, message);
};

/** The axes a motion names become known; what went before is taken to have happened over that very place. */
const settle = (m: Machine, a: Account, to: Point3, named: { x: boolean; y: boolean; z: boolean }): void => {
  for (const axis of ['x', 'y'] as const) {
    if (!named[axis] || m.known[axis]) continue;
    for (const place of a.pending[axis]) place[axis] = to[axis];
    a.pending[axis] = [];
    m.known[axis] = true;
  }
  if (named.z) m.known.z = true;
};

export interface Wanted {
  readonly kind: Motion['kind'];
  readonly to: Point3;
  readonly named: { x: boolean; y: boolean; z: boolean };
  readonly arc?: { readonly centre: Point; readonly sweep: number };
}

const allKnown = (m: Machine): boolean => m.known.x && m.known.y && m.known.z;

/** Says what is amiss with cutting as the machine now stands. */
const checkCutting = (m: Machine, a: Account): void => {
  if (!allKnown(m)) {
    sayOnce(
      a,
      'position-unknown',
      'A feed move before X, Y and Z have been set: its path hangs on where the machine stood.',
    );
  }
  if (m.feed <= 0) sayOnce(a, 'feed-missing', 'A feed move with no feed (F) given before it.');
  if (m.spindle === 'stopped' || m.speed === 0) {
    sayOnce(a, 'spindle-stopped', 'A feed move while the spindle stands.');
  } else if (m.spindle === 'anticlockwise') {
    sayOnce(a, 'spindle-backwards', 'A feed move while the spindle turns backwards (M4).');
  }
  if (m.tool === 0) sayOnce(a, 'no-tool', 'A feed move with no tool named (T).');
};

/** Moves the machine and writes the motion down, unless it goes nowhere. */
export const moveTo = (m: Machine, a: Account, wanted: Wanted): void => {
  const { kind, to, named, arc } = wanted;
  if (kind !== 'rapid') checkCutting(m, a);
  else if ((named.x || named.y) && !m.known.z && !named.z) {
    sayOnce(a, 'height-unknown', 'A rapid in X or Y before any Z: the cutter may be low. Send Z up first.');
  }
  if (Math.abs(to.x) > LARGEST_NUMBER || Math.abs(to.y) > LARGEST_NUMBER || Math.abs(to.z) > LARGEST_NUMBER) {
    a.report('number-too-large', 'The move goes further than a kilometre. It is left out.');
    return;
  }
  const assumed = !allKnown(m);
  settle(m, a, to, named);
  const from = m.at;
  if (arc === undefined && from.x === to.x && from.y === to.y && from.z === to.z) return;
  if (a.motions.length >= MOST_MOTIONS) {
    sayOnce(a, 'program-too-long', `More than ${MOST_MOTIONS} motions: the rest is not read.`);
    a.full = true;
    return;
  }
  const end: Place = { x: to.x, y: to.y, z: to.z };
  if (!m.known.x) a.pending.x.push(end);
  if (!m.known.y) a.pending.y.push(end);
  a.motions.push({
    kind,
    from,
    to: end,
    feed: kind === 'rapid' ? 0 : m.feed,
    tool: m.tool,
    speed: m.spindle === 'stopped' ? 0 : m.speed,
    line: a.line,
    label: a.labels.length - 1,
    ...(arc === undefined ? {} : arc),
    ...(assumed ? { assumed } : {}),
  });
  m.at = end;
};

/** Everything told of the program, once its text has been gone through. */
export const closeAccount = (m: Machine, a: Account, ended: boolean): Reading => ({
  motions: a.motions,
  labels: a.labels,
  stops: a.stops,
  faults: a.faults.finish(),
  workOffset: m.workOffset ?? 'G54',
  ended,
  dwell: a.dwell,
});
