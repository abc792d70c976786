import type { Pen } from '../../sketch/canvas/pen.ts';
import type { Bar } from '../../sketch/part/part.ts';
import { intersection } from '../../sketch/shape/boolean.ts';
import { offset } from '../../sketch/shape/offset.ts';
import type { Point } from '../../sketch/shape/point.ts';
import { disc, polygon, rectangle } from '../../sketch/shape/region.ts';
import { frameOf } from '../route/frame.ts';
import { packingCorners } from '../route/packing.ts';
import { feetOf } from '../route/plate.ts';
import type { PlateHold, Setup, ViceHold } from '../route/route.ts';

/** How deep a jaw is drawn, seen from above, mm. */
const JAW = 6;
/** How far a clamp is drawn beyond the bar, mm, and how far below a foot its name stands. */
const CLAMP = 12;
const BELOW = 2;

/** What holds the work, from above. */
export const inkHold = (pen: Pen, bar: Bar, { hold }: Setup): void => {
  if (hold.kind === 'vice') inkVice(pen, bar, hold);
  else inkPlate(pen, bar, hold);
};

/** Glue as a dotted line round the bar; heads of screws and clamps as they stand on it, each with its pad. */
const inkPlate = (pen: Pen, bar: Bar, hold: PlateHold): void => {
  if (hold.fastening.kind === 'tape') {
    const low = { x: bar.corner.x - bar.sawn, y: bar.corner.y };
    const high = { x: bar.corner.x + bar.length + bar.sawn, y: bar.corner.y + bar.width };
    pen.region(offset(rectangle(low, high), 1), { stroke: { role: 'soft', weight: 'thin', dash: 'hidden' } });
    pen.text(pen.at({ x: (low.x + high.x) / 2, y: high.y + JAW / 2 }), 'taped and glued', { role: 'ink' });
    return;
  }
  const shown = rectangle(
    { x: bar.corner.x - bar.sawn - CLAMP, y: bar.corner.y - CLAMP },
    { x: bar.corner.x + bar.length + bar.sawn + CLAMP, y: bar.corner.y + bar.width + CLAMP },
  );
  for (const foot of feetOf(hold, bar)) {
    pen.region(intersection(foot.region, shown), {
      fill: { role: 'jaw', opacity: 0.35 },
      stroke: { role: 'ink', weight: 'thin' },
    });
    if (foot.kind === 'clamp') {
      pen.region(disc(foot.at, foot.pad / 2), { stroke: { role: 'soft', weight: 'thin', dash: 'hidden' } });
    }
    pen.text(pen.at({ x: foot.at.x, y: foot.at.y - foot.pad - BELOW }), foot.kind, { role: 'ink' });
  }
};

/** Packing: blocks are hidden under the work, pieces in forks are seen. */
const inkPacking = (pen: Pen, bar: Bar, { packing = [] }: ViceHold): void => {
  for (const piece of packing) {
    const corners = packingCorners(piece, bar);
    const region = { contours: [polygon(corners)] };
    const under = piece.kind === 'block';
    pen.region(region, {
      ...(under ? {} : { fill: { role: 'jaw', opacity: 0.35 } }),
      stroke: { role: under ? 'soft' : 'ink', weight: 'thin', ...(under ? { dash: 'hidden' } : {}) },
    });
    const [a, b] = [corners[0]!, corners[2]!];
    const name = under ? 'block under it' : 'packing';
    pen.text(pen.at({ x: (a.x + b.x) / 2, y: under ? a.y + BELOW : (a.y + b.y) / 2 }), name, { role: 'ink' });
  }
};

const inkVice = (pen: Pen, bar: Bar, hold: ViceHold): void => {
  const { jaws, parallels } = hold;
  inkPacking(pen, bar, hold);

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
