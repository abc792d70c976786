import { chipFactor } from '../passes/tooth-load.ts';
import type { CuttingForceData } from './cutting-force.ts';
import { RIM_STEPS } from './engagement.ts';
import { type Engagement, millingForce } from './milling-force.ts';

/** The cutter and how it is fed when it is buried all across. */
export interface FullCut {
  readonly diameter: number;
  readonly flutes: number;
  /** mm a tooth; held by the feed when the cutter is buried less. */
  readonly toothLoad: number;
  /** Turns/min. */
  readonly speed: number;
  /** Depth of a pass, mm. */
  readonly depth: number;
}

/** Angles that are proposed, degrees: from what is worth naming peeling down to what is still quick enough to bear. */
const ANGLES = [120, 105, 90, 75, 60, 50, 40, 30, 25, 20] as const;
const HELIX = Math.PI / 6;

/** Greatest force in the plane with the rim buried by an angle from its far side on, at the feed that holds the tooth load, N. */
export const forceAtEngagement = (angle: number, cut: FullCut, data: CuttingForceData): number => {
  const depth = Float64Array.from({ length: RIM_STEPS }, (_, i) => {
    // From the right of the travel, where a climbing cutter has its wall.
    const at = ((i + 0.5) * 2 * Math.PI) / RIM_STEPS - Math.PI;
    return at >= -Math.PI / 2 && at <= -Math.PI / 2 + angle ? cut.depth : 0;
  });
  const engagement: Engagement = { depth };
  const toothLoad = cut.toothLoad * chipFactor(angle);
  return millingForce(engagement, { ...cut, toothLoad, helix: HELIX, data }).most;
};

/**
 * The largest angle, degrees, under which the force is no more than a share of what a full-width cut makes; null where
 * no angle that is worth cutting brings it so low: then the passes must be shallower.
 */
export const engagementBearing = (share: number, cut: FullCut, data: CuttingForceData): number | null => {
  const full = forceAtEngagement(Math.PI, cut, data);
  const bears = ANGLES.find((a) => forceAtEngagement((a * Math.PI) / 180, cut, data) <= share * full);
  return bears ?? null;
};
