import type { Material } from '../../sketch/part/part.ts';
import { difference } from '../../sketch/shape/boolean.ts';
import { offset } from '../../sketch/shape/offset.ts';
import { type Region, regionArea } from '../../sketch/shape/region.ts';
import type { Cutter } from '../machine/cutter.ts';
import type { MachineProfile } from '../machine/profile.ts';
import type { MillingTerms } from './route.ts';

/** Depth of a full-width pass as a share of the cutter's diameter, for small machines. Common practice, no source. */
const DEPTH_SHARE: Readonly<Record<Material, number>> = {
  'free-cutting steel': 0.3,
  'low-carbon steel': 0.25,
  'stainless steel': 0.15,
  'cast iron': 0.3,
  brass: 0.4,
  bronze: 0.3,
  aluminium: 0.4,
  acetal: 0.6,
};

/** No pass on a hobby machine is deeper than this, mm. Common practice, no source. */
export const DEEPEST_PASS = 2.5;

const STEPOVER_SHARE = 0.4;

/** Terms for roughing and finishing with one cutter. */
export const millingTerms = (material: Material, cutter: Cutter, floorAllowance = 0): MillingTerms => ({
  stepDown: Math.min(DEEPEST_PASS, DEPTH_SHARE[material] * cutter.diameter),
  levels: { kind: 'equal' },
  stepover: STEPOVER_SHARE * cutter.diameter,
  wallAllowance: cutter.diameter < 4 ? 0.1 : 0.2,
  floorAllowance,
  direction: 'climb',
});

/** Endmills long enough for a depth, largest first. */
export const endmillsFor = (profile: MachineProfile, depth: number): readonly Cutter[] =>
  profile.cutters
    .filter((c) => c.kind === 'endmill' && c.fluteLength >= depth - 1e-9)
    .sort((a, b) => b.diameter - a.diameter);

/** What a cutter that goes round a shape leaves in its inner corners and gaps. */
export const leftBeside = (shape: Region, diameter: number): Region =>
  difference(offset(offset(shape, diameter / 2), -diameter / 2), shape);

/** Area of that, mm². */
export const cornersLeft = (shape: Region, diameter: number): number =>
  regionArea(leftBeside(shape, diameter));

/** Less than this in all corners together is not worth a change of cutter, mm². */
const SMALL_CORNERS = 0.05;

/**
 * A cutter to clear with (the stiffest up to `most`), and a smaller one for the corners it leaves when a smaller one
 * does better; null when no endmill is long enough.
 */
export const outlineCutters = (
  profile: MachineProfile,
  shape: Region,
  depth: number,
  most: number,
): { readonly main: Cutter; readonly corners: Cutter | null } | null => {
  const fitting = endmillsFor(profile, depth).filter((c) => c.diameter <= most);
  const main = fitting[0];
  if (!main) return null;
  const small = fitting.filter((c) => c.diameter < main.diameter);
  const left = cornersLeft(shape, main.diameter);
  if (left < SMALL_CORNERS || small.length === 0) return { main, corners: null };
  const best = Math.min(...small.map((c) => cornersLeft(shape, c.diameter)));
  // The largest of the small ones that does as well as the smallest could: stiffness is worth more than a shaving.
  const corners = small.find((c) => cornersLeft(shape, c.diameter) <= best + SMALL_CORNERS) ?? null;
  return {
    main,
    corners: corners && left - cornersLeft(shape, corners.diameter) > SMALL_CORNERS ? corners : null,
  };
};

/** A cutter just as wide as a slot, else one that can be led round inside it; null when none enters. */
export const slotCutter = (
  profile: MachineProfile,
  width: number,
  depth: number,
  greatestRadius: number,
): Cutter | null => {
  const fitting = endmillsFor(profile, depth).filter(
    (c) => c.diameter <= width + 0.02 && c.diameter / 2 <= greatestRadius + 0.01,
  );
  return (
    fitting.find((c) => Math.abs(c.diameter - width) <= 0.02) ??
    fitting.find((c) => c.diameter <= 0.8 * width) ??
    fitting[0] ??
    null
  );
};

/** The stiffest cutter that gets as far into the corners and gaps beside the thick parts as any could. */
export const thinningCutter = (
  profile: MachineProfile,
  thick: Region,
  depth: number,
  most: number,
): Cutter | null => {
  const fitting = endmillsFor(profile, depth).filter((c) => c.diameter <= most);
  const left = fitting.map((c) => cornersLeft(thick, c.diameter));
  const best = Math.min(...left);
  return fitting.find((_, i) => left[i]! <= best + SMALL_CORNERS) ?? null;
};
