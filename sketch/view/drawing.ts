import { computed, type ReadonlySignal } from '@preact/signals';
import type { Drawing } from '../canvas/draw-part.ts';
import { type Edges, edgesFromAbove, edgesFromBelow } from '../part/edges.ts';
import { outlineOf, type Slab, solidOf } from '../part/solid.ts';
import { segmentsOf } from '../shape/region.ts';
import type { Store } from './store.ts';

/** Every edge of every slab, none hidden: what a drawing under change shows, in a fraction of the time. */
const plainEdges = (slabs: readonly Slab[]): Edges => ({
  visible: slabs.flatMap((slab) => segmentsOf(slab.region)),
  hidden: [],
});

/**
 * The drawing of what is shown of the open part, worked out anew when the part changes and not when the sheet is moved.
 * While something is dragged, what lies under what is left open.
 */
export const drawingOf = (store: Store): ReadonlySignal<Drawing | null> =>
  computed(() => {
    const part = store.shown.value?.part;
    if (!part) return null;
    const solid = solidOf(part);
    const outline = outlineOf(part);
    if (store.shown.value !== store.opened.value) {
      const plain = plainEdges(solid.slabs);
      return { part, outline, solid, front: plain, back: plain };
    }
    return {
      part,
      outline,
      solid,
      front: edgesFromAbove(solid.slabs),
      back: edgesFromBelow(solid.slabs),
    };
  });
