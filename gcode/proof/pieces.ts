import type { CellBox, HeightMap } from '../../toolpath/removal/height-map.ts';

/** Cells whose material touches over less than this height are not joined, mm. */
const JOINED = 1e-4;

export const isMaterial = (map: HeightMap, i: number): boolean => map.top[i]! > map.bottom[i]!;

/** Whether the material of two neighbouring cells meets; where there is none nothing does. */
export const isJoined = (map: HeightMap, a: number, b: number): boolean =>
  Math.min(map.top[a]!, map.top[b]!) - Math.max(map.bottom[a]!, map.bottom[b]!) > JOINED;

/** Calls `visit` with the neighbours of a cell (four at most). */
export const eachNeighbour = (map: HeightMap, index: number, visit: (neighbour: number) => void): void => {
  const column = index % map.columns;
  if (column > 0) visit(index - 1);
  if (column < map.columns - 1) visit(index + 1);
  if (index >= map.columns) visit(index - map.columns);
  if (index < map.columns * (map.rows - 1)) visit(index + map.columns);
};

/**
 * Marks everything joined to the seeds through cells that `open` lets pass, seeds included.
 * `reached` is written: 1 where the flood came.
 */
export const flood = (
  map: HeightMap,
  seeds: Iterable<number>,
  open: (cell: number) => boolean,
  reached: Uint8Array = new Uint8Array(map.top.length),
): Uint8Array => {
  const stack: number[] = [];
  for (const seed of seeds) {
    if (reached[seed] === 1) continue;
    reached[seed] = 1;
    stack.push(seed);
  }
  const { columns, rows } = map;
  const lastRow = columns * (rows - 1);
  const step = (from: number, to: number): void => {
    if (reached[to] === 1 || !isJoined(map, from, to) || !open(to)) return;
    reached[to] = 1;
    stack.push(to);
  };
  while (stack.length > 0) {
    const cell = stack.pop()!;
    const column = cell % columns;
    if (column > 0) step(cell, cell - 1);
    if (column < columns - 1) step(cell, cell + 1);
    if (cell >= columns) step(cell, cell - columns);
    if (cell < lastRow) step(cell, cell + columns);
  }
  return reached;
};

/** Runs of joined cells along each row: their first cells and the ones past their last, in turn, from left to right. */
export type RowRuns = readonly Int32Array[];

/** The runs of a map; with those of one that differs in some cells alone, it is looked at there and nowhere else. */
export const runsOf = (map: HeightMap, known: RowRuns | null = null, but: CellBox | null = null): RowRuns =>
  Array.from({ length: map.rows }, (_, row) => {
    const start = row * map.columns;
    if (known === null || but === null) return runsAlong(map, NO_RUNS, start, start + map.columns);
    if (row < but.j0 || row > but.j1) return known[row]!;
    return runsAlong(map, known[row]!, start + but.i0, start + but.i1 + 1);
  });

const NO_RUNS = new Int32Array(0);

/** A row's runs: looked for from one cell to before another, and as they are known beside these. */
const runsAlong = (map: HeightMap, known: Int32Array, from: number, to: number): Int32Array => {
  const runs: number[] = [];
  const { top, bottom } = map;
  let k = 0;
  for (; k < known.length && known[k + 1]! < from; k += 2) runs.push(known[k]!, known[k + 1]!);
  // The run of the cell before the first goes on, or ends there.
  let first = k < known.length && known[k]! < from ? known[k]! : -1;
  for (let i = from; i < to; i++) {
    const high = top[i]!;
    const low = bottom[i]!;
    const stands = high > low;
    // As `isJoined`, by hand: these are most of the cells that are looked at after an edit.
    if (first >= 0 && !(stands && Math.min(high, top[i - 1]!) - Math.max(low, bottom[i - 1]!) > JOINED)) {
      runs.push(first, i);
      first = -1;
    }
    if (stands && first < 0) first = i;
  }
  // The run of the cell after the last, which may have begun long before.
  while (k < known.length && known[k + 1]! <= to) k += 2;
  if (first >= 0) {
    const goesOn = k < known.length && known[k]! <= to && isJoined(map, to - 1, to);
    if (goesOn) runs.push(first, known[k + 1]!);
    else runs.push(first, to);
    if (goesOn) k += 2;
  }
  for (; k < known.length; k += 2) runs.push(Math.max(to, known[k]!), known[k + 1]!);
  return Int32Array.from(runs);
};

