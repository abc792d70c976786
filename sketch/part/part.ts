import type { Point } from '../shape/point.ts';

/** A finished part in mm, all formulas worked out. Z = 0 is the bar's back face, Z = bar.thickness its front. */
export interface Part {
  readonly name: string;
  /** The unit people read and write for this part; numbers here are mm all the same. */
  readonly unit: Unit;
  readonly bar: Bar;
  readonly ends: readonly End[];
  readonly arms: readonly Arm[];
  readonly plates: readonly Plate[];
  /** Inside corners of the outline are filled to this radius, as a cutter leaves them, mm; sharp when left out. */
  readonly insideRadius?: number;
  readonly holes: readonly Hole[];
  readonly slots: readonly Slot[];
  readonly forks: readonly Fork[];
  readonly lands: readonly Land[];
  /** A wall thinner than this beside a fork, slot or hole is refused, mm. */
  readonly leastWall: number;
}

export type Unit = 'mm' | 'inch';

/** The materials a bar may be of, as they are offered. */
export const MATERIALS = [
  'free-cutting steel',
  'low-carbon steel',
  'stainless steel',
  'cast iron',
  'brass',
  'bronze',
  'aluminium',
  'acetal',
] as const;
export type Material = (typeof MATERIALS)[number];

/** The rectangular piece the part is cut from. `corner` is its lower left corner in the drawing. */
export interface Bar {
  readonly length: number;
  readonly width: number;
  readonly thickness: number;
  readonly material: Material;
  readonly corner: Point;
  /** What the saw left on each end beyond `length`, to be squared off; 0 for a bar already to length. */
  readonly sawn: number;
}

/** A round end. */
export interface End {
  readonly name: string;
  readonly centre: Point;
  readonly radius: number;
}

/** The straight-sided body between two ends, tangent to both. */
export interface Arm {
  readonly name: string;
  readonly from: string;
  readonly to: string;
}

/** A polygon that joins the outline, its corners rounded by `cornerRadius` (0 for sharp). Corners run anticlockwise. */
export interface Plate {
  readonly name: string;
  readonly corners: readonly Point[];
  readonly cornerRadius: number;
}

/** Depths are measured from the face named by `from` in the part's own surface there: `null` is right through. */
export type Depth = number | null;
export type Face = 'front' | 'back';

interface HoleBase {
  readonly name: string;
  readonly centre: Point;
  /** Diameter the spindle leaves, mm: for a tapped hole its tap drill. */
  readonly diameter: number;
  readonly depth: Depth;
  readonly from: Face;
}

export interface ClearanceHole extends HoleBase {
  readonly purpose: 'clearance';
}
export interface ReamedHole extends HoleBase {
  readonly purpose: 'reamed';
}
export interface TappedHole extends HoleBase {
  readonly purpose: 'tapped';
  /** As on the drawing, e.g. "M3 × 0.5". */
  readonly designation: string;
  readonly major: number;
  readonly pitch: number;
  /** Share of the full thread height, 0 to 1, that the tap drill leaves. */
  readonly engagement: number;
}
export interface CounterboredHole extends HoleBase {
  readonly purpose: 'counterbored';
  readonly boreDiameter: number;
  readonly boreDepth: number;
}
export type Hole = ClearanceHole | ReamedHole | TappedHole | CounterboredHole;

/** A closed slot with two round ends. */
export interface Slot {
  readonly name: string;
  readonly from: Point;
  readonly to: Point;
  readonly width: number;
  readonly depth: Depth;
  readonly face: Face;
}

/** A slot open at the edge: `mouth` is the middle of its opening, `direction` (radians) points inward along it. */
export interface Fork {
  readonly name: string;
  readonly mouth: Point;
  readonly direction: number;
  readonly width: number;
  /** From the mouth to the bottom of the root, mm. */
  readonly depth: number;
  readonly root: { readonly kind: 'round' } | { readonly kind: 'square'; readonly cornerRadius: number };
}

/** A region with its own top and bottom; later lands win over earlier ones. `whole` is the whole outline. */
export interface Land {
  readonly name: string;
  readonly shape:
    | { readonly kind: 'whole' }
    | { readonly kind: 'disc'; readonly centre: Point; readonly radius: number }
    | { readonly kind: 'polygon'; readonly corners: readonly Point[]; readonly cornerRadius: number };
  readonly top: number;
  readonly bottom: number;
}

/** Something wrong with a part, a route or a program: says what, where and how much. */
export interface Finding {
  /** Short and stable, for programs: e.g. `fork-wider-than-end`. */
  readonly code: string;
  /** One sentence for a machinist, with the number and what would mend it. */
  readonly message: string;
  readonly severity: 'error' | 'warning' | 'note';
  /** Name of the feature or job step, where there is one. */
  readonly feature?: string;
  /** Place in the part's coordinates, mm. */
  readonly at?: { readonly x: number; readonly y: number; readonly z?: number };
  readonly setup?: number;
}
