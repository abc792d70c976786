import { drawArea } from './area-strokes.ts';
import { drawFork, drawHole, drawSlot } from './cut-strokes.ts';
import { drawArm, drawEnd } from './end-strokes.ts';
import type { Ground, Sketched, Stroke } from './stroke.ts';

/** A stroke's feature put into the document. Never throws; what cannot be drawn is said in a sentence. */
export const sketch = (stroke: Stroke, ground: Ground): Sketched => {
  switch (stroke.tool) {
    case 'end':
      return drawEnd(stroke, ground);
    case 'arm':
      return drawArm(stroke, ground);
    case 'plate':
    case 'land':
      return drawArea(stroke, ground);
    case 'hole':
      return drawHole(stroke, ground);
    case 'slot':
      return drawSlot(stroke, ground);
    case 'fork':
      return drawFork(stroke, ground);
  }
};
