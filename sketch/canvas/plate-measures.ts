import type { End, Part } from '../part/part.ts';
import { type Box, dot, type Point, subtract } from '../shape/point.ts';
import { type Region, signedDistance } from '../shape/region.ts';
import type { Book, Place } from './book.ts';
import { auxiliary } from './dimension.ts';

const SAME = 2e-3;

/** Length and height of upright plates, the corners of others, and where each lies. */
export const plateMeasures = (book: Book, part: Part, outline: Region): void => {
  for (const plate of part.plates) {
    const corner = (i: number): Place => ({ feature: plate.name, point: i, at: plate.corners[i]! });
    if (isUpright(plate.corners)) {
      const [low, beside, far] = [corner(0), corner(1), corner(2)];
      book.along('x', plate.name, low, beside);
      book.along('y', plate.name, beside, far);
      // A plate that lies evenly about a centre line is drawn so, and needs no more.
      for (const axis of ['x', 'y'] as const) {
        const middle = (low.at[axis] + far.at[axis]) / 2;
        const onLine =
          part.ends.some((e) => Math.abs(e.centre[axis] - middle) < SAME) ||
          part.forks.some((f) => Math.abs(f.mouth[axis] - middle) < SAME);
        if (onLine) book[axis].join(middle, low.at[axis]);
      }
      book.locate(low);
      continue;
    }
    plate.corners.forEach((c, i) => {
      if (signedDistance(outline, c) > -SAME) book.locate(corner(i));
    });
  }
};

/** Four corners, lower left first, sides along X and Y. */
const isUpright = (corners: readonly Point[]): boolean =>
  corners.length === 4 &&
  Math.abs(corners[0]!.y - corners[1]!.y) < SAME &&
  Math.abs(corners[1]!.x - corners[2]!.x) < SAME &&
  Math.abs(corners[2]!.y - corners[3]!.y) < SAME &&
  Math.abs(corners[3]!.x - corners[0]!.x) < SAME &&
  corners[0]!.x < corners[1]!.x;

/**
 * The part's length and height over all. Nearly always they follow from what stands there already, and are then in
 * brackets, for whoever picks the bar; a size that is there already, or is a round end's diameter, is not repeated.
 */
export const overallMeasures = (book: Book, box: Box, shown: readonly End[]): void => {
  const corner = { x: box.max.x, y: box.min.y };
  for (const axis of ['x', 'y'] as const) {
    const [from, to] = axis === 'x' ? [box.min, corner] : [corner, box.max];
    const size = to[axis] - from[axis];
    const along = axis === 'x' ? { x: 1, y: 0 } : { x: 0, y: 1 };
    const isSaid = book.entries.some(
      (d) =>
        d.kind === 'linear' &&
        Math.abs(dot(d.along, along)) > 1 - 1e-9 &&
        Math.abs(Math.abs(dot(subtract(d.to, d.from), along)) - size) < SAME,
    );
    const isRound = shown.some((e) => Math.abs(2 * e.radius - size) < SAME);
    if (isSaid || isRound) continue;
    const follows = book[axis].joined(from[axis], to[axis]);
    const text = book.say(size);
    book[axis].join(from[axis], to[axis]);
    book.add({
      kind: 'linear',
      feature: '',
      from,
      to,
      along,
      text: follows ? auxiliary(text) : text,
      overall: true,
      measures: { kind: 'overall', along: axis },
    });
  }
};
