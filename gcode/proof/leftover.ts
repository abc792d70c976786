import type { Bar } from '../../sketch/part/part.ts';
import type { Solid } from '../../sketch/part/solid.ts';
import type { Point, Point3 } from '../../sketch/shape/point.ts';
import { contains, nearestBoundary } from '../../sketch/shape/region.ts';
import { cellMiddle, type HeightMap } from '../../toolpath/removal/height-map.ts';
import type { WantedColumns } from '../../toolpath/removal/raster.ts';
import { neighboursOf, patchesOf } from './patches.ts';
import { eachNeighbour, flood, isMaterial } from './pieces.ts';
import type { Reach } from './reach.ts';

/** A bridge left on purpose between part and bar, to be sawn and filed by hand. mm, in the part's coordinates. */
export interface Bridge {
  /** Its middle on the outline, and the direction away from the part. */
  readonly at: Point;
  readonly outward: Point;
  /** Along the outline, with the fillets that the round cutter leaves at both ends; away from it; in Z. */
  readonly length: number;
  readonly width: number;
  readonly height: number;
}

export type LeftoverKind = 'floor' | 'web' | 'material' | 'bridge' | 'corner';

/** A connected patch of material that is not wanted. */
export interface Leftover {
  readonly kind: LeftoverKind;
  /** Largest excess: in Z for floors and webs, the lesser of Z and plan for material beside the part, mm. */
  readonly amount: number;
  readonly at: Point3;
  /** mm². */
  readonly area: number;
  readonly face: 'front' | 'back' | null;
}

/** Anything thinner than this is rounding, mm. */
const NOTHING_LEFT = 1e-3;
/** A skin at most this share of the bar's thickness is a web; more is plain material. */
const THIN_SHARE = 0.5;
/** How far a bridge may spread beyond its stated size, mm. */
const BRIDGE_MARGIN = 0.3;
const MOST_DISTANCES = 3000;

/** Whether a place belongs to a bridge as seen from above; on a round outline it may lie behind its middle's tangent. */
export const inBridge = (b: Bridge, p: Point): boolean => {
  const dx = p.x - b.at.x;
  const dy = p.y - b.at.y;
  const away = dx * b.outward.x + dy * b.outward.y;
  const along = dy * b.outward.x - dx * b.outward.y;
  return (
    Math.abs(along) <= b.length / 2 + BRIDGE_MARGIN &&
    away >= -b.length / 4 - BRIDGE_MARGIN &&
    away <= b.width + BRIDGE_MARGIN
  );
};

/**
 * What the finished work still carries that is not wanted, as connected patches, judged on the map away from walls
 * (a wall's own error is judged by exact geometry elsewhere).
 *
 * Only material joined to the part counts. Thin skins that were cut to (webs) are told from plain material, and what
 * hangs on the part by a web or a bridge alone is not counted again: the web is.
 */
