import type { Pen } from './pen.ts';
import type { CutLine } from './section.ts';

/** The line of the side section: a chain line, heavy at its ends, with arrows the way one looks (ISO 128). */
export const drawCut = (pen: Pen, cut: CutLine): void => {
  const a = pen.at(cut.from);
  const b = pen.at(cut.to);
  const l = Math.hypot(b.x - a.x, b.y - a.y);
  if (l < 1) return;
  const u = { x: (b.x - a.x) / l, y: (b.y - a.y) / l };
  // One looks from below the line as drawn, so that the section lies the right way up beneath it.
  const look = { x: u.y, y: -u.x };
  pen.polyline([a, b], { role: 'ink', weight: 'hair', dash: 'centre' });
  for (const [end, way] of [
    [a, 1],
    [b, -1],
  ] as const) {
    const inner = { x: end.x + u.x * 26 * way, y: end.y + u.y * 26 * way };
    pen.polyline([end, inner], { role: 'ink', weight: 'heavy' });
    const tail = { x: end.x - look.x * 34, y: end.y - look.y * 34 };
    pen.polyline([tail, { x: end.x - look.x * 15, y: end.y - look.y * 15 }], { role: 'ink', weight: 'thin' });
    pen.arrow({ x: end.x - look.x * 15, y: end.y - look.y * 15 }, Math.atan2(look.y, look.x), 'ink', 10);
  }
};
