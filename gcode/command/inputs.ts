import type { Finding } from '../../sketch/part/part.ts';
import { hasErrors } from '../../sketch/part/severity.ts';
import { standardProfile } from '../../toolpath/machine/default-profile.ts';
import type { MachineProfile } from '../../toolpath/machine/profile.ts';
import { readProfile, withForm } from '../../toolpath/machine/profile-document.ts';
import { type PlannedPart, planPart } from '../chain.ts';
import type { Inputs } from './arguments.ts';
import { failureOf } from './failure.ts';
import { readText } from './files.ts';

/** The machine of a machine file with notes on it, or the example machine. Throws a Failure for a file that cannot be used. */
export const machineOf = (
  file: string | null,
): { readonly profile: MachineProfile; readonly findings: readonly Finding[] } => {
  if (file === null) return { profile: standardProfile, findings: [] };
  const reading = readProfile(readText(file));
  if (!reading.ok) throw failureOf(file, reading.findings);
  return reading;
};

/** The part that the files name, planned without errors. Throws a Failure otherwise. */
export const plannedOf = (inputs: Inputs): PlannedPart => {
  const machine = machineOf(inputs.machine);
  const profile = { ...machine.profile, program: withForm(machine.profile.program, inputs.form) };
  const planned = planPart(readText(inputs.part), { overrides: inputs.overrides, profile });
  if (!planned.ok || hasErrors(planned.findings)) throw failureOf(inputs.part, planned.findings);
  const { movement } = inputs;
  const route = movement === null ? planned.route : { ...planned.route, tolerance: movement };
  return { ...planned, route, findings: [...planned.findings, ...machine.findings] };
};
