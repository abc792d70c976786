import type { Finding } from '../../sketch/part/part.ts';
import { lengthText } from '../../sketch/part/units.ts';
import type { Screw } from '../../toolpath/machine/screw.ts';
import { type DialForm, type DialRow, FARTHEST, totalOf, turningOf } from './dials.ts';

/** A place of one axis on the cutter's way: with the cutter clear of the work, or in the cut. mm. */
export interface Visit {
  readonly at: number;
  readonly clear: boolean;
}

/** A place as a hand sets it, and whether the other flank of the screw bears there. */
export interface VisitRow extends DialRow {
  /** Reached in the cut against the side of arrival: the dial's figure has the slack in it. */
  readonly against: boolean;
  /** Where the dial stands when it has gone past, as far as it does. */
  readonly pastTotal: DialRow['total'] | null;
}

export type VisitTable =
  | { readonly ok: true; readonly rows: readonly VisitRow[] }
  | { readonly ok: false; readonly findings: readonly Finding[] };

/** Places nearer than this are one place, mm. */
const SAME = 1e-9;

/**
 * The places of one axis in the order of cutting, as turns and divisions. With the cutter clear, a place is always
 * arrived at from the side of `arrive`, first going past it where need be. In the cut the cutter cannot go past: a
 * place against that side is reached on the screw's other flank, and its figure has the backlash in it. Each place is
 * rounded by itself, so that roundings never add up. No table comes of a place no bench mill reaches.
 */
export const visitDials = (
  screw: Screw,
  visits: readonly Visit[],
  arrive: DialForm['arrive'],
  overTravel?: number,
): VisitTable => {
  const { unit, division, backlash, pitch, direction } = screw;
  const bad = visits.find((visit) => !(Math.abs(visit.at) <= FARTHEST));
  if (bad !== undefined) {
    const said = Number.isFinite(bad.at) ? `${lengthText(bad.at, unit)} from the datum` : 'without a number';
    const message = `A place ${said} cannot be set on a dial: places lie within ${lengthText(FARTHEST, unit)}.`;
    return { ok: false, findings: [{ code: 'dial-place', severity: 'error', message }] };
  }
  const rise = direction === 'rises' ? 1 : -1;
  const side = arrive === 'rising' ? 1 : -1;
  // The nut lies between the screw's flanks; the one that bears at the datum stands at nought there.
  const [low, high] = arrive === 'rising' ? [0, backlash] : [-backlash, 0];
  const pastSteps = Math.ceil((overTravel ?? backlash + pitch / 4) / division - 1e-9);
  const steps = (mm: number): number => Math.round(mm / division);
  // All in steps of one division as the coordinate rises; the dial's own sense comes in at the end.
  let turned = 0;
  let nut = 0;
  let before: number | null = null;
  const push = (to: number): void => {
    turned = to;
    nut = Math.min(Math.max(nut, to * division + low), to * division + high);
  };
  const rows = visits.map(({ at, clear }): VisitRow => {
    const from = turned;
    let past: number | null = null;
    let against = false;
    if (clear) {
      const target = steps(at);
      if ((target * division - nut) * side < -SAME) {
        past = target - side * pastSteps;
        push(past);
      }
      push(target);
    } else if (before === null || Math.abs(at - before) > SAME) {
      // By the places wanted, not by where rounding left the nut: a cut that goes one way is never turned back.
      const up = at > (before ?? nut);
      against = up !== side > 0;
      const target = steps(at - (up ? low : high));
      // Never turned back: what rounding would ask for is less than half a division.
      push(up ? Math.max(target, turned) : Math.min(target, turned));
    } else against = Math.abs(nut - turned * division) > SAME;
    before = at;
    const last = past ?? from;
    return {
      wanted: at,
      reached: nut + 0,
      past:
        past === null ? null : { at: past * division, turning: turningOf(screw, from * rise, past * rise) },
      turning: turningOf(screw, last * rise, turned * rise),
      total: totalOf(screw, turned * rise + 0),
      against,
      pastTotal: past === null ? null : totalOf(screw, past * rise + 0),
    };
  });
  return { ok: true, rows };
};
