import type { Point } from '../../sketch/shape/point.ts';
import { directionAlong, pointAlong } from '../../sketch/shape/segment.ts';
import { type CutPath, stretch, tipAlong, upOf } from '../../toolpath/removal/cut-path.ts';
import {
  type AboutTo,
  type CutRecord,
  heightAbove,
  NO_HEIGHT,
  standsAbove,
} from '../../toolpath/removal/cut-record.ts';
import { cellAt, type HeightMap } from '../../toolpath/removal/height-map.ts';
import { distanceTo } from '../../toolpath/removal/path-index.ts';

/** How much of a cutter's rim lies in the material at one place of its way. Part's coordinates, mm and radians. */
export interface Bitten {
  readonly angle: number;
  readonly at: Point;
  readonly tip: number;
  readonly line: number;
}

/** Steps of angle over the half of the rim that goes ahead; what lies between two that differ is halved so often. */
const RIM = 45;
const HALVINGS = 3;
/** Looks along a motion are no farther apart than this, mm, this share of the radius, and this turn of an arc. */
const STEP = 0.2;
const STEP_SHARE = 1 / 12;
const STEP_TURN = (6 * Math.PI) / 180;
/** Motions shorter than this are passed over, mm: the text's own rounding. */
const SHORTEST = 0.02;
/** The floor that the way down leaves, up to this share of the diameter high, is still the way down's to level. */
const ENTRY_FLOOR = 1 / 8;

/** What the cutter is about to cut into: the map and the exact record before the motion, and the motions of its descent. */
export interface Ahead {
  readonly map: HeightMap;
  readonly record: CutRecord;
  /** The motion that ended where this one starts. */
  readonly before: CutPath | undefined;
  /** The sinking motions since the cutter was last in the air. */
  readonly descent: readonly CutPath[];
}

/**
 * The most of an endmill's rim that is in the material at any place of a motion; null for one that has no way in plan
 * (straight down or up) or is too short to say.
 *
 * The rim is looked at a step ahead of what is cut already, every four degrees of the half that goes ahead (behind, a
 * cutter cuts nothing), and between two looks that differ to half a degree. The height map says at once where all four
 * cells about a place stand or are gone; in between the exact record is asked. So the angle is good to about a degree
 * whatever the cell; material that the rim meets over less than four degrees may go unseen.
 */
export const mostBitten = (path: CutPath, ahead: Ahead): Bitten | null => {
  if (path.length < SHORTEST || path.cutter.kind !== 'endmill') return null;
  const turn = path.segment.kind === 'arc' ? Math.abs(path.segment.sweep) : 0;
  const step = Math.min(STEP, path.radius * STEP_SHARE);
  const count = Math.max(1, Math.ceil(path.length / step), Math.ceil(turn / STEP_TURN));
  let most: Bitten | null = null;
  for (let i = 1; i <= count; i++) {
    const t = i / count;
    const angle = bittenAt(path, t, (i - 1) / count, ahead);
    if (most === null || angle > most.angle) {
      most = { angle, at: pointAlong(path.segment, t), tip: tipAlong(path, t), line: path.line };
    }
  }
  return most;
};

/** The rim in the material at a share `t` of a motion, all up to the share `done` being cut. */
const bittenAt = (path: CutPath, t: number, done: number, ahead: Ahead): number => {
  const at = pointAlong(path.segment, t);
  const way = directionAlong(path.segment, t);
  const tip = tipAlong(path, t);
  // On a straight way nothing that lies ahead has been passed.
  const own = path.segment.kind === 'arc' && done > 0 ? stretch(path, 0, done) : null;
  const about: AboutTo = { record: ahead.record, path, before: ahead.before };
  const stands = (angle: number): boolean => {
    const [c, s] = [Math.cos(angle), Math.sin(angle)];
    const x = at.x + path.radius * (way.x * c - way.y * s);
    const y = at.y + path.radius * (way.y * c + way.x * s);
    const seen = seenByMap(ahead.map, path, tip, x, y);
    if (seen === 'gone') return false;
    if (own !== null && distanceTo(own, x, y) < path.radius - 1e-6) return false;
    if (seen === 'unsure' && !standsAbove(about, tip, x, y)) return false;
    return !isEntryFloor(about, ahead.descent, tip, x, y);
  };
  const RIGHT = -Math.PI / 2 + 1e-3;
  const across = Math.PI - 2e-3;
  let inside = 0;
  let last = stands(RIGHT);
  for (let i = 1; i <= RIM; i++) {
    const here = RIGHT + (across * i) / RIM;
    const now = stands(here);
    if (now && last) inside += across / RIM;
    else if (now !== last) {
      let [without, within] = now ? [here - across / RIM, here] : [here, here - across / RIM];
      for (let k = 0; k < HALVINGS; k++) {
        const middle = (without + within) / 2;
        if (stands(middle)) within = middle;
        else without = middle;
      }
      inside += Math.abs((now ? here : here - across / RIM) - (without + within) / 2);
    }
    last = now;
  }
  return Math.min(Math.PI, inside * (Math.PI / across));
};

/** Whether the four cells about a place all stand above the tip or are all gone. */
const seenByMap = (
  map: HeightMap,
  path: CutPath,
  tip: number,
  x: number,
  y: number,
): 'stands' | 'gone' | 'unsure' => {
  const h = map.cell / 2;
  let stands = 0;
  for (let k = 0; k < 4; k++) {
    const i = cellAt(map, x + (k & 1 ? h : -h), y + (k & 2 ? h : -h));
    if (i >= 0 && heightInCell(map, path, tip, i) > NO_HEIGHT) stands++;
  }
  return stands === 0 ? 'gone' : stands === 4 ? 'stands' : 'unsure';
};

/** Not over 0 where nothing stands above the tip. */
const heightInCell = (map: HeightMap, path: CutPath, tip: number, i: number): number => {
  const [top, bottom] = [map.top[i]!, map.bottom[i]!];
  return upOf(path.face) > 0 ? top - Math.max(bottom, tip) : Math.min(top, -tip) - bottom;
};

/** The floor of the helix or ramp on which the cutter came down, no higher than the way down leaves it. */
const isEntryFloor = (
  about: AboutTo,
  descent: readonly CutPath[],
  tip: number,
  x: number,
  y: number,
): boolean =>
  descent.some((p) => distanceTo(p.segment, x, y) <= p.radius + 0.01) &&
  heightAbove(about, tip, x, y) <= ENTRY_FLOOR * 2 * about.path.radius;
