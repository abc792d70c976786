import { clipPath } from '../../sketch/shape/clip-path.ts';
import { offset } from '../../sketch/shape/offset.ts';
import { angleOf, distance, type Point, polar, subtract } from '../../sketch/shape/point.ts';
import { isEmpty, type Path, pathLength, type Region } from '../../sketch/shape/region.ts';
import { arc, line, pointAlong, type Segment, segmentLength } from '../../sketch/shape/segment.ts';
import { leadOf, type PeelTerms, peelOpening, peelStep } from './peel.ts';
import { endOf, startOf } from './track.ts';

/** One stretch of a groove: the hole that it is begun by, its opening and its loops. */
export interface GrooveRun {
  readonly at: Point;
  readonly opening: readonly Segment[];
  readonly loops: readonly Segment[];
  /** The way of the loops' middles. */
  readonly middle: Path;
}

export interface GrooveTerms extends Pick<PeelTerms, 'radius' | 'engagement' | 'direction'> {
  /** On which the cutter's middle goes round, mm. */
  readonly orbit: number;
}

/** The middle of a groove may be this far from where it is looked for, mm. */
const STRAY = 0.01;

/**
 * Peels a groove of even width about its middle line: the middles of the loops lie on it, each as far from the last as
 * a straight slot's, so that the angle is the same whichever way the line bends. Null where the limit cannot be kept.
 */
export const peelGroove = (
  walls: Region,
  away: number,
  within: Region,
  barred: Region,
  { orbit, radius, engagement, direction }: GrooveTerms,
  hole: number,
): readonly GrooveRun[] | null => {
  const width = 2 * (orbit + radius);
  const terms = { width, radius, engagement, direction };
  const origin = { x: 0, y: 0 };
  const step = peelStep({ ...terms, from: origin, to: origin });
  if (step === null) return null;
  const keepOff = isEmpty(barred) ? barred : offset(barred, orbit);
  const runs: GrooveRun[] = [];
  const middles = offset(walls, away + orbit).contours.flatMap((contour) =>
    clipPath(contour, offset(within, STRAY - orbit), 'inside').flatMap((path) =>
      isEmpty(keepOff) ? [path] : clipPath(path, keepOff, 'outside'),
    ),
  );
  for (const middle of middles) {
    const places = stepsAlong(middle, step);
    const [first, second = { x: first!.x + 1, y: first!.y }] = places;
    if (first === undefined) continue;
    const opening = peelOpening({ ...terms, from: first, to: second }, hole);
    if (opening === null) return null;
    runs.push({ at: first, opening, loops: loopsAbout(places, orbit, direction), middle });
  }
  return runs;
};

/** Places along a path, each a straight step from the one before; the last is the path's end. */
const stepsAlong = (path: Path, step: number): readonly Point[] => {
  const fine = Math.max(1, Math.ceil(pathLength(path) / (step / 20)));
  const places: Point[] = [startOf(path)];
  let last = startOf(path);
  let before = last;
  for (const p of evenPlaces(path, fine)) {
    if (distance(last, p) > step) {
      places.push(before);
      last = before;
    }
    before = p;
  }
  const end = endOf(path);
  if (distance(places.at(-1)!, end) > 1e-6) places.push(end);
  return places;
};

const evenPlaces = (path: Path, count: number): readonly Point[] => {
  const total = pathLength(path);
  return path.segments.flatMap((s) => {
    const own = Math.max(1, Math.ceil((segmentLength(s) / total) * count));
    return Array.from({ length: own }, (_, i) => pointAlong(s, (i + 1) / own));
  });
};

/** Half rounds about each place but the first, from the right of the way on from the last one to its left, and ways back. */
const loopsAbout = (
  places: readonly Point[],
  orbit: number,
  direction: 'climb' | 'conventional',
): readonly Segment[] => {
  const sense = direction === 'climb' ? 1 : -1;
  const segments: Segment[] = [];
  let at: Point | null = null;
  for (let k = 0; k < places.length; k++) {
    const middle = places[k]!;
    const [a, b] =
      k === 0 ? [middle, places[1] ?? { x: middle.x + 1, y: middle.y }] : [places[k - 1]!, middle];
    const ahead = angleOf(subtract(b, a));
    const lead = k === 0 ? 0 : leadOf(orbit, distance(a, b));
    const first = polar(middle, orbit, ahead - sense * (Math.PI / 2 + lead));
    const last = polar(middle, orbit, ahead + sense * (Math.PI / 2 + lead));
    if (at) segments.push(line(at, first));
    segments.push(arc(first, last, middle, sense > 0));
    at = last;
  }
  return segments;
};
