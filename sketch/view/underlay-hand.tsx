import { useEffect, useRef } from 'preact/hooks';
import { toScreen, toSheet, zoomAt } from '../canvas/camera.ts';
import { type Drag, listenForGestures } from '../canvas/gestures.ts';
import type { Sheet } from '../canvas/sheet.ts';
import type { Point } from '../shape/point.ts';
import { drawerOpen, stage } from './stage.ts';
import { type Hold, hold, placement, underlay } from './underlay.ts';

/**
 * Lies over the drawing and under the cards while a picture is moved or scaled, and takes the pointer: a drag moves the
 * picture, or the sheet while two points are picked; a click puts the next point.
 */
export const UnderlayHand = ({ sheet }: { readonly sheet: Sheet }) => {
  const held = hold.value;
  if (held === null || !underlay.value || stage.value !== 'Draw') return null;
  return (
    <>
      <Hand sheet={sheet} moving={held === 'move'} />
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

const Hand = ({ sheet, moving }: { readonly sheet: Sheet; readonly moving: boolean }) => {
  const hand = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (!hand.current) return;
    const under = (at: Point): Point => toSheet(sheet.camera.peek(), sheet.viewport.peek(), at);
    listenForGestures(hand.current, {
      pan: sheet.pan,
      zoom: (at, factor) => {
        sheet.camera.value = zoomAt(sheet.camera.peek(), sheet.viewport.peek(), at, factor);
      },
      press: ({ at }) => (hold.peek() === 'move' ? dragFrom(under, at) : null),
      pick: ({ at }) => putNext(under(at)),
      hover: () => undefined,
      fit: () => undefined,
    });
  }, [sheet]);
  return <div ref={hand} class={moving ? 'under-hand under-hand-move' : 'under-hand'} />;
};

/** The picture follows the pointer; where the drag is broken off, it lies as it did before. */
const dragFrom = (under: (at: Point) => Point, start: Point): Drag => {
  const before = placement.peek();
  const from = under(start);
  return {
    move: (at) => {
      const to = under(at);
      const middle = { x: before.middle.x + to.x - from.x, y: before.middle.y + to.y - from.y };
      placement.value = { ...before, middle };
    },
    lift: () => undefined,
    cancel: () => {
      placement.value = before;
    },
  };
};

/** A click puts the first point, the next one the second. */
const putNext = (at: Point): void => {
  const held = hold.peek();
  if (held === null || held === 'move') return;
  if (held.next === 'first') hold.value = { ...held, first: at, next: 'second' };
  else {
    hold.value = { ...held, second: at, next: 'first' };
    drawerOpen.value = true;
  }
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
