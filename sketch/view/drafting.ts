import { computed, type ReadonlySignal, signal } from '@preact/signals';
import type { Construction } from '../canvas/draw-construction.ts';
import type { Drag, Press } from '../canvas/gestures.ts';
import { isCornerTyped, nextCorner, withCorner } from '../draft/area-strokes.ts';
import { handlesOf } from '../draft/handles.ts';
import type { JsonPath } from '../draft/json.ts';
import { moveFeatures } from '../draft/move.ts';
import { sketch } from '../draft/pencil.ts';
import { valuesOf } from '../draft/quantity.ts';
import { type Caught, loose, snap } from '../draft/snap.ts';
import { gridFor, type SnapField, snapField } from '../draft/snap-field.ts';
import { inMm, valueOfQuantity } from '../draft/stated.ts';
import { type Ground, type Size, type Sketched, type Stroke, sizeText, type Tool } from '../draft/stroke.ts';
import { placedFeatures } from '../draft/under.ts';
import type { Quantity } from '../part/dimensions.ts';
import { outlineOf } from '../part/outline.ts';
import type { Unit } from '../part/part.ts';
import { distance, type Point } from '../shape/point.ts';
import { createGrasp, heldWords } from './grasp.ts';
import type { Edit, Store } from './store.ts';

/** The pencil: which tool is in hand, the stroke under way, and what becomes of it. */
export interface Drafting {
  readonly tool: ReadonlySignal<Tool | null>;
  /** The open part's unit, in which sizes are said. */
  readonly unit: ReadonlySignal<Unit>;
  readonly stroke: ReadonlySignal<Stroke | null>;
  /** Whether that stroke was begun by numbers: the keyboard then belongs in its figures. */
  readonly byNumbers: ReadonlySignal<boolean>;
  /** Sizes of the stroke under way. */
  readonly sizes: ReadonlySignal<readonly Size[]>;
  /** Why a stroke or pull was not taken, until the next one. */
  readonly trouble: ReadonlySignal<string | null>;
  /** What is said of a change that was taken: what stayed where it is, what went with it. */
  readonly remark: ReadonlySignal<string | null>;
  readonly construction: ReadonlySignal<Construction | null>;
  readonly field: ReadonlySignal<SnapField | null>;
  take(tool: Tool | null): void;
  press(press: Press, reach: number): Drag | null;
  pick(press: Press, reach: number): void;
  hover(at: Point | null, reach: number): void;
  /** Begins a stroke by numbers, at a place. */
  begin(at: Point, reach: number): void;
  /** Fixes a size of the stroke; null lets the pencil say it again. */
  fix(key: string, value: Quantity | null): void;
  /** Takes the stroke as it is. */
  finish(): void;
  /** Lets go: first of the stroke, then of the tool, then of what is picked. */
  letGo(): void;
  /** Moves what is picked, mm. */
  nudge(by: Point): void;
  /** Shows what a handle's pull caught on, or why it cannot be. */
  show(caught: Caught | null, edit: Edit): void;
  /** Takes the change that is shown. */
  settle(): void;
  /** The ways to the figures and places of what is picked that formulas hold. */
  heldPaths(): readonly JsonPath[];
  /** Says what became of an edit made elsewhere. */
  tell(edit: Edit, remark?: string | null): boolean;
}

interface Scale {
  /** Pixels to the mm. */
  readonly value: number;
}

