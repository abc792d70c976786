/** What a comment may hold besides its own parentheses; the standard's limit of 256 a line leaves room for a line number. */
const LONGEST = 200;

/** Width at which running text is broken into several comments: most controllers show no more. */
const LINE_WIDTH = 76;

const SPELT: readonly (readonly [RegExp, string])[] = [
  [/×/g, 'x'],
  [/[⌀∅]/g, 'dia '],
  [/°/g, ' deg'],
  [/[–—−]/g, '-'],
  [/[’‘]/g, "'"],
  [/[“”]/g, '"'],
  [/ß/g, 'ss'],
  [/[Øø]/g, 'o'],
];

/**
 * Text from the document as the inside of a comment, which it cannot leave: printable ASCII only, no parentheses, no
 * line break, nothing that starts another comment or ends a file, and none of the signs that some controllers obey
 * wherever they stand (! ~ ?). `most` is the greatest length.
 */
export const safeComment = (text: string, most: number = LONGEST): string => {
  let plain = text;
  for (const [sign, spelling] of SPELT) plain = plain.replace(sign, spelling);
  return (
    plain
      // Taking signs apart may bring parentheses to light, so it comes before they are replaced.
      .normalize('NFKD')
      .replace(/\p{M}/gu, '')
      .replace(/[(]/g, '[')
      .replace(/[)]/g, ']')
      .replace(/;/g, ',')
      .replace(/[%!~?]/g, '')
      .replace(/\s+/g, ' ')
      .replace(/[^ -~]/gu, '_')
      .trim()
      .slice(0, most)
      .trim()
  );
};

/** A comment line of its own. */
export const comment = (text: string): string => `(${safeComment(text)})`;

/** A message that the controller shows (NISTIR 6556, section 3.3.4). */
export const message = (text: string): string => `(MSG, ${safeComment(text, LONGEST - 5)})`;

/** Running text as comment lines, broken between words; lines after the first are set in, so none looks like a label. */
export const comments = (text: string): string[] => {
  const lines: string[] = [];
  let line = '';
  for (const word of safeComment(text, 2000).split(' ')) {
    if (line !== '' && line.length + 1 + word.length > LINE_WIDTH) {
      lines.push(line);
      line = '';
    }
    line += (line === '' ? '' : ' ') + word.slice(0, LONGEST - 2);
  }
  if (line !== '') lines.push(line);
  return lines.map((l, k) => (k === 0 ? `(${l})` : `(  ${l})`));
};

/** The label that stands before a pass and by which the reader knows what follows. */
export const label = (step: string, pass: string): string =>
  `(STEP ${labelledAs(step)} - PASS ${safeComment(pass, 60)})`;

/** A job step's name as labels bear it. */
export const labelledAs = (step: string): string => safeComment(step, 120) || 'unnamed';
