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
export const BEARS = 0.25;

/** The jaws as they were closed at the start of a setup: their faces in Y and the gripped band in Z, part coordinates, mm. */
export interface Jaws {
  readonly near: number;
  readonly far: number;
  readonly low: number;
  readonly high: number;
}

/** Where the jaws come to stand on the stock as it is put in; null when they close on nothing. */
export const closeJaws = (map: HeightMap, { frame, hold }: Holding): Jaws | null => {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < map.top.length; i++) {
    if (map.top[i]! <= map.bottom[i]!) continue;
    low = Math.min(low, map.bottom[i]!);
    high = Math.max(high, map.top[i]!);
  }
  if (!(high > low)) return null;
  const band = frame.face === 'front' ? { low, high: low + hold.grip } : { low: high - hold.grip, high };
  const edges = edgesOf(map, hold, band);
  if (edges.length === 0) return null;
  const near = edges.reduce((least, edge) => Math.min(least, edge.near), Number.POSITIVE_INFINITY);
  const far = edges.reduce((most, edge) => Math.max(most, edge.far), Number.NEGATIVE_INFINITY);
  return { ...band, near, far };
};

interface Edge {
  readonly x: number;
  readonly near: number;
  readonly far: number;
}

/** The outermost material of each column of the map in the gripped band, within the jaws: part coordinates. */
const edgesOf = (map: HeightMap, hold: Hold, { low, high }: Pick<Jaws, 'low' | 'high'>): readonly Edge[] => {
  const edges: Edge[] = [];
  for (let c = 0; c < map.columns; c++) {
    const x = map.x0 + (c + 0.5) * map.cell;
    if (x < hold.jaws.from || x > hold.jaws.to) continue;
    let first = -1;
    let last = -1;
    for (let r = 0; r < map.rows; r++) {
      const i = r * map.columns + c;
      const inBand = Math.min(map.top[i]!, high) - Math.max(map.bottom[i]!, low);
      if (inBand < 0.5 * (high - low)) continue;
      if (first < 0) first = r;
      last = r;
    }
    if (first >= 0) edges.push({ x, near: map.y0 + first * map.cell, far: map.y0 + (last + 1) * map.cell });
  }
  return edges;
};

/** Height of the jaws' upper edges in the part's coordinates, mm: a grid wants a plane there. */
export const jawEdge = (jaws: Jaws, { frame }: Holding): number =>
  frame.face === 'front' ? jaws.high : jaws.low;

/** What of the stock as it is now the closed jaws still bear on; null when that is nothing. */
export const heldWidth = (map: HeightMap, holding: Holding, jaws: Jaws): HeldWidth | null => {
  const { frame } = holding;
  const within = Math.max(BEARS, 1.2 * map.cell);
  const bearing = edgesOf(map, holding.hold, jaws).filter(
    ({ near, far }) => near < jaws.near + within && far > jaws.far - within,
  );
  const [first, last] = [bearing[0], bearing.at(-1)];
  if (first === undefined || last === undefined) return null;
  return {
    across: jaws.far - jaws.near,
    contact: bearing.length * map.cell,
    middle: (first.x + last.x) / 2 - frame.zero.x,
    jawTop: frame.face === 'front' ? jaws.high - frame.zero.z : frame.zero.z - jaws.low,
  };
};

/** Clamped: nodes on the two gripped faces within the band. Supported: nodes on the underside over the parallels. */
export const gripNodes = (grid: Grid, places: Float64Array, closed: Jaws, holding: Holding): GripNodes => {
  const { jaws, parallels } = holding.hold;
  const middle = (closed.near + closed.far) / 2;
  const underside = holding.frame.face === 'front' ? closed.low : closed.high;
  const clamped: number[] = [];
  const supported: number[] = [];
  for (let n = 0; n < grid.nodes; n++) {
    const [x, y, z] = [places[3 * n]!, places[3 * n + 1]!, places[3 * n + 2]!];
    const gripped = x >= jaws.from && x <= jaws.to && z >= closed.low - 1e-3 && z <= closed.high + 1e-3;
    if (gripped && (y < closed.near + BEARS || y > closed.far - BEARS)) clamped.push(n);
    else if (parallels && Math.abs(z - underside) < 1e-3) {
      const beside = Math.abs(Math.abs(y - middle) - parallels.offset);
      if (beside <= parallels.thickness / 2 + 1e-6) supported.push(n);
    }
  }
  return { clamped, supported };
};
