import type { Ending } from '../reading/motion.ts';
import type { ProofFinding } from './finding.ts';
import type { ProofSetup } from './proof.ts';

/** Faults of the text as findings, and what a proof must insist on beyond the standard: an end, and something done. */
export const faultFindings = (setup: ProofSetup, reading: Ending): readonly ProofFinding[] => {
  const findings: ProofFinding[] = reading.faults.map((fault) => ({
    code: fault.code,
    message: `Line ${fault.line}: ${fault.message}`,
    severity: fault.severity,
    setup: setup.number,
  }));
  if (!reading.ended && !reading.faults.some((f) => f.code === 'no-end')) {
    findings.push({
      code: 'no-end',
      message: 'The program does not end with M30 or M2: it may have been cut short.',
      severity: 'error',
      setup: setup.number,
    });
  }
  if (reading.count === 0) {
    findings.push({
      code: 'no-motion',
      message: 'The program moves nothing.',
      severity: 'error',
      setup: setup.number,
    });
  }
  return findings;
};
