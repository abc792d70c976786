import type { Report } from './faults.ts';

/** One line of a program taken apart into words (NISTIR 6556, section 3.3). Reused from line to line. */
export interface Block {
  /** G and M numbers in the order of writing; G numbers times ten, so that G59.1 is 591. */
  readonly g: number[];
  readonly m: number[];
  /** Values of all other letters, A = 0 … Z = 25, valid where `has` has the letter's bit. */
  readonly value: Float64Array;
  has: number;
  /** The last comment in parentheses; null for none. */
  comment: string | null;
}

export const emptyBlock = (): Block => ({ g: [], m: [], value: new Float64Array(26), has: 0, comment: null });

const N = 13;

/** A letter's place in `Block.value`. */
export const LETTER = {
  D: 3,
  F: 5,
  H: 7,
  I: 8,
  J: 9,
  K: 10,
  L: 11,
  P: 15,
  Q: 16,
  R: 17,
  S: 18,
  T: 19,
  X: 23,
  Y: 24,
  Z: 25,
} as const;

export const hasWord = (block: Block, letter: number): boolean => (block.has & (1 << letter)) !== 0;
export const word = (block: Block, letter: number): number => block.value[letter]!;

/** Any of X, Y and Z. */
const AXES = (1 << LETTER.X) | (1 << LETTER.Y) | (1 << LETTER.Z);
export const hasAxis = (block: Block): boolean => (block.has & AXES) !== 0;
/** No word on the line; a line number is none. */
export const isEmpty = (block: Block): boolean =>
  (block.has & ~(1 << N)) === 0 && block.g.length === 0 && block.m.length === 0;

/** Section 3.3: at most this many characters on a line. */
const LONGEST_LINE = 256;
/** A longer line is no line of a program but some other file, or an attack. */
export const LONGEST_READ = 65_536;
/** No hobby machine goes a kilometre; a larger number is a slip or an attack. */
export const LARGEST_NUMBER = 1e6;
/** Section 3.3.2.1: a number that should be whole may be off by this much. */
export const WHOLE = 1e-4;

const G = 6;
const M = 12;
const ROTARY = (1 << 0) | (1 << 1) | (1 << 2);
/** E, O, U, V and W begin no word (table 3). */
const NO_WORD = (1 << 4) | (1 << 14) | (1 << 20) | (1 << 21) | (1 << 22);

const letterOf = (code: number): number => {
  if (code >= 65 && code <= 90) return code - 65;
  if (code >= 97 && code <= 122) return code - 97;
  return -1;
};
const nameOf = (letter: number): string => String.fromCharCode(65 + letter);
const isBlank = (code: number): boolean => code === 32 || code === 9;
const shown = (code: number): string =>
  code > 32 && code < 127 ? `"${String.fromCharCode(code)}"` : `character ${code}`;

/** Powers of ten that a double holds exactly. */
const TENS = Array.from({ length: 23 }, (_, k) => 10 ** k);

/** The number that `scanNumber` found and where it ended. */
interface NumberScan {
  value: number;
  end: number;
  digits: number;
  plain: boolean;
}

/**
 * Reads a number from `start`: sign, digits, one point, digits, with blanks anywhere (section 3.3.2.1). Up to fifteen
 * digits are gathered exactly in a double; longer ones are left to the language's own conversion.
 */
const scanNumber = (text: string, start: number, end: number, scan: NumberScan): void => {
  let i = start;
  let negative = false;
  let signed = false;
  let point = false;
  let whole = 0;
  let digits = 0;
  let decimals = 0;
  for (; i < end; i++) {
    const c = text.charCodeAt(i);
    if (c >= 48 && c <= 57) {
      if (digits < 15) whole = whole * 10 + (c - 48);
      digits++;
      if (point) decimals++;
    } else if (c === 46 && !point) point = true;
    else if ((c === 43 || c === 45) && !signed && digits === 0 && !point) {
      signed = true;
      negative = c === 45;
    } else if (!isBlank(c)) break;
  }
  const size =
    digits <= 15 ? whole / TENS[decimals]! : Math.abs(Number(text.slice(start, i).replace(/[ \t]/g, '')));
  scan.end = i;
  scan.digits = digits;
  scan.plain = !signed && !point;
  scan.value = size === 0 ? 0 : negative ? -size : size;
};

