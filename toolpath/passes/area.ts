import { offset } from '../../sketch/shape/offset.ts';
import type { Point } from '../../sketch/shape/point.ts';
import { isEmpty, type Region } from '../../sketch/shape/region.ts';
import type { Cutter } from '../machine/cutter.ts';
import type { MillingTerms } from '../route/route.ts';
import type { BridgeLift } from './bridges.ts';
import type { EntryTerms } from './entry.ts';
import type { HandBridge, Pass, PassKind } from './pass.ts';
import type { KeepOut } from './scene.ts';
import type { Workpiece } from './workpiece.ts';

/** An area to be cleared from the top of what stands there down to a floor. Program coordinates, mm. */
export interface Clearing {
  /** Where material is to go; what does not stand there is passed over. */
  readonly area: Region;
  readonly floor: number;
  /** What the cutter's body must not enter with its tip at a height. */
  readonly keepOut: (z: number) => KeepOut;
  readonly cutter: Cutter;
  readonly terms: MillingTerms;
  readonly entry: EntryTerms;
  readonly clearHeight: number;
  /** Laps round the walls, strokes one way from a side, a slot peeled from one end to the other, or fronts. */
  readonly pattern:
    | { readonly kind: 'laps' }
    | {
        readonly kind: 'peel';
        /** Middles of the slot's width where the peeling begins and ends; beyond the edge for an open one. */
        readonly from: Point;
        readonly to: Point;
        readonly width: number;
        readonly open: boolean;
        readonly engagement: number;
        /** The root at `to`: a half round, or square with this radius in its corners, mm. */
        readonly root: { readonly kind: 'round' } | { readonly kind: 'square'; readonly corner: number };
      }
    | { readonly kind: 'strokes'; readonly startFrom: 'left' | 'right' }
    /** From what is open, or a hole, front by front, each buried by no more than an angle, radians. */
    | {
        readonly kind: 'fronts';
        readonly engagement: number;
        /** How much wider than the cutter and its allowance a groove of even width is, mm; null for no groove. */
        readonly groove: number | null;
      };
  /** Height of the material's underside there, when a web is to be reported; null otherwise. */
  readonly underside: number | null;
  readonly kind: PassKind;
  readonly bridges: readonly BridgeLift[];
}

/** The passes of a job step, the work after them, and what they leave standing on purpose. */
export interface Cleared {
  readonly passes: readonly Pass[];
  readonly work: Workpiece;
  readonly bridges?: readonly HandBridge[];
  /** Why a stated engagement is not kept, and what would, as the rest of a sentence; and near which place, where at one. */
  readonly unkept?: { readonly at: Point | null; readonly why: string };
}

/** Moves at one depth, and the work after them. */
export interface Level {
  readonly moves: Pass['moves'];
  readonly work: Workpiece;
}

/** What a cutter cannot get out of the corners of a region when it keeps `allowance` away from it, and the region. */
export const closing = (keepOut: Region, radius: number, allowance: number): Region =>
  isEmpty(keepOut) ? keepOut : offset(offset(keepOut, radius + allowance), -radius);
