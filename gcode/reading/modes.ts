import type { Report } from './faults.ts';
import { type Block, hasAxis, LETTER } from './words.ts';

/** What the reader does with a code: obeys it, obeys it though the standard lacks it, or only knows that it exists. */
type Standing = 'read' | 'outside' | 'refused';

interface Code {
  readonly group: number;
  readonly standing: Standing;
}

const codes = (group: number, standing: Standing, ...numbers: number[]): [number, Code][] =>
  numbers.map((n) => [n, { group, standing }]);

/** G codes by modal group (NISTIR 6556, table 4), numbers times ten. Group 0 is not modal. */
const G_CODES = new Map<number, Code>([
  ...codes(1, 'read', 0, 10, 20, 30, 800, 810, 820, 830, 850, 860, 890),
  ...codes(1, 'refused', 382, 840, 870, 880),
  ...codes(1, 'outside', 730),
  ...codes(2, 'read', 170),
  ...codes(2, 'refused', 180, 190),
  ...codes(3, 'read', 900, 910),
  // Whether I and J are increments or places: not in the standard, where they are always increments.
  ...codes(4, 'outside', 901, 911),
  ...codes(5, 'read', 940),
  ...codes(5, 'refused', 930),
  ...codes(6, 'read', 200, 210),
  ...codes(7, 'read', 400),
  ...codes(7, 'refused', 410, 420),
  ...codes(8, 'read', 430, 490),
  ...codes(10, 'read', 980, 990),
  ...codes(12, 'read', 540, 550, 560, 570, 580, 590, 591, 592, 593),
  ...codes(13, 'read', 610, 611, 640),
  ...codes(0, 'read', 40, 530),
  ...codes(0, 'refused', 100, 280, 300, 920, 921, 922, 923),
]);

const M_CODES = new Map<number, Code>([
  ...codes(4, 'read', 0, 1, 2, 30, 60),
  ...codes(6, 'read', 6),
  ...codes(7, 'read', 3, 4, 5),
  ...codes(8, 'read', 7, 8, 9),
  ...codes(9, 'read', 48, 49),
]);

/** The modal group of a G code (number times ten) or an M code; undefined when there is no such code. */
export const groupOf = (letter: 'G' | 'M', code: number): number | undefined =>
  (letter === 'G' ? G_CODES : M_CODES).get(code)?.group;

const REASON: Record<number, string> = {
  100: 'it moves a coordinate system',
  180: 'only the XY plane (G17) is read',
  190: 'only the XY plane (G17) is read',
  280: 'where home lies is not in the program',
  300: 'where home lies is not in the program',
  382: 'where a probe trips is not in the program',
  410: 'the path would hang on a diameter that is not in the program',
  420: 'the path would hang on a diameter that is not in the program',
  840: 'tapping under power is not read',
  870: 'back boring is not read',
  880: 'retracting by hand is not read',
  920: 'it moves every coordinate system',
  921: 'it moves every coordinate system',
  922: 'it moves every coordinate system',
  923: 'it moves every coordinate system',
  930: 'feed by inverse time is not read; use G94',
};

export const codeName = (letter: string, code: number): string =>
  letter === 'G' ? `G${code / 10}` : `${letter}${code}`;

/** Checks the codes of one letter: each known, and no two of one modal group (section 3.3.5). */
const checkCodes = (letter: 'G' | 'M', list: readonly number[], report: Report): boolean => {
  let sound = true;
  let seen = 0;
  for (const code of list) {
    const known = (letter === 'G' ? G_CODES : M_CODES).get(code);
    const name = codeName(letter, code);
    if (known === undefined) {
      report('unknown-code', `${name} is not a code of the standard. The line is left out.`);
      sound = false;
      continue;
    }
    if (known.standing === 'refused') {
      report('unsupported-code', `${name} is not obeyed: ${REASON[code]}. The line is left out.`);
      sound = false;
    } else if (known.standing === 'outside') {
      report('outside-standard', `${name} is not in the standard, though many controllers know it.`);
    }
    // Of group 0 two different codes may share a line, the same code twice may not.
    const twice =
      known.group === 0 ? list.indexOf(code) !== list.lastIndexOf(code) : (seen >> known.group) & 1;
    seen |= 1 << known.group;
    if (twice) {
      report(
        'same-group',
        `${name} and another ${letter} code of its modal group stand on one line. It is left out.`,
      );
      sound = false;
    }
  }
  return sound;
};

export const isCycle = (motion: number | null): boolean =>
  motion !== null && (motion === 730 || motion > 800);

/** The motion code on the line, or the one in force; null for none. */
export const motionOn = (block: Block, inForce: number | null): number | null => {
  if (block.g.length === 0) return inForce;
  for (const code of block.g) if (G_CODES.get(code)?.group === 1) return code;
  return inForce;
};

/**
 * Checks what may stand together on a line, before anything of it is done. False when the line must be left out: the
 * fault has been reported.
 */
export const checkBlock = (block: Block, inForce: number | null, report: Report): boolean => {
  let sound = true;
  if (block.m.length > 4) {
    report(
      'too-many-m-words',
      `${block.m.length} M words on one line; four are allowed. The line is left out.`,
    );
    sound = false;
  }
  if (block.g.length > 0) sound = checkCodes('G', block.g, report) && sound;
  if (block.m.length > 0) sound = checkCodes('M', block.m, report) && sound;
  if (!sound) return false;
  const motion = motionOn(block, inForce);
  if (hasAxis(block) && (motion === null || motion === 800)) {
    report('axis-without-motion', 'X, Y or Z without a motion code in force. The line is left out.');
    return false;
  }
  return checkStray(block, motion, report);
};

/** Words that mean something only beside certain codes. */
const checkStray = (block: Block, motion: number | null, report: Report): boolean => {
  const words = block.has & STRAYABLE;
  if (words === 0) return true;
  const stray = words & ~ownedBy(block, motion);
  if (stray === 0) return true;
  const name = STRAYS.find(([letter]) => (stray & (1 << letter)) !== 0)![1];
  report('stray-word', `${name} belongs to no code on this line or in force. The line is left out.`);
  return false;
};

/** The letters, as bits, that the codes on a line and the motion in force give a meaning to. */
const ownedBy = (block: Block, motion: number | null): number => {
  let owned = motion === 20 || motion === 30 ? BIT_I | BIT_J | BIT_R : 0;
  if (isCycle(motion)) owned |= BIT_R | BIT_L;
  if (motion === 830 || motion === 730) owned |= BIT_Q;
  if (motion === 820 || motion === 860 || motion === 890) owned |= BIT_P;
  if (block.g.includes(40)) owned |= BIT_P;
  if (block.g.includes(430)) owned |= BIT_H;
  return owned;
};

/** In the order in which they are told. */
const STRAYS: readonly (readonly [letter: number, name: string])[] = [
  [LETTER.I, 'I'],
  [LETTER.J, 'J'],
  [LETTER.K, 'K'],
  [LETTER.R, 'R'],
  [LETTER.Q, 'Q'],
  [LETTER.L, 'L'],
  [LETTER.H, 'H'],
  [LETTER.P, 'P'],
  [LETTER.D, 'D'],
];
const STRAYABLE = STRAYS.reduce((bits, [letter]) => bits | (1 << letter), 0);
const [BIT_I, BIT_J, BIT_R] = [1 << LETTER.I, 1 << LETTER.J, 1 << LETTER.R];
const [BIT_L, BIT_Q, BIT_P, BIT_H] = [1 << LETTER.L, 1 << LETTER.Q, 1 << LETTER.P, 1 << LETTER.H];
