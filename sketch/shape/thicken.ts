import { clip } from './clipping.ts';
import { moveSideways } from './offset.ts';
import { distance } from './point.ts';
import { type Contour, disc, NOTHING, type Path, type Region } from './region.ts';
import { reverseSegment, segmentLength } from './segment.ts';
import { SAME_POINT } from './tolerance.ts';

/** Everything within `radius` of a path, mm: what a cutter sweeps along it. A path of one place gives a disc. */
export const thicken = (path: Path, radius: number): Region => {
  const place = path.segments[0]?.from;
  if (!place) return NOTHING;
  const segments = path.segments.filter((s) => segmentLength(s) > SAME_POINT);
  const first = segments[0];
  const last = segments[segments.length - 1];
  if (!first || !last) return disc(place, radius);
  const back = [...segments].reverse().map(reverseSegment);
  const closed = distance(first.from, last.to) < 1e-6;
  const loops: Contour[] = closed
    ? [{ segments }, { segments: back }]
    : [{ segments: [...segments, ...back] }];
  return clip(
    loops.map((loop) => moveSideways(loop, radius)),
    [],
    'union',
    'positive',
  );
};
