import type { Moduli } from './material.ts';

/**
 * The rectangular eight-node brick with incompatible modes (E. L. Wilson and R. L. Taylor: each movement is given
 * 1 − ξ², 1 − η² and 1 − ζ² besides the trilinear shapes, and these nine are condensed out), worked by hand.
 *
 * Write each movement of the brick as u = Σ u_m m over the eight products m of 1, ξ, η, ζ. A rectangular brick is
 * its own mirror image in three planes, so the strain energy falls apart into small sums of squares over these
 * amplitudes, and condensing the incompatible modes merely frees the normal strain that grows along its own axis and
 * the shear strains that grow in their own plane. With half sides a, b, c and volume V, 2 U / V is
 *
 * - constant strain: the ordinary elastic energy of u_ξ/a, v_η/b, w_ζ/c and of the three shears;
 * - bending, for each axis: ⅓ of the plane-stress energy of the two strains across it (for ζ: u_ξζ/a and v_ηζ/b);
 * - twist: ⅓ G of (u_ηζ/b + v_ξζ/a)², (v_ξζ/c + w_ξη/b)², (u_ηζ/c + w_ξη/a)²;
 * - the three odd modes ξηζ: ⅑ of (λ + 2G)/a² + G/b² + G/c² times u_ξηζ² and so on round.
 *
 * Tests hold this against a brick integrated and condensed numerically.
 */
export interface Brick {
  /** One over the half sides, 1/mm. */
  readonly ia: number;
  readonly ib: number;
  readonly ic: number;
  /** Volume, mm³. */
  readonly volume: number;
}

export const brickOf = (dx: number, dy: number, dz: number): Brick => ({
  ia: 2 / dx,
  ib: 2 / dy,
  ic: 2 / dz,
  volume: dx * dy * dz,
});

/** Corner n of a brick lies at ξ = ±1 by bit 0, η by bit 1, ζ by bit 2; amplitude m is the product of the axes in its bits. */
export const signOf = (mode: number, corner: number): number => {
  const odd = mode & ~corner;
  return (((odd & 1) + ((odd >> 1) & 1) + ((odd >> 2) & 1)) & 1) === 1 ? -1 : 1;
};

const X = 1;
const Y = 2;
const Z = 4;

/** Forces on the 24 amplitudes (mode · 3 + axis) from the amplitudes themselves: the gradient of the strain energy. */
const amplitudeForces = (brick: Brick, moduli: Moduli, u: Float64Array): Float64Array => {
  const { ia, ib, ic, volume } = brick;
  const { lambda, shear, plane } = moduli;
  const poisson = lambda / (2 * (lambda + shear));
  const f = new Float64Array(24);
  const at = (mode: number, axis: number): number => u[mode * 3 + axis]!;
  const put = (mode: number, axis: number, force: number): void => {
    f[mode * 3 + axis]! += force * volume;
  };
  const ex = at(X, 0) * ia;
  const ey = at(Y, 1) * ib;
  const ez = at(Z, 2) * ic;
  const spread = lambda * (ex + ey + ez);
  put(X, 0, (spread + 2 * shear * ex) * ia);
  put(Y, 1, (spread + 2 * shear * ey) * ib);
  put(Z, 2, (spread + 2 * shear * ez) * ic);
  const sheared = (m0: number, a0: number, i0: number, m1: number, a1: number, i1: number, g: number) => {
    const stress = g * (at(m0, a0) * i0 + at(m1, a1) * i1);
    put(m0, a0, stress * i0);
    put(m1, a1, stress * i1);
  };
  sheared(Y, 0, ib, X, 1, ia, shear);
  sheared(Z, 1, ic, Y, 2, ib, shear);
  sheared(Z, 0, ic, X, 2, ia, shear);
  sheared(Y | Z, 0, ib, X | Z, 1, ia, shear / 3);
  sheared(X | Z, 1, ic, X | Y, 2, ib, shear / 3);
  sheared(Y | Z, 0, ic, X | Y, 2, ia, shear / 3);
  const bent = (m0: number, a0: number, i0: number, m1: number, a1: number, i1: number) => {
    const e0 = at(m0, a0) * i0;
    const e1 = at(m1, a1) * i1;
    put(m0, a0, (plane / 3) * (e0 + poisson * e1) * i0);
    put(m1, a1, (plane / 3) * (e1 + poisson * e0) * i1);
  };
  bent(X | Y, 1, ib, X | Z, 2, ic);
  bent(X | Y, 0, ia, Y | Z, 2, ic);
  bent(X | Z, 0, ia, Y | Z, 1, ib);
  const stiff = lambda + 2 * shear;
  put(7, 0, (at(7, 0) / 9) * (stiff * ia * ia + shear * (ib * ib + ic * ic)));
  put(7, 1, (at(7, 1) / 9) * (stiff * ib * ib + shear * (ia * ia + ic * ic)));
  put(7, 2, (at(7, 2) / 9) * (stiff * ic * ic + shear * (ia * ia + ib * ib)));
  return f;
};

