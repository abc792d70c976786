import type { Finding } from '../../sketch/part/part.ts';
import { lengthText, plain } from '../../sketch/part/units.ts';
import type { Screw } from '../../toolpath/machine/screw.ts';

/** One turning of the handwheel. */
export interface Turning {
  /** Signed count of divisions, positive as the dial's figures rise. The sum of all counts is where the dial stands. */
  readonly count: number;
  /** The same as whole turns and divisions, without sign. */
  readonly turns: number;
  readonly divisions: number;
  readonly way: 'figures rising' | 'figures falling' | 'none';
  /** The figure under the dial's mark when it is done, from 0 up to the divisions of one turn. */
  readonly reads: number;
}

/** One place of one axis as a hand sets it. */
export interface DialRow {
  /** The place wanted, mm. */
  readonly wanted: number;
  /** The place the dial can give, mm: within half a division of what is wanted. */
  readonly reached: number;
  /** When the place lies against the side of arrival: first on to here, mm, with the cutter clear of the work. */
  readonly past: { readonly at: number; readonly turning: Turning } | null;
  readonly turning: Turning;
  /** Divisions from zero all told, signed, and as turns and divisions of the same sign. */
  readonly total: { readonly count: number; readonly turns: number; readonly divisions: number };
}

export interface DialForm {
  /** The side every place is arrived from: with the coordinate rising, from below it. */
  readonly arrive: 'rising' | 'falling';
  /** How far to go past a place before coming back to it, mm; more than the backlash. A quarter turn more when left out. */
  readonly overTravel?: number;
}

export type DialTable =
  | { readonly ok: true; readonly rows: readonly DialRow[]; readonly findings: readonly Finding[] }
  | { readonly ok: false; readonly findings: readonly Finding[] };

/** No bench mill goes so far from its datum, mm. */
export const FARTHEST = 2000;

/**
 * The places of one axis (mm from the datum) as turns and divisions. The dial is set to nought at the datum, arrived
 * at from the same side. Each place is rounded by itself, so that roundings never add up, and is arrived at from the
 * side of `form.arrive`, so that the nut always bears on the same flank; a move the other way first goes past the
 * place and comes back. A place that cannot be meant is a finding and no table is made.
 */
export const dialTable = (screw: Screw, places: readonly number[], form: DialForm): DialTable => {
  const { unit, division, backlash, pitch } = screw;
  const bad = places.find((place) => !(Math.abs(place) <= FARTHEST));
  if (bad !== undefined) {
    const said = Number.isFinite(bad)
      ? `A place ${lengthText(bad, unit)} from the datum`
      : 'A place without a number';
    return refused(
      'dial-place',
      `${said} cannot be set on a dial: places lie within ${lengthText(FARTHEST, unit)}.`,
    );
  }
  const past = form.overTravel ?? backlash + pitch / 4;
  if (!(past > backlash && past <= backlash + 5 * pitch)) {
    return refused(
      'dial-over-travel',
      `Going ${Number.isFinite(past) ? lengthText(past, unit) : 'an unknown way'} past a place does not take out backlash of ${lengthText(backlash, unit)}: go farther than the backlash, by no more than five turns.`,
    );
  }
  const rise = screw.direction === 'rises' ? 1 : -1;
  const arriving = (form.arrive === 'rising' ? 1 : -1) * rise;
  // Up to a whole division, so that it can be set on the dial; the tiny share keeps a whole number whole.
  const pastCount = Math.ceil(past / division - 1e-9);
  const placeOf = (count: number): number => count * rise * division;
  let count = 0;
  const rows = places.map((wanted): DialRow => {
    const target = noMinus(Math.round((wanted / division) * rise));
    const reversing = (target - count) * arriving < 0;
    const beyond = target - arriving * pastCount;
    const first = reversing ? { at: placeOf(beyond), turning: turningOf(screw, count, beyond) } : null;
    const turning = turningOf(screw, reversing ? beyond : count, target);
    count = target;
    return { wanted, reached: noMinus(placeOf(target)), past: first, turning, total: totalOf(screw, target) };
  });
  return { ok: true, rows, findings: [] };
};

const refused = (code: string, message: string): DialTable => ({
  ok: false,
  findings: [{ code, severity: 'error', message }],
});

const noMinus = (value: number): number => (value === 0 ? 0 : value);

/** Whole turns and divisions in a count without sign; the divisions may be a half on dials that have one. */
const split = (screw: Screw, count: number): { turns: number; divisions: number } => {
  const turns = Math.floor(count / screw.divisions);
  return { turns, divisions: count - turns * screw.divisions };
};

export const turningOf = (screw: Screw, from: number, to: number): Turning => {
  const count = to - from;
  return {
    count,
    ...split(screw, Math.abs(count)),
    way: count === 0 ? 'none' : count > 0 ? 'figures rising' : 'figures falling',
    reads: split(screw, to).divisions,
  };
};

export const totalOf = (screw: Screw, count: number): DialRow['total'] => {
  const sign = count < 0 ? -1 : 1;
  const { turns, divisions } = split(screw, Math.abs(count));
  return { count, turns: noMinus(sign * turns), divisions: noMinus(sign * divisions) };
};

/**
 * Where the nut stands after each turning, mm from the datum: the table's own figures read back as moves. The nut has
 * lost motion: it is pushed by one flank of the screw or by the other, and stays where it is between them. It starts
 * at the datum, pushed the way of `arrive`.
 */
export const nutPlaces = (
  screw: Screw,
  turnings: readonly Pick<Turning, 'count'>[],
  arrive: DialForm['arrive'],
): readonly number[] => {
  const rise = screw.direction === 'rises' ? 1 : -1;
  // The flanks lie a backlash apart; the one that pushes at the datum stands at nought there.
  const [low, high] = arrive === 'rising' ? [0, screw.backlash] : [-screw.backlash, 0];
  let turned = 0;
  let nut = 0;
  return turnings.map(({ count }) => {
    turned += count * rise * screw.division;
    nut = Math.min(Math.max(nut, turned + low), turned + high);
    return nut;
  });
};

/** A turning as it is said at the machine: `2 turns + 35, figures rising, to 85`. */
export const turningWords = (turning: Turning): string => {
  const { turns, divisions, way, reads } = turning;
  if (way === 'none') return `stay at ${plain(reads, 1)}`;
  const whole = turns === 0 ? '' : `${turns} ${turns === 1 ? 'turn' : 'turns'}`;
  const rest = divisions === 0 && turns > 0 ? '' : plain(divisions, 1);
  return `${[whole, rest].filter((s) => s !== '').join(' + ')}, ${way}, to ${plain(reads, 1)}`;
};
