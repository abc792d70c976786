import type { Finding } from '../../sketch/part/part.ts';

/** Something that stops a command: said in one line, and the program ends with exit status 2. */
export class Failure extends Error {}

/** The first error of a list, in one line, with a word on how many more there are. */
export const failureOf = (file: string, findings: readonly Finding[]): Failure => {
  const errors = findings.filter((f) => f.severity === 'error');
  const more = errors.length > 1 ? ` (and ${errors.length - 1} more; “leverwright check” lists them)` : '';
  return new Failure(`${file}: ${errors[0]?.message ?? 'cannot be made'}${more}`);
};

/** Text on one line, without anything that a terminal would obey. */
export const oneLine = (text: string): string =>
  text
    // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is to be taken out
    .replace(/[\u0000-\u001f\u007f-\u009f\u2028\u2029]+/g, ' ')
    .trim();
