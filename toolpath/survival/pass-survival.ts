import type { Bar } from '../../sketch/part/part.ts';
import type { Solid } from '../../sketch/part/solid.ts';
import type { Frame } from '../route/frame.ts';
import type { Hold } from '../route/route.ts';
import type { CuttingForceData } from './cutting-force.ts';
import type { ElasticMaterial } from './elasticity/material.ts';
import type { Finishes } from './finished.ts';
import type { ForcePlace, PassForce, SurveyPass } from './force-survey.ts';
import type { NamedPlace } from './named-places.ts';
import type { SurveyMemory } from './survey-memory.ts';
import type { HoldFactors } from './vice-hold.ts';

/** How one setup holds the work. */
export interface SurvivalSetup {
  readonly number: number;
  readonly frame: Frame;
  readonly hold: Hold;
}

/** What is to be looked into: the bar, how it is held, and every pass in order. */
export interface SurvivalQuestion {
  readonly bar: Bar;
  readonly setups: readonly SurvivalSetup[];
  readonly passes: readonly SurveyPass[];
  /** The finished part: with it the web left under each pass is told, and scrap is told from the part. */
  readonly wanted?: Solid;
  /** Places of the part that are looked at whenever a pass comes by. */
  readonly names?: readonly NamedPlace[];
}

export interface SurvivalTerms {
  /** Clamping force of the vice, N; an estimate of a firm hand when left out. */
  readonly clamp?: number;
  readonly friction?: number;
  /** Constants of the work in place of those of the bar's material. */
  readonly elastic?: ElasticMaterial;
  readonly cutting?: CuttingForceData;
  /** Cell of the height map that forces are read off, mm. */
  readonly cell?: number;
  /** Size of a brick of the solver, mm. */
  readonly brick?: number;
  /** Places of each pass whose bending is solved, worst first. */
  readonly places?: number;
  /** Whether the lowest natural frequency is worked out; yes when left out. */
  readonly frequency?: boolean;
  /** Which passes are solved, by their number from 0; the others keep the closed-form estimate. All when left out. */
  readonly only?: (pass: number) => boolean;
  /** Asked between solves and within them; true stops the work, and what was done is given. */
  readonly cancelled?: () => boolean;
  /** What other ways of making the same part came to: what is alike is taken over from there. */
  readonly memory?: SurveyMemory;
}

/** What the work does at one place of a pass, mm, in program coordinates. All estimates. */
export interface PlaceBending {
  readonly place: ForcePlace;
  /** The part's name for the place, where it has one. */
  readonly name: string | null;
  /** Null in a closed-form estimate, which knows only the size. */
  readonly moved: readonly [number, number, number] | null;
  /** Size of the movement: under the cutter, or of the part nearby where the cutter presses on scrap. */
  readonly movement: number;
  /** What scrap does under the cutter; null where it presses on the part. */
  readonly scrap: number | null;
  /** What that leaves on a wall (across the travel, the cutter's own give included) and on a floor. */
  readonly error: { readonly wall: number; readonly floor: number };
  /** The cutter's own share of what it leaves on a wall. */
  readonly give: number;
  /** Whether the part's own wall or floor is left there, or only what a later pass takes away. */
  readonly finishes: Finishes;
}

/**
 * `held` was computed; the others say why nothing could be. `no force`: nothing was cut, or by a tool whose force is not
 * worth a figure (spotting, reaming, tapping).
 */
export type Footing = 'held' | 'no force' | 'nothing in the jaws' | 'not held';

/** A piece already cut free: mm³, and its middle in the part's coordinates. */
export interface LoosePiece {
  readonly volume: number;
  readonly at: readonly [number, number, number];
}

export interface PassSurvival {
  /** Whether the movements are the quick estimate or solved. */
  readonly basis: 'closed form' | 'solved';
  readonly footing: Footing;
  readonly force: PassForce;
  readonly bending: readonly PlaceBending[];
  /** Largest movement of the part, mm; null when nothing was cut or nothing is held. */
  readonly movement: number | null;
  /** Largest movement of scrap under the cutter, which the part is not judged by, mm; null where none is pressed on. */
  readonly scrap: number | null;
  /** Whether the pass leaves a wall or floor of the finished part at any place that was looked at. */
  readonly finishes: Finishes;
  /** Largest errors left on wall and floor, mm, where it finishes one of that, else anywhere; null as above. */
  readonly error: { readonly wall: number; readonly floor: number } | null;
  /** Lowest natural frequency of the work as it is held, Hz; null until it is solved. */
  readonly frequency: number | null;
  readonly hold: HoldFactors | null;
  /** How far the cutter itself gives at its tip, mm, and the stress at the root of its flutes, MPa; 0 for drills. */
  readonly cutter: { readonly bend: number; readonly stress: number };
  /** Teeth that pass in a second, Hz. */
  readonly toothPassing: number;
  /** Turns a minute. */
  readonly speed: number;
  /** Thinnest material left where the part wants none, under what the pass cut, mm; null for none. */
  readonly web: number | null;
  /** Pieces already cut free at this moment. */
  readonly loose: readonly LoosePiece[];
  /** When along the programs the pass is cut, s. */
  readonly time: { readonly from: number; readonly to: number } | null;
}

/** What comes from a survey while it runs. */
export type SurvivalNews =
  /** The constants make no sense; nothing is computed. */
  | { readonly kind: 'refused'; readonly reason: string }
  /** Every pass by closed forms, at once. */
  | { readonly kind: 'estimated'; readonly passes: readonly PassSurvival[] }
  /** Between two solves: a moment to stop. */
  | ({ readonly kind: 'solving'; readonly pass: number } & Progress)
  /** One pass solved, in place of its estimate. */
  | ({ readonly kind: 'solved'; readonly pass: number; readonly result: PassSurvival } & Progress);

export interface Progress {
  /** Share of the solves that are done, 0 to 1. */
  readonly share: number;
  /** Estimate of the time left, s; null before there is anything to judge by. */
  readonly secondsLeft: number | null;
}
