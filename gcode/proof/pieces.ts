import type { HeightMap } from '../../toolpath/removal/height-map.ts';

/** Cells whose material touches over less than this height are not joined, mm. */
const JOINED = 1e-4;

export const isMaterial = (map: HeightMap, i: number): boolean => map.top[i]! > map.bottom[i]!;

/** Whether the material of two neighbouring cells meets. */
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
    if (reached[to] === 1 || !isMaterial(map, to) || !isJoined(map, from, to) || !open(to)) return;
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

/** One connected piece of what is left. */
export interface Piece {
  /** 1 and on; the number its cells carry in `labels`. */
  readonly label: number;
  readonly cells: number;
  /** Its extent in cells. */
  readonly columns: readonly [number, number];
  readonly rows: readonly [number, number];
  /** A cell of it. */
  readonly at: number;
  /** Whether any of it is wanted. */
  readonly wanted: boolean;
}

/** Runs of joined cells along the rows, from the first to before the last; runs that hang together have one root. */
interface Runs {
  readonly first: number[];
  readonly end: number[];
  readonly above: number[];
}

const rootOf = (above: number[], run: number): number => {
  let at = run;
  while (above[at] !== at) {
    above[at] = above[above[at]!]!;
    at = above[at]!;
  }
  return at;
};

/** The earlier run stays the root, so that a piece's root is the run of its first cell. */
const join = (above: number[], a: number, b: number): void => {
  const [x, y] = [rootOf(above, a), rootOf(above, b)];
  if (x < y) above[y] = x;
  else above[x] = y;
};

const runsOf = (map: HeightMap): Runs => {
  const { columns, rows } = map;
  const first: number[] = [];
  const end: number[] = [];
  const above: number[] = [];
  let older = 0;
  for (let row = 0; row < rows; row++) {
    const newer = first.length;
    const stop = (row + 1) * columns;
    for (let i = row * columns; i < stop; ) {
      if (!isMaterial(map, i)) {
        i++;
        continue;
      }
      above.push(first.length);
      first.push(i++);
      while (i < stop && isMaterial(map, i) && isJoined(map, i - 1, i)) i++;
      end.push(i);
    }
    // Both rows' runs from left to right; two that overlap hang together where any cell of theirs does.
    for (let o = older, n = newer; o < newer && n < first.length; ) {
      const low = Math.max(first[o]! + columns, first[n]!);
      const high = Math.min(end[o]! + columns, end[n]!);
      for (let i = low; i < high; i++) {
        if (!isJoined(map, i - columns, i)) continue;
        join(above, o, n);
        break;
      }
      if (end[o]! + columns < end[n]!) o++;
      else n++;
    }
    older = newer;
  }
  return { first, end, above };
};

/** All connected pieces, and for each cell the label of its piece (0 for no material). */
export const piecesOf = (
  map: HeightMap,
  isWanted: (cell: number) => boolean,
): { readonly pieces: readonly Piece[]; readonly labels: Int32Array } => {
  const labels = new Int32Array(map.top.length);
  const { first, end, above } = runsOf(map);
  const pieces: {
    label: number;
    cells: number;
    columns: [number, number];
    rows: [number, number];
    at: number;
    wanted: boolean;
  }[] = [];
  const numbers = new Int32Array(first.length);
  for (let run = 0; run < first.length; run++) {
    const [from, to] = [first[run]!, end[run]!];
    const root = rootOf(above, run);
    const row = Math.floor(from / map.columns);
    const [low, high] = [from - row * map.columns, to - 1 - row * map.columns];
    if (root === run) {
      numbers[run] = pieces.length;
      const label = pieces.length + 1;
      pieces.push({ label, cells: 0, columns: [low, high], rows: [row, row], at: from, wanted: false });
    }
    const piece = pieces[numbers[root]!]!;
    piece.cells += to - from;
    piece.columns[0] = Math.min(piece.columns[0], low);
    piece.columns[1] = Math.max(piece.columns[1], high);
    piece.rows[1] = row;
    for (let i = from; i < to && !piece.wanted; i++) piece.wanted = isWanted(i);
    labels.fill(piece.label, from, to);
  }
  return { pieces, labels };
};

/** Takes away every piece in which nothing is wanted: it falls off when the work is unclamped. */
export const dropLoosePieces = (map: HeightMap, isWanted: (cell: number) => boolean): void => {
  const { pieces, labels } = piecesOf(map, isWanted);
  const gone = new Set(pieces.filter((p) => !p.wanted).map((p) => p.label));
  if (gone.size === 0) return;
  for (let i = 0; i < labels.length; i++) if (gone.has(labels[i]!)) map.top[i] = map.bottom[i]!;
};
