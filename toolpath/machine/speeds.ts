import type { Material } from '../../sketch/part/part.ts';
import type { Cutter } from './cutter.ts';
import { CUTTING_DATA } from './materials.ts';
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

/** Speed and feeds for a cutter in a material, held within what the machine can do. */
export const runningTerms = (
  material: Material,
  cutter: Cutter,
  profile: MachineProfile,
  work: CuttingWork,
): RunningTerms => {
  const data = CUTTING_DATA[material];
  const faster = cutter.material === 'carbide' ? data.carbideFactor : 1;
  const wished = spindleSpeed(data.surfaceSpeed * faster * SPEED_SHARE[work], cutter.diameter);
  const { speed, limit } = spindleWithin(profile, wished);
  const perTurn = feedPerTurn(data, cutter, work);
  const straight = speed * perTurn;
  const most = work === 'mill' ? profile.feed.most : profile.feed.mostPlunge;
  const feed = Math.min(straight, most);
  const plunge = work === 'mill' ? feed * PLUNGE_SHARE : feed;
  return {
    speed: Math.round(speed),
    feed: Math.max(1, Math.round(feed)),
    plungeFeed: Math.max(1, Math.round(Math.min(plunge, profile.feed.mostPlunge))),
    limitedBy: limit ?? (straight > most ? `the machine's feed of ${most} mm/min` : null),
  };
};

/** Share of the milling surface speed for other work. Common practice, no source. */
const SPEED_SHARE: Readonly<Record<CuttingWork, number>> = { mill: 1, drill: 0.8, ream: 0.4, spot: 0.8 };

const feedPerTurn = (data: (typeof CUTTING_DATA)[Material], cutter: Cutter, work: CuttingWork): number => {
  switch (work) {
    case 'mill':
      return tableFeed(1, cutter.flutes, data.toothLoadShare * cutter.diameter);
    case 'drill':
      return data.drillFeedShare * cutter.diameter;
    case 'ream':
      return 2 * data.drillFeedShare * cutter.diameter;
    case 'spot':
      return (data.drillFeedShare * cutter.diameter) / 2;
  }
};

const spindleWithin = (profile: MachineProfile, wished: number): { speed: number; limit: string | null } => {
  const { least, most, steps } = profile.spindle;
  const held = Math.min(most, Math.max(least, wished));
  const limit =
    held < wished
      ? `the spindle's fastest, ${most} /min`
      : held > wished
        ? `the spindle's slowest, ${least} /min`
        : null;
  if (steps.length === 0) return { speed: held, limit };
  // The next belt speed down: too slow costs time, too fast costs the cutter.
  const below = steps.filter((s) => s <= held + 1e-9);
  return { speed: below.length > 0 ? Math.max(...below) : Math.min(...steps), limit };
};
