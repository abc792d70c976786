/** The number of single-letter edits between two words (Levenshtein), not told apart by capitals. */
const edits = (a: string, b: string): number => {
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const swap = row[j - 1]! + (a[i - 1] === b[j - 1] ? 0 : 1);
      next.push(Math.min(swap, row[j]! + 1, next[j - 1]! + 1));
    }
    row = next;
  }
  return row[b.length]!;
};

/** The known name that was most likely meant, or null when none is near. */
export const nearestName = (wanted: string, known: Iterable<string>): string | null => {
  if (wanted.length > 80) return null;
  const limit = Math.max(1, Math.floor(wanted.length / 3));
  let best: string | null = null;
  let least = limit + 1;
  for (const name of known) {
    if (Math.abs(name.length - wanted.length) > limit) continue;
    const cost = edits(wanted.toLowerCase(), name.toLowerCase());
    if (cost < least) {
      least = cost;
      best = name;
    }
  }
  return best;
};

/** A name from a file as it is shown in a sentence: in quotes, on one line, not longer than need be. */
export const quoted = (name: string): string => {
  const flat = name.replace(/\p{Cc}+/gu, ' ').trim();
  return `“${flat.length > 60 ? `${flat.slice(0, 59)}…` : flat}”`;
};

/** The text closed with a full stop, where it does not close itself. */
export const sentence = (text: string): string => (/[.?!…]$/.test(text) ? text : `${text}.`);
