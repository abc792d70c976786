import type { Finding, Unit } from '../../sketch/part/part.ts';
import { lengthText } from '../../sketch/part/units.ts';
import { passLevels } from '../../toolpath/passes/levels.ts';

/** Guided work in which the person measures and the numbers that follow come from the measurement. All mm. */

/** Squaring a bar to length with the side of an endmill, one end after the other. */
export interface LengthJob {
  /** The length wanted, and that of the sawn bar. */
  readonly length: number;
  readonly sawn: number;
  readonly cutter: number;
  /** The end cut last, as the work then lies; the other end stands at X nought against a stop. */
  readonly end: 'right' | 'left';
  /** The deepest cut off the end in one go, and what the last cut is to take. */
  readonly deepest: number;
  readonly last: number;
}

/** What to take off the first end: enough to clean it, no more than half of what there is. */
export interface FirstEnd {
  readonly take: number;
  /** The bar must still measure at least this. */
  readonly keep: number;
}

/** One cut towards a measured size. */
export interface MeasuredCut {
  /** Where the readout stands for this cut: the cutter's centre for a length, its tip for a thickness. */
  readonly at: number;
  readonly takes: number;
  /** What the work measures after it. */
  readonly remains: number;
}

export interface MeasuredCuts {
  /** What to set the readout to where the cutter stands, before it is moved. */
  readonly set: number;
  readonly cuts: readonly MeasuredCut[];
  /** The last cut's place; where nothing is left to cut, the place set. */
  readonly final: number;
}

export type Measured<T> =
  | { readonly ok: true; readonly result: T; readonly findings: readonly Finding[] }
  | { readonly ok: false; readonly findings: readonly Finding[] };

/** What a vernier or a micrometer in a chip-strewn vice can be trusted for, mm. Common practice, no source. */
const TRUST = 0.005;
/** A cut thinner than this rubs instead of cutting, mm. Common practice, no source. */
const RUBS = 0.02;
/** A measurement so far from what was planned is more likely a slip of reading, mm. Common practice, no source. */
export const SLIP = 0.5;

/** The first end: half of what is over, at most one cut's depth. */
export const firstEnd = (job: LengthJob, unit: Unit): Measured<FirstEnd> => {
  const fault = lengthJobFault(job, unit);
  if (fault !== null) return { ok: false, findings: [fault] };
  const over = job.sawn - job.length;
  const take = Math.min(over / 2, job.deepest);
  return { ok: true, result: { take, keep: job.length + Math.min(job.last, over - take) }, findings: [] };
};

/**
 * The second end: it has been cleaned by a light cut and the cutter stands where it made it. From the length then
 * measured come what to set the readout to there and the cuts to the final one, half a cutter off the length wanted.
 */
export const secondEnd = (job: LengthJob, measured: number, unit: Unit): Measured<MeasuredCuts> => {
  const fault =
    lengthJobFault(job, unit) ??
    measuredFault(
      measured,
      job.length,
      job.sawn,
      { measure: 'length', stock: 'sawn bar', planned: null },
      unit,
    );
  if (fault !== null) return { ok: false, findings: [fault] };
  const sign = job.end === 'right' ? 1 : -1;
  const place = (size: number): number => sign * (size + job.cutter / 2);
  const sizes = sizesDown(measured, job.length, job.deepest, job.last);
  return cutsOf(measured, sizes, place, unit);
};

/** Thinning to a thickness: what was planned, and how it is divided. */
export interface ThicknessJob {
  readonly bar: number;
  /** What the work should measure now, and at the end. */
  readonly planned: number;
  readonly wanted: number;
  /** The height of the final floor in the setup's program coordinates. */
  readonly floor: number;
  readonly deepest: number;
  readonly last: number;
}

/**
 * Measured after roughing: the cutter stands on the floor it roughed. From the thickness then measured come what to
 * set Z to there and the last passes, divided anew so that none is deeper than allowed and the last takes its share.
 */
export const afterRoughing = (job: ThicknessJob, measured: number, unit: Unit): Measured<MeasuredCuts> => {
  const { bar, planned, wanted, floor, deepest, last } = job;
  const fault =
    (wanted > 0 && planned >= wanted && bar >= planned && Number.isFinite(floor + bar)
      ? null
      : error(
          'thickness-job',
          'The bar must be at least as thick as planned after roughing, that no thinner than wanted.',
        )) ??
    cutFault(deepest, last, unit) ??
    measuredFault(measured, wanted, bar, { measure: 'thickness', stock: 'bar', planned }, unit);
  if (fault !== null) return { ok: false, findings: [fault] };
  const place = (size: number): number => floor + (size - wanted);
  return cutsOf(measured, sizesDown(measured, wanted, deepest, last), place, unit);
};