export const leftovers = (
  bar: Bar,
  wanted: Solid,
  map: HeightMap,
  columns: WantedColumns,
  reach: Reach,
  tolerance: number,
  bridges: readonly Bridge[],
): readonly Leftover[] => {
  if (bridges.length === 0 && isBare(map, columns)) return [];
  const size = map.top.length;
  const bridged = bridgeCells(map, columns, bridges);
  const kinds = new Uint8Array(size);
  const amounts = new Float32Array(size);
  const { top, bottom } = map;
  /** Cells with material where none is wanted, which counts if it hangs on the part. */
  const beside: number[] = [];
  for (let i = 0; i < size; i++) {
    if (top[i]! <= bottom[i]!) continue;
    if (bridged[i] === 1) {
      kinds[i] = BRIDGE;
      amounts[i] = top[i]! - bottom[i]!;
      continue;
    }
    if (columns.nearWall[i] === 1) continue;
    const front = top[i]! - columns.top[i]!;
    const back = columns.bottom[i]! - bottom[i]!;
    if (columns.top[i]! <= columns.bottom[i]!) beside.push(i);
    else {
      amounts[i] = Math.max(front, back);
      if (amounts[i]! > NOTHING_LEFT) kinds[i] = front >= back ? FLOOR_FRONT : FLOOR_BACK;
    }
  }
  // Mostly there is none, and nothing need be flooded.
  if (beside.length > 0) {
    const thin = (i: number): boolean => top[i]! - bottom[i]! <= THIN_SHARE * bar.thickness;
    const seeds: number[] = [];
    for (let i = 0; i < size; i++) if (columns.top[i]! > columns.bottom[i]!) seeds.push(i);
    const solid = flood(map, seeds, (i) => !thin(i) && bridged[i] === 0);
    const webSeeds = neighboursOf(map, solid, (i) => thin(i) && bridged[i] === 0);
    const web = flood(map, webSeeds, (i) => thin(i) && bridged[i] === 0);
    for (const i of beside) {
      if (solid[i] === 0 && web[i] === 0) continue;
      amounts[i] = top[i]! - bottom[i]!;
      if (amounts[i]! > NOTHING_LEFT) kinds[i] = web[i] === 1 ? WEB : MATERIAL;
    }
  }
  const found: Leftover[] = [];
  const unreached = new Map<number, boolean>();
  const cornerOnly = (i: number): boolean => {
    const known = unreached.get(i);
    if (known !== undefined) return known;
    const answer = isCorner(i, map, wanted, columns, reach);
    unreached.set(i, answer);
    return answer;
  };
  for (const patch of patchesOf(map, kinds)) {
    const kind = kinds[patch[0]!]!;
    let cells = patch;
    if (kind !== BRIDGE) {
      const over = patch.filter((i) => amounts[i]! > tolerance);
      // A corner is small; a patch as large as this is looked at only in samples.
      const stride = Math.max(1, Math.floor(over.length / MOST_DISTANCES));
      const corner = over.filter((_, k) => k % stride === 0).filter(cornerOnly);
      if (corner.length > 0 && stride === 1) {
        const whole = cornerArea(corner, map, columns, cornerOnly, tolerance);
        found.push({ ...describe('corner', corner, map, columns, amounts, wanted, null), area: whole });
        const excused = new Set(corner);
        cells = patch.filter((i) => !excused.has(i));
      }
    }
    if (cells.length === 0) continue;
    found.push(describe(KINDS[kind]!, cells, map, columns, amounts, wanted, FACES[kind]!));
  }
  return found;
};

/** Whether no cell away from walls carries anything that is not wanted, as in most parts that fit. */
const isBare = (map: HeightMap, columns: WantedColumns): boolean => {
  const { top, bottom } = map;
  for (let i = 0; i < top.length; i++) {
    if (top[i]! <= bottom[i]! || columns.nearWall[i] === 1) continue;
    const [high, low] = [columns.top[i]!, columns.bottom[i]!];
    // Over no column, whose heights are infinite, both are.
    const most = Math.max(top[i]! - high, low - bottom[i]!);
    if (Math.fround(most) > NOTHING_LEFT) return false;
  }
  return true;
};

const FLOOR_FRONT = 1;
const FLOOR_BACK = 2;
const WEB = 3;
const MATERIAL = 4;
const BRIDGE = 5;
const KINDS: readonly LeftoverKind[] = ['floor', 'floor', 'floor', 'web', 'material', 'bridge'];
const FACES: readonly ('front' | 'back' | null)[] = [null, 'front', 'back', null, null, null];

const bridgeCells = (map: HeightMap, columns: WantedColumns, bridges: readonly Bridge[]): Uint8Array => {
  const cells = new Uint8Array(map.top.length);
  for (const bridge of bridges) {
    const half = bridge.length / 2 + bridge.width + BRIDGE_MARGIN;
    const i0 = Math.max(0, Math.floor((bridge.at.x - half - map.x0) / map.cell));
    const i1 = Math.min(map.columns - 1, Math.ceil((bridge.at.x + half - map.x0) / map.cell));
    const j0 = Math.max(0, Math.floor((bridge.at.y - half - map.y0) / map.cell));
    const j1 = Math.min(map.rows - 1, Math.ceil((bridge.at.y + half - map.y0) / map.cell));
    for (let j = j0; j <= j1; j++) {
      for (let i = i0; i <= i1; i++) {
        const cell = j * map.columns + i;
        if (!isMaterial(map, cell) || columns.top[cell]! > columns.bottom[cell]!) continue;
        if (map.top[cell]! - map.bottom[cell]! > bridge.height + 0.02) continue;
        if (inBridge(bridge, cellMiddle(map, cell))) cells[cell] = 1;
      }
    }
  }
  return cells;
};

