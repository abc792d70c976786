import type { HeightMap } from '../removal/height-map.ts';
import type { Grid } from './elasticity/grid.ts';
import type { Seat } from './grip.ts';
import type { SurvivalSetup } from './pass-survival.ts';

/** Work that something bends, whatever it is: what a picture of it is made from. Estimates; mm. */
export interface BentWork {
  readonly setup: SurvivalSetup;
  readonly jaws: Seat;
  /** The stock as it is solved on. */
  readonly map: HeightMap;
  readonly grid: Grid;
  /** Movement of every node in the part's coordinates: 3 · number + axis. */
  readonly movement: Float64Array;
  /** Largest movement anywhere. */
  readonly most: number;
}

export const mostOf = (movement: Float64Array): number => {
  let most = 0;
  for (let n = 0; n < movement.length; n += 3) {
    most = Math.max(most, Math.hypot(movement[n]!, movement[n + 1]!, movement[n + 2]!));
  }
  return most;
};
