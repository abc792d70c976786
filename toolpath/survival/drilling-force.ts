import { type CuttingForceData, specificForce } from './cutting-force.ts';

/** Thrust down on the work, N; torque, N·m; power, W. */
export interface DrillingForce {
  readonly thrust: number;
  readonly torque: number;
  readonly power: number;
}

/** Thrust of the lips as a share of their cutting force, and what the chisel edge adds. Value from memory. */
const THRUST_SHARE = 0.6;
const CHISEL = 1.5;

/**
 * A two-lipped drill as two Kienzle edges: h = (f/2)·sin(σ/2), b = D/(2·sin(σ/2)); the lips' forces act at a quarter of
 * the diameter (any text on metal cutting). An estimate.
 */
export const drillingForce = (
  diameter: number,
  feedPerTurn: number,
  pointAngle: number,
  speed: number,
  data: CuttingForceData,
): DrillingForce => {
  const half = Math.sin(pointAngle / 2);
  const chip = (feedPerTurn / 2) * half;
  const lip = specificForce(data, chip) * chip * (diameter / 2 / half);
  const torque = lip * (diameter / 2) * 1e-3;
  return {
    thrust: 2 * lip * THRUST_SHARE * half * CHISEL,
    torque,
    power: (torque * 2 * Math.PI * speed) / 60,
  };
};
