import type { Face } from '../../sketch/part/part.ts';
import type { Point } from '../../sketch/shape/point.ts';

/** How a part is made: setups in order. Heights in a route are the part's (0 back, thickness front), mm. */
export interface Route {
  readonly setups: readonly Setup[];
  /** Most that the work may move under the cutter, and that a pass may leave on a finished wall or floor, mm; the usual where left out. */
  readonly tolerance?: number;
}

/** One holding of the work. The work is turned over about the X axis, so left stays left. */
export interface Setup {
  readonly number: number;
  readonly face: Face;
  readonly datum: Datum;
  readonly workOffset: 'G54' | 'G55' | 'G56' | 'G57' | 'G58' | 'G59';
  readonly hold: Hold;
  readonly steps: readonly JobStep[];
}

/** Program zero: a corner of the bar as one looks down on it in this setup (left/right in X, near/far in Y), or its centre. Z zero is always the top of the work. */
export type Datum = 'left-near' | 'left-far' | 'right-near' | 'right-far' | 'centre';

/** How the work is held in one setup. */
export type Hold = ViceHold | PlateHold;

/** Held in a plain vice, jaws along X. */
export interface ViceHold {
  readonly kind: 'vice';
  /** Extent of the jaws along the drawing's X, mm. */
  readonly jaws: { readonly from: number; readonly to: number };
  /** Height of work held in the jaws, mm, measured up from the work's underside in this setup. */
  readonly grip: number;
  /** The parallels under the work: height, thickness, and the distance of each one's middle from the bar's middle in Y. */
  readonly parallels: { readonly height: number; readonly thickness: number; readonly offset: number } | null;
  /** What the jaws bear on, in words. */
  readonly gripped: string;
  /** Pieces put in by hand: they press and never pull, and may be cut into. */
  readonly packing?: readonly Packing[];
}

/** Drawing's X and Y, mm. */
export type Packing =
  /** A sacrificial block under the work over this stretch of X, packed up to whatever its underside is there. */
  | { readonly kind: 'block'; readonly from: number; readonly to: number }
  /** A piece that fills a fork from its mouth, as high as the jaws grip or up to the web. */
  | {
      readonly kind: 'fork';
      readonly fork: string;
      readonly mouth: Point;
      readonly direction: number;
      readonly width: number;
      readonly length: number;
    };

/** Lying flat on a plate that may be cut into a little, with nothing beside it: the underside is the datum of height. */
export interface PlateHold {
  readonly kind: 'plate';
  readonly fastening: Fastening;
}

/** What keeps the work on its plate. Places along the drawing's X and Y, mm. */
export type Fastening =
  /** Tape on both faces with glue between, over all of the underside that bears; MPa that it stands. */
  | { readonly kind: 'tape'; readonly shear: number; readonly peel: number }
  /** Screws from above into the plate, through holes of the part or through the bar outside it. */
  | { readonly kind: 'screws'; readonly thread: ScrewThread; readonly places: readonly ScrewPlace[] }
  /** Clamps that press on the bar outside the part, N each; of the usual small size where none is said. */
  | {
      readonly kind: 'clamps';
      readonly force: number;
      readonly places: readonly Point[];
      readonly size?: ClampSize;
    };

/** A toe clamp's width, how far its foot reaches in over the work, and how high it stands over it, nut and all, mm. */
export interface ClampSize {
  readonly width: number;
  readonly reach: number;
  readonly height: number;
}

export const SCREW_THREADS = ['M3', 'M4', 'M5', 'M6', 'M8'] as const;
export type ScrewThread = (typeof SCREW_THREADS)[number];

export interface ScrewPlace extends Point {
  /** The part's hole that it goes through; null for one through the bar outside the part. */
  readonly hole: string | null;
}

interface StepBase {
  /** Unique in the route. */
  readonly name: string;
  /** A cutter's name in the machine profile. */
  readonly cutter: string;
  /** Overrides of what speeds and feeds would say: turns/min, mm/min. */
  readonly speed?: number;
  readonly feed?: number;
}

