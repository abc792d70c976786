import paper from 'paper/dist/paper-core';
import { onSheet, type Placement } from '../draft/tracing.ts';
import type { Point } from '../shape/point.ts';
import type { Segment } from '../shape/segment.ts';
import type { Stroke } from './ink.ts';
import type { Pen } from './pen.ts';

/** What lies under the sheet to be drawn over: a picture, or the lines of a drawing about its middle, mm. */
export type Traced =
  | { readonly kind: 'picture'; readonly picture: HTMLCanvasElement }
  | { readonly kind: 'lines'; readonly lines: readonly Segment[] };

const LINE: Stroke = { role: 'soft', weight: 'thin' };

export const drawUnderlay = (pen: Pen, traced: Traced, placement: Placement): void => {
  switch (traced.kind) {
    case 'picture':
      drawPicture(pen, traced.picture, placement);
      return;
    case 'lines': {
      const group = new paper.Group();
      const before = paper.project.activeLayer.children.length;
      for (const s of traced.lines) pen.chain([laid(s, placement)], LINE);
      group.addChildren(paper.project.activeLayer.children.slice(before));
      group.opacity = placement.strength;
    }
  }
};

const drawPicture = (pen: Pen, picture: HTMLCanvasElement, placement: Placement): void => {
  const raster = new paper.Raster(picture);
  const middle = pen.at(placement.middle);
  const k = placement.scale * pen.camera.scale;
  const c = Math.cos(placement.turn) * k;
  const s = Math.sin(placement.turn) * k;
  // The picture's own Y runs down, as the window's does; a sheet that is turned over turns the picture with it.
  const over = pen.camera.turned ? -1 : 1;
  raster.matrix = new paper.Matrix(c, -s * over, s, c * over, middle.x, middle.y);
  raster.opacity = placement.strength;
};

const laid = (s: Segment, placement: Placement): Segment => {
  const put = (p: Point): Point => onSheet(placement, p);
  return s.kind === 'line'
    ? { ...s, from: put(s.from), to: put(s.to) }
    : { ...s, from: put(s.from), to: put(s.to), centre: put(s.centre) };
};
