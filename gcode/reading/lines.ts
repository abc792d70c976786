const isBlank = (code: number): boolean => code === 32 || code === 9;

/** Where the first character of a line that is no blank stands; its end where there is none. */
export const firstInk = (text: string, start: number, end: number): number => {
  let i = start;
  while (i < end && isBlank(text.charCodeAt(i))) i++;
  return i;
};

/** Whether the line, whose first ink is known, is a percent sign alone: it marks the ends of a file's useful contents (NISTIR 6556, 3.1). */
export const isPercent = (text: string, ink: number, end: number): boolean =>
  text.charCodeAt(ink) === 37 && firstInk(text, ink + 1, end) === end;

/** Goes through the lines of a text. A line ends with a carriage return, a line feed, or both. */
export interface Lines {
  readonly text: string;
  /** The line last taken lies from `start` to `end`. */
  start: number;
  end: number;
  next: number;
  feed: number;
  carriage: number;
}

const find = (text: string, mark: string, at: number): number => {
  const found = text.indexOf(mark, at);
  return found < 0 ? text.length : found;
};

export const linesFrom = (text: string, from: number): Lines => ({
  text,
  start: from,
  end: from,
  next: from,
  feed: find(text, '\n', from),
  carriage: find(text, '\r', from),
});

/** Takes the next line; false when there is none. The text is gone through once, whichever ending it uses. */
export const takeLine = (lines: Lines): boolean => {
  const { text, next } = lines;
  if (next >= text.length) return false;
  if (lines.feed < next) lines.feed = find(text, '\n', next);
  if (lines.carriage < next) lines.carriage = find(text, '\r', next);
  const { feed, carriage } = lines;
  const end = Math.min(feed, carriage);
  lines.start = next;
  lines.end = end;
  lines.next = end === carriage && feed === carriage + 1 ? feed + 1 : end + 1;
  return true;
};
