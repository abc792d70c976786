import type { Finding } from '../part/part.ts';
import type { Segment } from '../shape/segment.ts';

/** A line or arc as it was drawn, mm, and the layer it lay on ('' where there are none). */
export interface Stroke {
  readonly segment: Segment;
  readonly layer: string;
}

/** Something that was not read or not used, and how often. */
export interface LeftOut {
  readonly what: string;
  readonly count: number;
}

/** How nearly curves that are neither lines nor arcs were followed, mm. */
export interface Fit {
  /** The greatest distance asked for. */
  readonly tolerance: number;
  /** The greatest distance found between a curve and what stands for it; 0 when all was exact. */
  readonly worst: number;
  /** Curves that had to be fitted. */
  readonly curves: number;
}

/** A drawing brought in: strokes in mm, Y up. */
export interface Drawing {
  readonly strokes: readonly Stroke[];
  /** The unit people would expect to see the part in. */
  readonly unit: 'mm' | 'inch';
  readonly mmPerUnit: number;
  readonly leftOut: readonly LeftOut[];
  readonly fit: Fit;
}

export interface UnitChoice {
  readonly name: string;
  readonly mmPerUnit: number;
}

/** What the file does not say and only a person knows: how long one of its units is. */
export interface UnitQuestion {
  readonly kind: 'unit';
  /** Size of the drawing in the file's own units, to choose by. */
  readonly width: number;
  readonly height: number;
  readonly choices: readonly UnitChoice[];
}

/** What came of reading a drawing. Of a refused one at least one finding is an error. */
export type DrawingReading =
  | { readonly kind: 'read'; readonly drawing: Drawing; readonly findings: readonly Finding[] }
  | { readonly kind: 'question'; readonly question: UnitQuestion; readonly findings: readonly Finding[] }
  | { readonly kind: 'refused'; readonly findings: readonly Finding[] };

export interface ReadingOptions {
  /** Length of one of the file's units, mm; goes before whatever the file says. */
  readonly mmPerUnit?: number;
  /** Greatest distance between a curve and the lines and arcs that stand for it, mm; 0.01 when left out. */
  readonly tolerance?: number;
}

export const FIT_TOLERANCE = 0.01;
/** Asked for less than this, a fit is made within this: finer than any tolerance of the geometry it serves, mm. */
export const LEAST_TOLERANCE = 0.0005;
export const MM_PER_INCH = 25.4;

/** More strokes than this are no lever. */
export const MOST_STROKES = 50_000;
/** A drawing larger than this, mm, is no lever, or its unit is wrong. */
export const LARGEST = 10_000;

/** What is wrong in a file at a line; thrown within the readers and turned into a finding at their edge. */
export class FileFault extends Error {
  readonly code: string;
  readonly line: number;
  constructor(code: string, line: number, message: string) {
    super(message);
    this.code = code;
    this.line = line;
  }
}

export const refused = (code: string, message: string): DrawingReading => ({
  kind: 'refused',
  findings: [{ code, message, severity: 'error' }],
});

/** Runs a reader and answers its faults as a refusal, so that nothing is ever thrown at the caller. */
export const guarded = (read: () => DrawingReading): DrawingReading => {
  try {
    return read();
  } catch (error) {
    if (error instanceof FileFault) {
      return refused(
        error.code,
        `${error.line > 0 ? `Line ${error.line}: ` : ''}${error.message}${error.message.endsWith('?') ? '' : '.'}`,
      );
    }
    return refused('drawing-unreadable', 'The drawing cannot be read.');
  }
};

/** Text of a file as it may stand in a message: short, without controls. */
export const shown = (text: string): string => {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are the very ones to be taken out
  const plain = text.replace(/[\u0000-\u001f\u007f-\u009f\u2028-\u202e\u2066-\u2069]/g, ' ').trim();
  return `“${plain.length > 40 ? `${plain.slice(0, 40)}…` : plain}”`;
};

/** Counts things by name, in the order they first came. */
export class Tally {
  readonly #counts = new Map<string, number>();
  add(what: string, count = 1): void {
    this.#counts.set(what, (this.#counts.get(what) ?? 0) + count);
  }
  list(): readonly LeftOut[] {
    return [...this.#counts].map(([what, count]) => ({ what, count }));
  }
}

/** Says what was left out, by kind and count. */
export const leftOutFinding = (leftOut: readonly LeftOut[]): readonly Finding[] =>
  leftOut.length === 0
    ? []
    : [
        {
          code: 'drawing-left-out',
          severity: 'warning',
          message: `Not read: ${leftOut
            .slice(0, 20)
            .map((l) => `${l.count} × ${l.what}`)
            .join(', ')}${leftOut.length > 20 ? `, and ${leftOut.length - 20} more kinds` : ''}.`,
        },
      ];
