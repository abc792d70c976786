import { distance, type Point } from '../../sketch/shape/point.ts';
import type { Lap } from './laps.ts';
import { startNear, startOf } from './track.ts';

/** The lap whose beginning is nearest to the cutter; the first when the cutter is nowhere yet. */
export const nearest = (laps: readonly Lap[], at: Point | null): Lap => {
  if (at === null) return laps[0]!;
  return laps.reduce((best, lap) => (gapTo(lap, at) < gapTo(best, at) ? lap : best));
};

const gapTo = (lap: Lap, at: Point): number =>
  lap.closed ? distance(startOf(startNear(lap.path, at)), at) : distance(startOf(lap.path), at);
