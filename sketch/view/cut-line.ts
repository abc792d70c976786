import { signal } from '@preact/signals';
import type { CutLine } from '../canvas/section.ts';
import type { Sheet } from '../canvas/sheet.ts';
import type { Part } from '../part/part.ts';
import type { Point } from '../shape/point.ts';
import { type Stage, stage } from './stage.ts';

/** Where the part is cut through for the side section, A – A; null until a part is open. */
export const cutLine = signal<CutLine | null>(null);

/** On a narrow window the ends of the line cannot be taken hold of while measures are shown: they need the room. */
export const canHoldCut = (on: Stage, width: number): boolean =>
  on === 'Cut' || on === 'Take away' || (on === 'Draw' && width > 760);

/** Places that lettering keeps clear of: the handles of the section line, mm. */
export const keptOnSheet = (sheet: Sheet): readonly Point[] => {
  const cut = canHoldCut(stage.value, sheet.viewport.value.width) ? cutLine.value : null;
  return cut ? [cut.from, cut.to] : [];
};

/** The line a part is first cut along: lengthwise through its fork, its longest arm or its middle. */
export const firstCut = (part: Part): CutLine => {
  const { bar } = part;
  const over = bar.sawn + 1 + bar.length * 0.05;
  const y = part.forks[0]?.mouth.y ?? part.ends[0]?.centre.y ?? bar.corner.y + bar.width / 2;
  const level = Math.min(bar.corner.y + bar.width, Math.max(bar.corner.y, y));
  return {
    from: { x: bar.corner.x - over, y: level },
    to: { x: bar.corner.x + bar.length + over, y: level },
  };
};
