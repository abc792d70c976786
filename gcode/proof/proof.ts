import type { Bar } from '../../sketch/part/part.ts';
import type { Solid } from '../../sketch/part/solid.ts';
import type { Cutter } from '../../toolpath/machine/cutter.ts';
import type { Frame } from '../../toolpath/route/frame.ts';
import type { Hold } from '../../toolpath/route/route.ts';
import type { ProofFinding } from './finding.ts';
import type { Bridge } from './leftover.ts';

/** What the proof is told: the bar, the wanted part, the cutters, how each setup holds it, and the programs' text. */
export interface ProofInput {
  readonly bar: Bar;
  readonly wanted: Solid;
  readonly setups: readonly ProofSetup[];
  readonly tolerance: { readonly gouge: number; readonly excess: number };
  /** Height-map cell, mm; chosen from the part when left out. */
  readonly cell?: number;
  /** Bridges left on purpose for the saw and the file; anything else that still ties the part to the bar is a fault. */
  readonly bridges?: readonly Bridge[];
  /** Every cutter owned, for saying which corners none can reach; the setups' cutters when left out. */
  readonly owned?: readonly Cutter[];
  /** Rapid speed for the time, mm/min; 2000 when left out. */
  readonly rapid?: number;
  /**
   * Where the rim of the cutter in the material is measured: in job steps that state a limit, or in every pass, which
   * takes the proof up to twice its time. `limited` when left out.
   */
  readonly engagement?: 'limited' | 'everywhere';
}

export interface ProofSetup {
  readonly number: number;
  readonly frame: Frame;
  readonly hold: Hold;
  readonly tools: readonly Cutter[];
  readonly text: string;
  /** Job steps, named as the text's labels name them, that state how far their cutter may be buried, radians. */
  readonly limits?: readonly { readonly step: string; readonly engagement: number }[];
}

export interface ProofPass {
  readonly step: string;
  readonly z_mm: number;
  readonly kind: 'rough' | 'finish' | 'release';
  readonly webLeft_mm: number | null;
  /** How far the cutter was buried at most; left out where it was not measured, null for a pass that cuts with no endmill. */
  readonly engagement?: PassEngagement | null;
}

/** The most of an endmill's rim that was in the material in a pass. */
export interface PassEngagement {
  /** Degrees, at any moment but the way down. */
  readonly most_deg: number;
  /** On the way down: straight, by a helix or by a ramp; 0 where it went down beside the work. */
  readonly entry_deg: number;
  /** Where `most_deg` was met, in the part's coordinates, and the line of the program. */
  readonly at_mm: readonly [number, number, number];
  readonly line: number;
  /** What the job step states as its limit; null for none. */
  readonly limit_deg: number | null;
}

export interface ProofSetupReport {
  readonly number: number;
  readonly stock_mm: {
    readonly min: readonly [number, number, number];
    readonly max: readonly [number, number, number];
  };
  readonly tools: readonly {
    readonly number: number;
    readonly kind: Cutter['kind'];
    readonly diameter_mm: number;
  }[];
  readonly gougeMax_mm: number;
  readonly excessMax_mm: number;
  readonly rapidsInStock: number;
  readonly jawHits: number;
  readonly cutLength_mm: number;
  readonly rapidLength_mm: number;
  readonly time_s: number;
  readonly passes: readonly ProofPass[];
}

export interface Proof {
  readonly verdict: 'fits' | 'does not fit';
  readonly findings: readonly ProofFinding[];
  readonly setups: readonly ProofSetupReport[];
  readonly gougeMax_mm: number;
  readonly excessMax_mm: number;
  /** What the height map can see: its cell, mm. */
  readonly resolution_mm: number;
}

export { prove } from './prove.ts';
