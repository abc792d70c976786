import type { Box, Point } from '../shape/point.ts';
import { LETTER_HEIGHT, type Stroke } from './ink.ts';
import type { Pen } from './pen.ts';

/** Thin lines and words beside the pencil while something is under way, mm. */
export interface Construction {
  readonly at: Point;
  /** The first is the size, the rest what it caught on. */
  readonly words: readonly string[];
  /** From what it is in line with, to it. */
  readonly guides: readonly (readonly [Point, Point])[];
  /** A box drawn round things to pick them. */
  readonly box: Box | null;
}

const GUIDE: Stroke = { role: 'picked', weight: 'hair', dash: 'rapid' };
const MARK: Stroke = { role: 'picked', weight: 'thin' };

export const drawConstruction = (pen: Pen, c: Construction): void => {
  const at = pen.at(c.at);
  for (const [from, to] of c.guides) pen.polyline([pen.at(from), pen.at(to)], GUIDE);
  if (c.box) {
    const a = pen.at(c.box.min);
    const b = pen.at(c.box.max);
    const corners = [a, { x: b.x, y: a.y }, b, { x: a.x, y: b.y }];
    pen.patch(corners, { role: 'picked', opacity: 0.08 }, GUIDE);
    return;
  }
  pen.polyline(
    [
      { x: at.x - 7, y: at.y },
      { x: at.x + 7, y: at.y },
    ],
    MARK,
  );
  pen.polyline(
    [
      { x: at.x, y: at.y - 7 },
      { x: at.x, y: at.y + 7 },
    ],
    MARK,
  );
  // Words stand above the pencil, clear of a finger, and turn inward at the right edge.
  const free = pen.viewport.width - pen.viewport.covered.right;
  const align = at.x > free - 240 ? 'right' : 'left';
  const x = at.x + (align === 'left' ? 14 : -14);
  c.words.forEach((words, i) => {
    const y = at.y - 22 - (c.words.length - 1 - i) * (LETTER_HEIGHT + 6);
    pen.text({ x, y }, words, { align, role: 'picked', bold: i === 0 && c.words.length > 1, clear: true });
  });
};
