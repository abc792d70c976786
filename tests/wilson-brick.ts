import { Matrix, solve } from 'ml-matrix';
import type { ElasticMaterial } from '../toolpath/survival/elasticity/material.ts';

const CORNERS = Array.from({ length: 8 }, (_, n) => [n & 1, (n >> 1) & 1, n >> 2].map((bit) => 2 * bit - 1));

/**
 * The same brick the long way round: shape functions and nine incompatible modes integrated at 3 × 3 × 3 Gauss points
 * and the modes condensed out with a general solver. Shares no formula with the program.
 */
export const wilsonTaylor = (
  size: readonly [number, number, number],
  material: ElasticMaterial,
): number[] => {
  const { young, poisson } = material;
  const stiff = Matrix.zeros(6, 6);
  const scale = young / ((1 + poisson) * (1 - 2 * poisson));
  for (let r = 0; r < 3; r++) {
    for (let c = 0; c < 3; c++) stiff.set(r, c, scale * (r === c ? 1 - poisson : poisson));
    stiff.set(r + 3, r + 3, (scale * (1 - 2 * poisson)) / 2);
  }
  const whole = Matrix.zeros(33, 33);
  const points = [-Math.sqrt(0.6), 0, Math.sqrt(0.6)];
  const weights = [5 / 9, 8 / 9, 5 / 9];
  for (let a = 0; a < 3; a++) {
    for (let b = 0; b < 3; b++) {
      for (let c = 0; c < 3; c++) {
        const at = [points[a]!, points[b]!, points[c]!];
        const strain = Matrix.zeros(6, 33);
        const put = (column: number, slope: readonly number[]): void => {
          const [x, y, z] = slope as [number, number, number];
          strain.set(0, column, x);
          strain.set(1, column + 1, y);
          strain.set(2, column + 2, z);
          strain.set(3, column, y);
          strain.set(3, column + 1, x);
          strain.set(4, column + 1, z);
          strain.set(4, column + 2, y);
          strain.set(5, column, z);
          strain.set(5, column + 2, x);
        };
        CORNERS.forEach((corner, n) => {
          const slope = [0, 1, 2].map((axis) => {
            let product = (corner[axis]! / 8) * (2 / size[axis as 0 | 1 | 2]);
            for (let other = 0; other < 3; other++)
              if (other !== axis) product *= 1 + corner[other]! * at[other]!;
            return product;
          });
          put(3 * n, slope);
        });
        for (let mode = 0; mode < 3; mode++) {
          const slope = [0, 1, 2].map((axis) =>
            axis === mode ? -2 * at[axis]! * (2 / size[axis as 0 | 1 | 2]) : 0,
          );
          put(24 + 3 * mode, slope);
        }
        const volume = (weights[a]! * weights[b]! * weights[c]! * size[0] * size[1] * size[2]) / 8;
        whole.add(strain.transpose().mmul(stiff).mmul(strain).mul(volume));
      }
    }
  }
  const outer = whole.subMatrix(0, 23, 0, 23);
  const link = whole.subMatrix(24, 32, 0, 23);
  const inner = whole.subMatrix(24, 32, 24, 32);
  return outer.sub(link.transpose().mmul(solve(inner, link))).to1DArray();
};
