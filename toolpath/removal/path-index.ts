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
    return Math.hypot(px - dx * t, py - dy * t);
  }
  const r = Math.hypot(s.from.x - s.centre.x, s.from.y - s.centre.y);
  const p = Math.hypot(x - s.centre.x, y - s.centre.y);
  const start = Math.atan2(s.from.y - s.centre.y, s.from.x - s.centre.x);
  let turn = (Math.sign(s.sweep) * (Math.atan2(y - s.centre.y, x - s.centre.x) - start)) % TURN;
  if (turn < 0) turn += TURN;
  if (turn <= Math.abs(s.sweep) + 1e-9 || turn >= TURN - 1e-9) return Math.abs(p - r);
  return Math.min(Math.hypot(x - s.from.x, y - s.from.y), Math.hypot(x - s.to.x, y - s.to.y));
};
