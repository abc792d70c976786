/** What the tests use of gcode-parser, which ships no types. */
declare module 'gcode-parser' {
  export interface GCodeLine {
    readonly line: string;
    readonly words: readonly (readonly [letter: string, value: number | string])[];
  }
  export function parseStringSync(text: string): readonly GCodeLine[];
}
