import { USUAL_FASTENING } from '../route/plate.ts';
import type { ScrewThread } from '../route/route.ts';
import type { HoldFactors, Load } from './vice-hold.ts';

interface Place {
  readonly x: number;
  readonly y: number;
}

/** Extent of what bears on the plate, in the same coordinates as the places: the work tips about its edges. */
export interface Base {
  readonly low: Place;
  readonly high: Place;
}

/**
 * Ways to hold thin work without a vice, each with its own limits. Statics only, and every figure an estimate: try the
 * hold by hand before the spindle runs, and keep the cutter's push towards what cannot give.
 */
export type OtherHold =
  /** Clamps that press the work down on the table. N each; places along X and Y from their middle, mm. */
  | {
      readonly kind: 'toe clamps';
      readonly clamp: number;
      readonly places: readonly Place[];
      readonly base: Base;
      readonly friction: number;
    }
  /** Tape on both faces with glue between: strength in shear and in pulling off, MPa, over the glued rectangle, mm. */
  | {
      readonly kind: 'tape and glue';
      readonly length: number;
      readonly width: number;
      readonly shear: number;
      readonly peel: number;
    }
  /** Screws through the part's own holes into a plate. N of tension each that they may bear; places as above. */
  | {
      readonly kind: 'screws';
      readonly preload: number;
      readonly proof: number;
      readonly places: readonly Place[];
      readonly base: Base;
      readonly friction: number;
    };

/**
 * What usual holds bear. Values from memory: a small strap clamp done up by hand about 2500 N; masking tape with
 * cyanoacrylate about 0.15 MPa in shear and 0.05 MPa pulled off, on clean flat metal; steel on steel 0.15. A published
 * figure for tape with glue between was looked for and not found, so these stay on the careful side.
 */
export const USUAL_HOLDS = {
  strapClamp: USUAL_FASTENING.clamp,
  tapeShear: USUAL_FASTENING.tapeShear,
  tapePeel: USUAL_FASTENING.tapePeel,
  friction: 0.15,
} as const;

/** Tensile stress areas of ISO metric screws, mm² (ISO 898-1, values from memory). */
const STRESS_AREA: Readonly<Record<ScrewThread, number>> = {
  M3: 5.03,
  M4: 8.78,
  M5: 14.2,
  M6: 20.1,
  M8: 36.6,
};
/** Proof stress of property class 8.8, MPa (ISO 898-1, value from memory). */
const PROOF_STRESS = 580;
/** Share of its proof load that a screw is done up to by hand. Common practice, no source. */
const PRELOAD_SHARE = 0.6;

/** What a class 8.8 screw bears and is usually done up to, N. */
export const screwForces = (thread: ScrewThread): { readonly preload: number; readonly proof: number } => {
  const area = STRESS_AREA[thread];
  return { preload: PRELOAD_SHARE * PROOF_STRESS * area, proof: PROOF_STRESS * area };
};

/**
 * Factors of a hold against one load: its force in the plane in the worst direction, its lift, and where it acts
 * (`above` the face that is held down, `overhang` from the middle of the hold, mm).
 */
export const otherHoldFactors = (hold: OtherHold, load: Load): HoldFactors => {
  const lift = Math.max(0, load.push.up);
  switch (hold.kind) {
    case 'toe clamps':
      return pressed(hold, hold.clamp, hold.clamp, load);
    case 'screws':
      return pressed(hold, hold.preload, hold.proof, load);
    case 'tape and glue': {
      const { length, width, shear, peel } = hold;
      const area = length * width;
      // Peeling begins at an edge: an even pull and the moments', greatest there, add up (M / W of a rectangle). A lift has
      // the lever that it has along each side; the push in the plane may come from anywhere and is taken over the shorter.
      const shorter = Math.min(length, width);
      const { x, y } = load.lever ?? { x: 0, y: 0 };
      const byLift = load.lever
        ? (6 * lift * Math.abs(x)) / (area * length) + (6 * lift * Math.abs(y)) / (area * width)
        : (6 * lift * load.overhang) / (area * shorter);
      const worst = lift / area + byLift + (6 * load.inPlane * load.above) / (area * shorter);
      // Shear from turning, as in the long side of a twisted rectangle: T over a third of area times the shorter side.
      const turn = (load.inPlane * load.overhang * 3) / (area * Math.min(length, width));
      return least({
        slip: ratio(shear, load.inPlane / area),
        lift: ratio(peel, lift / area),
        tip: ratio(peel, worst),
        twist: ratio(shear, load.inPlane / area + turn),
      });
    }
  }
};

/** Work pressed down at places: friction at each resists sliding and turning, the press itself lifting and tipping. */
const pressed = (
  {
    places,
    base,
    friction,
  }: { readonly places: readonly Place[]; readonly base: Base; readonly friction: number },
  press: number,
  bears: number,
  load: Load,
): HoldFactors => {
  const lift = Math.max(0, load.push.up);
  const all = press * places.length;
  const middle = {
    x: places.reduce((sum, p) => sum + p.x, 0) / Math.max(1, places.length),
    y: places.reduce((sum, p) => sum + p.y, 0) / Math.max(1, places.length),
  };
  const arms = places.map((p) => Math.hypot(p.x - middle.x, p.y - middle.y));
  const turning = arms.reduce((sum, arm) => sum + friction * press * arm, 0);
  // It tips about that edge of what bears to which the feet lie nearest, all of them together.
  const over = (distanceOf: (p: Place) => number, width: number): number => {
    const holds = places.reduce((sum, p) => sum + press * Math.max(0, distanceOf(p)), 0);
    return ratio(holds, load.inPlane * load.above + lift * Math.max(width / 2, load.overhang));
  };
  const [length, width] = [base.high.x - base.low.x, base.high.y - base.low.y];
  const tip = Math.min(
    over((p) => p.x - base.low.x, length),
    over((p) => base.high.x - p.x, length),
    over((p) => p.y - base.low.y, width),
    over((p) => base.high.y - p.y, width),
  );
  return least({
    slip: ratio(friction * Math.max(0, all - lift), load.inPlane),
    lift: ratio(bears * places.length, lift),
    tip,
    twist: ratio(turning, load.inPlane * load.overhang),
  });
};

const least = (factors: Omit<HoldFactors, 'least'>): HoldFactors => ({
  ...factors,
  least: Math.min(factors.slip, factors.lift, factors.tip, factors.twist),
});

const ratio = (bears: number, asked: number): number =>
  asked > 1e-9 ? bears / asked : Number.POSITIVE_INFINITY;
