import type { Finding, Unit } from '../../sketch/part/part.ts';
import { lengthText } from '../../sketch/part/units.ts';

/** The face of the work that is touched, as the operator stands: X to the right, Y away. */
export type TouchedFace = 'left' | 'right' | 'near' | 'far';

/** What to set at the moment an edge finder kicks over or a wobbler runs true. mm. */
export interface EdgeSetting {
  readonly axis: 'X' | 'Y';
  /** Where the tip stands and which way it goes: it comes from outside the work. */
  readonly approach: string;
  /** Half the tip, stated by itself because it is what people forget. */
  readonly half: number;
  /** What the readout or dial is set to for the spindle's centre. */
  readonly set: number;
}

export type EdgeTouch =
  | { readonly ok: true; readonly setting: EdgeSetting; readonly findings: readonly Finding[] }
  | { readonly ok: false; readonly findings: readonly Finding[] };

const FACE: Readonly<Record<TouchedFace, { axis: 'X' | 'Y'; outward: 1 | -1; approach: string }>> = {
  left: { axis: 'X', outward: -1, approach: 'from the left, X rising' },
  right: { axis: 'X', outward: 1, approach: 'from the right, X falling' },
  near: { axis: 'Y', outward: -1, approach: 'from the near side, Y rising' },
  far: { axis: 'Y', outward: 1, approach: 'from the far side, Y falling' },
};

/** Tips of edge finders and wobblers, mm. Common practice, no source. */
const TIP = { least: 0.5, most: 25.4 };

/**
 * Setting an axis by one face: `edge` is the face's coordinate (mm, 0 for a datum edge), `tip` the finder's diameter.
 * The spindle's centre stands half the tip outside the face. Common practice, no source.
 */
export const edgeTouch = (face: TouchedFace, edge: number, tip: number, unit: Unit): EdgeTouch => {
  const fault =
    tipFault(tip, unit) ??
    (Number.isFinite(edge) ? null : error('edge-place', 'A face needs its coordinate.'));
  if (fault !== null) return { ok: false, findings: [fault] };
  const { axis, outward, approach } = FACE[face];
  const half = tip / 2;
  return { ok: true, setting: { axis, approach, half, set: edge + outward * half }, findings: [] };
};

/** Setting an axis to the middle between two opposite faces. mm. */
export interface MiddleSetting {
  readonly half: number;
  /** Where the readout stands at the middle, read from its present zero; go there and set nought. */
  readonly middle: number;
  /** How wide the work turns out to be: the readings' difference less the whole tip. */
  readonly width: number;
}

export type MiddleTouch =
  | { readonly ok: true; readonly setting: MiddleSetting; readonly findings: readonly Finding[] }
  | { readonly ok: false; readonly findings: readonly Finding[] };

/** Widths further apart than this are not one piece of work measured twice, mm. */
const SAME_WIDTH = 0.5;

/**
 * The middle between two faces from the readings at both touches (mm, low face first), with the same tip. The halves
 * cancel in the middle, not in the width: the width found is held against the one `expected`.
 */
export const middleTouch = (
  low: number,
  high: number,
  tip: number,
  expected: number,
  unit: Unit,
): MiddleTouch => {
  const fault = tipFault(tip, unit);
  if (fault !== null) return { ok: false, findings: [fault] };
  const width = high - low - tip;
  if (!(width > 0 && Number.isFinite(width))) {
    return {
      ok: false,
      findings: [
        error(
          'edge-readings',
          'The readings at the two faces leave no work between them: read the lower face first, and both from one zero.',
        ),
      ],
    };
  }
  if (!(Math.abs(width - expected) <= SAME_WIDTH)) {
    const should = Number.isFinite(expected) ? lengthText(expected, unit) : 'a width that is known';
    return {
      ok: false,
      findings: [
        error(
          'edge-width',
          `The two touches make the work ${lengthText(width, unit)} wide, not ${should}: touch again, with the right tip.`,
        ),
      ],
    };
  }
  return { ok: true, setting: { half: tip / 2, middle: (low + high) / 2, width }, findings: [] };
};

const error = (code: string, message: string): Finding => ({ code, severity: 'error', message });

const tipFault = (tip: number, unit: Unit): Finding | null =>
  tip >= TIP.least && tip <= TIP.most
    ? null
    : error(
        'edge-tip',
        `An edge finder's tip of ${Number.isFinite(tip) ? lengthText(tip, unit) : 'no known size'} cannot be right: they are ${lengthText(TIP.least, unit)} to ${lengthText(TIP.most, unit)}.`,
      );
