import { barMap, type HeightMap } from '../toolpath/removal/height-map.ts';

/** How far a made-up lever of 70 × 16 × 9 mm is cut, each stage on top of those before. */
export type LeverStage = 'bar' | 'outlined' | 'forked' | 'thinned';

export const LEVER = {
  length: 70,
  width: 16,
  thickness: 9,
  heel: { x: 8, radius: 8 },
  toe: { x: 62, radius: 5.5 },
  fork: { depth: 13, width: 5 },
  body: { bottom: 3.25, top: 5.75 },
};

/**
 * A lever in its bar: heel and toe joined by a slim arm, a fork in the heel, a hole in the toe, the arm thinned to
 * 2.5 mm from both faces. The outline is cut to `depth` from the front, leaving a skin of bar under it.
 */
export const leverMap = (stage: LeverStage, cell = 0.1, depth: number = LEVER.thickness): HeightMap => {
  const { length, width, thickness, heel, toe, fork, body } = LEVER;
  const map = barMap(
    { length, width, thickness, material: 'low-carbon steel', corner: { x: 0, y: -width / 2 }, sawn: 0 },
    cell,
  );
  if (stage === 'bar') return map;
  const slope = (heel.radius - toe.radius) / (toe.x - heel.x);
  for (let n = 0; n < map.top.length; n++) {
    const x = map.x0 + ((n % map.columns) + 0.5) * cell;
    const y = map.y0 + (Math.floor(n / map.columns) + 0.5) * cell;
    const inHeel = x < heel.x || Math.hypot(x - heel.x, y) < heel.radius;
    const inToe = Math.hypot(x - toe.x, y) < toe.radius;
    const armHalf = Math.min(4, heel.radius - slope * (x - heel.x));
    const inArm = x >= heel.x && x <= toe.x && Math.abs(y) < armHalf;
    if (!inHeel && !inToe && !inArm) map.top[n] = thickness - depth;
    if (Math.hypot(x - toe.x, y) < 2) map.top[n] = 0;
    if (stage === 'outlined') continue;
    if (x < fork.depth && Math.abs(y) < fork.width / 2) map.top[n] = 0;
    if (stage === 'forked') continue;
    if (inArm && !inHeel && !inToe && map.top[n]! > 0) {
      map.top[n] = Math.min(map.top[n]!, body.top);
      map.bottom[n] = body.bottom;
    }
  }
  return map;
};
