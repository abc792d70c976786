import { curveMeetings } from './curve.ts';
import type { Point } from './point.ts';
import { type Segment, shareOf } from './segment.ts';

/** A place where two segments cross or touch, with the share of the way along each. */
export interface Crossing {
  readonly point: Point;
  readonly shareA: number;
  readonly shareB: number;
}

/** Crossings and touches of two segments; a stretch that they share is not reported. */
export const intersections = (a: Segment, b: Segment): readonly Crossing[] =>
  curveMeetings(a, b).flatMap((point) => {
    const shareA = shareOf(a, point);
    const shareB = shareOf(b, point);
    return shareA === null || shareB === null ? [] : [{ point, shareA, shareB }];
  });
