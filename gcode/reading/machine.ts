import type { Point3 } from '../../sketch/shape/point.ts';
import type { ArcPath } from './arcs.ts';
import type { FaultCode, Report } from './faults.ts';
import { faultList } from './faults.ts';
import type { Ending, Label, Motion, Stop } from './motion.ts';
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
  /** Motions not yet handed on. */
  motions: Motion[];
  /** Of all motions so far. */
  count: number;
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
    count: 0,
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

/** The axes that a motion names, as bits. */
export const X_NAMED = 1;
export const Y_NAMED = 2;
export const Z_NAMED = 4;

/** The axes a motion names become known; what went before is taken to have happened over that very place. */
const settle = (m: Machine, a: Account, x: number, y: number, named: number): void => {
  const { known } = m;
  if (named & X_NAMED && !known.x) {
    for (const place of a.pending.x) place.x = x;
    a.pending.x = [];
    known.x = true;
  }
  if (named & Y_NAMED && !known.y) {
    for (const place of a.pending.y) place.y = y;
    a.pending.y = [];
    known.y = true;
  }
  if (named & Z_NAMED) known.z = true;
};

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

const isBeyond = (v: number): boolean => v > LARGEST_NUMBER || v < -LARGEST_NUMBER;

/** Moves the machine to a place (mm) and writes the motion down, unless it goes nowhere. `named` is of bits. */
export const moveTo = (
  m: Machine,
  a: Account,
  kind: Motion['kind'],
  x: number,
  y: number,
  z: number,
  named: number,
  arc: ArcPath | null = null,
): void => {
  if (kind !== 'rapid') checkCutting(m, a);
  else if ((named & (X_NAMED | Y_NAMED)) !== 0 && !m.known.z && (named & Z_NAMED) === 0) {
    sayOnce(a, 'height-unknown', 'A rapid in X or Y before any Z: the cutter may be low. Send Z up first.');
  }
  if (isBeyond(x) || isBeyond(y) || isBeyond(z)) {
    a.report('number-too-large', 'The move goes further than a kilometre. It is left out.');
    return;
  }
  const assumed = !allKnown(m);
  if (assumed) settle(m, a, x, y, named);
  const from = m.at;
  if (arc === null && from.x === x && from.y === y && from.z === z) return;
  if (a.count >= MOST_MOTIONS) {
    sayOnce(a, 'program-too-long', `More than ${MOST_MOTIONS} motions: the rest is not read.`);
    a.full = true;
    return;
  }
  const to: Place = { x, y, z };
  if (assumed) {
    if (!m.known.x) a.pending.x.push(to);
    if (!m.known.y) a.pending.y.push(to);
  }
  a.count++;
  a.motions.push(motionOf(m, a, kind, from, to, arc, assumed));
  m.at = to;
};

/** The same words in the same order every time: what goes through a million motions meets few forms of object. */
const motionOf = (
  m: Machine,
  a: Account,
  kind: Motion['kind'],
  from: Point3,
  to: Point3,
  arc: ArcPath | null,
  assumed: boolean,
): Motion => {
  const feed = kind === 'rapid' ? 0 : m.feed;
  const speed = m.spindle === 'stopped' ? 0 : m.speed;
  const { tool } = m;
  const { line } = a;
  const label = a.labels.length - 1;
  if (assumed) {
    const plain = { kind, from, to, feed, tool, speed, line, label };
    return { ...plain, ...(arc ?? {}), assumed };
  }
  if (arc === null) return { kind, from, to, feed, tool, speed, line, label };
  return { kind, from, to, feed, tool, speed, line, label, centre: arc.centre, sweep: arc.sweep };
};

/** What is told of a program besides its motions, once its text has been gone through. */
export const closeAccount = (m: Machine, a: Account, ended: boolean): Ending => ({
  count: a.count,
  labels: a.labels,
  stops: a.stops,
  faults: a.faults.finish(),
  workOffset: m.workOffset ?? 'G54',
  ended,
  dwell: a.dwell,
});
