import type { Point3 } from '../../sketch/shape/point.ts';
import { type ArcAnswer, arcByCentre, arcByRadius, arcTolerance } from './arcs.ts';
import { type CycleTerms, cycleSteps, MOST_PECKS, pecksOf } from './cycles.ts';
import {
  type Account,
  ASSUMED_HEIGHT,
  type Machine,
  moveTo,
  sayOnce,
  X_NAMED,
  Y_NAMED,
  Z_NAMED,
} from './machine.ts';
import { codeName } from './modes.ts';
import { type Block, hasAxis, hasWord, LETTER, WHOLE, word } from './words.ts';

const perUnit = (m: Machine): number => (m.unit === 'inch' ? 25.4 : 1);

/** The axes that a line names, as bits. */
const namedOn = (block: Block): number =>
  (block.has & BIT_X ? X_NAMED : 0) | (block.has & BIT_Y ? Y_NAMED : 0) | (block.has & BIT_Z ? Z_NAMED : 0);
const [BIT_X, BIT_Y, BIT_Z] = [1 << LETTER.X, 1 << LETTER.Y, 1 << LETTER.Z];

/** Where an axis word sends the machine, mm; the axis stays where the line does not name it. */
const axis = (block: Block, m: Machine, letter: number, at: number): number => {
  if (!hasWord(block, letter)) return at;
  const value = word(block, letter) * perUnit(m);
  return m.absolute ? value : at + value;
};

/** An increment of an axis that is not known leads nobody knows where. */
const checkIncrements = (named: number, m: Machine, a: Account): void => {
  if (m.absolute) return;
  const { known } = m;
  const blind =
    (named & X_NAMED && !known.x) || (named & Y_NAMED && !known.y) || (named & Z_NAMED && !known.z);
  if (blind) {
    sayOnce(a, 'position-unknown', 'An increment (G91) before the place it starts from has been set.');
  }
};

export const readStraight = (block: Block, kind: 'rapid' | 'feed', m: Machine, a: Account): void => {
  if (!hasAxis(block)) {
    a.report('motion-without-axis', 'A motion code without X, Y or Z: nothing moves.');
    return;
  }
  const named = namedOn(block);
  if (block.g.length > 0 && block.g.includes(530)) {
    moveInMachineCoordinates(named, kind, m, a);
    return;
  }
  checkIncrements(named, m, a);
  const { at } = m;
  const x = axis(block, m, LETTER.X, at.x);
  const y = axis(block, m, LETTER.Y, at.y);
  moveTo(m, a, kind, x, y, axis(block, m, LETTER.Z, at.z), named);
};

/** G53: only a retract of Z is understood, as a rise to well above the work. */
const moveInMachineCoordinates = (named: number, kind: 'rapid' | 'feed', m: Machine, a: Account): void => {
  if ((named & (X_NAMED | Y_NAMED)) !== 0 || kind === 'feed') {
    a.report(
      'unsupported-code',
      'G53 other than a rapid in Z: where the machine has its zero is not in the program.',
    );
  } else {
    sayOnce(
      a,
      'machine-coordinates',
      "G53 sends Z by the machine's own zero; read as a rise to well above the work.",
    );
    moveTo(m, a, kind, m.at.x, m.at.y, Math.max(m.at.z, ASSUMED_HEIGHT), named);
  }
  // A place of its own, so that finding it out later does not rewrite the motions before.
  m.at = { ...m.at };
  if (named & X_NAMED) {
    m.known.x = false;
    a.pending.x.push(m.at);
  }
  if (named & Y_NAMED) {
    m.known.y = false;
    a.pending.y.push(m.at);
  }
  if (named & Z_NAMED) m.known.z = false;
  a.said.delete('position-unknown');
  a.said.delete('height-unknown');
};

export const readArc = (block: Block, clockwise: boolean, m: Machine, a: Account): void => {
  if (block.g.includes(530)) {
    a.report('unsupported-code', 'G53 goes with G0 and G1 only. The line is left out.');
    return;
  }
  const named = namedOn(block);
  checkIncrements(named, m, a);
  const to = {
    x: axis(block, m, LETTER.X, m.at.x),
    y: axis(block, m, LETTER.Y, m.at.y),
    z: axis(block, m, LETTER.Z, m.at.z),
  };
  const byCentre = hasWord(block, LETTER.I) || hasWord(block, LETTER.J);
  const byRadius = hasWord(block, LETTER.R);
  if ((named & (X_NAMED | Y_NAMED)) === 0) {
    a.report(
      'arc-without-end',
      'An arc without X and Y: the standard wants one of them, even for a full turn.',
    );
    if (!byCentre && !byRadius && (named & Z_NAMED) === 0) return;
  }
  const answer = solve(block, to, clockwise, m, byCentre, byRadius);
  if (answer.fault !== null) a.report(answer.fault.code, answer.fault.message);
  // Without an arc the machine is taken straight to the end, so that what follows starts in its place.
  moveTo(m, a, answer.path === null ? 'feed' : 'arc', to.x, to.y, to.z, named, answer.path);
};

