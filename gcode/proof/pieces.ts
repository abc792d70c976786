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

/** All connected pieces, and for each cell the label of its piece (0 for no material). */
export const piecesOf = (
  map: HeightMap,
  isWanted: (cell: number) => boolean,
): { readonly pieces: readonly Piece[]; readonly labels: Int32Array } => {
  const labels = new Int32Array(map.top.length);
  const pieces: Piece[] = [];
  const stack: number[] = [];
  for (let start = 0; start < labels.length; start++) {
    if (labels[start] !== 0 || !isMaterial(map, start)) continue;
    const label = pieces.length + 1;
    labels[start] = label;
    stack.push(start);
    let cells = 0;
    let wanted = false;
    let c0 = map.columns;
    let c1 = 0;
    let r0 = map.rows;
    let r1 = 0;
    while (stack.length > 0) {
      const cell = stack.pop()!;
      const column = cell % map.columns;
      const row = (cell - column) / map.columns;
      cells++;
      if (!wanted && isWanted(cell)) wanted = true;
      if (column < c0) c0 = column;
      if (column > c1) c1 = column;
      if (row < r0) r0 = row;
      if (row > r1) r1 = row;
      const step = (to: number): void => {
        if (labels[to] !== 0 || !isMaterial(map, to) || !isJoined(map, cell, to)) return;
        labels[to] = label;
        stack.push(to);
      };
      if (column > 0) step(cell - 1);
      if (column < map.columns - 1) step(cell + 1);
      if (row > 0) step(cell - map.columns);
      if (row < map.rows - 1) step(cell + map.columns);
    }
    pieces.push({ label, cells, columns: [c0, c1], rows: [r0, r1], at: start, wanted });
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
