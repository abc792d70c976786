import type { Material } from '../../sketch/part/part.ts';
import type { Cutter } from './cutter.ts';
import type { Screw } from './screw.ts';

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
  readonly vice: Vice;
  readonly parallels: readonly { readonly height: number; readonly thickness: number }[];
  readonly cutters: readonly Cutter[];
  readonly program: ProgramForm;
  /** What its owner knows better of materials than the usual values; left out where those stand. */
  readonly materials?: Readonly<Partial<Record<Material, MaterialFigures | undefined>>>;
  /** Its handwheels; left out for a machine that is driven by programs only. */
  readonly hand?: HandWheels;
}

/** A plain vice, mm. */
export interface Vice {
  readonly jawWidth: number;
  readonly jawHeight: number;
  readonly opening: number;
  /** How hard its owner does it up, N·m, and how long its handle is, mm, where that is known. */
  readonly torque?: number | undefined;
  readonly handle?: number | undefined;
  /** Clamping force where it was measured, N: it goes before what the torque would give. */
  readonly clamp?: number | undefined;
  /** Friction between jaw and work, where it is not the usual. */
  readonly friction?: number | undefined;
}

/** Figures of one material that stand in place of the usual ones; what is left out stays usual. */
export interface MaterialFigures {
  /** Specific cutting force at a chip 1 mm thick and 1 mm wide, MPa, and how it grows as chips get thinner. */
  readonly kc11?: number | undefined;
  readonly mc?: number | undefined;
  /** Force across the cut and along the cutter, as shares of that along the cut. */
  readonly radialShare?: number | undefined;
  readonly axialShare?: number | undefined;
  /** Young's modulus, MPa. */
  readonly young?: number | undefined;
  readonly poisson?: number | undefined;
  /** kg/m³. */
  readonly density?: number | undefined;
  /** Where the owner has them from. */
  readonly source?: string | undefined;
}

/** The three handwheels as their owner measured them, and whether a readout shows the slides' true places. */
export interface HandWheels {
  /** What the dials are marked in. */
  readonly unit: Screw['unit'];
  readonly readout: boolean;
  readonly x: Screw;
  readonly y: Screw;
  readonly z: Screw;
}

/** Whether a slide has lost motion, so that a cutter that climbs can snatch it along. */
export const hasSlack = (profile: Pick<MachineProfile, 'hand'>): boolean =>
  profile.hand !== undefined && (profile.hand.x.backlash > 0 || profile.hand.y.backlash > 0);

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
