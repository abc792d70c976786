import type { Unit } from '../part/part.ts';
import { FORMAT, type PartDocument, VERSION } from '../part/schema.ts';

/** The bar that an empty part begins with, in its unit: a size that is in most scrap boxes. */
const BARS = {
  mm: { length: 80, width: 20, thickness: 6 },
  inch: { length: 3, width: 0.75, thickness: 0.25 },
} as const satisfies Record<Unit, object>;

/**
 * An empty part: a bar of low-carbon steel and nothing drawn in it yet. The middle of the bar's left end is zero, and
 * stays there, so that what is drawn first does not move the bar.
 */
export const newDocument = (unit: Unit, name: string): PartDocument => {
  const bar = BARS[unit];
  const plain = name.replace(/\s+/g, ' ').trim().slice(0, 120);
  return {
    format: FORMAT,
    version: VERSION,
    name: plain === '' ? 'New part' : plain,
    unit,
    bar: { ...bar, material: 'low-carbon steel', corner: [0, -bar.width / 2] },
  };
};
