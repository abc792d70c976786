import type { Material } from '../../sketch/part/part.ts';
import type { Cutter } from './cutter.ts';
import { CUTTING_DATA, type CuttingTerms, GREATEST_DRILL_FEED, GREATEST_TOOTH_LOAD } from './materials.ts';
import type { MachineProfile } from './profile.ts';

/** What a cutter does in a material: milling, drilling, reaming, or making a spot. */
export type CuttingWork = 'mill' | 'drill' | 'ream' | 'spot';

/** Running terms of one cutter: turns/min, mm/min, and what held them back (null for nothing). */
export interface RunningTerms {
  readonly speed: number;
  readonly feed: number;
  readonly plungeFeed: number;
  readonly limitedBy: string | null;
}

/** n = 1000 vc / (π d), turns/min, from surface speed in m/min and diameter in mm (any machinist's handbook). */
export const spindleSpeed = (surfaceSpeed: number, diameter: number): number =>
  (1000 * surfaceSpeed) / (Math.PI * diameter);

/** vf = n z fz, mm/min, from turns/min, teeth and mm a tooth (any machinist's handbook). */
export const tableFeed = (speed: number, teeth: number, toothLoad: number): number =>
  speed * teeth * toothLoad;

/** Downward feed of an endmill as a share of its feed sideways. Common practice, no source. */
const PLUNGE_SHARE = 0.3;

/** Share of the milling surface speed for other work. Common practice, no source. */
const SPEED_SHARE: Readonly<Record<CuttingWork, number>> = { mill: 1, drill: 0.8, ream: 0.4, spot: 0.8 };

/**
 * Speed and feeds for a cutter in a material, held within what the machine can do. Whole turns/min and mm/min: the
 * speed is rounded down, so that no limit is passed by rounding.
 */
export const runningTerms = (
  material: Material,
  cutter: Cutter,
  profile: MachineProfile,
  work: CuttingWork,
): RunningTerms => {
  const terms = CUTTING_DATA[material][cutter.material];
  const wished = spindleSpeed(terms.surfaceSpeed * SPEED_SHARE[work], cutter.diameter);
  const { speed, limit } = speedWithin(profile, wished);
  const straight = speed * feedPerTurn(terms, cutter, work);
  const most = work === 'mill' ? profile.feed.most : profile.feed.mostPlunge;
  const feed = Math.min(straight, most);
  const plunge = Math.min(work === 'mill' ? feed * PLUNGE_SHARE : feed, profile.feed.mostPlunge);
  return {
    speed,
    feed: wholeAtLeastOne(feed),
    plungeFeed: wholeAtLeastOne(plunge),
    limitedBy: limit ?? (straight > most ? feedLimit(work, most) : null),
  };
};

const wholeAtLeastOne = (rate: number): number => Math.max(1, Math.round(rate));

const feedLimit = (work: CuttingWork, most: number): string =>
  work === 'mill'
    ? `the machine's fastest feed, ${most} mm/min`
    : `the machine's fastest downward feed, ${most} mm/min`;

const feedPerTurn = (terms: CuttingTerms, cutter: Cutter, work: CuttingWork): number => {
  const drilling = Math.min(GREATEST_DRILL_FEED, terms.drillFeedShare * cutter.diameter);
  switch (work) {
    case 'mill':
      return tableFeed(
        1,
        cutter.flutes,
        Math.min(GREATEST_TOOTH_LOAD, terms.toothLoadShare * cutter.diameter),
      );
    case 'drill':
      return drilling;
    case 'ream':
      // A reamer fed too slowly rubs: twice a drill's feed. Common practice, no source.
      return 2 * drilling;
    case 'spot':
      return drilling / 2;
  }
};

/**
 * How far a belt step may lie above the speed that is wished. Too slow costs time, too fast costs the cutter: by Taylor's
 * tool life v·Tⁿ = C, with n about 0.125 for high-speed steel (value from memory), a tenth more halves its life.
 */
const A_LITTLE_FASTER = 1.1;

/** The speed that a spindle can give for one wished, and what stood in the way. */
const speedWithin = (profile: MachineProfile, wished: number): { speed: number; limit: string | null } => {
  const { least, most, steps } = profile.spindle;
  const held = Math.floor(Math.min(most, Math.max(least, wished)));
  if (steps.length > 0) {
    const slowest = Math.min(...steps);
    const off = (step: number): number => Math.abs(Math.log(step / wished));
    const speed = steps
      .filter((step) => step <= wished * A_LITTLE_FASTER)
      .reduce((best, step) => (off(step) < off(best) ? step : best), slowest);
    const limit =
      wished < slowest
        ? `the spindle's slowest step, ${slowest} /min`
        : `the spindle's step of ${speed} /min`;
    return { speed, limit: Math.abs(speed - wished) < 1 ? null : limit };
  }
  if (wished > most) return { speed: held, limit: `the spindle's fastest, ${most} /min` };
  if (wished < least) return { speed: held, limit: `the spindle's slowest, ${least} /min` };
  return { speed: held, limit: null };
};
