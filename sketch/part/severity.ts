import type { Finding } from './part.ts';

/** Whether any of the findings stops the work. */
export const hasErrors = (findings: readonly Finding[]): boolean =>
  findings.some((f) => f.severity === 'error');
