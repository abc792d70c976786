import { effect, type Signal, signal } from '@preact/signals';
import paper from 'paper/dist/paper-core';
import type { Box, Point } from '../shape/point.ts';
import { type Camera, fitBox, panBy, toSheet, type Viewport, zoomAt } from './camera.ts';
import { listenForGestures } from './gestures.ts';
import { Pen } from './pen.ts';

/** Draws one layer of the sheet. It may read signals: the layer is drawn again when one of them changes. */
export type Painter = (pen: Pen) => void;

/** The sheet of paper that fills the window: one drawing, in layers, seen through one camera. */
export interface Sheet {
  readonly camera: Signal<Camera>;
  readonly viewport: Signal<Viewport>;
  /** Puts a layer over those already there. */
  addLayer(paint: Painter): void;
  /** The box in view, the work turned over or not. */
  fit(box: Box, turned: boolean, axis: number): void;
  zoom(factor: number): void;
  pan(dx: number, dy: number): void;
}

export interface SheetEvents {
  /** A click or tap that was not a drag: the place in the part's mm. `reach` is a finger's width there, mm. */
  readonly onPick: (at: Point, reach: number) => void;
  readonly onFit: () => void;
}

export const createSheet = (canvas: HTMLCanvasElement, events: SheetEvents): Sheet => {
  paper.setup(canvas);
  const viewport = signal<Viewport>({
    width: window.innerWidth,
    height: window.innerHeight,
    covered: { left: 0, top: 0, right: 0, bottom: 0 },
  });
  const camera = signal<Camera>({ scale: 8, centre: { x: 0, y: 0 }, turned: false, axis: 0 });
  /** Grows when the system turns light to dark or back: every hue is read anew. */
  const scheme = signal(0);
  matchMedia('(prefers-color-scheme: dark)').addEventListener('change', () => {
    scheme.value++;
  });
  paper.project.activeLayer.remove();

  const resize = (): void => {
    viewport.value = { ...viewport.value, width: window.innerWidth, height: window.innerHeight };
  };
  window.addEventListener('resize', resize);
  effect(() => {
    const { width, height } = viewport.value;
    paper.view.viewSize = new paper.Size(width, height);
  });

  const drawing = canvas.parentElement ?? canvas;
  drawing.tabIndex = 0;
  listenForGestures(drawing, {
    pan: (dx, dy) => {
      camera.value = panBy(camera.value, dx, dy);
    },
    zoom: (at, factor) => {
      camera.value = zoomAt(camera.value, viewport.value, at, factor);
    },
    pick: (at) => events.onPick(toSheet(camera.value, viewport.value, at), 14 / camera.value.scale),
    fit: events.onFit,
  });

  return {
    camera,
    viewport,
    addLayer: (paint) => {
      const layer = new paper.Layer();
      effect(() => {
        scheme.value;
        layer.activate();
        layer.removeChildren();
        paint(new Pen(camera.value, viewport.value));
      });
    },
    fit: (box, turned, axis) => {
      camera.value = fitBox(box, viewport.value, turned, axis);
    },
    zoom: (factor) => {
      const v = viewport.value;
      const at = {
        x: (v.covered.left + v.width - v.covered.right) / 2,
        y: (v.height - v.covered.bottom) / 2,
      };
      camera.value = zoomAt(camera.value, v, at, factor);
    },
    pan: (dx, dy) => {
      camera.value = panBy(camera.value, dx, dy);
    },
  };
};
