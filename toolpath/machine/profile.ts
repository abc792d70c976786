import type { Cutter } from './cutter.ts';

/** What one machine can do and what lies in its drawers. mm, mm/min, turns/min, W. */
export interface MachineProfile {
  readonly name: string;
  readonly spindle: {
    readonly least: number;
    readonly most: number;
    readonly power: number;
    /** The speeds its belts or gears give, rising; empty for a stepless spindle. */
    readonly steps: readonly number[];
  };
  readonly feed: { readonly most: number; readonly mostPlunge: number; readonly rapid: number };
  readonly travel: { readonly x: number; readonly y: number; readonly z: number };
  readonly vice: { readonly jawWidth: number; readonly jawHeight: number; readonly opening: number };
  readonly parallels: readonly { readonly height: number; readonly thickness: number }[];
  readonly cutters: readonly Cutter[];
  readonly program: ProgramForm;
}

/** How the controller wants its program, by capability. */
export interface ProgramForm {
  readonly unit: 'mm' | 'inch';
  readonly decimals: number;
  readonly arcs: 'arcs' | 'lines';
  /** Chord error when arcs are written as lines, mm. */
  readonly chord: number;
  /** Whether a full turn may stand in one block. */
  readonly fullCircles: boolean;
  readonly toolChange: 'M6' | 'stop-and-prompt';
  readonly drilling: 'canned' | 'spelled-out';
  readonly lineNumbers: boolean;
  readonly coolant: 'none' | 'flood';
}