const error = (code: string, message: string): Finding => ({ code, severity: 'error', message });

const lengthJobFault = (job: LengthJob, unit: Unit): Finding | null => {
  if (!(job.length > 0 && Number.isFinite(job.length))) {
    return error('length-job', 'Squaring needs a length greater than nothing.');
  }
  if (!(job.sawn > job.length && Number.isFinite(job.sawn))) {
    return error(
      'length-no-stock',
      `A bar sawn to ${Number.isFinite(job.sawn) ? lengthText(job.sawn, unit) : 'no known length'} has nothing to square off for a length of ${lengthText(job.length, unit)}: saw it longer.`,
    );
  }
  if (!(job.cutter > 0 && Number.isFinite(job.cutter)))
    return error('length-cutter', 'A cutter needs a diameter.');
  return cutFault(job.deepest, job.last, unit);
};

const cutFault = (deepest: number, last: number, unit: Unit): Finding | null =>
  deepest > 0 && last > 0 && last <= deepest && Number.isFinite(deepest)
    ? null
    : error(
        'measured-cuts',
        `The last cut must take something, and no more than the deepest cut${deepest > 0 && Number.isFinite(deepest) ? `, ${lengthText(deepest, unit)}` : ''}.`,
      );

interface MeasureWords {
  readonly measure: 'length' | 'thickness';
  readonly stock: string;
  readonly planned: number | null;
}

/** A measurement that cannot be, or after which the next cut would go into the finished part. */
const measuredFault = (
  measured: number,
  wanted: number,
  stock: number,
  { measure, stock: name, planned }: MeasureWords,
  unit: Unit,
): Finding | null => {
  const say = (mm: number): string => lengthText(mm, unit);
  if (!(measured > 0 && Number.isFinite(measured))) {
    return error('measured-nothing', `A measured ${measure} must be a number greater than nothing.`);
  }
  if (measured > stock + TRUST) {
    return error(
      'measured-over-bar',
      `A measured ${measure} of ${say(measured)} is more than the ${name}'s ${say(stock)}: measure again, and look for chips and burrs.`,
    );
  }
  if (measured < wanted - TRUST) {
    return error(
      'measured-under-size',
      `A measured ${measure} of ${say(measured)} is ${say(wanted - measured)} under the ${say(wanted)} wanted: any cut would go into the finished part. Stop and measure again.`,
    );
  }
  if (planned !== null && Math.abs(measured - planned) > SLIP) {
    return error(
      'measured-far-off',
      `A measured ${measure} of ${say(measured)} is ${say(Math.abs(measured - planned))} from the ${say(planned)} it should be: measure again; if it is so, set the height of the work anew.`,
    );
  }
  return null;
};

/** Sizes after each cut from the measured to the wanted: equal cuts, then the last with its own share. */
const sizesDown = (measured: number, wanted: number, deepest: number, last: number): readonly number[] => {
  if (measured - wanted < TRUST) return [];
  // Less than two last cuts is taken at once rather than leaving a sliver for one of them.
  if (measured - wanted <= Math.min(deepest, 2 * last) + 1e-9) return [wanted];
  return [...passLevels(measured, wanted + last, deepest, { kind: 'equal' }), wanted];
};

const cutsOf = (
  measured: number,
  sizes: readonly number[],
  place: (size: number) => number,
  unit: Unit,
): Measured<MeasuredCuts> => {
  const set = place(measured);
  const cuts = sizes.map((size, i): MeasuredCut => {
    const takes = (sizes[i - 1] ?? measured) - size;
    return { at: place(size), takes, remains: size };
  });
  const findings: Finding[] = [];
  if (cuts.length === 0) {
    findings.push({
      code: 'measured-to-size',
      severity: 'note',
      message: 'The work is to size: nothing is left to cut.',
    });
  }
  const thin = cuts.find((cut) => cut.takes < RUBS);
  if (thin) {
    findings.push({
      code: 'measured-rubs',
      severity: 'warning',
      message: `A cut of ${lengthText(thin.takes, unit)} may rub rather than cut: finish by a file, or accept the size.`,
    });
  }
  return { ok: true, result: { set, cuts, final: cuts.at(-1)?.at ?? set }, findings };
};
