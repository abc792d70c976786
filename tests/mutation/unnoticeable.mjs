/**
 * Ways to spoil the code that change nothing anybody could notice, each with its reason. They are left out of the
 * sample. `line` is the whole line on which `was` begins; without `now` whatever is put in its place is meant.
 */
export const UNNOTICEABLE = [
  // The words of a cycle put together are only held against those of the last one.
  { file: 'gcode/program/typist.ts', line: "const cycle = own.join(' ');", was: "' '" },
];
