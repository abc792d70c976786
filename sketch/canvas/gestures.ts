import type { Point } from '../shape/point.ts';

export interface Gestures {
  readonly pan: (dx: number, dy: number) => void;
  readonly zoom: (at: Point, factor: number) => void;
  readonly pick: (at: Point) => void;
  readonly fit: () => void;
}

/** A press that moved less than this, pixels, is a click. */
const STEADY = 6;
const KEY_STEP = 40;
const KEY_ZOOM = 1.25;

/** Wheel, drag, pinch and keys on the drawing: pan, zoom, pick. The element takes the keyboard's focus. */
export const listenForGestures = (canvas: HTMLElement, act: Gestures): void => {
  const down = new Map<number, Point>();
  let pressed: Point | null = null;
  let moved = false;
  const spread = (): { middle: Point; width: number } | null => {
    const [a, b] = [...down.values()];
    if (!a || !b) return null;
    return { middle: { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 }, width: Math.hypot(a.x - b.x, a.y - b.y) };
  };

  canvas.addEventListener('pointerdown', (e) => {
    canvas.setPointerCapture(e.pointerId);
    down.set(e.pointerId, { x: e.clientX, y: e.clientY });
    moved = down.size > 1;
    pressed = { x: e.clientX, y: e.clientY };
  });
  canvas.addEventListener('pointermove', (e) => {
    const last = down.get(e.pointerId);
    if (!last || !pressed) return;
    const before = spread();
    down.set(e.pointerId, { x: e.clientX, y: e.clientY });
    const after = spread();
    if (before && after) {
      act.zoom(after.middle, after.width / Math.max(1, before.width));
      act.pan(after.middle.x - before.middle.x, after.middle.y - before.middle.y);
      return;
    }
    if (!moved && Math.hypot(e.clientX - pressed.x, e.clientY - pressed.y) < STEADY) {
      down.set(e.pointerId, last);
      return;
    }
    moved = true;
    act.pan(e.clientX - last.x, e.clientY - last.y);
  });
  const lift = (e: PointerEvent): void => {
    const known = down.delete(e.pointerId);
    if (known && !moved && e.type === 'pointerup') act.pick({ x: e.clientX, y: e.clientY });
    if (down.size === 0) pressed = null;
  };
  canvas.addEventListener('pointerup', lift);
  canvas.addEventListener('pointercancel', lift);

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
    if (e.ctrlKey || e.metaKey || e.altKey) return;
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
