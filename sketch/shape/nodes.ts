import { curveMeetings, isSameCurve } from './curve.ts';
import type { Box, Point } from './point.ts';
import { nearestOn, type Segment, segmentBox, shareOf } from './segment.ts';
import { SAME_POINT } from './tolerance.ts';

/** A place on a segment where another one meets it: how far along (0 to 1), and the exact point. */
export interface Node {
  readonly share: number;
  readonly point: Point;
}

/**
 * For each segment the places, in no order, where others cross it, touch it or end on it. Both segments of a meeting
 * are given the very same point, so that their images share a corner there.
 */
export const nodesOf = (segments: readonly Segment[]): readonly (readonly Node[])[] => {
  const nodes: Node[][] = segments.map(() => []);
  const boxes = segments.map(segmentBox);
  const order = segments.map((_, i) => i).sort((i, j) => boxes[i]!.min.x - boxes[j]!.min.x);
  order.forEach((i, place) => {
    const box = boxes[i]!;
    for (let next = place + 1; next < order.length; next++) {
      const j = order[next]!;
      const other = boxes[j]!;
      if (other.min.x > box.max.x + SAME_POINT) break;
      if (other.min.y > box.max.y + SAME_POINT || other.max.y < box.min.y - SAME_POINT) continue;
      meet(segments[i]!, segments[j]!, nodes[i]!, nodes[j]!);
      endOn(segments[i]!, box, segments[j]!, nodes[i]!);
      endOn(segments[j]!, other, segments[i]!, nodes[j]!);
    }
  });
  return nodes;
};

const meet = (a: Segment, b: Segment, onA: Node[], onB: Node[]): void => {
  if (isSameCurve(a, b)) return;
  for (const point of curveMeetings(a, b)) {
    const shareA = shareOf(a, point);
    if (shareA === null) continue;
    const shareB = shareOf(b, point);
    if (shareB === null) continue;
    onA.push({ share: shareA, point });
    onB.push({ share: shareB, point });
  }
};

/** The ends of `other` that lie on the segment. */
const endOn = (s: Segment, box: Box, other: Segment, on: Node[]): void => {
  for (const point of [other.from, other.to]) {
    if (
      point.x < box.min.x - SAME_POINT ||
      point.x > box.max.x + SAME_POINT ||
      point.y < box.min.y - SAME_POINT ||
      point.y > box.max.y + SAME_POINT
    )
      continue;
    const near = nearestOn(s, point);
    if (near.distance < SAME_POINT) on.push({ share: near.share, point });
  }
};
