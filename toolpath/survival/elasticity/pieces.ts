import { brickAt, eachBrick, placesOf } from './bricks.ts';
import type { Grid } from './grid.ts';

/** Bricks joined face to face. */
export interface Piece {
  /** Middle of its material, mm. */
  readonly at: readonly [number, number, number];
  /** mm³ of material. */
  readonly volume: number;
  readonly bricks: number;
}

export interface Sorted {
  /** Whether anything is held against every rigid movement. */
  readonly held: boolean;
  /** Pieces that would fly off, the largest first. */
  readonly loose: readonly Piece[];
  /** The grid without them. */
  readonly grid: Grid;
}

interface Heap {
  readonly bricks: number[];
  /** Its nodes with a held unknown, and those it shares with other heaps. */
  readonly nodes: Set<number>;
  volume: number;
  readonly moment: [number, number, number];
}

/**
 * Parts what is held from what is not. A piece is held when the given unknowns (1 = free), with the nodes it shares
 * with pieces already known to be held, leave it no rigid movement: three shifts and three turns. So a corner or an
 * edge that two pieces share does not count as a joint unless it stops every turn.
 */
export const sortPieces = (grid: Grid, free: Uint8Array): Sorted => {
  const heaps = heapsOf(grid, free);
  const heights = placesOf(grid);
  const anchored = new Uint8Array(grid.nodes);
  const waiting = new Set(heaps);
  for (let found = true; found; ) {
    found = false;
    for (const heap of waiting) {
      if (!isHeld(heap, heights, free, anchored)) continue;
      waiting.delete(heap);
      for (const node of heap.nodes) anchored[node] = 1;
      found = true;
    }
  }
  if (waiting.size === 0) return { held: heaps.length > 0, loose: [], grid };
  const share = grid.share.slice();
  const stiffness = grid.stiffness.slice();
  let bricks = grid.bricks;
  const loose: Piece[] = [];
  for (const heap of waiting) {
    for (const brick of heap.bricks) {
      share[brick] = 0;
      stiffness[brick] = 0;
    }
    bricks -= heap.bricks.length;
    const { moment, volume } = heap;
    loose.push({
      at: [moment[0] / volume, moment[1] / volume, moment[2] / volume],
      volume,
      bricks: heap.bricks.length,
    });
  }
  loose.sort((a, b) => b.volume - a.volume);
  return { held: waiting.size < heaps.length, loose, grid: { ...grid, share, stiffness, bricks } };
};

const heapsOf = (grid: Grid, free: Uint8Array): Heap[] => {
  const { nx, low, high, offset, share } = grid;
  const parent = Int32Array.from(share.keys());
  const rootOf = (brick: number): number => {
    let root = brick;
    while (parent[root] !== root) root = parent[root]!;
    for (let at = brick; parent[at] !== root; ) {
      const next = parent[at]!;
      parent[at] = root;
      at = next;
    }
    return root;
  };
  const join = (a: number, b: number): void => {
    if (share[a]! > 0 && share[b]! > 0) parent[rootOf(a)] = rootOf(b);
  };
  for (let c = 0; c < low.length; c++) {
    for (let k = low[c]!; k < high[c]!; k++) {
      const own = offset[c]! + k - low[c]!;
      if (k > low[c]!) join(own, own - 1);
      for (const other of [c % nx === 0 ? -1 : c - 1, c - nx]) {
        if (other < 0 || k < low[other]! || k >= high[other]!) continue;
        join(own, offset[other]! + k - low[other]!);
      }
    }
  }
  const heaps = new Map<number, Heap>();
  const owner = new Int32Array(grid.nodes).fill(-1);
  eachBrick(grid, (i, j, k, corners, brick) => {
    const root = rootOf(brick);
    let heap = heaps.get(root);
    if (heap === undefined) {
      heap = { bricks: [], nodes: new Set(), volume: 0, moment: [0, 0, 0] };
      heaps.set(root, heap);
    }
    const [x0, x1] = [grid.xs[i]!, grid.xs[i + 1]!];
    const [y0, y1] = [grid.ys[j]!, grid.ys[j + 1]!];
    const [z0, z1] = [grid.zs[k]!, grid.zs[k + 1]!];
    const volume = grid.share[brick]! * brickAt(grid, i, j, k).volume;
    heap.bricks.push(brick);
    for (const n of corners) {
      const first = owner[n]!;
      if (first === root) continue;
      owner[n] = root;
      if (first >= 0) heaps.get(first)!.nodes.add(n);
      if (first >= 0 || free[3 * n] === 0 || free[3 * n + 1] === 0 || free[3 * n + 2] === 0)
        heap.nodes.add(n);
    }
    heap.volume += volume;
    heap.moment[0] += (volume * (x0 + x1)) / 2;
    heap.moment[1] += (volume * (y0 + y1)) / 2;
    heap.moment[2] += (volume * (z0 + z1)) / 2;
  });
  return [...heaps.values()];
};

/** A rigid movement resisted by less than this share of the best resisted one is taken for free. */
const RIGID = 1e-9;

/** Whether the held unknowns of a piece leave its six rigid movements no way: their Gram matrix has full rank. */
const isHeld = (heap: Heap, places: Float64Array, free: Uint8Array, anchored: Uint8Array): boolean => {
  const middle = heap.moment.map((m) => m / heap.volume) as [number, number, number];
  let reach = Number.MIN_VALUE;
  for (const n of heap.nodes) {
    for (let a = 0; a < 3; a++) reach = Math.max(reach, Math.abs(places[3 * n + a]! - middle[a]!));
  }
  const gram = new Float64Array(36);
  for (const n of heap.nodes) {
    const [x, y, z] = [0, 1, 2].map((a) => (places[3 * n + a]! - middle[a]!) / reach) as [
      number,
      number,
      number,
    ];
    const turned = [
      [0, z, -y],
      [-z, 0, x],
      [y, -x, 0],
    ];
    for (let a = 0; a < 3; a++) {
      if (free[3 * n + a] === 1 && anchored[n] === 0) continue;
      const row = [a === 0 ? 1 : 0, a === 1 ? 1 : 0, a === 2 ? 1 : 0, ...turned[a]!];
      for (let r = 0; r < 6; r++) for (let c = 0; c < 6; c++) gram[6 * r + c]! += row[r]! * row[c]!;
    }
  }
  return hasFullRank(gram);
};

/** Elimination on the greatest diagonal entry left. */
const hasFullRank = (gram: Float64Array): boolean => {
  const open = new Set([0, 1, 2, 3, 4, 5]);
  let greatest = 0;
  while (open.size > 0) {
    let pivot = -1;
    for (const n of open) if (pivot < 0 || gram[7 * n]! > gram[7 * pivot]!) pivot = n;
    const value = gram[7 * pivot]!;
    greatest = Math.max(greatest, value);
    if (!(value > RIGID * greatest)) return false;
    open.delete(pivot);
    for (const r of open) {
      const factor = gram[6 * r + pivot]! / value;
      for (const c of open) gram[6 * r + c]! -= factor * gram[6 * pivot + c]!;
    }
  }
  return true;
};
