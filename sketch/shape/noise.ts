import type { IntPoint } from 'clipper-lib';
import { IMAGE_SCALE, THINNEST_PIECE } from './tolerance.ts';

/** Corners of the image nearer than this, in units, are one, and a spike narrower than this is none. */
const SPECK = 1.5;

/**
 * A polygon of the image without what rounding alone has put there: corners on top of one another, and spikes that
 * run out and back on themselves. Null for a polygon that is nothing else, or too thin to be told from nothing.
 */
export const withoutNoise = (polygon: readonly IntPoint[]): readonly IntPoint[] | null => {
  const kept: IntPoint[] = [];
  for (const p of polygon) {
    kept.push(p);
    trimEnd(kept);
  }
  // The seam: whatever the last corners do to the first.
  for (let before = -1; before !== kept.length && kept.length > 2; ) {
    before = kept.length;
    kept.push(kept.shift()!);
    trimEnd(kept);
  }
  return kept.length < 3 || isThin(kept) ? null : kept;
};

/** Takes back the last corners as long as they lie on one another or make a spike. */
const trimEnd = (kept: IntPoint[]): void => {
  for (;;) {
    const c = kept[kept.length - 1];
    const b = kept[kept.length - 2];
    if (!b || !c) return;
    if (apart(b, c) < SPECK) {
      kept.pop();
      continue;
    }
    const a = kept[kept.length - 3];
    if (!a || !isSpike(a, b, c)) return;
    kept.splice(kept.length - 2, 1);
  }
};

const apart = (a: IntPoint, b: IntPoint): number => Math.sqrt((a.X - b.X) ** 2 + (a.Y - b.Y) ** 2);

/** Whether the way from a to b turns back upon itself to c, the end of the shorter arm lying on the longer. */
const isSpike = (a: IntPoint, b: IntPoint, c: IntPoint): boolean => {
  const ux = a.X - b.X;
  const uy = a.Y - b.Y;
  const vx = c.X - b.X;
  const vy = c.Y - b.Y;
  if (ux * vx + uy * vy <= 0) return false;
  const longer = Math.max(Math.hypot(ux, uy), Math.hypot(vx, vy));
  return Math.abs(ux * vy - uy * vx) < SPECK * longer;
};

const isThin = (polygon: readonly IntPoint[]): boolean => {
  let area = 0;
  let round = 0;
  let before = polygon[polygon.length - 1]!;
  for (const p of polygon) {
    area += before.X * p.Y - p.X * before.Y;
    round += apart(before, p);
    before = p;
  }
  return Math.abs(area) < THINNEST_PIECE * IMAGE_SCALE * round;
};
