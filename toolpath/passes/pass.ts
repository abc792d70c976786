import type { Finding } from '../../sketch/part/part.ts';
import type { Slab } from '../../sketch/part/solid.ts';
import type { Point, Point3 } from '../../sketch/shape/point.ts';
import type { Cutter } from '../machine/cutter.ts';
import type { Frame } from '../route/frame.ts';
import type { JobStep, Setup } from '../route/route.ts';

/** One motion of the cutter's tip, in the setup's program coordinates: mm, mm/min, seconds. */
export type Move =
  | { readonly kind: 'rapid'; readonly to: Point3 }
  | { readonly kind: 'feed'; readonly to: Point3; readonly feed: number }
  /** An arc or helix in the XY plane; a full turn ends over its start. */
  | {
      readonly kind: 'arc';
      readonly to: Point3;
      readonly centre: Point;
      readonly clockwise: boolean;
      readonly feed: number;
    }
  /** Drilling at a place: rapid to `clear` above it, feed to `depth` (by pecks when `peck` > 0), back to `clear`. */
  | {
      readonly kind: 'drill';
      readonly at: Point;
      readonly clear: number;
      readonly depth: number;
      readonly peck: number;
      readonly dwell: number;
      readonly feed: number;
    }
  /** Stop the spindle and wait, for work by hand. */
  | { readonly kind: 'stop'; readonly message: string };

export type PassKind = 'rough' | 'finish' | 'release';

/** One level or one lap of a job step. */
export interface Pass {
  readonly kind: PassKind;
  /** Height of the cutter's tip at its lowest, program coordinates, mm. */
  readonly z: number;
  /** Support web still standing under the pass, mm; null where none is meant. */
  readonly web: number | null;
  readonly moves: readonly Move[];
}

/** A bridge left standing for the saw and the file, in program coordinates, mm. */
export interface HandBridge {
  /** Its middle on the outline, and the direction away from the part. */
  readonly at: Point;
  readonly outward: Point;
  /** Along the outline; away from it; in Z. */
  readonly length: number;
  readonly width: number;
  readonly height: number;
}

/** A job step with its passes and running terms. */
export interface PlannedStep {
  readonly step: JobStep;
  readonly cutter: Cutter;
  readonly speed: number;
  readonly feed: number;
  readonly plungeFeed: number;
  readonly passes: readonly Pass[];
  readonly bridges: readonly HandBridge[];
}

/** A setup ready to be written. */
export interface PlannedSetup {
  readonly setup: Setup;
  readonly frame: Frame;
  /** The work at the start of the setup, program coordinates, mm. */
  readonly stock: { readonly min: Point3; readonly max: Point3 };
  /** What stands at the start of the setup, slab by slab, program coordinates. */
  readonly standing: readonly Slab[];
  /** Height at which rapids in XY are safe, program coordinates, mm. */
  readonly clearHeight: number;
  readonly steps: readonly PlannedStep[];
}

/** The whole work: every setup with its passes, and what was found amiss while planning. */
export interface Plan {
  readonly setups: readonly PlannedSetup[];
  readonly findings: readonly Finding[];
}
