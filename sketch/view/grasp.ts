import type { ReadonlySignal, Signal } from '@preact/signals';
import type { Construction } from '../canvas/draw-construction.ts';
import type { Drag, Press } from '../canvas/gestures.ts';
import { moveFeatures } from '../draft/move.ts';
import { snap } from '../draft/snap.ts';
import { type SnapField, snapField } from '../draft/snap-field.ts';
import { featuresAt, featuresIn } from '../draft/under.ts';
import { type Box, type Point, subtract } from '../shape/point.ts';
import type { Region } from '../shape/region.ts';
import type { Edit, Store } from './store.ts';

interface GraspParts {
  readonly store: Store;
  readonly outline: ReadonlySignal<Region | null>;
  readonly grid: ReadonlySignal<number>;
  readonly construction: Signal<Construction | null>;
  readonly tell: (edit: Edit, said?: string | null) => boolean;
}

/** The hand without a pencil: it picks what lies under it, moves what is picked, and draws a box round several. */
export interface Grasp {
  moving(names: readonly string[], anchor: Point, press: Press, reach: number): Drag;
  boxing(press: Press, reach: number): Drag;
  choose(at: Point, more: boolean, reach: number): void;
}

export const createGrasp = ({ store, outline, grid, construction, tell }: GraspParts): Grasp => {
  const moving = (names: readonly string[], anchor: Point, press: Press, reach: number): Drag => {
    const now = store.opened.value;
    const moved = new Set(names);
    const on: SnapField | null =
      now && outline.value
        ? { ...snapField(now.document, now.part, outline.value, grid.value, moved), edges: [] }
        : null;
    let held: string | null = null;
    return {
      move: (at) => {
        if (!now || !on) return;
        const wish = { x: anchor.x + at.x - press.at.x, y: anchor.y + at.y - press.at.y };
        const caught = snap(wish, reach, on);
        const by = subtract(caught.point, anchor);
        const result = moveFeatures(now.document, names, by);
        held = heldWords(result.held);
        tell(store.preview(() => result.document));
        construction.value = {
          at: caught.point,
          words: [caught.words, held].filter((w) => w !== null),
          guides: caught.guides,
          box: null,
        };
      },
      lift: (at, tap) => {
        construction.value = null;
        if (tap) {
          store.drop();
          choose(at, press.more, reach);
        } else tell(store.settle(), held);
      },
      cancel: () => {
        construction.value = null;
        store.drop();
      },
    };
  };

  const boxing = (press: Press, reach: number): Drag => ({
    move: (at) => {
      construction.value = { at, words: [], guides: [], box: boxOf(press.at, at) };
    },
    lift: (at, tap) => {
      construction.value = null;
      const part = store.opened.value?.part;
      if (!part) return;
      if (tap) choose(at, true, reach);
      else store.pick([...new Set([...store.chosen.value, ...featuresIn(part, boxOf(press.at, at))])]);
    },
    cancel: () => {
      construction.value = null;
    },
  });

  /** Picks what lies under a place; pressed again, what lies under that. */
  const choose = (at: Point, more: boolean, reach: number): void => {
    const part = store.opened.value?.part;
    if (!part) return;
    const under = featuresAt(part, at, reach);
    const chosen = store.chosen.value;
    if (more) {
      const name = under[0];
      if (!name) return;
      store.pick(chosen.includes(name) ? chosen.filter((n) => n !== name) : [...chosen, name]);
      return;
    }
    const next = under[(under.indexOf(chosen.at(-1) ?? '') + 1) % Math.max(1, under.length)];
    store.pick(next ? [next] : []);
  };

  return { moving, boxing, choose };
};

const boxOf = (a: Point, b: Point): Box => ({
  min: { x: Math.min(a.x, b.x), y: Math.min(a.y, b.y) },
  max: { x: Math.max(a.x, b.x), y: Math.max(a.y, b.y) },
});

/** What stayed because a formula holds it. */
export const heldWords = (
  held: readonly { readonly feature: string; readonly formula: string }[],
): string | null => {
  const [first] = held;
  if (!first) return null;
  const others = held.length - 1;
  const more = others > 0 ? ` and ${others} formula${others === 1 ? '' : 's'} more` : '';
  return `${first.feature} is held by “${first.formula}”${more}`;
};
