import { clip } from './clipping.ts';
import { moveSideways } from './offset.ts';
import { type Contour, disc, NOTHING, type Path, type Region } from './region.ts';
import { reverseSegment, segmentLength } from './segment.ts';
import { SAME_POINT } from './tolerance.ts';

/** Everything within `radius` of a path, mm: what a cutter sweeps along it. A path of one place gives a disc. */
export const thicken = (path: Path, radius: number): Region => {
  const place = path.segments[0]?.from;
  if (!place) return NOTHING;
  const segments = path.segments.filter((s) => segmentLength(s) > SAME_POINT);
  if (segments.length === 0) return disc(place, radius);
  // There along one side, round the end, and back along the other: all that is gone round at least once is swept.
  const round: Contour = { segments: [...segments, ...[...segments].reverse().map(reverseSegment)] };
  return clip([moveSideways(round, radius)], [], 'union', 'positive');
};
