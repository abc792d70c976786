import type { Finding, Part, Unit } from '../../sketch/part/part.ts';
import { roundText } from '../../sketch/part/units.ts';
import type { Region } from '../../sketch/shape/region.ts';
import type { MachineProfile } from '../machine/profile.ts';
import type { JobStep, ViceHold } from './route.ts';

/** The stiffest cutter worth putting in a small machine, mm. Common practice, no source. */
export const STIFFEST = 12;

/** What the proposer has looked over once: the part, the machine, and how the bar is used. */
export interface Shop {
  readonly part: Part;
  readonly profile: MachineProfile;
  readonly outline: Region;
  readonly framed: boolean;
  readonly firstHold: ViceHold;
  /** Whether anything of the bar lies outside the outline. */
  readonly surplus: boolean;
}

/** Some job steps, and what stood in the way of others. */
export interface Steps {
  readonly steps: readonly JobStep[];
  readonly findings: readonly Finding[];
}

/** The finding for a cut that no endmill owned can make. */
export const noCutter = (what: string, depth: number, unit: Unit): Finding => ({
  code: 'no-cutter-long-enough',
  severity: 'error',
  message: `${what}: no endmill in the machine profile fits and reaches ${roundText(depth, unit)} deep.`,
});