/** Area of a corner up to its very walls, which the patch itself keeps away from, mm². */
const cornerArea = (
  patch: readonly number[],
  map: HeightMap,
  columns: WantedColumns,
  isCorner: (i: number) => boolean,
  tolerance: number,
): number => {
  const cells = new Set(patch);
  const around = [...patch];
  for (let k = 0; k < around.length; k++) {
    eachNeighbour(map, around[k]!, (n) => {
      if (cells.has(n) || columns.nearWall[n] === 0 || !isMaterial(map, n)) return;
      const over =
        columns.top[n]! > columns.bottom[n]!
          ? Math.max(map.top[n]! - columns.top[n]!, columns.bottom[n]! - map.bottom[n]!)
          : map.top[n]! - map.bottom[n]!;
      if (over <= tolerance || !isCorner(n)) return;
      cells.add(n);
      around.push(n);
    });
  }
  return cells.size * map.cell * map.cell;
};

/** Whether no owned endmill can come at the unwanted part of a column without entering the part. */
const isCorner = (
  i: number,
  map: HeightMap,
  wanted: Solid,
  columns: WantedColumns,
  reach: Reach,
): boolean => {
  const p = cellMiddle(map, i);
  const hasWanted = columns.top[i]! > columns.bottom[i]!;
  const onTop = hasWanted && map.top[i]! - columns.top[i]! >= columns.bottom[i]! - map.bottom[i]!;
  const low = hasWanted ? (onTop ? columns.top[i]! : map.bottom[i]!) : map.bottom[i]!;
  const high = hasWanted ? (onTop ? map.top[i]! : columns.bottom[i]!) : map.top[i]!;
  return wanted.slabs.some((slab, k) => {
    if (slab.top <= low + NOTHING_LEFT || slab.bottom >= high - NOTHING_LEFT) return false;
    if (contains(slab.region, p)) return false;
    const short = reach.shortfall(k, p);
    return short !== null && short > 0;
  });
};

const describe = (
  kind: LeftoverKind,
  cells: readonly number[],
  map: HeightMap,
  columns: WantedColumns,
  amounts: Float32Array,
  wanted: Solid,
  face: 'front' | 'back' | null,
): Leftover => {
  let worst = cells[0]!;
  let amount = 0;
  const stride = kind === 'material' ? Math.max(1, Math.ceil(cells.length / MOST_DISTANCES)) : 1;
  for (let k = 0; k < cells.length; k += stride) {
    const i = cells[k]!;
    const here = kind === 'material' ? Math.min(amounts[i]!, fromPart(map, i, wanted)) : amounts[i]!;
    if (here <= amount) continue;
    amount = here;
    worst = i;
  }
  const middle = kind === 'bridge' ? meanPlace(map, cells) : cellMiddle(map, worst);
  const z =
    face === 'front'
      ? columns.top[worst]!
      : face === 'back'
        ? columns.bottom[worst]!
        : (map.top[worst]! + map.bottom[worst]!) / 2;
  return { kind, amount, at: { ...middle, z }, area: cells.length * map.cell * map.cell, face };
};

const meanPlace = (map: HeightMap, cells: readonly number[]): Point => {
  const sum = cells.reduce(
    (total, i) => {
      const p = cellMiddle(map, i);
      return { x: total.x + p.x, y: total.y + p.y };
    },
    { x: 0, y: 0 },
  );
  return { x: sum.x / cells.length, y: sum.y / cells.length };
};

/** Distance in plan from a cell to the wanted part, mm. */
const fromPart = (map: HeightMap, i: number, wanted: Solid): number => {
  const p = cellMiddle(map, i);
  return wanted.slabs.reduce((least, slab) => {
    if (contains(slab.region, p)) return 0;
    return Math.min(least, nearestBoundary(slab.region, p)?.distance ?? least);
  }, Number.POSITIVE_INFINITY);
};
