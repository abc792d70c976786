import type { Box, Point } from '../shape/point.ts';

/**
 * How the sheet is looked at. `centre` (part coordinates, mm) lies in the middle of the free part of the window;
 * `scale` is screen pixels per mm. When the work is turned over about the X axis, so is the sheet: about `axis`,
 * the height of the bar's middle, so that the bar keeps its place.
 */
export interface Camera {
  readonly scale: number;
  readonly centre: Point;
  readonly turned: boolean;
  readonly axis: number;
}

export const sameCamera = (a: Camera, b: Camera): boolean =>
  a.scale === b.scale &&
  a.centre.x === b.centre.x &&
  a.centre.y === b.centre.y &&
  a.turned === b.turned &&
  a.axis === b.axis;

/** The window in pixels and what covers its edges. */
export interface Viewport {
  readonly width: number;
  readonly height: number;
  readonly covered: {
    readonly left: number;
    readonly top: number;
    readonly right: number;
    readonly bottom: number;
  };
}

const LEAST_SCALE = 0.5;
const MOST_SCALE = 400;

/** Middle of the free part of the window, pixels. */
export const middleOf = (v: Viewport): Point => ({
  x: (v.covered.left + v.width - v.covered.right) / 2,
  y: (v.covered.top + v.height - v.covered.bottom) / 2,
});

/** A place of the part in pixels from the window's top left. */
export const toScreen = (c: Camera, v: Viewport, p: Point): Point => {
  const m = middleOf(v);
  const y = c.turned ? 2 * c.axis - p.y : p.y;
  return { x: m.x + (p.x - c.centre.x) * c.scale, y: m.y - (y - c.centre.y) * c.scale };
};

/** The place of the part under a pixel. */
export const toSheet = (c: Camera, v: Viewport, p: Point): Point => {
  const m = middleOf(v);
  const y = c.centre.y - (p.y - m.y) / c.scale;
  return { x: c.centre.x + (p.x - m.x) / c.scale, y: c.turned ? 2 * c.axis - y : y };
};

/** Nearer (`factor` > 1) or farther, with the place under `pixel` staying put. */
export const zoomAt = (c: Camera, v: Viewport, pixel: Point, factor: number): Camera => {
  const scale = Math.min(MOST_SCALE, Math.max(LEAST_SCALE, c.scale * factor));
  const m = middleOf(v);
  const k = 1 / c.scale - 1 / scale;
  return {
    ...c,
    scale,
    centre: { x: c.centre.x + (pixel.x - m.x) * k, y: c.centre.y - (pixel.y - m.y) * k },
  };
};

/** The drawing pushed along by pixels. */
export const panBy = (c: Camera, dx: number, dy: number): Camera => ({
  ...c,
  centre: { x: c.centre.x - dx / c.scale, y: c.centre.y + dy / c.scale },
});

/** The whole box in view with room around it for dimensions, pixels. */
export const fitBox = (box: Box, v: Viewport, turned: boolean, axis: number): Camera => {
  const free = {
    x: Math.max(80, v.width - v.covered.left - v.covered.right),
    y: Math.max(80, v.height - v.covered.top - v.covered.bottom),
  };
  const room = { x: Math.min(190, free.x * 0.3), y: Math.min(220, free.y * 0.62) };
  const w = Math.max(1, box.max.x - box.min.x);
  const h = Math.max(1, box.max.y - box.min.y);
  const scale = Math.min((free.x - room.x) / w, (free.y - room.y) / h);
  const middle = (box.min.y + box.max.y) / 2;
  return {
    scale: Math.min(MOST_SCALE, Math.max(LEAST_SCALE, scale)),
    centre: { x: (box.min.x + box.max.x) / 2, y: turned ? 2 * axis - middle : middle },
    turned,
    axis,
  };
};
