import type { Box, Point } from '../../sketch/shape/point.ts';
import { type Region, segmentsOf } from '../../sketch/shape/region.ts';
import { type Arc, type Segment, segmentBox } from '../../sketch/shape/segment.ts';

export interface Boxed {
  readonly segment: Segment;
  readonly box: Box;
}

export const boxed = (region: Region): readonly Boxed[] =>
  segmentsOf(region).map((segment) => ({ segment, box: segmentBox(segment) }));

export const nearTo = (all: readonly Boxed[], at: Point, reach: number): readonly Segment[] =>
  all
    .filter(
      ({ box }) =>
        box.min.x <= at.x + reach &&
        box.max.x >= at.x - reach &&
        box.min.y <= at.y + reach &&
        box.max.y >= at.y - reach,
    )
    .map(({ segment }) => segment);

/** Whether a place is within a reach of any of the segments. */
export const within = (segments: readonly Segment[], x: number, y: number, reach: number): boolean => {
  const square = reach * reach;
  for (const s of segments) {
    const a = (x - s.from.x) ** 2 + (y - s.from.y) ** 2;
    if (a <= square || (x - s.to.x) ** 2 + (y - s.to.y) ** 2 <= square) return true;
    if (s.kind === 'line') {
      const [dx, dy] = [s.to.x - s.from.x, s.to.y - s.from.y];
      const along = (x - s.from.x) * dx + (y - s.from.y) * dy;
      const l2 = dx * dx + dy * dy;
      if (along > 0 && along < l2 && ((y - s.from.y) * dx - (x - s.from.x) * dy) ** 2 <= square * l2)
        return true;
    } else {
      const own = Math.hypot(s.from.x - s.centre.x, s.from.y - s.centre.y);
      const [px, py] = [x - s.centre.x, y - s.centre.y];
      const far = Math.hypot(px, py);
      if (Math.abs(far - own) <= reach && isBeside(s, px, py)) return true;
    }
  }
  return false;
};

/** Whether a direction from an arc's centre lies in its sector. */
const isBeside = (s: Arc, px: number, py: number): boolean => {
  const sign = s.sweep > 0 ? 1 : -1;
  const [fx, fy] = [s.from.x - s.centre.x, s.from.y - s.centre.y];
  const [tx, ty] = [s.to.x - s.centre.x, s.to.y - s.centre.y];
  const afterStart = sign * (fx * py - fy * px) >= 0;
  const beforeEnd = sign * (px * ty - py * tx) >= 0;
  return Math.abs(s.sweep) > Math.PI ? afterStart || beforeEnd : afterStart && beforeEnd;
};
