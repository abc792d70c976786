import type { Point } from '../shape/point.ts';

/** What follows a press that was taken as more than a look at the sheet. */
export interface Drag {
  readonly move: (at: Point) => void;
  /** The press ends; `tap` when it never moved. */
  readonly lift: (at: Point, tap: boolean) => void;
  /** A second finger or the system took it away. */
  readonly cancel: () => void;
}

export interface Press {
  readonly at: Point;
  /** Shift or Ctrl is held: what is pressed joins what was picked before. */
  readonly more: boolean;
  readonly touch: boolean;
}

export interface Gestures {
  readonly pan: (dx: number, dy: number) => void;
  readonly zoom: (at: Point, factor: number) => void;
  /** A press with one finger or the main button: what is to be done with it, or null to push the sheet along. */
  readonly press: (press: Press) => Drag | null;
  readonly pick: (press: Press) => void;
  readonly hover: (at: Point | null) => void;
  readonly fit: () => void;
}

/** A press that moved less than this, pixels, is a click. */
const STEADY = 6;
const KEY_STEP = 40;
const KEY_ZOOM = 1.25;

/** Wheel, drag, pinch and keys on the drawing: pan, zoom, pick, draw. The element takes the keyboard's focus. */
export const listenForGestures = (canvas: HTMLElement, act: Gestures): void => {
  const down = new Map<number, Point>();
  let pressed: Press | null = null;
  let moved = false;
  let drag: Drag | null = null;
  const place = (e: PointerEvent): Point => ({ x: e.clientX, y: e.clientY });
  const spread = (): { middle: Point; width: number } | null => {
    const [a, b] = [...down.values()];
    if (!a || !b) return null;
    return { middle: { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 }, width: Math.hypot(a.x - b.x, a.y - b.y) };
  };

  canvas.addEventListener('pointerdown', (e) => {
    canvas.setPointerCapture(e.pointerId);
    down.set(e.pointerId, place(e));
    if (down.size > 1) {
      moved = true;
      drag?.cancel();
      drag = null;
      return;
    }
    moved = false;
    pressed = { at: place(e), more: e.shiftKey || e.ctrlKey || e.metaKey, touch: e.pointerType === 'touch' };
    // The middle button always pushes the sheet along.
    drag = e.button === 0 ? act.press(pressed) : null;
  });
  canvas.addEventListener('pointermove', (e) => {
    const last = down.get(e.pointerId);
    if (!last || !pressed) {
      if (down.size === 0) act.hover(place(e));
      return;
    }
    const before = spread();
    down.set(e.pointerId, place(e));
    const after = spread();
    if (before && after) {
      act.zoom(after.middle, after.width / Math.max(1, before.width));
      act.pan(after.middle.x - before.middle.x, after.middle.y - before.middle.y);
      return;
    }
    if (!moved && Math.hypot(e.clientX - pressed.at.x, e.clientY - pressed.at.y) < STEADY) {
      down.set(e.pointerId, last);
      return;
    }
    moved = true;
    if (drag) drag.move(place(e));
    else act.pan(e.clientX - last.x, e.clientY - last.y);
  });
  const lift = (e: PointerEvent): void => {
    const known = down.delete(e.pointerId);
    if (known && drag) {
      if (e.type === 'pointerup') drag.lift(place(e), !moved);
      else drag.cancel();
      drag = null;
    } else if (known && pressed && !moved && e.type === 'pointerup') act.pick(pressed);
    if (down.size === 0) pressed = null;
  };
  canvas.addEventListener('pointerup', lift);
  canvas.addEventListener('pointercancel', lift);
  canvas.addEventListener('pointerleave', () => {
    if (down.size === 0) act.hover(null);
  });

  canvas.addEventListener(
    'wheel',
    (e) => {
      e.preventDefault();
      const lines = e.deltaMode === WheelEvent.DOM_DELTA_LINE ? 16 : 1;
      act.zoom({ x: e.clientX, y: e.clientY }, Math.exp((-e.deltaY * lines) / 500));
    },
    { passive: false },
  );

  canvas.addEventListener('keydown', (e) => {
    // Keys that something lying on the drawing has used already are not used twice.
    if (e.ctrlKey || e.metaKey || e.altKey || e.defaultPrevented) return;
    const middle = { x: canvas.clientWidth / 2, y: canvas.clientHeight / 2 };
    if (e.key === 'ArrowLeft') act.pan(KEY_STEP, 0);
    else if (e.key === 'ArrowRight') act.pan(-KEY_STEP, 0);
    else if (e.key === 'ArrowUp') act.pan(0, KEY_STEP);
    else if (e.key === 'ArrowDown') act.pan(0, -KEY_STEP);
    else if (e.key === '+' || e.key === '=') act.zoom(middle, KEY_ZOOM);
    else if (e.key === '-') act.zoom(middle, 1 / KEY_ZOOM);
    else if (e.key === '0' || e.key === 'Home') act.fit();
    else return;
    e.preventDefault();
  });
};
