import type { Point, Point3 } from '../../sketch/shape/point.ts';

/** One motion that a program asks for, as read from its text: mm, mm/min, seconds, turns/min. */
export interface Motion {
  readonly kind: 'rapid' | 'feed' | 'arc';
  readonly from: Point3;
  readonly to: Point3;
  /** For an arc in XY: its centre, and signed sweep in radians (positive anticlockwise). */
  readonly centre?: Point;
  readonly sweep?: number;
  /** mm/min; 0 for a rapid, and for a feed motion before any F (a fault says so). */
  readonly feed: number;
  /** Tool in the spindle (0 for none) and its speed; 0 when the spindle stands. */
  readonly tool: number;
  readonly speed: number;
  /** Line of the text, from 1. */
  readonly line: number;
  /** Index into `Reading.labels` of the last label comment before this motion; -1 for none. */
  readonly label: number;
  /** The program has not said where the machine stands, so `from` is assumed: high above, over the first place named. */
  readonly assumed?: true;
}

/** A comment in which the writer names the job step and pass that follow. Only a label: nothing is computed from it. */
export interface Label {
  readonly line: number;
  readonly step: string;
  readonly pass: string;
}

/** Something in the text that the standard forbids, or that would surprise. */
export interface Fault {
  readonly code: string;
  readonly message: string;
  readonly line: number;
  readonly severity: 'error' | 'warning';
}

/** Where the program waits for a person, or changes the tool. */
export interface Stop {
  readonly line: number;
  readonly kind: 'stop' | 'optional stop' | 'tool change';
  /** Tool in the spindle afterwards. */
  readonly tool: number;
}

/** What is told of a program besides its motions. */
export interface Ending {
  /** Of motions. */
  readonly count: number;
  readonly labels: readonly Label[];
  readonly stops: readonly Stop[];
  readonly faults: readonly Fault[];
  readonly workOffset: string;
  readonly ended: boolean;
  /** Sum of the dwells, G4 and in canned cycles, s. */
  readonly dwell: number;
}

/** A program as read: its motions in order, and its faults. */
export interface Reading extends Omit<Ending, 'count'> {
  readonly motions: readonly Motion[];
}
