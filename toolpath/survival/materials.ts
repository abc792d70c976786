import type { Material } from '../../sketch/part/part.ts';
import type { MaterialFigures } from '../machine/profile.ts';
import { CUTTING_FORCE, type CuttingForceData, MEMORY, SHARES_SOURCE } from './cutting-force.ts';
import type { ElasticMaterial } from './elasticity/material.ts';

/** Elastic constants of the work: MPa, –, kg/m³. Values from memory, as any handbook of materials prints them. */
export const ELASTIC: Readonly<Record<Material, ElasticMaterial>> = {
  'free-cutting steel': { young: 205_000, poisson: 0.29, density: 7850 },
  'low-carbon steel': { young: 205_000, poisson: 0.29, density: 7850 },
  'stainless steel': { young: 195_000, poisson: 0.29, density: 7900 },
  'cast iron': { young: 110_000, poisson: 0.26, density: 7200 },
  brass: { young: 100_000, poisson: 0.34, density: 8500 },
  bronze: { young: 110_000, poisson: 0.34, density: 8800 },
  aluminium: { young: 70_000, poisson: 0.33, density: 2700 },
  acetal: { young: 2_900, poisson: 0.38, density: 1410 },
};

/** One constant of a material as it goes into the estimates, and where it is from. */
export interface Constant {
  readonly key: Exclude<keyof MaterialFigures, 'source'>;
  readonly name: string;
  readonly unit: string;
  readonly value: number;
  /** What stands when its owner says nothing. */
  readonly usual: number;
  readonly own: boolean;
  readonly source: string;
}

const UNSAID = 'your figure, no source given';

/** Every constant of a material, the owner's figures before the usual ones. */
export const constantsOf = (material: Material, own: MaterialFigures = {}): readonly Constant[] => {
  const cutting = CUTTING_FORCE[material];
  const elastic = ELASTIC[material];
  const rows: readonly (readonly [Constant['key'], string, string, number, string])[] = [
    ['kc11', 'Cutting force kc1.1', 'MPa', cutting.kc11, cutting.source],
    ['mc', 'Rise mc', '', cutting.mc, cutting.source],
    ['radialShare', 'Across the cut', '× along it', cutting.radialShare, SHARES_SOURCE],
    ['axialShare', 'Along the cutter', '× along the cut', cutting.axialShare, SHARES_SOURCE],
    ['young', 'Young’s modulus', 'MPa', elastic.young, MEMORY],
    ['poisson', 'Poisson’s ratio', '', elastic.poisson, MEMORY],
    ['density', 'Density', 'kg/m³', elastic.density, MEMORY],
  ];
  return rows.map(([key, name, unit, usual, source]): Constant => {
    const value = own[key];
    if (value === undefined) return { key, name, unit, value: usual, usual, own: false, source };
    return { key, name, unit, value, usual, own: true, source: own.source ?? UNSAID };
  });
};

/** A material's constants with the owner's figures laid over the usual ones. */
export const materialData = (
  material: Material,
  own: MaterialFigures = {},
): { readonly cutting: CuttingForceData; readonly elastic: ElasticMaterial } => {
  const cutting = CUTTING_FORCE[material];
  const elastic = ELASTIC[material];
  return {
    cutting: {
      kc11: own.kc11 ?? cutting.kc11,
      mc: own.mc ?? cutting.mc,
      radialShare: own.radialShare ?? cutting.radialShare,
      axialShare: own.axialShare ?? cutting.axialShare,
      source: own.kc11 === undefined && own.mc === undefined ? cutting.source : (own.source ?? UNSAID),
    },
    elastic: {
      young: own.young ?? elastic.young,
      poisson: own.poisson ?? elastic.poisson,
      density: own.density ?? elastic.density,
    },
  };
};
