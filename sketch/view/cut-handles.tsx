import { useRef } from 'preact/hooks';
import { toScreen, toSheet } from '../canvas/camera.ts';
import { figure } from '../canvas/dimensions.ts';
import type { CutLine } from '../canvas/section.ts';
import type { Sheet } from '../canvas/sheet.ts';
import type { Unit } from '../part/part.ts';
import type { Point } from '../shape/point.ts';
import { cutLine } from './cut-line.ts';

const KEYS: Readonly<Record<string, Point>> = {
  ArrowLeft: { x: -1, y: 0 },
  ArrowRight: { x: 1, y: 0 },
  ArrowUp: { x: 0, y: 1 },
  ArrowDown: { x: 0, y: -1 },
};

/** The two ends of the section line as things to take hold of: dragged, or moved with the arrow keys. */
export const CutHandles = ({ sheet, unit }: { readonly sheet: Sheet; readonly unit: Unit }) => {
  const cut = cutLine.value;
  if (!cut) return null;
  return (
    <>
      <CutHandle sheet={sheet} cut={cut} which="from" unit={unit} />
      <CutHandle sheet={sheet} cut={cut} which="to" unit={unit} />
    </>
  );
};

interface HandleProps {
  readonly sheet: Sheet;
  readonly cut: CutLine;
  readonly which: 'from' | 'to';
  readonly unit: Unit;
}

const CutHandle = ({ sheet, cut, which, unit }: HandleProps) => {
  const held = useRef(false);
  const camera = sheet.camera.value;
  const viewport = sheet.viewport.value;
  const at = toScreen(camera, viewport, cut[which]);
  const move = (p: Point): void => {
    cutLine.value = { ...cut, [which]: p };
  };
  const place = `${figure(cut[which].x, unit)}, ${figure(cut[which].y, unit)}`;
  return (
    <button
      type="button"
      class="cut-handle"
      style={{ left: `${at.x}px`, top: `${at.y}px` }}
      aria-label={`${which === 'from' ? 'Start' : 'End'} of the section line, at ${place}. Arrow keys move it.`}
      data-cut={which}
      onPointerDown={(e) => {
        held.current = true;
        e.currentTarget.setPointerCapture(e.pointerId);
      }}
      onPointerMove={(e) => {
        if (held.current) move(toSheet(camera, viewport, { x: e.clientX, y: e.clientY }));
      }}
      onPointerUp={() => {
        held.current = false;
      }}
      onPointerCancel={() => {
        held.current = false;
      }}
      onKeyDown={(e) => {
        const way = KEYS[e.key];
        if (!way) return;
        e.preventDefault();
        const step = e.shiftKey ? 5 : 0.5;
        const sense = camera.turned ? -1 : 1;
        move({ x: cut[which].x + way.x * step, y: cut[which].y + way.y * step * sense });
      }}
    >
      A
    </button>
  );
};
