import type { Point, Point3 } from '../../sketch/shape/point.ts';

/** One motion that a program asks for, as read from its text: mm, mm/min, seconds, turns/min. */
export interface Motion {
  readonly kind: 'rapid' | 'feed' | 'arc';
  readonly from: Point3;
  readonly to: Point3;
  /** For an arc in XY: its centre, and signed sweep in radians (positive anticlockwise). */
  readonly centre?: Point;
  readonly sweep?: number;
  /** mm/min; 0 for a rapid. */
  readonly feed: number;
  /** Tool in the spindle (0 for none) and its speed; 0 when the spindle stands. */
  readonly tool: number;
  readonly speed: number;
  /** Line of the text, from 1. */
  readonly line: number;
  /** Index into `Reading.labels` of the last label comment before this motion; -1 for none. */
  readonly label: number;
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

/** A program as read: its motions in order, and its faults. */
export interface Reading {
  readonly motions: readonly Motion[];
  readonly labels: readonly Label[];
  readonly faults: readonly Fault[];
  readonly workOffset: string;
  readonly ended: boolean;
  /** Sum of G4 dwells, s. */
  readonly dwell: number;
}

/** Reads RS-274 text (NISTIR 6556). Never throws; faults are listed and reading goes on where it can. */
export declare function readProgram(text: string): Reading;