export interface MillingTerms {
  /** Deepest pass, mm. */
  readonly stepDown: number;
  /** Equal passes, or each pass a stated share of the one before. */
  readonly levels: { readonly kind: 'equal' } | { readonly kind: 'falling'; readonly share: number };
  /** Distance between laps, mm. */
  readonly stepover: number;
  /** Stock roughing leaves on walls and floors for the finishing pass, mm; 0 for none. */
  readonly wallAllowance: number;
  readonly floorAllowance: number;
  readonly direction: 'climb' | 'conventional';
}

/** Cut the bar's sawn ends square to length, down to a height. */
export interface SquareStep extends StepBase, MillingTerms {
  readonly kind: 'square';
  readonly floor: number;
}

/** Cut round the outside, down to a height (front up) or up to it (back up). */
export interface OutlineStep extends StepBase, MillingTerms, PeelingTerms {
  readonly kind: 'outline';
  readonly floor: number;
  /** Clear the whole bar outside the outline, or only a groove as wide as the cutter and its finishing lap. */
  readonly clear: 'all' | 'groove';
  /** Left standing under the groove until its release, mm; 0 for none. */
  readonly web: number;
  /** Short bridges left in the groove in place of a web; sawn and filed by hand. */
  readonly bridges: { readonly count: number; readonly length: number; readonly height: number } | null;
}

/** How far the cutter may be buried. */
export interface PeelingTerms {
  /**
   * Largest angle of the cutter's rim in the material, radians: a slot, fork or round pocket wider than the cutter is
   * peeled by loops, an outline and a land front by front. By laps or strokes when null, however deep they bury it.
   */
  readonly engagement: number | null;
}

/** Fork and slot: through or to a depth, keeping a web until released. */
export interface ForkStep extends StepBase, MillingTerms, PeelingTerms {
  readonly kind: 'fork';
  readonly fork: string;
  readonly web: number;
}
export interface SlotStep extends StepBase, MillingTerms, PeelingTerms {
  readonly kind: 'slot';
  readonly slot: string;
  readonly web: number;
}
/** A counterbore, or a hole too large for the drills, milled round. */
export interface PocketStep extends StepBase, MillingTerms, PeelingTerms {
  readonly kind: 'pocket';
  readonly hole: string;
}
/** Relieve lands from the face that is up. One way only, from the end that gives the hold. */
export interface ThinStep extends StepBase, MillingTerms, PeelingTerms {
  readonly kind: 'thin';
  readonly lands: readonly string[];
  /** The X side the passes start from. */
  readonly startFrom: 'left' | 'right';
  /** How far beyond the outline to clear, mm; null for all of the bar. A frame of bar round the part wants a limit. */
  readonly reach: number | null;
}
/** Take away the web of an earlier job step. */
export interface ReleaseStep extends StepBase {
  readonly kind: 'release';
  readonly of: string;
  readonly stepDown: number;
  /** Share of the normal feed. */
  readonly feedShare: number;
}

export interface SpotStep extends StepBase {
  readonly kind: 'spot';
  readonly holes: readonly string[];
}
export interface DrillStep extends StepBase {
  readonly kind: 'drill';
  readonly holes: readonly string[];
  /** Depth between withdrawals, mm. */
  readonly peck: number;
}
export interface ReamStep extends StepBase {
  readonly kind: 'ream';
  readonly holes: readonly string[];
}
/** By hand: the program stops and says so. */
export interface TapStep extends StepBase {
  readonly kind: 'tap';
  readonly holes: readonly string[];
}

export type JobStep =
  | SquareStep
  | OutlineStep
  | ForkStep
  | SlotStep
  | PocketStep
  | ThinStep
  | ReleaseStep
  | SpotStep
  | DrillStep
  | ReamStep
  | TapStep;
