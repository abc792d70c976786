import type { Point } from '../../shape/point.ts';
import type { Finding, Part } from '../part.ts';
import { lengthText } from '../units.ts';

/** Gathers findings of one part, with lengths in the unit its owner reads. */
export interface Report {
  readonly findings: Finding[];
  readonly error: (code: string, message: string, feature?: string, at?: Point) => void;
  readonly warning: (code: string, message: string, feature?: string, at?: Point) => void;
  /** A length in mm as text in the part's unit. */
  readonly amount: (mm: number) => string;
}

export const reportOn = (part: Part): Report => {
  const findings: Finding[] = [];
  const as =
    (severity: Finding['severity']) =>
    (code: string, message: string, feature?: string, at?: Point): void => {
      findings.push({
        code,
        message,
        severity,
        ...(feature === undefined ? {} : { feature }),
        ...(at === undefined ? {} : { at: { x: at.x, y: at.y } }),
      });
    };
  return {
    findings,
    error: as('error'),
    warning: as('warning'),
    amount: (mm) => lengthText(mm, part.unit),
  };
};
