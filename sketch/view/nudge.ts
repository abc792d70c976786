import type { Part } from '../part/part.ts';
import { MM_PER_INCH } from '../part/units.ts';
import type { Point } from '../shape/point.ts';

const WAYS: Readonly<Record<string, Point>> = {
  ArrowLeft: { x: -1, y: 0 },
  ArrowRight: { x: 1, y: 0 },
  ArrowUp: { x: 0, y: 1 },
  ArrowDown: { x: 0, y: -1 },
};

/** Steps of the arrow keys, mm: plain, with Shift, with Alt. */
const STEPS = {
  mm: { plain: 0.1, coarse: 1, fine: 0.01 },
  inch: { plain: 0.005 * MM_PER_INCH, coarse: 0.05 * MM_PER_INCH, fine: 0.0005 * MM_PER_INCH },
} as const;

interface Pressed {
  readonly key: string;
  readonly shiftKey: boolean;
  readonly altKey: boolean;
  readonly ctrlKey: boolean;
  readonly metaKey: boolean;
}

/** How far a key moves something on the sheet, mm; null when it is no arrow key. */
export const nudgeOf = (e: Pressed, turned: boolean, unit: Part['unit']): Point | null => {
  const way = WAYS[e.key];
  if (!way || e.ctrlKey || e.metaKey) return null;
  const steps = STEPS[unit];
  const step = e.shiftKey ? steps.coarse : e.altKey ? steps.fine : steps.plain;
  return { x: way.x * step, y: way.y * step * (turned ? -1 : 1) };
};
