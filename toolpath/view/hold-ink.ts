import type { Pen } from '../../sketch/canvas/pen.ts';
import type { Bar } from '../../sketch/part/part.ts';
import type { Point } from '../../sketch/shape/point.ts';
import { rectangle } from '../../sketch/shape/region.ts';
import { frameOf } from '../route/frame.ts';
import type { Setup } from '../route/route.ts';

/** How deep a jaw is drawn, seen from above, mm. */
const JAW = 6;

/** Jaws and parallels from above. */
export const inkHold = (pen: Pen, bar: Bar, setup: Setup): void => {
  const { jaws, parallels } = setup.hold;
  const low = bar.corner.y;
  const high = low + bar.width;
  for (const [y0, y1] of [
    [low - JAW, low],
    [high, high + JAW],
  ] as const) {
    pen.region(rectangle({ x: jaws.from, y: y0 }, { x: jaws.to, y: y1 }), {
      fill: { role: 'jaw', opacity: 0.35 },
      stroke: { role: 'ink', weight: 'thin' },
    });
  }
  const middleX = Math.min(bar.corner.x + bar.length / 2, jaws.to);
  for (const y of [low - JAW / 2, high + JAW / 2])
    pen.text(pen.at({ x: middleX, y }), 'jaw', { role: 'ink' });
  if (!parallels) return;
  const middle = low + bar.width / 2;
  for (const side of [-1, 1]) {
    const y = middle + side * parallels.offset;
    const half = parallels.thickness / 2;
    pen.region(rectangle({ x: jaws.from, y: y - half }, { x: jaws.to, y: y + half }), {
      stroke: { role: 'soft', weight: 'thin', dash: 'hidden' },
    });
  }
};

/** The datum: a quartered circle on program zero, with the ways X and Y grow. */
export const inkDatum = (pen: Pen, bar: Bar, setup: Setup): void => {
  const zero = pen.at(frameOf(bar, setup.face, setup.datum).zero);
  const r = 9;
  const quarter = (a: number): Point[] => [
    zero,
    ...Array.from({ length: 9 }, (_, i) => ({
      x: zero.x + r * Math.cos(a + (i * Math.PI) / 16),
      y: zero.y + r * Math.sin(a + (i * Math.PI) / 16),
    })),
  ];
  const ring = Array.from({ length: 37 }, (_, i) => ({
    x: zero.x + r * Math.cos((i * Math.PI) / 18),
    y: zero.y + r * Math.sin((i * Math.PI) / 18),
  }));
  pen.patch(ring, { role: 'paper' }, { role: 'ink', weight: 'thin' });
  pen.patch(quarter(0), { role: 'ink' });
  pen.patch(quarter(Math.PI), { role: 'ink' });
  const reach = 46;
  // The arrows stand a little off, so that they are not lost on the work's own edges.
  const off = 16;
  for (const [name, way, from] of [
    ['X', { x: 1, y: 0 }, { x: zero.x, y: zero.y + off }],
    ['Y', { x: 0, y: -1 }, { x: zero.x - off, y: zero.y }],
  ] as const) {
    const tip = { x: from.x + way.x * reach, y: from.y + way.y * reach };
    pen.polyline([from, tip], { role: 'ink', weight: 'thin' });
    pen.arrow(tip, Math.atan2(way.y, way.x), 'ink', 12);
    pen.text({ x: tip.x + way.x * 10, y: tip.y + way.y * 11 }, name, { bold: true });
  }
};
