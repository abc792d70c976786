import type { Material } from '../part/part.ts';

/** The materials a bar may be of, as they are offered. */
export const MATERIALS: readonly Material[] = [
  'free-cutting steel',
  'low-carbon steel',
  'stainless steel',
  'cast iron',
  'brass',
  'bronze',
  'aluminium',
  'acetal',
];
