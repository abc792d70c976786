import { computed, effect, untracked } from '@preact/signals';
import { render } from 'preact';
import { hasErrors } from './gcode/chain.ts';
import { createAdviser } from './gcode/view/advice.ts';
import { isAtMachine } from './gcode/view/at-machine.tsx';
import { createBench } from './gcode/view/bench.ts';
import { Desk } from './gcode/view/desk.tsx';
import { inkSheet } from './gcode/view/ink-sheet.ts';
import { pickedFinding, pickedLine } from './gcode/view/picking.ts';
import { printDrawing } from './gcode/view/print-drawing.tsx';
import { createSurvey } from './gcode/view/survey.ts';
import { createSheet } from './sketch/canvas/sheet.ts';
import { checkPart } from './sketch/part/checks.ts';
import { coveredBy } from './sketch/view/covered.ts';
import { cutLine, firstCut } from './sketch/view/cut-line.ts';
import { createDrafting } from './sketch/view/drafting.ts';
import { listenForDrawKeys } from './sketch/view/draw-keys.ts';
import { drawingOf } from './sketch/view/drawing.ts';
import { DropHere, listenForDrops } from './sketch/view/drop.tsx';
import { createFeatureActs } from './sketch/view/feature-acts.ts';
import { allKept } from './sketch/view/keeper.ts';
import { startKeeping } from './sketch/view/keeping.ts';
import { keepPage } from './sketch/view/offline.ts';
import { listenForSave } from './sketch/view/saving.ts';
import { stage } from './sketch/view/stage.ts';
import { createStore } from './sketch/view/store.ts';
import type { Sample } from './sketch/view/title-block.tsx';
import { UnderlayHand } from './sketch/view/underlay-hand.tsx';
import { bringMachineBack, type MachineFile, machine } from './toolpath/view/machine-shop.ts';
import { shownSetup, shownStill } from './toolpath/view/showing.ts';
import { stillsOf } from './toolpath/view/work.ts';

const files = import.meta.glob<string>(['./samples/*.json', '!./samples/*.schema.json'], {
  query: '?raw',
  import: 'default',
  eager: true,
});
const samples = Object.values(files).map(
  (text): Sample => ({ name: (JSON.parse(text) as { name: string }).name, text }),
);

const machineFiles = import.meta.glob<string>(
  ['./samples/machines/*.json', '!./samples/machines/*.schema.json'],
  {
    query: '?raw',
    import: 'default',
    eager: true,
  },
);
const machines = Object.values(machineFiles).map(
  (text): MachineFile => ({ name: (JSON.parse(text) as { name: string }).name, text }),
);
bringMachineBack();

const store = createStore();
const bench = createBench();
const survey = createSurvey();
const adviser = createAdviser();
const drawing = drawingOf(store);
const stills = computed(() => (bench.work.value ? stillsOf(bench.work.value.plan) : []));
const still = computed(() => stills.value[shownStill.value] ?? null);

/** Whether the drawing lies turned over: it lies as the work does in the setup that is shown. */
const turned = computed(() => {
  const work = bench.work.value;
  if (stage.value === 'Hold') {
    return work?.route.setups.find((s) => s.number === shownSetup.value)?.face === 'back';
  }
  return (stage.value === 'Cut' || stage.value === 'Take away') && still.value?.setup.frame.face === 'back';
});

const showAll = (): void => {
  const bar = store.opened.peek()?.part.bar;
  if (!bar) return;
  const far = { x: bar.corner.x + bar.length, y: bar.corner.y + bar.width };
  sheet.fit({ min: bar.corner, max: far }, turned.peek() === true, bar.corner.y + bar.width / 2);
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
inkSheet({ sheet, store, drafting, bench, drawing, still });

const show = (index: number): void => {
  const last = stills.peek().length - 1;
  shownStill.value = Math.max(0, Math.min(last, index));
};

/** A bar that is so many times another's size is much larger. */
const MUCH = 1.4;

// The free part of the window follows its size.
const cover = (): void => {
  sheet.viewport.value = {
    ...sheet.viewport.peek(),
    covered: coveredBy(window.innerWidth, window.innerHeight, isAtMachine.peek()),
  };
};
window.addEventListener('resize', () => {
  cover();
  showAll();
});
cover();
effect(() => {
  isAtMachine.value;
  untracked(() => {
    cover();
    showAll();
  });
});

// A part that is opened is laid in the middle, and one that becomes much larger or smaller is laid there anew; a bar that
// changes a little under an edit keeps its place.
let laid = { generation: -1, size: 0 };
effect(() => {
  const part = store.opened.value?.part;
  const generation = store.generation.value;
  if (!part) return;
  document.title = `${part.name} – Leverwright`;
  const size = Math.max(part.bar.length, part.bar.width);
  const fresh = generation !== laid.generation;
  if (!fresh && size / laid.size < MUCH && laid.size / size < MUCH) return;
  laid = { generation, size };
  untracked(() => {
    cutLine.value = firstCut(part);
    if (fresh) {
      shownStill.value = 0;
      shownSetup.value = 1;
    }
    showAll();
  });
});

// Every edit that leaves a whole part is planned, after a breath so that a run of keys is planned once; while something
// is dragged, when it rests. The worker drops what is older.
const BREATH = 40;
const REST = 250;
let waiting = 0;
effect(() => {
  const opened = store.opened.value;
  const shown = store.shown.value;
  const profile = machine.value;
  if (!opened || !shown) return;
  clearTimeout(waiting);
  if (shown === opened && opened.wanting.length === 0) untracked(bench.expect);
  const take = (): void => {
    if (shown === opened && opened.wanting.length > 0) bench.rest();
    else if (shown === opened || !hasErrors(checkPart(shown.part)))
      bench.take(JSON.stringify(shown.document), profile);
  };
  waiting = window.setTimeout(take, shown === opened ? BREATH : REST);
});
effect(() => {
  const cut = cutLine.value;
  if (cut) untracked(() => bench.cutAlong(cut));
});
effect(() => {
  const last = stills.value.length - 1;
  if (last >= 0 && shownStill.value > last) shownStill.value = last;
  bench.showLayer(shownStill.value);
});
effect(() => {
  const over = turned.value === true;
  untracked(() => {
    sheet.camera.value = { ...sheet.camera.value, turned: over };
  });
});
effect(() => {
  if (still.value) shownSetup.value = still.value.setup.setup.number;
});
// Estimates belong to the passes they were made for.
effect(() => {
  bench.work.value;
  untracked(survey.clear);
  untracked(adviser.clear);
});
effect(() => {
  bench.judged.value;
  pickedFinding.value = null;
});
effect(() => {
  bench.programs.value;
  pickedLine.value = null;
});

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

const first = samples.find((s) => s.text.includes('"forks"')) ?? samples[0];
void startKeeping(store, first);
listenForDrops(store);
listenForSave(store);
printDrawing(drawing);
render(
  <Desk
    store={store}
    bench={bench}
    survey={survey}
    adviser={adviser}
    sheet={sheet}
    drafting={drafting}
    acts={acts}
    samples={samples}
    machines={machines}
    drawing={drawing}
    stills={stills}
    onFit={showAll}
    onShow={show}
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
if (import.meta.env.PROD) window.addEventListener('load', () => void keepPage(() => allKept.peek()));
