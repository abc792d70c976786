import type { Finding, Unit } from '../../sketch/part/part.ts';
import { lengthText, mmPer, plain } from '../../sketch/part/units.ts';

/** A screw as its owner would tell it: lengths in the screw's own unit. */
export interface ScrewEntry {
  readonly unit: Unit;
  /** Travel of one turn. */
  readonly pitch: number;
  /** Lines round the dial; a half is allowed, for screws of 1/16 in have dials of 62.5 thousandths. */
  readonly divisions: number;
  /** Whether the coordinate rises or falls as the dial's figures rise. */
  readonly direction: 'rises' | 'falls';
  /** Lost motion of the nut. */
  readonly backlash: number;
}

/** A screw that can be reckoned with: lengths in mm. Made by `readScrew` only, so that its numbers are sound. */
export interface Screw extends ScrewEntry {
  /** Travel of one division, mm. */
  readonly division: number;
}

export type ScrewReading =
  | { readonly ok: true; readonly screw: Screw; readonly findings: readonly Finding[] }
  | { readonly ok: false; readonly findings: readonly Finding[] };

/** Pitches of handwheel screws, mm: from fine feed screws to coarse old ones. Common practice, no source. */
const PITCH = { least: 0.2, most: 12.7 };
const MOST_DIVISIONS = 1000;
/** A dial coarser than this cannot set a lever's sizes, mm. */
const COARSE = 0.1;

/** Looks at a screw before anything is reckoned with it. Each thing amiss is named; no number comes of a bad screw. */
export const readScrew = (entry: ScrewEntry): ScrewReading => {
  const findings: Finding[] = [];
  const error = (code: string, message: string): void => {
    findings.push({ code, severity: 'error', message });
  };
  const { unit, divisions } = entry;
  const pitch = entry.pitch * mmPer(unit);
  const backlash = entry.backlash * mmPer(unit);
  const possible = pitch >= PITCH.least - 1e-9 && pitch <= PITCH.most + 1e-9;
  if (!possible) {
    error(
      'screw-pitch',
      `A screw's pitch of ${said(entry.pitch, unit)} cannot be right: handwheel screws have ${lengthText(PITCH.least, unit)} to ${lengthText(PITCH.most, unit)} a turn. Measure how far the table goes in ten turns.`,
    );
  }
  if (!(divisions >= 1 && divisions <= MOST_DIVISIONS && Number.isInteger(divisions * 2))) {
    error(
      'screw-divisions',
      `A dial of ${plainNumber(divisions)} divisions cannot be set: count the lines once round, 1 to ${MOST_DIVISIONS}, halves allowed.`,
    );
  }
  if (!(backlash >= 0 && (!possible || backlash < pitch))) {
    error(
      'screw-backlash',
      `Backlash of ${said(entry.backlash, unit)} cannot be right for this screw: it must be nothing or more, and less than one turn.`,
    );
  }
  if (findings.length > 0) return { ok: false, findings };
  const division = pitch / divisions;
  if (division > COARSE + 1e-9) {
    findings.push({
      code: 'screw-coarse',
      severity: 'warning',
      message: `One division is ${lengthText(division, unit)}: places can only be set to half of that. A readout or an indicator would do better.`,
    });
  }
  return { ok: true, screw: { ...entry, pitch, backlash, division }, findings };
};

const plainNumber = (value: number): string => (Number.isFinite(value) ? plain(value, 4) : 'unknown');
const said = (value: number, unit: Unit): string =>
  Number.isFinite(value) ? `${plain(value, 5)} ${unit === 'mm' ? 'mm' : 'in'}` : 'no known length';
