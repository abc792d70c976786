import { type Account, type Machine, sayOnce } from './machine.ts';
import { codeName } from './modes.ts';
import { type Block, hasWord, LETTER, WHOLE, word } from './words.ts';

const perUnit = (m: Machine): number => (m.unit === 'inch' ? 25.4 : 1);

const isWhole = (value: number): boolean => Math.abs(value - Math.round(value)) <= WHOLE;

const SPINDLE_WORDS = (1 << LETTER.F) | (1 << LETTER.S) | (1 << LETTER.T);

/** Feed, speed, tool and what M words switch (table 8, items 2 to 9). */
export const setSpindle = (block: Block, m: Machine, a: Account): void => {
  if ((block.has & SPINDLE_WORDS) === 0 && block.m.length === 0) return;
  if (hasWord(block, LETTER.F)) {
    const feed = word(block, LETTER.F);
    if (feed < 0) a.report('bad-value', `F${feed}: a feed cannot be negative.`);
    m.feed = Math.max(0, feed) * perUnit(m);
    a.said.delete('feed-missing');
    const change = block.g.includes(200) ? 'inch' : block.g.includes(210) ? 'mm' : m.unit;
    if (change !== m.unit) {
      a.report(
        'units-changed',
        'F stands on the line that changes the unit: it is read in the old unit (table 8).',
      );
    }
  }
  if (hasWord(block, LETTER.S)) {
    const speed = word(block, LETTER.S);
    if (speed < 0) a.report('bad-value', `S${speed}: a speed cannot be negative.`);
    m.speed = Math.max(0, speed);
    a.said.delete('spindle-stopped');
  }
  if (hasWord(block, LETTER.T)) {
    const tool = word(block, LETTER.T);
    if (tool < 0 || !isWhole(tool)) a.report('bad-value', `T${tool}: a tool has a whole number.`);
    else m.selected = Math.round(tool);
  }
  for (const code of block.m) {
    if (code !== 6) continue;
    m.changesTools = true;
    m.spindle = 'stopped';
    m.tool = m.selected;
    a.said.delete('no-tool');
    a.said.delete('spindle-stopped');
    a.stops.push({ line: a.line, kind: 'tool change', tool: m.tool });
  }
  for (const code of block.m) {
    if (code !== 3 && code !== 4 && code !== 5) continue;
    m.spindle = code === 3 ? 'clockwise' : code === 4 ? 'anticlockwise' : 'stopped';
    a.said.delete('spindle-stopped');
    a.said.delete('spindle-backwards');
    if (code !== 5) putInByHand(m, a);
  }
};

/** Without M6 in the program the tool named by T is the one a person has put in. */
const putInByHand = (m: Machine, a: Account): void => {
  if (m.changesTools || m.tool === m.selected) return;
  m.tool = m.selected;
  a.said.delete('no-tool');
};

/** Dwell and the modes that G words set (table 8, items 10 to 18). */
export const setModes = (block: Block, m: Machine, a: Account): void => {
  if (block.g.length === 0) return;
  if (block.g.includes(40)) dwell(block, a);
  for (const code of block.g) setMode(code, block, m, a);
};

const dwell = (block: Block, a: Account): void => {
  if (!hasWord(block, LETTER.P)) a.report('bad-value', 'G4 needs P, the time in seconds.');
  else if (word(block, LETTER.P) < 0) a.report('bad-value', 'G4 with a negative time.');
  else a.dwell += word(block, LETTER.P);
};

const setMode = (code: number, block: Block, m: Machine, a: Account): void => {
  switch (code) {
    case 200:
    case 210:
      setUnit(code === 200 ? 'inch' : 'mm', m, a);
      return;
    case 430:
      if (!hasWord(block, LETTER.H) || word(block, LETTER.H) < 0 || !isWhole(word(block, LETTER.H))) {
        a.report('bad-value', 'G43 needs H, a whole number of the tool table.');
      }
      sayOnce(a, 'length-offset', 'G43 adds a length from the machine; Z is read as the height of the tip.');
      return;
    case 900:
    case 910:
      m.absolute = code === 900;
      return;
    case 901:
    case 911:
      m.centresAbsolute = code === 901;
      return;
    case 980:
    case 990:
      m.retract = code === 980 ? 'old' : 'R';
      return;
    default:
      if (code >= 540 && code <= 593) setWorkOffset(codeName('G', code), m, a);
  }
};

const setUnit = (unit: Machine['unit'], m: Machine, a: Account): void => {
  if (unit !== m.unit && a.count > 0) {
    a.report('units-changed', `The unit changes to ${unit} in the midst of the program.`);
  }
  // Numbers kept for the next line of a cycle would change their meaning.
  if (unit !== m.unit) m.sticky = null;
  m.unit = unit;
  m.unitStated = true;
};

const setWorkOffset = (offset: string, m: Machine, a: Account): void => {
  const moved = m.known.x || m.known.y || m.known.z;
  if (moved && offset !== (m.workOffset ?? 'G54')) {
    a.report(
      'work-offset-changed',
      `${offset} after motion in ${m.workOffset ?? 'G54'}: how the two lie is not in the program. It is read in the first.`,
    );
  } else m.workOffset = offset;
};

/** Stops and the end, after everything else on the line (table 8, item 21). */
export const stopProgram = (block: Block, m: Machine, a: Account): void => {
  if (block.m.length === 0) return;
  for (const code of block.m) {
    if (code === 2 || code === 30) m.ended = true;
    if (code !== 0 && code !== 1 && code !== 60) continue;
    if (code !== 1) putInByHand(m, a);
    a.stops.push({ line: a.line, kind: code === 1 ? 'optional stop' : 'stop', tool: m.tool });
  }
};
