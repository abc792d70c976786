/** G codes of the motions that stay in force. */
const MOTIONS = new Set([0, 1, 2, 3]);

/**
 * Bytes of a program that say nothing new: a motion code or a feed that is in force already, and a coordinate that is
 * where the cutter stands. Comments and line ends are left out of it, and canned cycles taken as they are.
 */
export const idleBytes = (text: string): number => {
  const at = new Map<string, number>();
  let motion = -1;
  let idle = 0;
  for (const line of text.split('\n')) {
    // For whoever begins here nothing is in force yet: all that is needed is said again, and new to them.
    if (line.includes('A run may be begun at the next line')) {
      at.clear();
      motion = -1;
    }
    const words = [...line.replace(/\([^)]*\)/g, '').matchAll(/([A-Z])(-?[\d.]+)/g)];
    if (words.some(([, letter, value]) => letter === 'G' && Number(value) >= 73)) continue;
    const named = words.flatMap(([, letter, value]) => (letter === 'G' ? [Number(value)] : []));
    const round =
      named.some((g) => g === 2 || g === 3) || ((motion === 2 || motion === 3) && named.length === 0);
    // The standard wants an arc's end, even where it is where it began.
    const ends = words.filter(([, letter]) => letter === 'X' || letter === 'Y').length;
    for (const [word, letter, value] of words) {
      const number = Number(value);
      const bytes = word.length + 1;
      if (letter === 'G' && MOTIONS.has(number)) {
        if (number === motion) idle += bytes;
        motion = number;
      } else if (
        letter === 'F' ||
        letter === 'Z' ||
        ((letter === 'X' || letter === 'Y') && !(round && ends === 1))
      ) {
        if (at.get(letter!) === number) idle += bytes;
        at.set(letter!, number);
      }
    }
  }
  return idle;
};