const solve = (
  block: Block,
  to: Point3,
  clockwise: boolean,
  m: Machine,
  byCentre: boolean,
  byRadius: boolean,
): ArcAnswer => {
  const unit = perUnit(m);
  const tolerance = arcTolerance(m.unit);
  if (byCentre && byRadius) {
    const message = 'An arc by centre (I, J) and by radius (R) at once.';
    return { path: null, fault: { code: 'arc-mixed-format', message } };
  }
  // An axis whose place is not known stands, from this motion on, where the motion puts it.
  const from = { x: m.known.x ? m.at.x : to.x, y: m.known.y ? m.at.y : to.y };
  if (byRadius) return arcByRadius(from, to, word(block, LETTER.R) * unit, clockwise, tolerance);
  if (!byCentre) {
    const message = 'An arc with neither a centre (I, J) nor a radius (R).';
    return { path: null, fault: { code: 'arc-without-centre', message } };
  }
  const centre = (letter: number, at: number): number => {
    if (!hasWord(block, letter)) return at;
    return word(block, letter) * unit + (m.centresAbsolute ? 0 : at);
  };
  const middle = { x: centre(LETTER.I, from.x), y: centre(LETTER.J, from.y) };
  return arcByCentre(from, to, middle, clockwise, tolerance);
};

/** The numbers of a cycle, from the line or kept from the line before; null when one is missing or senseless. */
const cycleNumbers = (
  block: Block,
  code: number,
  m: Machine,
  a: Account,
): NonNullable<Machine['sticky']> | null => {
  const kept = m.sticky?.code === code ? m.sticky : null;
  const missing = (what: string): null => {
    a.report('cycle-incomplete', `${codeName('G', code)} without ${what}. The line is left out.`);
    return null;
  };
  const pick = (letter: number, old: number | undefined): number =>
    hasWord(block, letter) ? word(block, letter) : (old ?? Number.NaN);
  const z = pick(LETTER.Z, kept?.z);
  const r = pick(LETTER.R, kept?.r);
  const q = pick(LETTER.Q, kept?.q);
  const p = pick(LETTER.P, kept?.p);
  if (!hasAxis(block)) return missing('X, Y and Z');
  if (Number.isNaN(z)) return missing('Z, the depth');
  if (Number.isNaN(r)) return missing('R, the height it goes back to');
  if (code === 830 || code === 730) {
    if (Number.isNaN(q)) return missing('Q, the peck');
    if (q <= 0) {
      a.report('bad-value', `Q${q}: a peck must be more than nought. The line is left out.`);
      return null;
    }
  }
  if (code === 820 || code === 860 || code === 890) {
    if (Number.isNaN(p)) return missing('P, the time at the bottom');
    if (p < 0) {
      a.report('bad-value', `P${p}: a time cannot be negative. The line is left out.`);
      return null;
    }
  }
  return { code, z, r, q: Number.isNaN(q) ? 0 : q, p: Number.isNaN(p) ? 0 : p };
};

const repeats = (block: Block, a: Account): number => {
  if (!hasWord(block, LETTER.L)) return 1;
  const count = word(block, LETTER.L);
  if (count < 1 - WHOLE || Math.abs(count - Math.round(count)) > WHOLE) {
    a.report('bad-value', `L${count}: a cycle is repeated a whole number of times. It is done once.`);
    return 1;
  }
  return Math.round(count);
};

/** A canned cycle becomes its rapid and feed motions (section 3.5.16). */
export const readCycle = (block: Block, code: number, m: Machine, a: Account): void => {
  if (block.g.includes(530)) {
    a.report('unsupported-code', 'G53 goes with G0 and G1 only. The line is left out.');
    return;
  }
  const first = m.sticky?.code !== code;
  const numbers = cycleNumbers(block, code, m, a);
  if (numbers === null) return;
  m.sticky = numbers;
  if (first) m.oldZ = m.at.z;
  const unit = perUnit(m);
  const retract = m.absolute ? numbers.r * unit : m.at.z + numbers.r * unit;
  const bottom = m.absolute ? numbers.z * unit : retract + numbers.z * unit;
  if (retract < bottom) {
    a.report('cycle-upside-down', `${codeName('G', code)}: R lies below Z. The line is left out.`);
    return;
  }
  const clear = m.retract === 'old' ? Math.max(m.oldZ, retract) : retract;
  const terms: CycleTerms = { code, retract, bottom, clear, peck: numbers.q * unit, dwell: numbers.p };
  const count = repeats(block, a);
  if (count * pecksOf(terms) > MOST_PECKS) {
    a.report(
      'cycle-too-many-pecks',
      `More than ${MOST_PECKS} pecks or repeats in one line. The line is left out.`,
    );
    return;
  }
  const toHeight = (kind: 'rapid' | 'feed', z: number): void =>
    moveTo(m, a, kind, m.at.x, m.at.y, z, Z_NAMED);
  const named = namedOn(block);
  if (m.at.z < retract) toHeight('rapid', retract);
  for (let k = 0; k < count; k++) {
    checkIncrements(named, m, a);
    const x = axis(block, m, LETTER.X, m.at.x);
    const y = axis(block, m, LETTER.Y, m.at.y);
    moveTo(m, a, 'rapid', x, y, m.at.z, named & ~Z_NAMED);
    toHeight('rapid', retract);
    for (const step of cycleSteps(terms)) {
      if (step.kind === 'dwell') a.dwell += step.seconds;
      else toHeight(step.kind, step.z);
    }
  }
};
