import { curveMeetings } from './curve.ts';
import { distance, dot, type Point, subtract } from './point.ts';
import { type Segment, shareOfArc } from './segment.ts';

/** A place where two segments cross or touch, with the share of the way along each. */
export interface Crossing {
  readonly point: Point;
  readonly shareA: number;
  readonly shareB: number;
}

/** Crossings and touches of two segments; a stretch that they share is not reported. */
export const intersections = (a: Segment, b: Segment): readonly Crossing[] =>
  curveMeetings(a, b).flatMap((point) => {
    const shareA = shareOn(a, point);
    const shareB = shareOn(b, point);
    return shareA === null || shareB === null ? [] : [{ point, shareA, shareB }];
  });

const shareOn = (s: Segment, p: Point): number | null => {
  if (s.kind === 'arc') return shareOfArc(s, p);
  const d = subtract(s.to, s.from);
  const l2 = dot(d, d);
  if (l2 === 0) return distance(p, s.from) < 1e-9 ? 0 : null;
  const t = dot(subtract(p, s.from), d) / l2;
  const slack = 1e-9 / Math.sqrt(l2);
  return t < -slack || t > 1 + slack ? null : Math.min(1, Math.max(0, t));
};
