import type { Part } from '../../sketch/part/part.ts';
import type { MachineProfile } from '../../toolpath/machine/profile.ts';
import type { PlannedSetup } from '../../toolpath/passes/pass.ts';

/** One setup as RS-274 text, in the form the machine profile asks for. Lines end with \n. */
export declare function writeProgram(part: Part, setup: PlannedSetup, profile: MachineProfile): string;
