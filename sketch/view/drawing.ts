import { computed, type ReadonlySignal } from '@preact/signals';
import type { Drawing } from '../canvas/draw-part.ts';
import { type Edges, edgesFromAbove, edgesFromBelow } from '../part/edges.ts';
import type { Part } from '../part/part.ts';
import { type Bodies, bodiesOf, outlineOf, type Slab, solidOf } from '../part/solid.ts';
import { type Region, segmentsOf } from '../shape/region.ts';
import type { Store } from './store.ts';

/** Every edge of every slab, none hidden: what a drawing under change shows, in a fraction of the time. */
const plainEdges = (slabs: readonly Slab[]): Edges => ({
  visible: slabs.flatMap((slab) => segmentsOf(slab.region)),
  hidden: [],
});

/** The outline and bodies of the part last asked for, kept while no end, arm, plate, land or fork changes. */
const bodyKeeper = (): ((part: Part) => { readonly outline: Region; readonly bodies: Bodies }) => {
  let key = '';
  let last: { readonly outline: Region; readonly bodies: Bodies } | null = null;
  return (part) => {
    const { ends, arms, plates, insideRadius, lands, forks } = part;
    const now = JSON.stringify({ ends, arms, plates, insideRadius, lands, forks });
    if (last !== null && now === key) return last;
    const outline = outlineOf(part);
    key = now;
    last = { outline, bodies: bodiesOf(part, outline) };
    return last;
  };
};

/**
 * The drawing of what is shown of the open part, worked out anew when the part changes and not when the sheet is moved.
 * While something is dragged, what lies under what is left open.
 */
export const drawingOf = (store: Store): ReadonlySignal<Drawing | null> => {
  const kept = bodyKeeper();
  let whole: Drawing | null = null;
  return computed(() => {
    const part = store.shown.value?.part;
    if (!part) return null;
    // The first look becomes the open part as it is.
    if (whole?.part === part) return whole;
    const { outline, bodies } = kept(part);
    const solid = solidOf(part, bodies);
    if (store.opened.value && store.shown.value !== store.opened.value) {
      const plain = plainEdges(solid.slabs);
      return { part, outline, solid, front: plain, back: plain };
    }
    whole = {
      part,
      outline,
      solid,
      front: edgesFromAbove(solid.slabs),
      back: edgesFromBelow(solid.slabs),
    };
    return whole;
  });
};