export const createDrafting = (store: Store, scale: Scale): Drafting => {
  const tool = signal<Tool | null>(null);
  const stroke = signal<Stroke | null>(null);
  const byNumbers = signal(false);
  const sizes = signal<readonly Size[]>([]);
  const trouble = signal<string | null>(null);
  const remark = signal<string | null>(null);
  const construction = signal<Construction | null>(null);
  /** Sizes last drawn, mm: the next tap draws the same again. */
  const usual = signal<Readonly<Record<string, number>>>({});

  const outline = computed(() => (store.opened.value ? outlineOf(store.opened.value.part) : null));
  const values = computed(() => valuesOf(store.opened.value?.document ?? {}));
  const grid = computed(() => gridFor(scale.value, unit.value));
  const field = computed(() => {
    const now = store.opened.value;
    return now && outline.value ? snapField(now.document, now.part, outline.value, grid.value) : null;
  });
  const unit = computed((): Unit => store.opened.value?.part.unit ?? 'mm');
  const ground = (reach: number): Ground | null => {
    const now = store.opened.value;
    return now && field.value
      ? {
          document: now.document,
          part: now.part,
          field: field.value,
          reach,
          values: values.value,
          usual: usual.value,
        }
      : null;
  };

  const tell = (edit: Edit, said: string | null = null): boolean => {
    trouble.value = edit.ok ? null : edit.message;
    remark.value = edit.ok ? said : null;
    return edit.ok;
  };
  const clear = (): void => {
    stroke.value = null;
    byNumbers.value = false;
    sizes.value = [];
    construction.value = null;
  };

  let last: Sketched | null = null;
  /** Draws the stroke as it now is; the document stays as it was until it is taken. */
  const draw = (next: Stroke, reach: number): void => {
    const on = ground(reach);
    if (!on) return;
    stroke.value = next;
    last = sketch(next, on);
    const made = last;
    if (!made.ok) {
      store.drop();
    } else tell(store.preview(() => made.document));
    sizes.value = made.sizes ?? [];
    const [main] = sizes.value;
    const said = main ? `${main.label} ${sizeText(main, unit.value)}` : null;
    construction.value = {
      at: next.corners.length > 0 ? nextCorner(next, on).point : next.to.point,
      words: [said, made.ok ? made.words : next.to.words].filter((w) => w !== null),
      guides: next.to.guides,
      box: null,
    };
  };

  let reachNow = 1;
  const finish = (): void => {
    const now = stroke.value;
    const made = last;
    if (!now || !made) return;
    if (isCornerTyped(now)) {
      setCorner(now, reachNow);
      return;
    }
    if (!made.ok) {
      trouble.value = made.message;
      if (now.corners.length === 0) clear();
      return;
    }
    if (!tell(store.change(() => made.document))) {
      // What was drawn stays in sight, to be mended in its figures.
      store.preview(() => made.document);
      return;
    }
    remember(now.tool, made.sizes);
    clear();
    store.pick(made.names.slice(-1));
  };
  const remember = (of: Tool, drawn: readonly Size[]): void => {
    const key = { end: 'radius', hole: 'diameter', slot: 'width', fork: 'width' }[of as string];
    const size = drawn.find((s) => s.key === key);
    const value = size ? valueOfQuantity(size.value, values.value) : null;
    if (value !== null) usual.value = { ...usual.value, [of]: inMm(value, unit.value) };
  };

  const caughtAt = (at: Point, reach: number): Caught =>
    field.value ? snap(at, reach, field.value) : loose(at);

  /** Sizes typed while the pencil is down are waited for: the stroke is taken on Enter. */
  const isTyping = (): boolean => document.activeElement?.hasAttribute('data-size') ?? false;

  const drawing = (of: Tool, press: Press, reach: number): Drag => {
    reachNow = reach;
    const begun = stroke.value;
    const corners = begun && begun.tool === of ? begun.corners : [];
    const from = caughtAt(press.at, reach);
    trouble.value = null;
    remark.value = null;
    // What was typed for the next corner outlasts the tap that sets it.
    const fixed = begun && corners.length > 0 ? begun.fixed : {};
    draw({ tool: of, from, to: from, tap: true, fixed, corners }, reach);
    return {
      move: (at) => {
        const now = stroke.value;
        if (!now || corners.length > 0) return;
        // A round thing's radius does its own catching.
        const round = of === 'end' || of === 'hole';
        draw({ ...now, to: round ? loose(at) : caughtAt(at, reach), tap: false }, reach);
      },
      lift: (_, tap) => {
        const now = stroke.value;
        if (!now || isTyping()) return;
        if (tap && (of === 'plate' || of === 'land') && !(last?.ok && corners.length === 0)) {
          setCorner(now, reach);
          return;
        }
        finish();
      },
      cancel: () => {
        store.drop();
        clear();
      },
    };
  };

  /** One more corner of a plate or land; the first one closes it. */
  const setCorner = (now: Stroke, reach: number): void => {
    const first = now.corners[0];
    const typed = isCornerTyped(now);
    if (!typed && first && now.corners.length > 2 && distance(first.point, now.to.point) < reach) {
      draw({ ...now, to: now.corners.at(-1)! }, reach);
      finish();
      return;
    }
    const on = ground(reach);
    if (on) draw(withCorner(now, on), reach);
  };

  const { moving, boxing, choose } = createGrasp({ store, outline, grid, construction, tell });

  return {
    tool,
    unit,
    stroke,
    byNumbers,
    sizes,
    trouble,
    remark,
    construction,
    field,
    tell,
    show: (caught, edit) => {
      tell(edit);
      construction.value = caught && {
        at: caught.point,
        words: caught.words ? [caught.words] : [],
        guides: caught.guides,
        box: null,
      };
    },
    heldPaths: () => {
      const now = store.opened.value;
      if (!now) return [];
      return store.chosen.value
        .flatMap((name) => handlesOf(now.document, now.part, name))
        .filter((h) => h.held.length > 0)
        .map((h) => h.path);
    },
    settle: () => {
      construction.value = null;
      tell(store.settle());
    },
    take: (next) => {
      store.drop();
      clear();
      trouble.value = null;
      remark.value = null;
      tool.value = next;
      if (next) store.pick([]);
    },
    press: (press, reach) => {
      reachNow = reach;
      if (tool.value) return drawing(tool.value, press, reach);
      if (press.more && !press.touch) return boxing(press, reach);
      const part = store.opened.value?.part;
      if (!part) return null;
      const chosen = store.chosen.value;
      const hit = placedFeatures(part)
        .filter((f) => chosen.includes(f.name) && f.gap(press.at) <= reach)
        .sort((a, b) => a.size - b.size)[0];
      return hit ? moving(chosen, hit.at, press, reach) : null;
    },
    pick: (press, reach) => choose(press.at, press.more, reach),
    hover: (at, reach) => {
      const now = stroke.value;
      if (now && now.corners.length > 0 && at) {
        draw({ ...now, to: caughtAt(at, reach) }, reach);
        return;
      }
      if (now || !tool.value) return;
      const caught = at && caughtAt(at, reach);
      construction.value = caught && {
        at: caught.point,
        words: caught.words ? [caught.words] : [],
        guides: caught.guides,
        box: null,
      };
    },
    begin: (at, reach) => {
      if (!tool.value) return;
      reachNow = reach;
      const from = caughtAt(at, reach);
      trouble.value = null;
      // A rectangle has two corners: without a pencil to pull, it begins with a size.
      const area = tool.value === 'plate' || tool.value === 'land';
      const to = area ? caughtAt({ x: at.x + 6 * reach, y: at.y + 3 * reach }, reach) : from;
      draw({ tool: tool.value, from, to, tap: !area, fixed: {}, corners: [] }, reach);
      byNumbers.value = true;
    },
    fix: (key, value) => {
      const now = stroke.value;
      if (!now) return;
      const { [key]: _, ...others } = now.fixed;
      draw({ ...now, fixed: value === null ? others : { ...others, [key]: value } }, reachNow);
    },
    finish,
    letGo: () => {
      trouble.value = null;
      remark.value = null;
      if (stroke.value) {
        store.drop();
        clear();
      } else if (tool.value) {
        tool.value = null;
        construction.value = null;
      } else store.pick([]);
    },
    nudge: (by) => {
      const now = store.opened.value;
      if (!now || store.chosen.value.length === 0) return;
      const result = moveFeatures(now.document, store.chosen.value, by);
      tell(
        store.change(() => result.document),
        heldWords(result.held),
      );
    },
  };
};
