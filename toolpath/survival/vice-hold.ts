import type { Push } from './milling-force.ts';

/** How a vice holds: N, mm, and the friction between jaw and work. */
export interface ViceHold {
  /** Clamping force between the jaws. */
  readonly clamp: number;
  /** Steel on steel, dry: 0.15 is usual. Value from memory. */
  readonly friction: number;
  /** Height held, length of the shorter contact along the jaws, and distance between the jaws. */
  readonly grip: number;
  readonly contact: number;
  readonly width: number;
}

/** A force on the work and where it acts: above the jaws' top, and along the jaws from the middle of what they hold. */
export interface Load {
  readonly push: Push;
  /** Size of the force in the plane: its worst direction is taken, N. */
  readonly inPlane: number;
  readonly above: number;
  readonly overhang: number;
  /** On a plate: the same from the middle of what holds, along X and along Y, mm. */
  readonly lever?: { readonly x: number; readonly y: number };
}

/** How many times over the hold would bear the load before each way of losing the part. */
export interface HoldFactors {
  /** Sliding along or up between the jaws. */
  readonly slip: number;
  /** Lifting straight out. */
  readonly lift: number;
  /** Rolling about the jaws' edge, and rocking end over end. */
  readonly tip: number;
  /** Turning flat, about the upright axis. */
  readonly twist: number;
  readonly least: number;
  /** What holds it, where that is no vice. */
  readonly by?: 'tape' | 'screws' | 'clamps';
}

/** Lead of a small vice's screw, mm. Value from memory. */
export const SCREW_LEAD = 4;

/** Efficiency of a plain vice screw, value from memory: N of clamp for each N·m on the handle. */
export const clampFromTorque = (torque: number, lead = SCREW_LEAD, efficiency = 0.25): number =>
  (torque * 1000 * 2 * Math.PI * efficiency) / lead;

/**
 * Factors of a part held between two flat jaws, by Coulomb friction and pressure that may gather at the jaws' edges
 * (statics; no source beyond a text on mechanics). The pull in the plane is taken in its worst direction. Parallels
 * underneath are not counted. All estimates.
 */
export const holdFactors = (hold: ViceHold, load: Load): HoldFactors => {
  const grasp = 2 * hold.friction * hold.clamp;
  const up = Math.max(0, load.push.up);
  const slip = ratio(grasp, Math.hypot(load.inPlane, up));
  const lift = ratio(grasp, up);
  const arm = load.above + hold.grip / 2;
  // Rolling about X: the two jaws' pressures move to opposite edges, and friction on both faces helps.
  const rolling = hold.clamp * hold.grip + hold.friction * hold.clamp * hold.width;
  // Rocking about Y: friction up at one end of the contact and down at the other.
  const rocking = (hold.friction * hold.clamp * hold.contact) / 2;
  const tip = Math.min(
    ratio(rolling, load.inPlane * arm + up * (hold.width / 2)),
    ratio(rocking, load.inPlane * arm + up * load.overhang),
  );
  const turning = hold.clamp * hold.contact + hold.friction * hold.clamp * hold.width;
  const twist = ratio(turning, load.inPlane * load.overhang);
  return { slip, lift, tip, twist, least: Math.min(slip, lift, tip, twist) };
};

const ratio = (bears: number, asked: number): number =>
  asked > 1e-9 ? bears / asked : Number.POSITIVE_INFINITY;
