import { hasErrors } from '../../sketch/part/severity.ts';
import { planPart } from '../chain.ts';
import type { Request } from './arguments.ts';
import { failureOf, oneLine } from './failure.ts';
import { readText } from './files.ts';
import { machineOf } from './inputs.ts';
import { findingLines } from './summary.ts';

/** Whether a part file is sound and can be made with the machine's cutters; nothing is written. */
export const check = (
  request: Extract<Request, { kind: 'check' }>,
  say: (lines: readonly string[]) => void,
): void => {
  const { profile, findings: notes } = machineOf(request.machine);
  const planned = planPart(readText(request.part), { overrides: request.overrides, profile });
  if (!planned.ok || hasErrors(planned.findings)) {
    // All of them for people to read; the one line that goes with exit status 2 follows.
    say(findingLines(planned.findings));
    throw failureOf(request.part, planned.findings);
  }
  say([`${oneLine(planned.part.name)}: sound`, ...findingLines([...planned.findings, ...notes])]);
};
