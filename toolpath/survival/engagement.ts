import type { HeightMap } from '../removal/height-map.ts';
import type { Frame } from '../route/frame.ts';
import type { Engagement } from './milling-force.ts';

/** Steps of angle round the rim. */
export const RIM_STEPS = 72;
/** Heights of material below this are none, mm. */
const FILM = 1e-4;

/**
 * How a cutter is buried, read off the stock as it is just before the move: round its rim, the height of material above
 * its tip. `at` is the centre in program coordinates (mm), `travel` the direction of travel there (radians).
 */
export const engagementAt = (
  map: HeightMap,
  frame: Frame,
  at: { readonly x: number; readonly y: number; readonly z: number },
  travel: number,
  diameter: number,
): Engagement => {
  const depth = new Float64Array(RIM_STEPS);
  const sense = frame.face === 'front' ? 1 : -1;
  const tip = sense * at.z + frame.zero.z;
  // Half a cell outside the rim, where the tooth is about to be.
  const radius = diameter / 2 + map.cell / 2;
  for (let i = 0; i < RIM_STEPS; i++) {
    const angle = ((i + 0.5) * 2 * Math.PI) / RIM_STEPS - Math.PI;
    if (Math.cos(angle) <= 0) continue;
    const x = at.x + radius * Math.cos(travel + angle) + frame.zero.x;
    const y = sense * (at.y + radius * Math.sin(travel + angle)) + frame.zero.y;
    const column = Math.floor((x - map.x0) / map.cell);
    const row = Math.floor((y - map.y0) / map.cell);
    if (column < 0 || row < 0 || column >= map.columns || row >= map.rows) continue;
    const index = row * map.columns + column;
    // A cell beside the cutter's way is never cut: it is the wall that earlier passes have left along the same line.
    const mx = map.x0 + (column + 0.5) * map.cell - frame.zero.x - at.x;
    const my = sense * (map.y0 + (row + 0.5) * map.cell - frame.zero.y) - at.y;
    if (Math.abs(my * Math.cos(travel) - mx * Math.sin(travel)) > diameter / 2) continue;
    const top = map.top[index]!;
    const bottom = map.bottom[index]!;
    if (top <= bottom) continue;
    const stands = sense > 0 ? top - Math.max(tip, bottom) : Math.min(tip, top) - bottom;
    // The map's floats are good to a millionth: what is less than a film is nothing to cut.
    depth[i] = stands > FILM ? stands : 0;
  }
  return { depth };
};

/** The angle over which the rim is buried, radians: π in a full-width slot. */
export const buriedAngle = (engagement: Engagement): number =>
  (engagement.depth.reduce((n, d) => n + (d > 0 ? 1 : 0), 0) * 2 * Math.PI) / engagement.depth.length;
