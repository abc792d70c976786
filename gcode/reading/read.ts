import { firstInk, isPercent, type Lines, linesFrom, takeLine } from './lines.ts';
import { type Account, closeAccount, type Machine, newAccount, newMachine, sayOnce } from './machine.ts';
import { checkBlock, isCycle, motionOn } from './modes.ts';
import type { Ending, Label, Motion, Reading } from './motion.ts';
import { readArc, readCycle, readStraight } from './moves.ts';
import { setModes, setSpindle, stopProgram } from './settings.ts';
import { type Block, emptyBlock, hasAxis, hasWord, isEmpty, LETTER, scanBlock } from './words.ts';

/**
 * Reads RS-274 text as NISTIR 6556 describes the language: XY plane, units per minute, no parameters, no cutter radius
 * compensation. Never throws; faults are listed, a line that cannot be read is left out as a whole, and reading goes on.
 *
 * What the text leaves open is decided so: before the program names a place the machine stands 100 mm above program
 * zero, over the first X and Y that are named; millimetres, absolute places and work offset G54 hold until changed; block
 * delete is off; and in a program without M6 a T word names the tool that is put in by hand at the next stop or
 * before the spindle is next started.
 */
export const readProgram = (text: string): Reading => {
  const motions: Motion[] = [];
  const steps = readInSteps(text);
  for (let step = steps.next(); ; step = steps.next()) {
    if (step.done) {
      const { count: _, ...rest } = step.value;
      return { motions, ...rest };
    }
    for (const motion of step.value.motions) motions.push(motion);
  }
};

/** Some motions more, and how far in the text they go: characters read so far. */
export interface ReadStep {
  readonly motions: readonly Motion[];
  /** All labels so far; the list grows from step to step. */
  readonly labels: readonly Label[];
  readonly read: number;
}

/** Lines read between two steps. */
const LINES_A_STEP = 2000;

/**
 * The same, some thousand lines at a time: motions are handed on and forgotten, so that a program of any length takes
 * no more memory than its text. Whoever takes the steps may stop between any two. Motions are held back only while it
 * is not known where the machine stood.
 */
export function* readInSteps(text: string): Generator<ReadStep, Ending> {
  const marked = text.charCodeAt(0) === 0xfeff;
  const m = newMachine();
  const course: Course = {
    lines: linesFrom(text, marked ? 1 : 0),
    m,
    a: newAccount(m.at),
    block: emptyBlock(),
    opened: false,
    closed: false,
    begun: false,
  };
  const { a } = course;
  if (marked) {
    a.line = 1;
    a.report('byte-order-mark', 'The file begins with a byte order mark, which a controller may not know.');
    a.line = 0;
  }
  for (let more = true; more; ) {
    more = readSome(course);
    if (a.motions.length === 0 || (more && a.pending.x.length + a.pending.y.length > 0)) continue;
    const { motions } = a;
    a.motions = [];
    yield { motions, labels: a.labels, read: Math.min(text.length, course.lines.next) };
  }
  const { opened, closed } = course;
  if (opened && !closed) {
    a.report('percent-unclosed', 'The file opens with a percent sign and does not close with one.');
  }
  if (!m.ended && !closed) a.report('no-end', 'The program has no end (M2 or M30).');
  return closeAccount(m, a, m.ended || closed);
}

/** A reading under way. */
interface Course {
  readonly lines: Lines;
  readonly m: Machine;
  readonly a: Account;
  readonly block: Block;
  /** Percent signs seen, and whether anything was. */
  opened: boolean;
  closed: boolean;
  begun: boolean;
}

/** Reads on for some lines; false at the end. */
const readSome = (course: Course): boolean => {
  const { lines, m, a, block } = course;
  const { text } = lines;
  for (let k = 0; k < LINES_A_STEP; k++) {
    if (!takeLine(lines)) return false;
    a.line++;
    const { start, end } = lines;
    const ink = firstInk(text, start, end);
    if (ink === end) continue;
    if (isPercent(text, ink, end)) {
      const { opened, begun } = course;
      course.closed = opened;
      if (begun && !opened && !m.ended) {
        a.report('stray-percent', 'A percent sign closes the file, but none opens it.');
      }
      if (!begun) course.opened = true;
      course.begun = true;
      if (course.closed) return false;
      continue;
    }
    course.begun = true;
    if (m.ended) readAfterEnd(text, start, end, block, a);
    else readLine(text, start, end, block, m, a);
    if (a.full) return false;
  }
  return true;
};

const readLine = (text: string, start: number, end: number, block: Block, m: Machine, a: Account): void => {
  if (!scanBlock(text, start, end, block, a.report)) return;
  if (block.comment !== null) takeLabel(block.comment, a);
  if (isEmpty(block)) return;
  if (!checkBlock(block, m.motion, a.report)) return;
  // In the order of table 8: what sets the machine up, then the motion, then the stop.
  setSpindle(block, m, a);
  setModes(block, m, a);
  readMotion(block, m, a);
  stopProgram(block, m, a);
};

const readMotion = (block: Block, m: Machine, a: Account): void => {
  const motion = motionOn(block, m.motion);
  const named = motion !== null && block.g.length > 0 && block.g.includes(motion);
  if (motion !== m.motion) m.sticky = null;
  m.motion = motion;
  if (motion === null || motion === 800) return;
  const own = hasAxis(block) || ownWords(block, motion);
  if (!own && !named) return;
  if (!m.unitStated)
    sayOnce(a, 'units-not-stated', 'Neither G20 nor G21 before the first motion; read as mm.');
  if (isCycle(motion)) readCycle(block, motion, m, a);
  else if (motion === 20 || motion === 30) readArc(block, motion === 20, m, a);
  else readStraight(block, motion === 0 ? 'rapid' : 'feed', m, a);
};

/** Words that belong to the arc or cycle in force, so that a line with them alone still means to move. */
const ownWords = (block: Block, motion: number): boolean => {
  if (motion === 20 || motion === 30) {
    return hasWord(block, LETTER.I) || hasWord(block, LETTER.J) || hasWord(block, LETTER.R);
  }
  if (!isCycle(motion)) return false;
  const waits = hasWord(block, LETTER.P) && !block.g.includes(40);
  return waits || hasWord(block, LETTER.R) || hasWord(block, LETTER.Q) || hasWord(block, LETTER.L);
};

/** A comment "STEP name - PASS text" names what follows. */
const takeLabel = (comment: string, a: Account): void => {
  const words = comment.trim();
  if (!words.toUpperCase().startsWith('STEP ')) return;
  const middle = words.toUpperCase().lastIndexOf(MIDDLE);
  if (middle < 0) return;
  a.labels.push({
    line: a.line,
    step: words.slice(5, middle).trim(),
    pass: words.slice(middle + MIDDLE.length).trim(),
  });
};

const MIDDLE = ' - PASS ';

/** Lines after M2 or M30 are never run (section 3.1); what is on them is only told. */
const readAfterEnd = (text: string, start: number, end: number, block: Block, a: Account): void => {
  const readable = scanBlock(text, start, end, block, () => {});
  if (readable && isEmpty(block)) return;
  if (readable && (hasAxis(block) || (motionOn(block, null) ?? 800) !== 800)) {
    sayOnce(a, 'motion-after-end', 'A motion stands after the end of the program and is never run.');
  } else sayOnce(a, 'words-after-end', 'Words stand after the end of the program and are never obeyed.');
};
