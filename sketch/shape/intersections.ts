import { curveMeetings, isSameCurve } from './curve.ts';
import { distance, type Point } from './point.ts';
import { nearestOn, type Segment, shareOf } from './segment.ts';
import { SAME_POINT } from './tolerance.ts';

/** A place where two segments cross or touch, with the share of the way along each. */
export interface Crossing {
  readonly point: Point;
  readonly shareA: number;
  readonly shareB: number;
}

/** Crossings and touches of two segments; of a stretch that they share its ends. A touch counts once. */
export const intersections = (a: Segment, b: Segment): readonly Crossing[] =>
  isSameCurve(a, b)
    ? sharedEnds(a, b)
    : curveMeetings(a, b).flatMap((point) => {
        const shareA = shareOf(a, point);
        const shareB = shareOf(b, point);
        return shareA === null || shareB === null ? [] : [{ point, shareA, shareB }];
      });

/** The ends of either segment that lie on the other, which is of the same line or circle. */
const sharedEnds = (a: Segment, b: Segment): readonly Crossing[] => {
  const found: Crossing[] = [];
  for (const point of [a.from, a.to, b.from, b.to]) {
    const onA = nearestOn(a, point);
    const onB = nearestOn(b, point);
    const isNew = found.every((c) => distance(c.point, point) > SAME_POINT);
    if (isNew && onA.distance < SAME_POINT && onB.distance < SAME_POINT)
      found.push({ point, shareA: onA.share, shareB: onB.share });
  }
  return found;
};
