import { useRef } from 'preact/hooks';
import { toScreen, toSheet, zoomAt } from '../canvas/camera.ts';
import type { Sheet } from '../canvas/sheet.ts';
import type { Point } from '../shape/point.ts';
import { drawerOpen, stage } from './stage.ts';
import { type Hold, hold, placement, underlay } from './underlay.ts';

/** A press that moved less than this, pixels, is a click. */
const STEADY = 6;

/**
 * Lies over the drawing and under the cards while a picture is moved or scaled, and takes the pointer: a drag moves the
 * picture, or the sheet while two points are picked; a click puts the next point.
 */
export const UnderlayHand = ({ sheet }: { readonly sheet: Sheet }) => {
  const held = hold.value;
  const drag = useRef<{ readonly start: Point; last: Point; moved: boolean } | null>(null);
  if (held === null || !underlay.value || stage.value !== 'Draw') return null;
  const camera = sheet.camera.value;
  const viewport = sheet.viewport.value;
  const down = (e: PointerEvent & { currentTarget: HTMLElement }): void => {
    if (drag.current) return;
    e.currentTarget.setPointerCapture(e.pointerId);
    const at = { x: e.clientX, y: e.clientY };
    drag.current = { start: at, last: at, moved: false };
  };
  const move = (e: PointerEvent): void => {
    const d = drag.current;
    if (!d) return;
    if (!d.moved && Math.hypot(e.clientX - d.start.x, e.clientY - d.start.y) < STEADY) return;
    d.moved = true;
    const [dx, dy] = [e.clientX - d.last.x, e.clientY - d.last.y];
    d.last = { x: e.clientX, y: e.clientY };
    if (held !== 'move') {
      sheet.pan(dx, dy);
      return;
    }
    const from = toSheet(camera, viewport, { x: 0, y: 0 });
    const to = toSheet(camera, viewport, { x: dx, y: dy });
    shift({ x: to.x - from.x, y: to.y - from.y });
  };
  const up = (e: PointerEvent): void => {
    const d = drag.current;
    drag.current = null;
    if (!d || d.moved || held === 'move' || e.type !== 'pointerup') return;
    const at = toSheet(camera, viewport, d.start);
    if (held.next === 'first') hold.value = { ...held, first: at, next: 'second' };
    else {
      hold.value = { ...held, second: at, next: 'first' };
      drawerOpen.value = true;
    }
  };
  return (
    <>
      <div
        class={held === 'move' ? 'under-hand under-hand-move' : 'under-hand'}
        onPointerDown={down}
        onPointerMove={move}
        onPointerUp={up}
        onPointerCancel={up}
        onWheel={(e) => {
          e.preventDefault();
          const at = { x: e.clientX, y: e.clientY };
          sheet.camera.value = zoomAt(camera, viewport, at, Math.exp(-e.deltaY / 500));
        }}
      />
      {held !== 'move' && (
        <>
          <Tie sheet={sheet} held={held} />
          <PointMark sheet={sheet} held={held} which="first" />
          <PointMark sheet={sheet} held={held} which="second" />
        </>
      )}
    </>
  );
};

const shift = (by: Point): void => {
  const { middle } = placement.value;
  placement.value = { ...placement.value, middle: { x: middle.x + by.x, y: middle.y + by.y } };
};

interface PairProps {
  readonly sheet: Sheet;
  readonly held: Exclude<Hold, 'move'>;
}

/** The line between the two points. */
const Tie = ({ sheet, held }: PairProps) => {
  const a = toScreen(sheet.camera.value, sheet.viewport.value, held.first);
  const b = toScreen(sheet.camera.value, sheet.viewport.value, held.second);
  return (
    <svg class="under-tie" aria-hidden="true">
      <line x1={a.x} y1={a.y} x2={b.x} y2={b.y} />
    </svg>
  );
};

const KEYS: Readonly<Record<string, Point>> = {
  ArrowLeft: { x: -1, y: 0 },
  ArrowRight: { x: 1, y: 0 },
  ArrowUp: { x: 0, y: -1 },
  ArrowDown: { x: 0, y: 1 },
};

/** One of the two points, dragged or moved by the arrow keys: a pixel, or ten with Shift. */
const PointMark = ({ sheet, held, which }: PairProps & { readonly which: 'first' | 'second' }) => {
  const dragged = useRef(false);
  const camera = sheet.camera.value;
  const viewport = sheet.viewport.value;
  const at = toScreen(camera, viewport, held[which]);
  const put = (pixel: Point): void => {
    hold.value = { ...held, [which]: toSheet(camera, viewport, pixel) };
  };
  return (
    <button
      type="button"
      class={`under-point${held.next === which ? ' under-point-next' : ''}`}
      style={{ left: `${at.x}px`, top: `${at.y}px` }}
      aria-label={`Point ${which === 'first' ? 1 : 2} of the known distance. Arrow keys move it.`}
      data-under-point={which}
      onPointerDown={(e) => {
        dragged.current = true;
        e.currentTarget.setPointerCapture(e.pointerId);
      }}
      onPointerMove={(e) => {
        if (dragged.current) put({ x: e.clientX, y: e.clientY });
      }}
      onPointerUp={() => {
        dragged.current = false;
      }}
      onPointerCancel={() => {
        dragged.current = false;
      }}
      onKeyDown={(e) => {
        const way = KEYS[e.key];
        if (!way) return;
        e.preventDefault();
        const step = e.shiftKey ? 10 : 1;
        put({ x: at.x + way.x * step, y: at.y + way.y * step });
      }}
    >
      {which === 'first' ? 1 : 2}
    </button>
  );
};
