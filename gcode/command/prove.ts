import { proofInput, writePrograms } from '../chain.ts';
import { proofJson } from '../proof/json.ts';
import { proveInSteps } from '../proof/prove.ts';
import type { Request } from './arguments.ts';
import { Failure } from './failure.ts';
import { readText } from './files.ts';
import { plannedOf } from './inputs.ts';
import type { Outcome } from './make.ts';
import { withProgress } from './progress.ts';
import { engagementLines, findingLines, proofLines } from './summary.ts';

/** Proves a program in the place of one setup's own; the other setups are cut as planned. */
export const prove = (request: Extract<Request, { kind: 'prove' }>): Outcome => {
  const text = readText(request.program);
  const { part, plan, profile } = plannedOf(request);
  const own = writePrograms(part, plan, profile);
  if (!own.some((program) => program.setup === request.setup)) {
    const there = own.map((program) => program.setup).join(' and ');
    throw new Failure(`there is no setup ${request.setup}: this part has ${there}`);
  }
  const programs = own.map((program) => (program.setup === request.setup ? { ...program, text } : program));
  const input = proofInput(part, plan, programs, profile, request.tolerance);
  const proof = withProgress(proveInSteps({ ...input, engagement: 'everywhere' }));
  const lines = request.json
    ? [JSON.stringify(proofJson(proof), null, 2)]
    : [
        ...proofLines(`${request.program} for setup ${request.setup} of ${part.name}`, proof, part.unit),
        ...engagementLines(proof),
        ...findingLines(proof.findings),
      ];
  return { lines, fits: proof.verdict === 'fits' };
};
