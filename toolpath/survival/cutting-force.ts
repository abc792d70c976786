import type { Material } from '../../sketch/part/part.ts';

/**
 * Specific cutting force by Kienzle: kc = kc1.1 · h^(−mc), MPa, with the uncut chip thickness h in mm. The force along
 * the cut is kc · b · h; across it (radial) and along the cutter (axial) it is taken as a share of that.
 * Every figure is an estimate: edges wear, alloys differ, and small chips cost more than any table says.
 */
export interface CuttingForceData {
  /** MPa at a chip 1 mm thick and 1 mm wide. */
  readonly kc11: number;
  readonly mc: number;
  readonly radialShare: number;
  readonly axialShare: number;
  readonly source: string;
}

const MAKER =
  'least-squares line through the tooth-load table of a cutting-tool maker (Mitsubishi Materials)';
export const MEMORY = 'value from memory';

/** Radial and axial shares for an endmill with a common helix. */
export const SHARES_SOURCE = 'common practice, no source';
const SHARES = { radialShare: 0.4, axialShare: 0.25 } as const;

export const CUTTING_FORCE: Readonly<Record<Material, CuttingForceData>> = {
  'free-cutting steel': { kc11: 1200, mc: 0.18, ...SHARES, source: MEMORY },
  'low-carbon steel': { kc11: 1442, mc: 0.1856, ...SHARES, source: `${MAKER}, mild steel of 520 MPa` },
  'stainless steel': { kc11: 1642, mc: 0.1003, ...SHARES, source: `${MAKER}, austenitic stainless` },
  'cast iron': { kc11: 803, mc: 0.3405, ...SHARES, source: `${MAKER}, grey cast iron of 200 HB` },
  brass: { kc11: 524, mc: 0.3486, ...SHARES, source: `${MAKER}, brass of 500 MPa` },
  bronze: { kc11: 700, mc: 0.25, ...SHARES, source: MEMORY },
  aluminium: { kc11: 332, mc: 0.3357, ...SHARES, source: `${MAKER}, light alloy Al-Si of 200 MPa` },
  acetal: { kc11: 90, mc: 0.3, ...SHARES, source: MEMORY },
};

/** The tooth loads that the maker's table spans, mm: outside them the line is carried on, and that is said. */
export const TABLE_SPAN = { from: 0.1, to: 0.6 } as const;

/** Chips thinner than this are rubbed more than cut: the force is held at what this thickness gives, mm. Value from memory. */
export const LEAST_CHIP = 0.003;

/** What is wrong with cutting-force constants, in words for the user; undefined when they can be computed with. */
export const cuttingFault = (data: CuttingForceData): string | undefined => {
  const { kc11, mc, radialShare, axialShare } = data;
  if (!(kc11 > 0) || !Number.isFinite(kc11)) return `kc1.1 must be more than 0 MPa, not ${kc11}`;
  if (!(mc >= 0 && mc < 1)) return `mc must be from 0 to under 1, not ${mc}`;
  for (const share of [radialShare, axialShare]) {
    if (!(share >= 0 && share <= 2)) return `the radial and axial shares must be from 0 to 2, not ${share}`;
  }
  return undefined;
};

/** Specific cutting force at a chip thickness in mm, MPa. Throws a RangeError for constants that make no sense. */
export const specificForce = (data: CuttingForceData, chip: number): number => {
  if (!(data.kc11 > 0) || !(data.mc >= 0 && data.mc < 1)) {
    throw new RangeError('kc1.1 must be greater than nothing, and mc from 0 to under 1');
  }
  return data.kc11 * Math.max(chip, LEAST_CHIP) ** -data.mc;
};
