import type { Finding, Unit } from '../../sketch/part/part.ts';
import { degrees, lengthText, plain } from '../../sketch/part/units.ts';
import { angleOf, distance, type Point, subtract } from '../../sketch/shape/point.ts';

/** Which way the sides of an arm run, radians from X, and by how much each leans against the line of centres. */
export interface ArmAngles {
  readonly axis: number;
  /** Positive where the arm narrows from the first end to the second. */
  readonly lean: number;
  /** Directions of the sides left and right of the way from the first end to the second. */
  readonly left: number;
  readonly right: number;
}

interface Round {
  readonly centre: Point;
  readonly radius: number;
}

/**
 * Directions of the sides of an arm tangent to two round ends, by asin((R − r) / d): elementary geometry. Null where
 * one end holds the other, so that there is no tangent.
 */
export const armAngles = (from: Round, to: Round): ArmAngles | null => {
  const d = distance(from.centre, to.centre);
  const drop = from.radius - to.radius;
  if (!(d > Math.abs(drop))) return null;
  const axis = angleOf(subtract(to.centre, from.centre));
  const lean = Math.asin(drop / d);
  return { axis, lean, left: axis - lean, right: axis + lean };
};

export interface SineBarSetting {
  /** Height of the blocks under one roller, mm, rounded to what blocks can be wrung to. */
  readonly stack: number;
  /** The angle this stack gives, radians. */
  readonly reached: number;
  /** How much a thousandth of a mm in the stack turns the bar, radians: the setting's fineness. */
  readonly perMicron: number;
}

export type SineBar =
  | { readonly ok: true; readonly setting: SineBarSetting; readonly findings: readonly Finding[] }
  | { readonly ok: false; readonly findings: readonly Finding[] };

/** Common sets of gauge blocks step by 0.001 mm or 0.0001 in. Value from memory. */
const BLOCK_STEP: Readonly<Record<Unit, number>> = { mm: 0.001, inch: 0.00254 };
/** Beyond this a stack's faults turn the bar too much, radians. Common practice, no source. */
const STEEP = Math.PI / 4;

/**
 * The stack for an angle (radians, 0 to a right angle) on a sine bar whose rollers are `length` apart (mm):
 * L sin α (any machinist's handbook). A bar set steeper than 45° is warned of.
 */
export const sineBar = (length: number, angle: number, unit: Unit): SineBar => {
  if (!(length > 0 && Number.isFinite(length))) {
    return refused('sine-bar-length', 'A sine bar needs the distance between its rollers.');
  }
  if (!(angle >= 0 && angle <= Math.PI / 2)) {
    const said = Number.isFinite(angle) ? `${plain(degrees(angle), 3)}°` : 'an unknown angle';
    return refused('sine-bar-angle', `A sine bar cannot be set to ${said}: it takes 0 to 90°.`);
  }
  const step = BLOCK_STEP[unit];
  const stack = Math.min(length, Math.round((length * Math.sin(angle)) / step) * step);
  const reached = Math.asin(stack / length);
  const findings: Finding[] = [];
  if (angle > STEEP + 1e-9) {
    findings.push({
      code: 'sine-bar-steep',
      severity: 'warning',
      message: `Beyond 45° every fault of the stack counts more: stand the bar on end and set ${plain(90 - degrees(angle), 3)}° instead, a stack of ${lengthText(length * Math.cos(angle), unit)}.`,
    });
  }
  const setting = { stack, reached, perMicron: 0.001 / (length * Math.max(1e-6, Math.cos(reached))) };
  return { ok: true, setting, findings };
};

const refused = (code: string, message: string): SineBar => ({
  ok: false,
  findings: [{ code, severity: 'error', message }],
});

/** An angle as a swivel or vernier protractor is set: sign, whole degrees, whole minutes. */
export interface SwivelSetting {
  readonly negative: boolean;
  readonly degrees: number;
  readonly minutes: number;
  /** What rounding to the scale's step leaves, radians: setting less wanted. */
  readonly error: number;
}

/** An angle (radians) on a swivel whose scale steps by so many minutes: 1 to a whole degree's 60. Throws on other steps. */
export const swivelSetting = (angle: number, stepMinutes: number): SwivelSetting => {
  if (!Number.isFinite(angle)) throw new RangeError('a swivel needs an angle');
  if (!(stepMinutes >= 1 && Number.isInteger(60 / stepMinutes))) {
    throw new RangeError('a scale steps by whole parts of a degree, a minute or more');
  }
  const wanted = degrees(Math.abs(angle)) * 60;
  const set = Math.round(wanted / stepMinutes) * stepMinutes;
  const sign = angle < 0 ? -1 : 1;
  return {
    negative: angle < 0 && set > 0,
    degrees: Math.floor(set / 60),
    minutes: set % 60,
    error: (sign * (set - wanted) * Math.PI) / (180 * 60),
  };
};

/** As it is read out: `5° 44′`. */
export const swivelWords = (setting: SwivelSetting): string =>
  `${setting.negative ? '−' : ''}${setting.degrees}° ${String(setting.minutes).padStart(2, '0')}′`;
