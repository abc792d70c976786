import { type CutPath, upOf } from '../../toolpath/removal/cut-path.ts';
import { type CutRecord, recordPath } from '../../toolpath/removal/cut-record.ts';
import type { HeightMap } from '../../toolpath/removal/height-map.ts';
import { type Bitten, mostBitten } from './engagement.ts';
import type { PassEngagement } from './proof.ts';

/** Follows a setup's motions one by one, each before it is cut from the map, and keeps the most of every pass. */
export interface EngagementWatch {
  /** A new pass begins; `limit` is what its job step states, degrees. It is only followed where `asked`. */
  readonly begin: (asked: boolean, limit: number | null) => void;
  readonly meet: (path: CutPath) => void;
  /** What the pass came to; null where no endmill went along. */
  readonly most: () => PassEngagement | null;
}

/** Sinking by less than this over a motion is no sinking, mm. */
const LEVEL = 1e-6;

const degrees = (radians: number): number => (radians * 180) / Math.PI;

/** The record is kept all the while, whether a pass is asked for or not. */
export const watchEngagement = (map: HeightMap, record: CutRecord): EngagementWatch => {
  let asked = false;
  let limit: number | null = null;
  let most: Bitten | null = null;
  let entry = 0;
  let tip = 0;
  let before: CutPath | undefined;
  let descent: readonly CutPath[] = [];
  return {
    begin: (wanted, stated) => {
      asked = wanted;
      limit = stated;
      most = null;
      entry = 0;
    },
    meet: (path) => {
      const sinks = path.u1 < path.u0 - LEVEL;
      if (path.rapid || path.u1 > path.u0 + LEVEL) descent = [];
      const bitten = path.rapid || !asked ? null : mostBitten(path, { map, record, before, descent });
      if (bitten !== null && sinks) entry = Math.max(entry, bitten.angle);
      // A pass that only goes down has its place, and no angle.
      const met = bitten !== null && sinks ? { ...bitten, angle: 0 } : bitten;
      if (met !== null && (most === null || met.angle > most.angle)) {
        most = met;
        tip = upOf(path.face) * met.tip;
      }
      if (sinks && !path.rapid) descent = [...descent, path];
      recordPath(record, path);
      before = path;
    },
    most: () =>
      most && {
        most_deg: degrees(most.angle),
        entry_deg: degrees(entry),
        at_mm: [most.at.x, most.at.y, tip],
        line: most.line,
        limit_deg: limit,
      },
  };
};
