import type { HeightMap } from '../removal/height-map.ts';
import type { Frame } from '../route/frame.ts';
import type { Hold, ViceHold } from '../route/route.ts';
import type { Grid } from './elasticity/grid.ts';
import type { OtherHold } from './other-holds.ts';
import { blockNodes } from './packing.ts';
import { type PlateSeat, plateNodes, plateWidth, seatOnPlate } from './plate-grip.ts';

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
  /** What keeps it on a plate, its places along X and Y from (middle, `across` middle); null in a vice. */
  readonly plate: HeldOnPlate | null;
}

/** Work on a plate: the hold, and the middle of it in Y of the program. */
export interface HeldOnPlate {
  readonly hold: OtherHold;
  readonly middleY: number;
}

interface HoldingIn<H extends Hold> {
  readonly frame: Frame;
  readonly hold: H;
}
type Holding = HoldingIn<Hold>;

/** A face this far from the jaw still bears on it once it is done up, mm: about a cell of the map. */
export const BEARS = 0.25;

/** How the work was put in at the start of a setup. */
export type Seat = Jaws | PlateSeat;

/** The work as it is put in; null when nothing holds it. */
export const seatOf = (map: HeightMap, holding: Holding): Seat | null =>
  holding.hold.kind === 'vice'
    ? closeJaws(map, { ...holding, hold: holding.hold })
    : seatOnPlate(map, holding.frame);

/** The jaws as they were closed at the start of a setup: their faces in Y and the gripped band in Z, part coordinates, mm. */
export interface Jaws {
  readonly kind: 'vice';
  readonly near: number;
  readonly far: number;
  readonly low: number;
  readonly high: number;
}

/** Where the jaws come to stand on the stock as it is put in; null when they close on nothing. */
export const closeJaws = (map: HeightMap, { frame, hold }: HoldingIn<ViceHold>): Jaws | null => {
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
  return { kind: 'vice', ...band, near, far };
};

interface Edge {
  readonly x: number;
  readonly near: number;
  readonly far: number;
}

/** The outermost material of each column of the map in the gripped band, within the jaws: part coordinates. */
const edgesOf = (
  map: HeightMap,
  hold: ViceHold,
  { low, high }: Pick<Jaws, 'low' | 'high'>,
): readonly Edge[] => {
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

/** Planes that a grid wants where the hold ends: along X, and the height of the jaws' upper edges or of the plate, part coordinates, mm. */
export const seatPlanes = (
  seat: Seat,
  { frame, hold }: Holding,
): { readonly xs: readonly number[]; readonly zs: readonly number[] } => {
  if (seat.kind === 'plate' || hold.kind !== 'vice') return { xs: [], zs: [] };
  return { xs: [hold.jaws.from, hold.jaws.to], zs: [frame.face === 'front' ? seat.high : seat.low] };
};

/** What of the stock as it is now is still held; null when that is nothing. */
export const heldWidth = (map: HeightMap, { frame, hold }: Holding, seat: Seat): HeldWidth | null => {
  if (hold.kind === 'plate') return seat.kind === 'plate' ? plateWidth(map, frame, hold, seat) : null;
  if (seat.kind === 'plate') return null;
  const within = Math.max(BEARS, 1.2 * map.cell);
  const bearing = edgesOf(map, hold, seat).filter(
    ({ near, far }) => near < seat.near + within && far > seat.far - within,
  );
  const [first, last] = [bearing[0], bearing.at(-1)];
  if (first === undefined || last === undefined) return null;
  return {
    across: seat.far - seat.near,
    contact: bearing.length * map.cell,
    middle: (first.x + last.x) / 2 - frame.zero.x,
    jawTop: frame.face === 'front' ? seat.high - frame.zero.z : frame.zero.z - seat.low,
    plate: null,
  };
};

/**
 * Clamped: in a vice nodes on the two gripped faces within the band, on a plate what is glued or lies under a foot.
 * Supported: nodes on the underside over the parallels and over blocks, or all others of it over the plate.
 */
export const gripNodes = (grid: Grid, places: Float64Array, seat: Seat, holding: Holding): GripNodes => {
  const { frame, hold } = holding;
  if (hold.kind === 'plate') {
    return seat.kind === 'plate' ? plateNodes(grid, places, hold, seat) : { clamped: [], supported: [] };
  }
  if (seat.kind === 'plate') return { clamped: [], supported: [] };
  const { jaws, parallels } = hold;
  const middle = (seat.near + seat.far) / 2;
  const underside = frame.face === 'front' ? seat.low : seat.high;
  const clamped: number[] = [];
  const supported: number[] = [];
  for (let n = 0; n < grid.nodes; n++) {
    const [x, y, z] = [places[3 * n]!, places[3 * n + 1]!, places[3 * n + 2]!];
    const gripped = x >= jaws.from && x <= jaws.to && z >= seat.low - 1e-3 && z <= seat.high + 1e-3;
    if (gripped && (y < seat.near + BEARS || y > seat.far - BEARS)) clamped.push(n);
    else if (parallels && Math.abs(z - underside) < 1e-3) {
      const beside = Math.abs(Math.abs(y - middle) - parallels.offset);
      if (beside <= parallels.thickness / 2 + 1e-6) supported.push(n);
    }
  }
  supported.push(...blockNodes(grid, hold, frame.face === 'front' ? 1 : -1));
  return { clamped, supported };
};
