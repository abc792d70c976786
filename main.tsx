import { computed, effect, signal, untracked } from '@preact/signals';
import { render } from 'preact';
import { Desk } from './gcode/view/desk.tsx';
import { inkSheet } from './gcode/view/ink-sheet.ts';
import type { Workshop } from './gcode/view/workshop.tsx';
import { createSheet } from './sketch/canvas/sheet.ts';
import { coveredBy } from './sketch/view/covered.ts';
import { cutLine, firstCut } from './sketch/view/cut-line.ts';
import { createDrafting } from './sketch/view/drafting.ts';
import { listenForDrawKeys } from './sketch/view/draw-keys.ts';
import { drawingOf } from './sketch/view/drawing.ts';
import { DropHere, listenForDrops } from './sketch/view/drop.tsx';
import { createFeatureActs } from './sketch/view/feature-acts.ts';
import { afterDrawing, atLeisure } from './sketch/view/first-look.ts';
import { allKept } from './sketch/view/keeper.ts';
import { startKeeping } from './sketch/view/keeping.ts';
import { keepPage } from './sketch/view/offline.ts';
import { listenForSave } from './sketch/view/saving.ts';
import { stage } from './sketch/view/stage.ts';
import { createStore } from './sketch/view/store.ts';
import type { Sample } from './sketch/view/title-block.tsx';
import { UnderlayHand } from './sketch/view/underlay-hand.tsx';
import { shownSetup, shownStill } from './toolpath/view/showing.ts';

const files = import.meta.glob<string>(['./samples/*.json', '!./samples/*.schema.json'], {
  query: '?raw',
  import: 'default',
  eager: true,
});
const samples = Object.values(files).map(
  (text): Sample => ({ name: (JSON.parse(text) as { name: string }).name, text }),
);

const store = createStore();
const drawing = drawingOf(store);
/** The stages after Draw; null until they are here. */
const workshop = signal<Workshop | null>(null);
const missing = signal<string | null>(null);

const isTurned = (): boolean => workshop.value?.turned.value ?? false;
const showAll = (): void => {
  const bar = (store.opened.peek() ?? store.shown.peek())?.part.bar;
  if (!bar) return;
  const far = { x: bar.corner.x + bar.length, y: bar.corner.y + bar.width };
  sheet.fit({ min: bar.corner, max: far }, untracked(isTurned), bar.corner.y + bar.width / 2);
};

const sheet = createSheet(document.querySelector<HTMLCanvasElement>('#sheet')!, {
  onPress: (press, reach) => (stage.peek() === 'Draw' ? drafting.press(press, reach) : null),
  onPick: (press, reach) => drafting.pick(press, reach),
  onHover: (at, reach) => {
    if (stage.peek() === 'Draw') drafting.hover(at, reach);
  },
  onFit: showAll,
});
const drafting = createDrafting(
  store,
  computed(() => sheet.camera.value.scale),
);
const acts = createFeatureActs(store, drafting);
listenForDrawKeys({ store, sheet, drafting, acts });

/** A bar that is so many times another's size is much larger. */
const MUCH = 1.4;

// The free part of the window follows its size.
const cover = (): void => {
  const atMachine = untracked(() => workshop.value?.atMachine.value ?? false);
  sheet.viewport.value = {
    ...sheet.viewport.peek(),
    covered: coveredBy(window.innerWidth, window.innerHeight, atMachine),
  };
};
window.addEventListener('resize', () => {
  cover();
  showAll();
});
cover();
// Whoever goes to the machine, or comes back, has another part of the window free.
let beside = false;
effect(() => {
  const now = workshop.value?.atMachine.value ?? false;
  if (now === beside) return;
  beside = now;
  untracked(() => {
    cover();
    showAll();
  });
});

// A part that is opened is laid in the middle, and one that becomes much larger or smaller is laid there anew; a bar that
// changes a little under an edit keeps its place.
let laid = { part: {}, generation: -1, size: 0 };
effect(() => {
  const part = (store.opened.value ?? store.shown.value)?.part;
  const generation = store.generation.value;
  if (!part) return;
  document.title = `${part.name} – Leverwright`;
  const size = Math.max(part.bar.length, part.bar.width);
  // What was seen at the first look stays where it lies when it is opened.
  const fresh = generation !== laid.generation && part !== laid.part;
  const grown = size / laid.size >= MUCH || laid.size / size >= MUCH;
  laid = { part, generation, size: fresh || grown ? size : laid.size };
  if (!fresh && !grown) return;
  untracked(() => {
    cutLine.value = firstCut(part);
    if (fresh) {
      shownStill.value = 0;
      shownSetup.value = 1;
    }
    showAll();
  });
});
effect(() => {
  const turned = isTurned();
  untracked(() => {
    const camera = sheet.camera.peek();
    if (camera.turned !== turned) sheet.camera.value = { ...camera, turned };
  });
});

// After the above, so that nothing is drawn before it lies where it shall.
inkSheet({ sheet, store, drafting, drawing, later: computed(() => workshop.value?.ink ?? null) });

// A feature that is picked on the sheet comes into sight on the card.
effect(() => {
  const name = store.picked.value;
  if (!name) return;
  requestAnimationFrame(() => {
    const row = document.querySelector(`[data-feature="${CSS.escape(name)}"]`);
    if (row && !row.contains(document.activeElement)) row.scrollIntoView({ block: 'nearest' });
  });
});

window.addEventListener('keydown', (e) => {
  if (!(e.ctrlKey || e.metaKey) || e.target instanceof HTMLInputElement) return;
  const key = e.key.toLowerCase();
  if (key === 'z' && !e.shiftKey) store.undo();
  else if (key === 'y' || (key === 'z' && e.shiftKey)) store.redo();
  else return;
  e.preventDefault();
});
window.addEventListener('beforeunload', (e) => {
  if (store.unsaved.peek() && !allKept.peek()) e.preventDefault();
});

// The stages after Draw, their workers and what keeps the page for a workshop without a network come once a drawing is
// on the sheet.
const openWorkshop = async (): Promise<void> => {
  await atLeisure();
  try {
    const { openWorkshop: open } = await import('./gcode/view/workshop.tsx');
    workshop.value = open({ store, sheet, drawing });
  } catch (error) {
    missing.value = error instanceof Error ? error.message : String(error);
  }
  if (import.meta.env.PROD) void keepPage(() => allKept.peek());
};

const first = samples.find((s) => s.text.includes('"forks"')) ?? samples[0];
listenForDrops(store);
listenForSave(store);
void startKeeping(store, first, afterDrawing).finally(openWorkshop);
render(
  <Desk
    store={store}
    sheet={sheet}
    drafting={drafting}
    acts={acts}
    samples={samples}
    drawing={drawing}
    onFit={showAll}
    later={workshop}
    missing={missing}
  />,
  document.querySelector('#desk')!,
);
render(
  <>
    <UnderlayHand sheet={sheet} />
    <DropHere />
  </>,
  document.querySelector('#hand')!,
);
