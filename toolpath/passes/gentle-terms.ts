import { offset } from '../../sketch/shape/offset.ts';
import { cross, dot } from '../../sketch/shape/point.ts';
import { type Region, regionBox } from '../../sketch/shape/region.ts';
import { directionAlong, radiusOf } from '../../sketch/shape/segment.ts';
import type { MillingTerms } from '../route/route.ts';
import type { Clearing } from './area.ts';
import { finishingAllowance } from './peel.ts';
import { type KeepOut, placeOf, type Scene } from './scene.ts';

/** Front by front where an angle is stated, else as it is done without. */
export const patternOf = (
  engagement: number | null,
  plain: Clearing['pattern'],
  groove: number | null = null,
): Clearing['pattern'] => (engagement === null ? plain : { kind: 'fronts', engagement, groove });

/** Coming to the wall on an arc the cutter is buried to either side of where it points: a share of the limit is for the lap. */
export const LEAD_ROOM = 0.6;
/** No less is left for a finishing lap, mm; it would only rub. Common practice, no source. */
export const LEAST_LEFT = 0.02;
/** Turns smaller than this are no corner, radians. */
const CORNER = 0.01;

/** Terms under which the finishing lap keeps a stated angle as well: it finds less on the walls, or has nothing to do. */
export const gentleTerms = (
  terms: MillingTerms,
  engagement: number | null,
  keepOut: KeepOut,
  radius: number,
): MillingTerms => {
  if (engagement === null) return terms;
  const most = finishingAllowance(LEAD_ROOM * engagement, radius, sharpestRound(keepOut.walls, radius));
  const left = Math.min(terms.wallAllowance, most);
  return { ...terms, wallAllowance: left < LEAST_LEFT ? 0 : left };
};

/** The smallest circle that the middle of a cutter goes round on in an inner corner of walls, mm: 0 in a sharp one. */
export const sharpestRound = (walls: Region, radius: number): number => {
  let least = Number.POSITIVE_INFINITY;
  for (const { segments } of offset(walls, radius).contours) {
    for (const [i, s] of segments.entries()) {
      if (s.kind === 'arc' && s.sweep < 0) least = Math.min(least, radiusOf(s));
      const u = directionAlong(segments.at(i - 1)!, 1);
      const v = directionAlong(s, 0);
      if (Math.atan2(cross(u, v), dot(u, v)) < -CORNER) return 0;
    }
  }
  return least;
};

/** How much of the bar there is outside a part on its narrowest side, mm. */
export const roomOutside = ({ part, frame }: Scene, wanted: Region): number => {
  const box = regionBox(wanted);
  const { corner, length, width } = part.bar;
  const [a, b] = [corner, { x: corner.x + length, y: corner.y + width }].map((p) => placeOf(frame, p));
  if (box === null || !a || !b) return 0;
  return Math.min(
    box.min.x - Math.min(a.x, b.x),
    Math.max(a.x, b.x) - box.max.x,
    box.min.y - Math.min(a.y, b.y),
    Math.max(a.y, b.y) - box.max.y,
  );
};