/** Where a comment that opens at `open` closes, or -1 (said aloud) when it does not, or not lawfully. */
const closeComment = (text: string, open: number, end: number, report: Report): number => {
  for (let i = open + 1; i < end; i++) {
    const c = text.charCodeAt(i);
    if (c === 41) return i;
    if (c === 40) {
      report('comment-nested', 'A comment opens inside a comment. The line is left out.');
      return -1;
    }
    if (c < 32 && c !== 9) {
      report('illegal-character', `A comment holds ${shown(c)}. The line is left out.`);
      return -1;
    }
  }
  report('comment-unclosed', 'A comment is not closed on its line. The line is left out.');
  return -1;
};

const scan: NumberScan = { value: 0, end: 0, digits: 0, plain: true };

/**
 * Takes the line text[start, end) apart into `block`. False when something on it cannot be read: the fault has then
 * been reported, and the line must be left out as a whole.
 */
export const scanBlock = (
  text: string,
  start: number,
  end: number,
  block: Block,
  report: Report,
): boolean => {
  if (block.g.length > 0) block.g.length = 0;
  if (block.m.length > 0) block.m.length = 0;
  block.has = 0;
  block.comment = null;
  if (end - start > LONGEST_READ) {
    report(
      'line-endless',
      `The line has ${end - start} characters; no more than ${LONGEST_READ} are read. It is left out.`,
    );
    return false;
  }
  if (end - start > LONGEST_LINE) {
    report('line-too-long', `The line has ${end - start} characters; the standard allows ${LONGEST_LINE}.`);
  }
  let begun = false;
  for (let i = start; i < end; ) {
    const c = text.charCodeAt(i);
    if (isBlank(c)) {
      i++;
      continue;
    }
    if (c === 40) {
      const close = closeComment(text, i, end, report);
      if (close < 0) return false;
      block.comment = text.slice(i + 1, close);
      i = close + 1;
      begun = true;
      continue;
    }
    if (c === 59) {
      report(
        'comment-semicolon',
        'A comment after a semicolon is not in the standard; put it in parentheses.',
      );
      return true;
    }
    if (c === 47 && !begun) {
      report('block-delete', 'The line is skipped when block delete is on; it is read here as if it is off.');
      begun = true;
      i++;
      continue;
    }
    const letter = letterOf(c);
    if (letter < 0) {
      if (c === 35 || c === 91 || c === 93 || c === 61) {
        report('parameter-or-expression', 'Parameters and expressions are not read. The line is left out.');
      } else report('illegal-character', `${shown(c)} may not stand here. The line is left out.`);
      return false;
    }
    scanNumber(text, i + 1, end, scan);
    i = scan.end;
    if (!takeWord(text, letter, i, end, block, report)) return false;
    begun = true;
  }
  return true;
};

/** Puts the word just scanned into the block. */
const takeWord = (
  text: string,
  letter: number,
  at: number,
  end: number,
  block: Block,
  report: Report,
): boolean => {
  const { value, digits } = scan;
  if (digits === 0) {
    const name = nameOf(letter);
    const next = at < end ? text.charCodeAt(at) : 0;
    if (next === 35 || next === 91) {
      report(
        'parameter-or-expression',
        `${name} is given by a parameter or an expression. The line is left out.`,
      );
    } else report('word-without-number', `${name} has no number. The line is left out.`);
    return false;
  }
  const bit = 1 << letter;
  if (letter === N) {
    const early = isEmpty(block) && (block.has & bit) === 0;
    block.has |= bit;
    if (!early || !scan.plain || digits > 5) {
      report('line-number', 'A line number stands first on its line: N and up to five digits.');
    }
    return true;
  }
  if ((bit & ROTARY) !== 0) {
    report('rotary-axis', `${nameOf(letter)} turns a rotary axis, which is not read. The line is left out.`);
    return false;
  }
  if ((bit & NO_WORD) !== 0) {
    report('unknown-letter', `${nameOf(letter)} begins no word of the standard. The line is left out.`);
    return false;
  }
  if (Math.abs(value) > LARGEST_NUMBER) {
    report('number-too-large', `${nameOf(letter)} is beyond a million. The line is left out.`);
    return false;
  }
  if (letter === G || letter === M) {
    const scaled = letter === G ? value * 10 : value;
    const code = Math.round(scaled);
    if (Math.abs(scaled - code) > WHOLE || code < 0) {
      report(
        'unknown-code',
        `${nameOf(letter)}${value} is not a code of the standard. The line is left out.`,
      );
      return false;
    }
    (letter === G ? block.g : block.m).push(code);
    return true;
  }
  if ((block.has & bit) !== 0) {
    report('repeated-word', `${nameOf(letter)} stands twice on the line. The line is left out.`);
    return false;
  }
  block.has |= bit;
  block.value[letter] = value;
  return true;
};
