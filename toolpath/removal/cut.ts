import type { Cutter } from '../machine/cutter.ts';
import { type Frame, toPart } from '../route/frame.ts';
import type { CellBox, HeightMap } from './height-map.ts';
import { arcBox } from './level-arc.ts';
import { type Stroke, strokeInPart } from './stroke.ts';

/** One motion with the cutter that makes it and the setup it is made in. */
export interface Cut {
  readonly stroke: Stroke;
  readonly cutter: Pick<Cutter, 'kind' | 'diameter' | 'pointAngle'>;
  readonly frame: Frame;
}

export const NO_CELLS: CellBox = {
  i0: Number.POSITIVE_INFINITY,
  j0: Number.POSITIVE_INFINITY,
  i1: Number.NEGATIVE_INFINITY,
  j1: Number.NEGATIVE_INFINITY,
};

export const isEmptyBox = (box: CellBox): boolean => box.i1 < box.i0 || box.j1 < box.j0;

export const bothBoxes = (a: CellBox, b: CellBox): CellBox => ({
  i0: Math.min(a.i0, b.i0),
  j0: Math.min(a.j0, b.j0),
  i1: Math.max(a.i1, b.i1),
  j1: Math.max(a.j1, b.j1),
});

export const boxesMeet = (a: CellBox, b: CellBox): boolean =>
  a.i0 <= b.i1 && b.i0 <= a.i1 && a.j0 <= b.j1 && b.j0 <= a.j1;

/** All that a cut's effect on a map goes by, as text: of two cuts with the same, either stands for the other. */
export const cutKey = ({ stroke, cutter, frame }: Cut): string => {
  const { from, to, centre, sweep } = stroke;
  const arc = stroke.kind === 'arc' && centre ? `${centre.x},${centre.y},${sweep}` : '';
  const tool = `${cutter.kind},${cutter.diameter},${cutter.pointAngle}`;
  const { face, zero } = frame;
  return `${from.x},${from.y},${from.z},${to.x},${to.y},${to.z};${arc};${tool};${face},${zero.x},${zero.y},${zero.z}`;
};

/** Whether a stroke in the part's coordinates stays over all that can stand. */
const isOver = ({ from, to }: Stroke, { face }: Frame, thickness: number): boolean =>
  face === 'front' ? Math.min(from.z, to.z) >= thickness : Math.max(from.z, to.z) <= 0;

/** The same of a cut. */
export const staysOver = ({ stroke, frame }: Cut, thickness: number): boolean =>
  isOver({ ...stroke, from: toPart(frame, stroke.from), to: toPart(frame, stroke.to) }, frame, thickness);

/** The cells that a cut may touch, and one more all round; none of one that stays over all that can stand. */
export const cellsUnder = ({ stroke, cutter, frame }: Cut, map: HeightMap, thickness: number): CellBox => {
  const s = strokeInPart(stroke, frame);
  if (isOver(s, frame, thickness)) return NO_CELLS;
  const { from, to, centre } = s;
  const box =
    s.kind === 'arc' && centre !== undefined && s.sweep !== undefined
      ? arcBox(centre, Math.hypot(from.x - centre.x, from.y - centre.y), { ...from, u: 0 }, s.sweep)
      : { x0: from.x, x1: from.x, y0: from.y, y1: from.y };
  const reach = cutter.diameter / 2 + map.cell;
  const column = (x: number): number => Math.floor((x - map.x0) / map.cell);
  const row = (y: number): number => Math.floor((y - map.y0) / map.cell);
  return {
    i0: Math.max(0, column(Math.min(box.x0, to.x) - reach)),
    j0: Math.max(0, row(Math.min(box.y0, to.y) - reach)),
    i1: Math.min(map.columns - 1, column(Math.max(box.x1, to.x) + reach)),
    j1: Math.min(map.rows - 1, row(Math.max(box.y1, to.y) + reach)),
  };
};

/**
 * Whether a cut may touch any of the cells: nearer than `cellsUnder`, for an arc that goes round them and a line that
 * passes them by do not.
 */
export const mayTouch = (cut: Cut, cells: CellBox, map: HeightMap, thickness: number): boolean => {
  if (isEmptyBox(cells)) return false;
  const under = cellsUnder(cut, map, thickness);
  if (isEmptyBox(under) || !boxesMeet(under, cells)) return false;
  const s = strokeInPart(cut.stroke, cut.frame);
  const reach = cut.cutter.diameter / 2 + map.cell;
  const x0 = map.x0 + cells.i0 * map.cell;
  const x1 = map.x0 + (cells.i1 + 1) * map.cell;
  const y0 = map.y0 + cells.j0 * map.cell;
  const y1 = map.y0 + (cells.j1 + 1) * map.cell;
  if (s.kind === 'arc' && s.centre !== undefined && s.sweep !== undefined) {
    const r = Math.hypot(s.from.x - s.centre.x, s.from.y - s.centre.y);
    const { x, y } = s.centre;
    const near = Math.hypot(Math.max(x0 - x, 0, x - x1), Math.max(y0 - y, 0, y - y1));
    const far = Math.hypot(Math.max(x - x0, x1 - x), Math.max(y - y0, y1 - y));
    return near <= r + reach && far >= r - reach;
  }
  // What of the line lies over the cells grown by its reach.
  let first = 0;
  let last = 1;
  for (const [from, to, low, high] of [
    [s.from.x, s.to.x, x0 - reach, x1 + reach],
    [s.from.y, s.to.y, y0 - reach, y1 + reach],
  ] as const) {
    if (from === to) continue;
    const [a, b] = [(low - from) / (to - from), (high - from) / (to - from)];
    first = Math.max(first, Math.min(a, b));
    last = Math.min(last, Math.max(a, b));
  }
  return first <= last;
};
