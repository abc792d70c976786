import type { HeightMap } from '../removal/height-map.ts';
import { type Frame, toProgram } from '../route/frame.ts';
import { type Pad, padsOf } from '../route/plate.ts';
import type { PlateHold } from '../route/route.ts';
import type { Grid } from './elasticity/grid.ts';
import type { GripNodes, HeldWidth } from './grip.ts';
import { type OtherHold, screwForces, USUAL_HOLDS } from './other-holds.ts';

/** Work as it was laid on its plate: the face it lies on, part coordinates, mm. */
export interface PlateSeat {
  readonly kind: 'plate';
  readonly underside: number;
  /** 1 where the front is up, −1 where the back is. */
  readonly up: 1 | -1;
}

/** Nearer to the plate than this it bears on it, mm. */
const TOUCHES = 0.05;

/** Where the plate comes to lie under the stock; null when there is none. */
export const seatOnPlate = (map: HeightMap, frame: Frame): PlateSeat | null => {
  const up = frame.face === 'front' ? 1 : -1;
  let lowest = Number.POSITIVE_INFINITY;
  for (let i = 0; i < map.top.length; i++) {
    if (map.top[i]! > map.bottom[i]!) lowest = Math.min(lowest, up > 0 ? map.bottom[i]! : -map.top[i]!);
  }
  return Number.isFinite(lowest) ? { kind: 'plate', underside: up * lowest, up } : null;
};

interface Extent {
  readonly low: { readonly x: number; readonly y: number };
  readonly high: { readonly x: number; readonly y: number };
  readonly area: number;
  /** Pads with something of the underside beneath them. */
  readonly pads: readonly Pad[];
}

/** What of the underside lies on the plate, part coordinates; null for nothing. */
const bearing = (map: HeightMap, seat: PlateSeat, hold: PlateHold): Extent | null => {
  const all = padsOf(hold);
  const pressed = new Set<Pad>();
  let [x0, x1, y0, y1] = [Infinity, -Infinity, Infinity, -Infinity];
  let count = 0;
  for (let i = 0; i < map.top.length; i++) {
    if (map.top[i]! <= map.bottom[i]!) continue;
    const face = seat.up > 0 ? map.bottom[i]! : map.top[i]!;
    if (Math.abs(face - seat.underside) > TOUCHES) continue;
    const x = map.x0 + ((i % map.columns) + 0.5) * map.cell;
    const y = map.y0 + (Math.floor(i / map.columns) + 0.5) * map.cell;
    [x0, x1, y0, y1] = [Math.min(x0, x), Math.max(x1, x), Math.min(y0, y), Math.max(y1, y)];
    count++;
    for (const pad of all) if (Math.hypot(x - pad.at.x, y - pad.at.y) <= pad.radius) pressed.add(pad);
  }
  if (count === 0) return null;
  const half = map.cell / 2;
  return {
    low: { x: x0 - half, y: y0 - half },
    high: { x: x1 + half, y: y1 + half },
    area: count * map.cell ** 2,
    pads: all.filter((pad) => pressed.has(pad)),
  };
};

/**
 * What still holds the stock on its plate, program coordinates; null where nothing does. Glue is taken to lie on a
 * rectangle of the true area and of the proportions of all that bears.
 */
export const plateWidth = (
  map: HeightMap,
  frame: Frame,
  hold: PlateHold,
  seat: PlateSeat,
): HeldWidth | null => {
  const found = bearing(map, seat, hold);
  if (found === null) return null;
  const { fastening } = hold;
  if (fastening.kind !== 'tape' && found.pads.length === 0) return null;
  const [length, width] = [found.high.x - found.low.x, found.high.y - found.low.y];
  const centre =
    fastening.kind === 'tape'
      ? { x: (found.low.x + found.high.x) / 2, y: (found.low.y + found.high.y) / 2 }
      : {
          x: mean(found.pads.map((pad) => pad.at.x)),
          y: mean(found.pads.map((pad) => pad.at.y)),
        };
  const xs = found.pads.flatMap((pad) => [pad.at.x - pad.radius, pad.at.x + pad.radius]);
  const middle = toProgram(frame, { ...centre, z: seat.underside });
  const places = found.pads.map(({ at }) => ({ x: at.x - centre.x, y: at.y - centre.y }));
  const base = {
    low: { x: found.low.x - centre.x, y: found.low.y - centre.y },
    high: { x: found.high.x - centre.x, y: found.high.y - centre.y },
  };
  const other = (): OtherHold => {
    switch (fastening.kind) {
      case 'tape': {
        const share = Math.sqrt(found.area / (length * width));
        const { shear, peel } = fastening;
        return { kind: 'tape and glue', length: length * share, width: width * share, shear, peel };
      }
      case 'screws':
        return {
          kind: 'screws',
          ...screwForces(fastening.thread),
          places,
          base,
          friction: USUAL_HOLDS.friction,
        };
      case 'clamps':
        return {
          kind: 'toe clamps',
          clamp: fastening.force,
          places,
          base,
          friction: USUAL_HOLDS.friction,
        };
    }
  };
  return {
    across: width,
    contact: fastening.kind === 'tape' ? length : Math.max(...xs) - Math.min(...xs),
    middle: middle.x,
    jawTop: middle.z,
    plate: { hold: other(), middleY: middle.y },
  };
};

const mean = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;

/** Clamped: the underside where it is glued, or under a foot's pad. Supported: the rest of it. */
export const plateNodes = (grid: Grid, places: Float64Array, hold: PlateHold, seat: PlateSeat): GripNodes => {
  const pads = padsOf(hold);
  const glued = hold.fastening.kind === 'tape';
  const clamped: number[] = [];
  const supported: number[] = [];
  for (let n = 0; n < grid.nodes; n++) {
    const [x, y, z] = [places[3 * n]!, places[3 * n + 1]!, places[3 * n + 2]!];
    if (Math.abs(z - seat.underside) > TOUCHES) continue;
    const under = pads.some(({ at, radius }) => Math.hypot(x - at.x, y - at.y) <= radius);
    if (glued || under) clamped.push(n);
    else supported.push(n);
  }
  return { clamped, supported };
};
