import type { HeightMap } from '../removal/height-map.ts';
import type { Frame } from '../route/frame.ts';
import type { Hold } from '../route/route.ts';
import type { Grid } from './elasticity/grid.ts';

/** Nodes of a grid that the jaws clamp and that the parallels carry. */
export interface GripNodes {
  readonly clamped: readonly number[];
  readonly supported: readonly number[];
}

/** What the jaws close on: program coordinates, mm. */
export interface HeldWidth {
  /** Distance between the jaws. */
  readonly across: number;
  /** Length of the shorter contact along them, and its middle in X. */
  readonly contact: number;
  readonly middle: number;
  readonly jawTop: number;
}

interface Holding {
  readonly frame: Frame;
  readonly hold: Hold;
}

/** A face this far from the jaw still bears on it once it is done up, mm: about a cell of the map. */
const BEARS = 0.25;

/** Heights of the gripped band in the part's coordinates. */
const bandOf = (map: HeightMap, { frame, hold }: Holding): { low: number; high: number } => {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < map.top.length; i++) {
    if (map.top[i]! <= map.bottom[i]!) continue;
    low = Math.min(low, map.bottom[i]!);
    high = Math.max(high, map.top[i]!);
  }
  return frame.face === 'front' ? { low, high: low + hold.grip } : { low: high - hold.grip, high };
};

/** Height of the jaws' upper edges in the part's coordinates, mm: a grid wants a plane there. */
export const jawEdge = (map: HeightMap, holding: Holding): number => {
  const { low, high } = bandOf(map, holding);
  return holding.frame.face === 'front' ? high : low;
};

/** The outermost material of each column of the map in the gripped band, in Y, within the jaws: part coordinates. */
const edgesOf = (map: HeightMap, holding: Holding): { near: number[]; far: number[]; xs: number[] } => {
  const { low, high } = bandOf(map, holding);
  const near: number[] = [];
  const far: number[] = [];
  const xs: number[] = [];
  for (let c = 0; c < map.columns; c++) {
    const x = map.x0 + (c + 0.5) * map.cell;
    if (x < holding.hold.jaws.from || x > holding.hold.jaws.to) continue;
    let first = -1;
    let last = -1;
    for (let r = 0; r < map.rows; r++) {
      const i = r * map.columns + c;
      const inBand = Math.min(map.top[i]!, high) - Math.max(map.bottom[i]!, low);
      if (inBand < 0.5 * (high - low)) continue;
      if (first < 0) first = r;
      last = r;
    }
    if (first < 0) continue;
    xs.push(x);
    near.push(map.y0 + first * map.cell);
    far.push(map.y0 + (last + 1) * map.cell);
  }
  return { near, far, xs };
};

/** Width and length of what is held; null when the jaws close on nothing. */
export const heldWidth = (map: HeightMap, holding: Holding): HeldWidth | null => {
  const { near, far, xs } = edgesOf(map, holding);
  if (xs.length === 0) return null;
  const low = Math.min(...near);
  const high = Math.max(...far);
  const bearing = xs.filter((_, i) => near[i]! < low + BEARS && far[i]! > high - BEARS);
  const { frame } = holding;
  const band = bandOf(map, holding);
  const jawTop = frame.face === 'front' ? band.high - frame.zero.z : frame.zero.z - band.low;
  const middle =
    bearing.length > 0 ? (bearing[0]! + bearing[bearing.length - 1]!) / 2 : (xs[0]! + xs[xs.length - 1]!) / 2;
  return { across: high - low, contact: bearing.length * map.cell, middle: middle - frame.zero.x, jawTop };
};

/** Clamped: nodes on the two gripped faces within the band. Supported: nodes on the underside over the parallels. */
export const gripNodes = (grid: Grid, places: Float64Array, map: HeightMap, holding: Holding): GripNodes => {
  const { near, far, xs } = edgesOf(map, holding);
  if (xs.length === 0) return { clamped: [], supported: [] };
  const low = Math.min(...near);
  const high = Math.max(...far);
  const band = bandOf(map, holding);
  const { jaws, parallels } = holding.hold;
  const middle = (low + high) / 2;
  const underside = holding.frame.face === 'front' ? band.low : band.high;
  const clamped: number[] = [];
  const supported: number[] = [];
  for (let n = 0; n < grid.nodes; n++) {
    const [x, y, z] = [places[3 * n]!, places[3 * n + 1]!, places[3 * n + 2]!];
    const gripped = x >= jaws.from && x <= jaws.to && z >= band.low - 1e-3 && z <= band.high + 1e-3;
    if (gripped && (y < low + BEARS || y > high - BEARS)) clamped.push(n);
    else if (parallels && Math.abs(z - underside) < 1e-3) {
      const beside = Math.abs(Math.abs(y - middle) - parallels.offset);
      if (beside <= parallels.thickness / 2 + 1e-6) supported.push(n);
    }
  }
  return { clamped, supported };
};
