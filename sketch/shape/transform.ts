import type { Point } from './point.ts';
import { type Region, reverseContour } from './region.ts';
import type { Segment } from './segment.ts';

/** A region moved by a vector, or seen from below (Y mirrored) with its contours still running round it the right way. */
export const moveRegion = (
  region: Region,
  how: { readonly by: Point } | { readonly mirrorY: true },
): Region =>
  'by' in how
    ? mapRegion(region, (p) => ({ x: p.x + how.by.x, y: p.y + how.by.y }), 1)
    : { contours: mapRegion(region, (p) => ({ x: p.x, y: -p.y }), -1).contours.map(reverseContour) };

const mapRegion = (region: Region, move: (p: Point) => Point, sense: 1 | -1): Region => ({
  contours: region.contours.map((contour) => ({
    segments: contour.segments.map((s) => mapSegment(s, move, sense)),
  })),
});

const mapSegment = (s: Segment, move: (p: Point) => Point, sense: 1 | -1): Segment =>
  s.kind === 'line'
    ? { kind: 'line', from: move(s.from), to: move(s.to) }
    : { kind: 'arc', from: move(s.from), to: move(s.to), centre: move(s.centre), sweep: s.sweep * sense };
