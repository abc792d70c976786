import type { Finding } from './part.ts';

/** The findings that stop the work. */
export const errorsOf = (findings: readonly Finding[]): readonly Finding[] =>
  findings.filter((f) => f.severity === 'error');

export const hasErrors = (findings: readonly Finding[]): boolean => errorsOf(findings).length > 0;
