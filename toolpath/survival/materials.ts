import type { Material } from '../../sketch/part/part.ts';
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
