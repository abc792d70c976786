import { effect, type Signal, signal } from '@preact/signals';
import paper from 'paper/dist/paper-core';
import type { Box, Point } from '../shape/point.ts';
import {
  type Camera,
  fitBox,
  panBy,
  sameCamera,
  toScreen,
  toSheet,
  type Viewport,
  zoomAt,
} from './camera.ts';
import { type Drag, listenForGestures, type Press } from './gestures.ts';
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

/** What is done on the sheet. Places are in the part's mm; `reach` is as far as a finger or the mouse misses, mm. */
export interface SheetEvents {
  /** A press that may become a stroke or a pull; null leaves it to push the sheet along. */
  readonly onPress: (press: Press, reach: number) => Drag | null;
  /** A click or tap that was not a drag. */
  readonly onPick: (press: Press, reach: number) => void;
  /** The pencil over the sheet, or gone from it. */
  readonly onHover: (at: Point | null, reach: number) => void;
  readonly onFit: () => void;
}

/** As far as things catch, pixels. */
const REACH = 14;
const TOUCH_REACH = 22;

export const createSheet = (canvas: HTMLCanvasElement, events: SheetEvents): Sheet => {
  paper.setup(canvas);
  const viewport = signal<Viewport>({
    width: window.innerWidth,
    height: window.innerHeight,
    covered: { left: 0, top: 0, right: 0, bottom: 0 },
  });
  const camera = signal<Camera>({ scale: 8, centre: { x: 0, y: 0 }, turned: false, axis: 0 });
  /** Grows when the system wishes for other colours: every hue is read anew. */
  const scheme = signal(0);
  for (const wish of [
    '(prefers-color-scheme: dark)',
    '(prefers-contrast: more)',
    '(forced-colors: active)',
  ]) {
    matchMedia(wish).addEventListener('change', () => {
      scheme.value++;
    });
  }
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
  // Where the sheet lies, for whoever measures it from outside: pixels to the mm, and the drawing's nought in pixels.
  effect(() => {
    const nought = toScreen(camera.value, viewport.value, { x: 0, y: 0 });
    drawing.dataset.scale = String(camera.value.scale);
    drawing.dataset.nought = `${nought.x} ${nought.y}`;
  });
  const here = (at: Point): Point => toSheet(camera.value, viewport.value, at);
  const reachOf = (touch: boolean): number => (touch ? TOUCH_REACH : REACH) / camera.value.scale;
  listenForGestures(drawing, {
    pan: (dx, dy) => {
      camera.value = panBy(camera.value, dx, dy);
    },
    zoom: (at, factor) => {
      camera.value = zoomAt(camera.value, viewport.value, at, factor);
    },
    press: (press) => {
      const drag = events.onPress({ ...press, at: here(press.at) }, reachOf(press.touch));
      return (
        drag && {
          move: (at) => drag.move(here(at)),
          lift: (at, tap) => drag.lift(here(at), tap),
          cancel: drag.cancel,
        }
      );
    },
    pick: (press) => events.onPick({ ...press, at: here(press.at) }, reachOf(press.touch)),
    hover: (at) => events.onHover(at && here(at), reachOf(false)),
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
      const next = fitBox(box, viewport.value, turned, axis);
      if (!sameCamera(next, camera.peek())) camera.value = next;
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
