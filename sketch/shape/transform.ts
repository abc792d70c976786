import { knownBy } from './known.ts';
import type { Point } from './point.ts';
import { type Contour, type Region, reverseContour } from './region.ts';
import type { Segment } from './segment.ts';

/** A region moved by a vector, or seen from below (Y mirrored) with its contours still running round it the right way. */
export const moveRegion = (
  region: Region,
  how: { readonly by: Point } | { readonly mirrorY: true },
): Region => ('by' in how ? shifted(region, how.by) : mirrored(region));

const shifted = (region: Region, { x, y }: Point): Region => {
  const by = `${exactText(x)} ${exactText(y)}`;
  const shift = (p: Point): Point => ({ x: p.x + x, y: p.y + y });
  return {
    contours: region.contours.map((contour) => moved.of([contour], by, () => mapContour(contour, shift, 1))),
  };
};

const mirrored = (region: Region): Region => ({
  contours: region.contours.map((contour) =>
    moved.of([contour], 'mirrored', () =>
      reverseContour(mapContour(contour, (p) => ({ x: p.x, y: -p.y }), -1)),
    ),
  ),
});

/** A contour moved the same way again is the very one it was. */
const moved = knownBy<Contour, Contour>();

/** A number to the last bit, the sign of nothing too. */
const exactText = (n: number): string => (Object.is(n, -0) ? '-0' : String(n));

const mapContour = (contour: Contour, move: (p: Point) => Point, sense: 1 | -1): Contour => ({
  segments: contour.segments.map((s) => mapSegment(s, move, sense)),
});

const mapSegment = (s: Segment, move: (p: Point) => Point, sense: 1 | -1): Segment =>
  s.kind === 'line'
    ? { kind: 'line', from: move(s.from), to: move(s.to) }
    : { kind: 'arc', from: move(s.from), to: move(s.to), centre: move(s.centre), sweep: s.sweep * sense };