/** The 24 × 24 stiffness matrix, N/mm, row by row; unknown 3 n + axis at corner n. */
export const stiffnessOf = (brick: Brick, moduli: Moduli): Float64Array => {
  const matrix = new Float64Array(576);
  const amplitudes = new Float64Array(24);
  for (let corner = 0; corner < 8; corner++) {
    for (let axis = 0; axis < 3; axis++) {
      amplitudes.fill(0);
      for (let mode = 0; mode < 8; mode++) amplitudes[mode * 3 + axis] = signOf(mode, corner) / 8;
      const forces = amplitudeForces(brick, moduli, amplitudes);
      for (let row = 0; row < 24; row++) {
        const to = Math.floor(row / 3);
        let sum = 0;
        for (let mode = 0; mode < 8; mode++) sum += signOf(mode, to) * forces[mode * 3 + (row % 3)]!;
        matrix[row * 24 + corner * 3 + axis] = sum / 8;
      }
    }
  }
  return matrix;
};

/** Makes stiffness matrices of bricks of many sizes fast: the matrix is V times a form in 1/a, 1/b and 1/c of degree two. */
export const stiffnessMaker = (moduli: Moduli): ((brick: Brick) => Float64Array) => {
  const part = (ia: number, ib: number, ic: number): Float64Array =>
    stiffnessOf({ ia, ib, ic, volume: 1 }, moduli);
  const [x, y, z] = [part(1, 0, 0), part(0, 1, 0), part(0, 0, 1)] as const;
  const crossed = (both: Float64Array, one: Float64Array, other: Float64Array): Float64Array =>
    both.map((value, n) => value - one[n]! - other[n]!);
  const xy = crossed(part(1, 1, 0), x, y);
  const xz = crossed(part(1, 0, 1), x, z);
  const yz = crossed(part(0, 1, 1), y, z);
  return ({ ia, ib, ic, volume }) => {
    const matrix = new Float64Array(576);
    const [cx, cy, cz] = [volume * ia * ia, volume * ib * ib, volume * ic * ic];
    const [cxy, cxz, cyz] = [volume * ia * ib, volume * ia * ic, volume * ib * ic];
    for (let n = 0; n < 576; n++) {
      matrix[n] = cx * x[n]! + cy * y[n]! + cz * z[n]! + cxy * xy[n]! + cxz * xz[n]! + cyz * yz[n]!;
    }
    return matrix;
  };
};

/** The diagonal of the stiffness matrix along x, y and z, N/mm: the same at every corner of a brick. */
export const diagonalOf = (brick: Brick, { lambda, shear, plane }: Moduli): [number, number, number] => {
  const { ia, ib, ic, volume } = brick;
  const [x, y, z] = [ia * ia, ib * ib, ic * ic];
  const along = (own: number, other: number, third: number): number =>
    (volume / 64) *
    ((lambda + 2 * shear) * (own + own / 9) +
      shear * (other + third) * (1 + 1 / 3 + 1 / 9) +
      (2 / 3) * plane * own);
  return [along(x, y, z), along(y, x, z), along(z, x, y)];
};
