import { computed, type ReadonlySignal } from '@preact/signals';
import type { Drawing } from '../canvas/draw-part.ts';
import { edgesFromAbove, edgesFromBelow } from '../part/edges.ts';
import { outlineOf, solidOf } from '../part/solid.ts';
import type { Store } from './store.ts';

/** The drawing of what is shown of the open part, worked out anew when the part changes and not when the sheet is moved. */
export const drawingOf = (store: Store): ReadonlySignal<Drawing | null> =>
  computed(() => {
    const part = store.shown.value?.part;
    if (!part) return null;
    const solid = solidOf(part);
    return {
      part,
      outline: outlineOf(part),
      solid,
      front: edgesFromAbove(solid.slabs),
      back: edgesFromBelow(solid.slabs),
    };
  });
