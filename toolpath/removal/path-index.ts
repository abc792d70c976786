import type { Segment } from '../../sketch/shape/segment.ts';

const TURN = 2 * Math.PI;

/** Distance from a place to a segment, mm; the same as `nearestOn` without making objects. */
export const distanceTo = (s: Segment, x: number, y: number): number => {
  if (s.kind === 'line') {
    const dx = s.to.x - s.from.x;
    const dy = s.to.y - s.from.y;
    const l2 = dx * dx + dy * dy;
    const px = x - s.from.x;
    const py = y - s.from.y;
    const t = l2 === 0 ? 0 : Math.min(1, Math.max(0, (px * dx + py * dy) / l2));
    return length(px - dx * t, py - dy * t);
  }
  const r = length(s.from.x - s.centre.x, s.from.y - s.centre.y);
  const p = length(x - s.centre.x, y - s.centre.y);
  const start = Math.atan2(s.from.y - s.centre.y, s.from.x - s.centre.x);
  let turn = (Math.sign(s.sweep) * (Math.atan2(y - s.centre.y, x - s.centre.x) - start)) % TURN;
  if (turn < 0) turn += TURN;
  if (turn <= Math.abs(s.sweep) + 1e-9 || turn >= TURN - 1e-9) return Math.abs(p - r);
  return Math.min(length(x - s.from.x, y - s.from.y), length(x - s.to.x, y - s.to.y));
};

/** No less than this lies between a place and a segment, mm; cheaper than to ask how much does. */
export const leastDistanceTo = (s: Segment, x: number, y: number): number =>
  s.kind === 'line'
    ? 0
    : Math.abs(length(x - s.centre.x, y - s.centre.y) - length(s.from.x - s.centre.x, s.from.y - s.centre.y));

/** A proof asks this some million times, and `Math.hypot` takes ten times as long for care that millimetres do not need. */
const length = (x: number, y: number): number => Math.sqrt(x * x + y * y);
