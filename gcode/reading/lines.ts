/** Whether the line is a percent sign alone, which marks the ends of a file's useful contents (NISTIR 6556, 3.1). */
export const isPercent = (text: string, start: number, end: number): boolean =>
  end - start < 1000 && text.slice(start, end).trim() === '%';

export const isBlankLine = (text: string, start: number, end: number): boolean => {
  for (let i = start; i < end; i++) {
    const c = text.charCodeAt(i);
    if (c !== 32 && c !== 9) return false;
  }
  return true;
};

/**
 * Calls `take` with the start and end of each line in turn, until it returns false. A line ends with a carriage
 * return, a line feed, or both. The text is gone through once, whichever ending it uses.
 */
export const eachLine = (text: string, from: number, take: (start: number, end: number) => boolean): void => {
  const find = (mark: string, at: number): number => {
    const found = text.indexOf(mark, at);
    return found < 0 ? text.length : found;
  };
  let feed = find('\n', from);
  let carriage = find('\r', from);
  for (let start = from; start < text.length; ) {
    if (feed < start) feed = find('\n', start);
    if (carriage < start) carriage = find('\r', start);
    const end = Math.min(feed, carriage);
    if (!take(start, end)) return;
    start = end === carriage && feed === carriage + 1 ? feed + 1 : end + 1;
  }
};
