import type { Bar } from '../../sketch/part/part.ts';
import type { Point } from '../../sketch/shape/point.ts';
import type { Packing } from './route.ts';

/** The corners of a packing piece from above, in the drawing's X and Y, mm: a block reaches across the bar. */
export const packingCorners = (piece: Packing, bar: Bar): readonly Point[] => {
  if (piece.kind === 'block') {
    const [low, high] = [bar.corner.y, bar.corner.y + bar.width];
    return [
      { x: piece.from, y: low },
      { x: piece.to, y: low },
      { x: piece.to, y: high },
      { x: piece.from, y: high },
    ];
  }
  const { mouth, direction, width, length } = piece;
  const [c, s] = [Math.cos(direction), Math.sin(direction)];
  const at = (along: number, across: number): Point => ({
    x: mouth.x + c * along - s * across,
    y: mouth.y + s * along + c * across,
  });
  return [at(0, -width / 2), at(length, -width / 2), at(length, width / 2), at(0, width / 2)];
};
