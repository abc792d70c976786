/** Elastic constants of one material, the same in every direction. */
export interface ElasticMaterial {
  /** Young's modulus, MPa. */
  readonly young: number;
  readonly poisson: number;
  /** kg/m³. */
  readonly density: number;
}

/** Poisson's ratio above which bricks of displacements only grow too stiff to be trusted. */
const MOST_POISSON = 0.48;

/** What is wrong with the constants, in words for the user; undefined when they can be computed with. */
export const materialFault = (material: ElasticMaterial): string | undefined => {
  const { young, poisson, density } = material;
  if (!(young > 0) || !Number.isFinite(young)) return `Young's modulus must be more than 0 MPa, not ${young}`;
  if (!(poisson > -0.99) || !(poisson <= MOST_POISSON)) {
    return `Poisson's ratio must lie between −0.99 and ${MOST_POISSON}, not ${poisson}`;
  }
  if (!(density > 0) || !Number.isFinite(density)) return `density must be more than 0 kg/m³, not ${density}`;
  return undefined;
};

/** Lamé's constants and the plane-stress modulus E/(1 − ν²), MPa. */
export interface Moduli {
  readonly lambda: number;
  readonly shear: number;
  readonly plane: number;
}

export const moduliOf = ({ young, poisson }: ElasticMaterial): Moduli => ({
  lambda: (young * poisson) / ((1 + poisson) * (1 - 2 * poisson)),
  shear: young / (2 * (1 + poisson)),
  plane: young / (1 - poisson * poisson),
});

/** Tonnes per mm³, the mass unit that goes with N, mm and s, from kg/m³. */
export const TONNES_PER_MM3 = 1e-12;
