import { type CuttingForceData, specificForce } from './cutting-force.ts';

/** Where round its rim a cutter is buried, and how deep: angles in radians from the direction of travel, left positive. */
export interface Engagement {
  /** Even steps of angle over a whole turn; `depth[i]` is the axial depth at angle (i + ½)·2π/n − π, mm. */
  readonly depth: Float64Array;
}

export interface MillingTermsOfForce {
  readonly diameter: number;
  readonly flutes: number;
  /** mm a tooth. */
  readonly toothLoad: number;
  /** Turns/min. */
  readonly speed: number;
  /** Helix angle, radians; 30° is common. */
  readonly helix: number;
  readonly data: CuttingForceData;
}

/** A force on the work, N: along the travel, to its left, and up. */
export interface Push {
  readonly along: number;
  readonly left: number;
  readonly up: number;
}

export interface MillingForce {
  /** Over a turn. */
  readonly mean: Push;
  /** The worst moment of the turn by the force in the plane. */
  readonly peak: Push;
  /** Greatest force in the plane, N. */
  readonly most: number;
  /**
   * At the moments when a tooth passes the side of the cutter and so leaves a wall: the greatest force across the
   * travel, and the greatest in the plane, N. Where teeth come to a wall with no chip it is far under the worst.
   */
  readonly atWall: { readonly across: number; readonly most: number };
  /** Mean torque, N·m, and power at the cutter, W. */
  readonly torque: number;
  readonly power: number;
  /** Thickest chip, mm. */
  readonly chip: number;
}

const TURN_STEPS = 360;
const HEIGHT_STEPS = 12;
const HALF_STEP = Math.PI / TURN_STEPS + 1e-9;
const NO_WALL = { across: 0, most: 0 } as const;
/** Material within this of the side of the cutter is the wall that it leaves there, radians. */
const BESIDE = Math.PI / 18;

/**
 * Force of a helical endmill turning clockwise seen from above, tooth by tooth and slice by slice: a tooth at an angle
 * cuts a chip as thick as its load times the sine of the angle from the travel's far side (h = fz · sin φ).
 * The teeth push the work; the cutter feels the opposite.
 */
export const millingForce = (engagement: Engagement, terms: MillingTermsOfForce): MillingForce => {
  const { diameter, flutes, toothLoad, speed, helix, data } = terms;
  const radius = diameter / 2;
  const deepest = engagement.depth.reduce((a, b) => Math.max(a, b), 0);
  const none: Push = { along: 0, left: 0, up: 0 };
  if (deepest <= 0 || toothLoad <= 0)
    return { mean: none, peak: none, most: 0, atWall: NO_WALL, torque: 0, power: 0, chip: 0 };
  const slice = deepest / HEIGHT_STEPS;
  const lag = (slice * Math.tan(helix)) / radius;
  const sum = { along: 0, left: 0, up: 0, torque: 0 };
  let peak: Push = none;
  let most = 0;
  let chip = 0;
  const atWall = { across: 0, most: 0 };
  const beside = { left: depthBeside(engagement, 1), right: depthBeside(engagement, -1) };
  for (let step = 0; step < TURN_STEPS; step++) {
    const turned = (2 * Math.PI * step) / TURN_STEPS;
    let along = 0;
    let left = 0;
    let up = 0;
    let torque = 0;
    let walls = false;
    for (let tooth = 0; tooth < flutes; tooth++) {
      for (let k = 0; k < HEIGHT_STEPS; k++) {
        // Clockwise seen from above: the tooth's angle falls, and a helix makes the upper slices lag.
        const angle = wrap(-turned - (2 * Math.PI * tooth) / flutes + lag * (k + 0.5));
        const side = angle > 0 ? beside.left : beside.right;
        if (Math.abs(Math.abs(angle) - Math.PI / 2) <= HALF_STEP && side > slice * (k + 0.5)) walls = true;
        if (depthAt(engagement, angle) <= slice * (k + 0.5)) continue;
        // Ahead of the cutter the tooth sweeps from its left to its right; the chip is thickest straight ahead.
        const thickness = toothLoad * Math.cos(angle);
        if (thickness <= 0) continue;
        chip = Math.max(chip, thickness);
        const tangential = specificForce(data, thickness) * thickness * slice;
        const radial = data.radialShare * tangential;
        const axial = data.axialShare * tangential;
        const [c, s] = [Math.cos(angle), Math.sin(angle)];
        // The rim moves clockwise, along (sin, −cos); it drags the work that way and presses it outward.
        along += tangential * s + radial * c;
        left += -tangential * c + radial * s;
        up += axial;
        torque += tangential * radius * 1e-3;
      }
    }
    sum.along += along;
    sum.left += left;
    sum.up += up;
    sum.torque += torque;
    const inPlane = Math.hypot(along, left);
    if (walls) {
      atWall.across = Math.max(atWall.across, Math.abs(left));
      atWall.most = Math.max(atWall.most, inPlane);
    }
    if (inPlane > most) {
      most = inPlane;
      peak = { along, left, up };
    }
  }
  const mean: Push = { along: sum.along / TURN_STEPS, left: sum.left / TURN_STEPS, up: sum.up / TURN_STEPS };
  const torque = sum.torque / TURN_STEPS;
  return { mean, peak, most, atWall, torque, power: (torque * 2 * Math.PI * speed) / 60, chip };
};

/** Depth of the material at one side of the cutter, left or right of its travel (1 or −1), mm. */
const depthBeside = (engagement: Engagement, side: 1 | -1): number =>
  Math.max(...[0.1, 0.4, 0.7, 1].map((share) => depthAt(engagement, side * (Math.PI / 2 - share * BESIDE))));

const wrap = (angle: number): number => {
  const turn = 2 * Math.PI;
  return angle - turn * Math.floor((angle + Math.PI) / turn);
};

const depthAt = (engagement: Engagement, angle: number): number => {
  const n = engagement.depth.length;
  const i = Math.floor(((angle + Math.PI) / (2 * Math.PI)) * n);
  return engagement.depth[Math.min(n - 1, Math.max(0, i))] ?? 0;
};
