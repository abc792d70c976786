import type { Bar } from '../../sketch/part/part.ts';
import { directionAlong, pointAlong } from '../../sketch/shape/segment.ts';
import { type CutPath, stretch, tipAlong, upOf } from '../removal/cut-path.ts';
import { type AboutTo, type CutRecord, heightAbove, newRecord } from '../removal/cut-record.ts';
import { cellAt, type HeightMap } from '../removal/height-map.ts';
import { distanceTo } from '../removal/path-index.ts';
import type { Engagement } from './milling-force.ts';

/** Steps of angle round the rim: what is found of an edge is good to half of one. */
export const RIM_STEPS = 720;
/** Looks over the half of the rim that goes ahead; between two that differ the edge is halved for so often. */
const LOOKS = 45;
const HALVINGS = 4;
/** Heights of material below this are none, and heights nearer than this are one, mm. */
const FILM = 1e-3;
/** The first and last look are this far from the sides, radians: what lies beyond is the wall that the cutter leaves. */
const ASIDE = 1e-3;

/** Stock on the way through its passes: the map, and beside it every motion so far exactly. Both grow in place. */
export interface CutStock {
  readonly map: HeightMap;
  readonly record: CutRecord;
  /** The motion that was made last. */
  before: CutPath | undefined;
}

/** An uncut bar. `map` must be of that bar. */
export const uncut = (map: HeightMap, bar: Bar): CutStock => ({
  map,
  record: newRecord(bar),
  before: undefined,
});

/**
 * How a cutter is buried a share `t` along a motion, read off the stock as it is just before: round the half of its rim that
 * goes ahead, the height of material above its tip, mm.
 *
 * The map says at once where all four cells about a place stand alike or are gone; in between, where a cell is coarser
 * than a light cut is wide, the exact record of all earlier motions is asked. So the angle is good to about half a
 * degree whatever the cell. Material that the rim meets over less than four degrees beside no wall may go unseen.
 */
export const engagementAt = ({ map, record, before }: CutStock, path: CutPath, t: number): Engagement => {
  const depth = new Float64Array(RIM_STEPS);
  const at = pointAlong(path.segment, t);
  const way = directionAlong(path.segment, t);
  const tip = tipAlong(path, t);
  const sense = upOf(path.face);
  // What a level arc has passed lies ahead of it again when it comes round.
  const own = path.segment.kind === 'arc' && path.u0 === path.u1 && t > 0 ? stretch(path, 0, t) : null;
  const about: AboutTo = { record, path, before };
  const heightAt = (angle: number): number => {
    const [c, s] = [Math.cos(angle), sense * Math.sin(angle)];
    const x = at.x + path.radius * (way.x * c - way.y * s);
    const y = at.y + path.radius * (way.y * c + way.x * s);
    const seen = seenByMap(map, sense, tip, x, y);
    if (seen === 0 || (own !== null && distanceTo(own, x, y) < path.radius - 1e-6)) return 0;
    const height = seen ?? heightAbove(about, tip, x, y);
    return height > FILM ? height : 0;
  };
  const across = Math.PI - 2 * ASIDE;
  const fill = (from: number, to: number, height: number): void => {
    if (height <= 0) return;
    const [first, last] = [stepOf(from), stepOf(to)];
    for (let i = Math.max(0, first); i < Math.min(RIM_STEPS, last); i++) depth[i] = height;
  };
  let last = -Math.PI / 2 + ASIDE;
  let lastHeight = heightAt(last);
  for (let k = 1; k <= LOOKS; k++) {
    const here = -Math.PI / 2 + ASIDE + (across * k) / LOOKS;
    const height = heightAt(here);
    let edge = here;
    if (Math.abs(height - lastHeight) > FILM) {
      let [low, high] = [last, here];
      for (let n = 0; n < HALVINGS; n++) {
        const middle = (low + high) / 2;
        const between = heightAt(middle);
        if (Math.abs(between - lastHeight) < Math.abs(between - height)) low = middle;
        else high = middle;
      }
      edge = (low + high) / 2;
    }
    fill(last, edge, lastHeight);
    fill(edge, here, height);
    last = here;
    lastHeight = height;
  }
  return { depth };
};

/** The first step whose middle lies at or beyond an angle. */
const stepOf = (angle: number): number => Math.ceil(((angle + Math.PI) / (2 * Math.PI)) * RIM_STEPS - 0.5);

/** Height above the tip where the four cells about a place say the same; null where they do not. */
const seenByMap = (map: HeightMap, sense: 1 | -1, tip: number, x: number, y: number): number | null => {
  const h = map.cell / 2;
  let [least, most] = [Number.POSITIVE_INFINITY, 0];
  for (let k = 0; k < 4; k++) {
    const i = cellAt(map, x + (k & 1 ? h : -h), y + (k & 2 ? h : -h));
    const height = i < 0 ? 0 : heightIn(map, sense, tip, i);
    least = Math.min(least, height);
    most = Math.max(most, height);
  }
  return most <= FILM ? 0 : most - least < FILM ? most : null;
};

const heightIn = (map: HeightMap, sense: 1 | -1, tip: number, i: number): number => {
  const [top, bottom] = [map.top[i]!, map.bottom[i]!];
  if (top <= bottom) return 0;
  return Math.max(0, sense > 0 ? top - Math.max(bottom, tip) : Math.min(top, -tip) - bottom);
};

/** The angle over which the rim is buried, radians: π in a full-width slot. */
export const buriedAngle = (engagement: Engagement): number =>
  (engagement.depth.reduce((n, d) => n + (d > 0 ? 1 : 0), 0) * 2 * Math.PI) / engagement.depth.length;
