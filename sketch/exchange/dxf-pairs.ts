import { FileFault, shown } from './drawing.ts';

/**
 * A DXF file as its pairs of lines, group code and value, one after another without a copy of the whole
 * (DXF reference, group codes).
 */
export interface PairCursor {
  /** Goes on to the next pair; false at the end of the text. */
  readonly next: () => boolean;
  readonly code: () => number;
  readonly value: () => string;
  /** Line number of the value, from 1. */
  readonly line: () => number;
}

export const pairCursor = (text: string): PairCursor => {
  const lineEnd = text.slice(0, 20_000).includes('\n') ? '\n' : '\r';
  let place = 0;
  let line = 0;
  let code = 0;
  let valueFrom = 0;
  let valueTo = 0;

  const endOfLine = (): number => {
    const end = text.indexOf(lineEnd, place);
    line += 1;
    return end < 0 ? text.length : end;
  };

  const next = (): boolean => {
    if (place >= text.length) return false;
    const codeEnd = endOfLine();
    const read = integerIn(text, place, codeEnd);
    if (read === null) {
      // Blank lines after the last pair are no fault.
      if (text.slice(place, place + 1000).trim() === '' && text.slice(place).trim() === '') return false;
      const found = text.slice(place, Math.min(codeEnd, place + 60));
      throw new FileFault(
        'dxf-group-code',
        line,
        `a group code, a whole number, is wanted and ${shown(found)} is there; the file is broken or no DXF`,
      );
    }
    code = read;
    place = codeEnd + 1;
    if (place > text.length) throw new FileFault('dxf-cut-short', line, 'the file stops within a pair');
    valueFrom = place;
    valueTo = endOfLine();
    place = valueTo + 1;
    return true;
  };

  return { next, code: () => code, value: () => text.slice(valueFrom, valueTo).trim(), line: () => line };
};

const isBlank = (c: number): boolean => c === 32 || c === 9 || c === 13 || c === 0xfeff;

/** The whole number that fills a stretch of the text but for blanks; null when it holds anything else. */
const integerIn = (text: string, from: number, to: number): number | null => {
  let i = from;
  while (i < to && isBlank(text.charCodeAt(i))) i++;
  let sign = 1;
  if (text.charCodeAt(i) === 45) {
    sign = -1;
    i++;
  }
  let value = 0;
  let digits = 0;
  for (; i < to; i++) {
    const c = text.charCodeAt(i) - 48;
    if (c < 0 || c > 9) break;
    value = value * 10 + c;
    digits++;
  }
  while (i < to && isBlank(text.charCodeAt(i))) i++;
  return digits === 0 || digits > 5 || i < to ? null : sign * value;
};

const NUMBER = /^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?$/;

/** A number as DXF writes it; anything else is a fault of its line. */
export const numberOf = (value: string, line: number): number => {
  const number = NUMBER.test(value) ? Number(value) : Number.NaN;
  if (!Number.isFinite(number)) {
    throw new FileFault('dxf-number', line, `a number is wanted and ${shown(value)} is there`);
  }
  return number;
};
