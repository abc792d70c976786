import type { MachineProfile } from '../machine/profile.ts';

/** Share of its top speed from which a stepless spindle gives its full power. Common practice, no source. */
const BASE_SHARE = 0.5;

/**
 * Power at the cutter that a spindle has at a speed, W. Belts and gears carry the motor's full power at each of their
 * speeds; a stepless drive gives an even torque up to its base speed, so below that its power falls with the speed.
 * An estimate: the maker's own curve comes first.
 */
export const spindlePower = (spindle: MachineProfile['spindle'], speed: number): number => {
  if (spindle.steps.length > 0 || !(spindle.most > 0)) return spindle.power;
  return spindle.power * Math.min(1, Math.max(0, speed) / (BASE_SHARE * spindle.most));
};