/** One connected piece of what is left. */
export interface Piece {
  /** Number of its cells. */
  readonly cells: number;
  /** Its extent in cells. */
  readonly columns: readonly [number, number];
  readonly rows: readonly [number, number];
  /** Its first cell. */
  readonly at: number;
  /** Whether any of it is wanted. */
  readonly wanted: boolean;
  /** Its runs of cells in order: first cells and the ones past the last, in turn. */
  readonly runs: readonly number[];
}

/** Whether any cell of a piece in some rows is what is asked for. */
export const hasCell = (
  { runs }: Piece,
  columns: number,
  [low, high]: readonly [number, number],
  isAsked: (cell: number) => boolean,
): boolean => {
  for (let k = 0; k < runs.length; k += 2) {
    if (runs[k]! < low * columns) continue;
    if (runs[k]! >= (high + 1) * columns) break;
    for (let i = runs[k]!; i < runs[k + 1]!; i++) if (isAsked(i)) return true;
  }
  return false;
};

const rootOf = (above: Int32Array, run: number): number => {
  let at = run;
  while (above[at] !== at) {
    above[at] = above[above[at]!]!;
    at = above[at]!;
  }
  return at;
};

/** The earlier run stays the root, so that a piece's root is the run of its first cell. */
const join = (above: Int32Array, a: number, b: number): void => {
  const [x, y] = [rootOf(above, a), rootOf(above, b)];
  if (x < y) above[y] = x;
  else above[x] = y;
};

/** For each run, counted row after row, one of its piece's; the first of a piece for itself. */
const rootsOf = (map: HeightMap, rows: RowRuns): Int32Array => {
  const above = Int32Array.from({ length: rows.reduce((n, runs) => n + runs.length / 2, 0) }, (_, k) => k);
  let done = 0;
  for (let row = 1; row < rows.length; row++) {
    const [older, newer] = [rows[row - 1]!, rows[row]!];
    const next = done + older.length / 2;
    // Both rows' runs from left to right; two that overlap hang together where any cell of theirs does.
    for (let o = 0, n = 0; o < older.length && n < newer.length; ) {
      const low = Math.max(older[o]! + map.columns, newer[n]!);
      const high = Math.min(older[o + 1]! + map.columns, newer[n + 1]!);
      for (let i = low; i < high; i++) {
        if (!isJoined(map, i - map.columns, i)) continue;
        join(above, done + o / 2, next + n / 2);
        break;
      }
      if (older[o + 1]! + map.columns < newer[n + 1]!) o += 2;
      else n += 2;
    }
    done = next;
  }
  return above;
};

/** All connected pieces, in the order of their first cells. */
export const piecesOf = (
  map: HeightMap,
  isWanted: (cell: number) => boolean,
  rows: RowRuns = runsOf(map),
): readonly Piece[] => {
  const above = rootsOf(map, rows);
  const pieces: {
    cells: number;
    columns: [number, number];
    rows: [number, number];
    at: number;
    wanted: boolean;
    runs: number[];
  }[] = [];
  const numbers = new Int32Array(above.length);
  let run = 0;
  rows.forEach((runs, row) => {
    for (let k = 0; k < runs.length; k += 2, run++) {
      const [from, to] = [runs[k]!, runs[k + 1]!];
      const root = rootOf(above, run);
      const [low, high] = [from - row * map.columns, to - 1 - row * map.columns];
      if (root === run) {
        numbers[run] = pieces.length;
        pieces.push({ cells: 0, columns: [low, high], rows: [row, row], at: from, wanted: false, runs: [] });
      }
      const piece = pieces[numbers[root]!]!;
      piece.cells += to - from;
      piece.columns[0] = Math.min(piece.columns[0], low);
      piece.columns[1] = Math.max(piece.columns[1], high);
      piece.rows[1] = row;
      for (let i = from; i < to && !piece.wanted; i++) piece.wanted = isWanted(i);
      piece.runs.push(from, to);
    }
  });
  return pieces;
};

/** Takes away every piece in which nothing is wanted: it falls off when the work is unclamped. */
export const dropLoosePieces = (
  map: HeightMap,
  isWanted: (cell: number) => boolean,
  rows: RowRuns = runsOf(map),
): void => {
  for (const piece of piecesOf(map, isWanted, rows)) {
    if (piece.wanted) continue;
    for (let k = 0; k < piece.runs.length; k += 2) {
      const [from, to] = [piece.runs[k]!, piece.runs[k + 1]!];
      map.top.set(map.bottom.subarray(from, to), from);
    }
  }
};
