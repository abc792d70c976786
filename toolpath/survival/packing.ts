import { copyMap, type HeightMap } from '../removal/height-map.ts';
import type { Hold, Packing } from '../route/route.ts';
import type { Grid } from './elasticity/grid.ts';
import { patchMovement } from './elasticity/load.ts';
import { nodesFacing } from './elasticity/nodes.ts';
import { patchAt } from './elasticity/patch.ts';

type ForkPiece = Extract<Packing, { kind: 'fork' }>;

export const forkPieces = (hold: Hold): readonly ForkPiece[] =>
  hold.kind === 'vice' ? (hold.packing ?? []).filter((p) => p.kind === 'fork') : [];

/** Nodes of the underside that blocks carry; `up` is 1 where the front is up. */
export const blockNodes = (grid: Grid, hold: Hold, up: 1 | -1): readonly number[] =>
  hold.kind !== 'vice'
    ? []
    : (hold.packing ?? []).flatMap((p) =>
        p.kind === 'block' ? [...nodesFacing(grid, up > 0 ? '-z' : '+z', { x0: p.from, x1: p.to })] : [],
      );

/** Heights that a piece in a fork fills, part coordinates, mm. */
export interface Band {
  readonly low: number;
  readonly high: number;
}

/** Heights nearer than this are one, mm. */
const SAME = 1e-3;

/**
 * The stock with packing in its forks, over the height that the jaws grip, or from there to a web: taken to be as stiff as the work and to stick
 * to it, so it is only right while the fork is pressed closed. Null where there is nothing to fill.
 */
export const packedMap = (map: HeightMap, hold: Hold, { low, high }: Band): HeightMap | null => {
  const pieces = forkPieces(hold);
  if (pieces.length === 0) return null;
  const packed = copyMap(map);
  let filled = 0;
  for (let i = 0; i < map.top.length; i++) {
    const standing = map.top[i]! > map.bottom[i]!;
    if (standing && map.bottom[i]! <= low + SAME && map.top[i]! >= high - SAME) continue;
    const x = map.x0 + ((i % map.columns) + 0.5) * map.cell;
    const y = map.y0 + (Math.floor(i / map.columns) + 0.5) * map.cell;
    if (!pieces.some((piece) => isIn(piece, x, y, map.cell))) continue;
    packed.bottom[i] = standing ? Math.min(low, map.bottom[i]!) : low;
    packed.top[i] = standing ? Math.max(high, map.top[i]!) : high;
    filled++;
  }
  return filled === 0 ? null : packed;
};

/** Along the fork from its mouth, and across it. */
const inFork = ({ mouth, direction }: ForkPiece, x: number, y: number): readonly [number, number] => {
  const [c, s] = [Math.cos(direction), Math.sin(direction)];
  return [(x - mouth.x) * c + (y - mouth.y) * s, (y - mouth.y) * c - (x - mouth.x) * s];
};

const isIn = (piece: ForkPiece, x: number, y: number, cell: number): boolean => {
  const [along, across] = inFork(piece, x, y);
  return along >= 0 && along <= piece.length && Math.abs(across) <= piece.width / 2 + cell;
};

/** How far inside a tine one measures, mm. */
const INSIDE = 0.5;

/** Whether a movement closes any packed fork, so that its piece is pressed. */
export const isPressed = (grid: Grid, movement: Float64Array, hold: Hold, { low, high }: Band): boolean =>
  forkPieces(hold).some((piece) => {
    const [c, s] = [Math.cos(piece.direction), Math.sin(piece.direction)];
    const moved = [-1, 1].map((side) => {
      const out = side * (piece.width / 2 + INSIDE);
      const at = [
        piece.mouth.x + (c * piece.length) / 2 - s * out,
        piece.mouth.y + (s * piece.length) / 2 + c * out,
        (low + high) / 2,
      ] as const;
      const patch = patchAt(grid, at, INSIDE);
      if (patch === undefined) return 0;
      const [dx, dy] = patchMovement(patch, movement);
      return -s * dx + c * dy;
    });
    return moved[0]! - moved[1]! > 0;
  });
