import { clip } from './clipping.ts';
import { moveSideways } from './offset.ts';
import { distance } from './point.ts';
import { type Contour, NOTHING, type Path, type Region } from './region.ts';
import { reverseSegment } from './segment.ts';

/** Everything within `radius` of a path, mm: what a cutter sweeps along it. */
export const thicken = (path: Path, radius: number): Region => {
  const { segments } = path;
  const first = segments[0];
  const last = segments[segments.length - 1];
  if (!first || !last) return NOTHING;
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
