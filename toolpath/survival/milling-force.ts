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

const NO_WALL = { across: 0, most: 0 } as const;
/** Material within this of the side of the cutter is the wall that it leaves there, radians. */
const BESIDE = Math.PI / 18;

/**
 * Force of a helical endmill turning clockwise seen from above, tooth by tooth along the edge: where it is at an angle, it
 * cuts a chip as thick as its load times the sine of the angle from the travel's far side (h = fz · sin φ).
 * The teeth push the work; the cutter feels the opposite.
 */
export const millingForce = (engagement: Engagement, terms: MillingTermsOfForce): MillingForce => {
  const { diameter, flutes, toothLoad, speed, helix, data } = terms;
  const { depth } = engagement;
  const radius = diameter / 2;
  const deepest = depth.reduce((a, b) => Math.max(a, b), 0);
  const none: Push = { along: 0, left: 0, up: 0 };
  if (deepest <= 0 || toothLoad <= 0)
    return { mean: none, peak: none, most: 0, atWall: NO_WALL, torque: 0, power: 0, chip: 0 };
  const rim = rimForce(depth, toothLoad, data);
  const n = depth.length;
  // A straight edge is at one step of the rim over its whole height; a helical one climbs this far from step to step.
  const climb = (radius * ((2 * Math.PI) / n)) / Math.tan(helix);
  const reach = Number.isFinite(climb) ? Math.min(n, Math.ceil(deepest / climb)) : 1;
  const beside = { left: depthBeside(engagement, 1), right: depthBeside(engagement, -1) };
  const [right, left] = [Math.round(n / 4), Math.round((3 * n) / 4)];
  /** Whether an edge whose tip is at a step of the rim passes a side of the cutter where a wall stands. */
  const passes = (tip: number): boolean =>
    [
      [right, beside.right],
      [left, beside.left],
    ].some(([side, wall]) =>
      [side! - 1, side!].some((at) => {
        const m = (at - tip + n) % n;
        return m < reach && wall! > (reach === 1 ? 0 : (m + 0.5) * climb);
      }),
    );
  // Teeth are alike: after one pitch all comes round again.
  const steps = n % flutes === 0 ? n / flutes : n;
  const sum = { along: 0, left: 0, up: 0 };
  let peak: Push = none;
  let [most, drag] = [0, 0];
  const atWall = { across: 0, most: 0 };
  for (let step = 0; step < steps; step++) {
    let [along, across, up] = [0, 0, 0];
    let walls = false;
    for (let tooth = 0; tooth < flutes; tooth++) {
      const tip = Math.round(step + (tooth * n) / flutes) % n;
      if (passes(tip)) walls = true;
      // Clockwise seen from above, a common helix makes what lies higher lag: its angle is greater.
      for (let m = 0; m < reach; m++) {
        const i = tip + m < n ? tip + m : tip + m - n;
        const edge = Math.min(depth[i]! - (m === 0 ? 0 : m * climb), climb);
        if (edge <= 0) continue;
        along += rim.along[i]! * edge;
        across += rim.left[i]! * edge;
        up += data.axialShare * rim.tangential[i]! * edge;
        drag += rim.tangential[i]! * edge;
      }
    }
    sum.along += along;
    sum.left += across;
    sum.up += up;
    const inPlane = Math.hypot(along, across);
    if (walls) {
      atWall.across = Math.max(atWall.across, Math.abs(across));
      atWall.most = Math.max(atWall.most, inPlane);
    }
    if (inPlane > most) {
      most = inPlane;
      peak = { along, left: across, up };
    }
  }
  const mean: Push = { along: sum.along / steps, left: sum.left / steps, up: sum.up / steps };
  const torque = (drag / steps) * radius * 1e-3;
  return { mean, peak, most, atWall, torque, power: (torque * 2 * Math.PI * speed) / 60, chip: rim.chip };
};

/** The force of an edge on the work at each step of the rim, N by mm of its height: of a chip as thick as it is there. */
const rimForce = (depth: Float64Array, toothLoad: number, data: CuttingForceData) => {
  const n = depth.length;
  const [along, left, tangential] = [new Float64Array(n), new Float64Array(n), new Float64Array(n)];
  let chip = 0;
  for (let i = 0; i < n; i++) {
    // Ahead of the cutter the tooth sweeps from its left to its right; the chip is thickest straight ahead.
    const angle = ((i + 0.5) * 2 * Math.PI) / n - Math.PI;
    const [c, s] = [Math.cos(angle), Math.sin(angle)];
    const thickness = toothLoad * c;
    if (depth[i]! <= 0 || thickness <= 0) continue;
    chip = Math.max(chip, thickness);
    const force = specificForce(data, thickness) * thickness;
    tangential[i] = force;
    // The rim moves clockwise, along (sin, −cos); it drags the work that way and presses it outward.
    along[i] = force * (s + data.radialShare * c);
    left[i] = force * (data.radialShare * s - c);
  }
  return { along, left, tangential, chip };
};

/** Depth of the material at one side of the cutter, left or right of its travel (1 or −1), mm. */
const depthBeside = (engagement: Engagement, side: 1 | -1): number =>
  Math.max(...[0.1, 0.4, 0.7, 1].map((share) => depthAt(engagement, side * (Math.PI / 2 - share * BESIDE))));

const depthAt = ({ depth }: Engagement, angle: number): number => {
  const n = depth.length;
  const i = Math.floor(((angle + Math.PI) / (2 * Math.PI)) * n);
  return depth[Math.min(n - 1, Math.max(0, i))] ?? 0;
};
