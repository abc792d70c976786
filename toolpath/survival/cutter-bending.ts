import type { Cutter } from '../machine/cutter.ts';

/** Young's modulus of cutter materials, MPa. Values from memory. */
const YOUNG: Readonly<Record<Cutter['material'], number>> = { 'high-speed steel': 210_000, carbide: 600_000 };

/** A fluted body bends like a bar of this share of its diameter: about 0.8, printed in texts on endmill deflection. Value from memory. */
export const FLUTED_SHARE = 0.8;

/**
 * Sideways movement of an endmill's tip under a force at `height` above its tip, mm: a cantilever in two steps, fluted
 * below and plain above, clamped in the collet (Euler and Bernoulli, by the unit-load method).
 * `stickOut` is from collet to tip, mm; the plain shank is as thick as the cutter.
 */
export const cutterBending = (
  cutter: Pick<Cutter, 'diameter' | 'fluteLength' | 'material'>,
  force: number,
  stickOut: number,
  height = 0,
): number => {
  const young = YOUNG[cutter.material];
  const fluted = inertia(cutter.diameter * FLUTED_SHARE);
  const plain = inertia(cutter.diameter);
  const flutes = Math.min(cutter.fluteLength, stickOut);
  // ∫ M m / (E I) with M = F (s − height) beyond the force and the unit load at the tip: m = s, s up from the tip.
  const part = (from: number, to: number): number => {
    const a = Math.max(from, height);
    if (to <= a) return 0;
    const at = (s: number): number => s ** 3 / 3 - (height * s ** 2) / 2;
    return at(to) - at(a);
  };
  return (force / young) * (part(0, flutes) / fluted + part(flutes, stickOut) / plain);
};

/**
 * Bending stress at the fluted root of an endmill, MPa: the moment of the force there over the section's modulus, taking
 * the fluted share of the diameter (any text on strength of materials). The root is at the end of the flutes, or at the
 * collet when the cutter sticks out less.
 */
export const cutterStress = (
  cutter: Pick<Cutter, 'diameter' | 'fluteLength'>,
  force: number,
  stickOut: number,
  height = 0,
): number => {
  const arm = Math.max(0, Math.min(cutter.fluteLength, stickOut) - height);
  return (32 * force * arm) / (Math.PI * (cutter.diameter * FLUTED_SHARE) ** 3);
};

const inertia = (d: number): number => (Math.PI * d ** 4) / 64;
