import type { End, Finding, Hole, Unit } from '../../sketch/part/part.ts';
import { lengthText } from '../../sketch/part/units.ts';
import { distance } from '../../sketch/shape/point.ts';

/** A pair of hardened buttons, one each side of an end, pinned through its hole. mm. */
export interface FilingButtons {
  /** Outside: the end's own diameter. */
  readonly diameter: number;
  /** Hole for the pin: as large as the hole of the end when it is filed. */
  readonly hole: number;
  /** Least thickness, so that a file is held flat on it. */
  readonly thickness: number;
  /** Ring of metal round the pin. */
  readonly wall: number;
}

export type Buttons =
  | { readonly ok: true; readonly buttons: FilingButtons; readonly findings: readonly Finding[] }
  | { readonly ok: false; readonly findings: readonly Finding[] };

/** A thinner ring breaks when it is hardened, mm. Common practice, no source. */
const LEAST_WALL = 1.5;
/** Common practice, no source, mm. */
const LEAST_THICKNESS = 3;
/** Centres nearer than this are one centre, mm. */
const SAME_CENTRE = 0.01;

/**
 * Sizes of filing buttons for a round end: turned to the end's diameter, bored to its hole, pinned each side of the
 * work. Common practice, no source. An end without a hole right through its centre has nothing to pin them by.
 */
export const filingButtons = (end: End, holes: readonly Hole[], unit: Unit): Buttons => {
  const error = (code: string, message: string): Buttons => ({
    ok: false,
    findings: [{ code, severity: 'error', message, feature: end.name, at: end.centre }],
  });
  const hole = holes.find((h) => distance(h.centre, end.centre) < SAME_CENTRE);
  if (hole === undefined) {
    return error('buttons-no-hole', `${end.name} has no hole at its centre to pin filing buttons in.`);
  }
  if (hole.depth !== null) {
    return error(
      'buttons-blind-hole',
      `${hole.name} does not go through ${end.name}: buttons cannot be pinned on both sides.`,
    );
  }
  const wall = end.radius - hole.diameter / 2;
  if (!(wall > 0)) {
    return error(
      'buttons-hole-too-large',
      `${hole.name} of ${lengthText(hole.diameter, unit)} leaves no button of ${lengthText(2 * end.radius, unit)} round it.`,
    );
  }
  const note = (code: string, severity: Finding['severity'], message: string): Finding => ({
    code,
    severity,
    message,
    feature: end.name,
    at: end.centre,
  });
  const findings: Finding[] = [];
  if (wall < LEAST_WALL) {
    findings.push(
      note(
        'buttons-thin',
        'warning',
        `Buttons for ${end.name} would have a ring of only ${lengthText(wall, unit)}: case-hardened it may crack. File before opening the hole to size, or nibble closer.`,
      ),
    );
  }
  if (hole.purpose === 'tapped') {
    findings.push(
      note(
        'buttons-before-tapping',
        'note',
        `File ${end.name} before tapping ${hole.name}: the pin fits its tap drill, ${lengthText(hole.diameter, unit)}.`,
      ),
    );
  }
  const buttons = {
    diameter: 2 * end.radius,
    hole: hole.diameter,
    thickness: Math.max(LEAST_THICKNESS, end.radius / 3),
    wall,
  };
  return { ok: true, buttons, findings };
};
