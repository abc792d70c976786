import { effect } from '@preact/signals';
import { render } from 'preact';
import {
  drawBar,
  drawBody,
  drawCentres,
  drawDimensions,
  drawEdges,
  drawPicked,
  featureAt,
} from './sketch/canvas/draw-part.ts';
import { LETTERING } from './sketch/canvas/ink.ts';
import { createSheet } from './sketch/canvas/sheet.ts';
import { cutLine, firstCut } from './sketch/view/cut-line.ts';
import { DrawPanel } from './sketch/view/draw-panel.tsx';
import { drawingOf } from './sketch/view/drawing.ts';
import { Loupe } from './sketch/view/loupe.tsx';
import { stage } from './sketch/view/stage.ts';
import { StageRail } from './sketch/view/stage-rail.tsx';
import { createStore } from './sketch/view/store.ts';
import { type Sample, TitleBlock } from './sketch/view/title-block.tsx';

const files = import.meta.glob<string>(['./samples/*.json', '!./samples/*.schema.json'], { query: '?raw', import: 'default', eager: true });
const samples: Sample[] = Object.values(files).map((text) => ({ name: (JSON.parse(text) as {name: string}).name, text }));

const store = createStore();
const drawing = drawingOf(store);
const canvas = document.querySelector<HTMLCanvasElement>('#sheet')!;
const fit = () => {
  const bar = store.opened.value?.part.bar;
  if (bar) sheet.fit({ min: bar.corner, max: { x: bar.corner.x + bar.length, y: bar.corner.y + bar.width } }, false, bar.corner.y + bar.width / 2);
};
const sheet = createSheet(canvas, {
  onPick: (at, reach) => {
    const part = store.opened.value?.part;
    if (part) store.picked.value = featureAt(part, at, reach);
  },
  onFit: fit,
});
sheet.viewport.value = { ...sheet.viewport.value, covered: { left: 22, top: 110, right: 440, bottom: 300 } };
sheet.addLayer((pen) => {
  const d = drawing.value;
  if (!d) return;
  drawBar(pen, d.part.bar);
  drawBody(pen, d);
  drawCentres(pen, d.part);
  drawEdges(pen, d, pen.camera.turned);
  if (store.picked.value) drawPicked(pen, d.part, store.picked.value);
  if (stage.value === 'Draw') drawDimensions(pen, d, store.picked.value ?? null, LETTERING);
});
effect(() => {
  const part = store.opened.value?.part;
  if (part && !cutLine.peek()) cutLine.value = firstCut(part);
});
const first = samples[0];
if (first) store.open(first.text);
fit();
const marks = { Draw: 'fine', Hold: 'untouched', Cut: 'untouched', Prove: 'look here', 'Take away': 'working' } as const;
const App = () => (
  <>
    <StageRail marks={marks} />
    <Loupe sheet={sheet} onFit={fit} />
    <aside class="card" aria-label="Job card">
      <TitleBlock store={store} samples={samples} />
      <div class="card-body">{stage.value === 'Draw' && <DrawPanel store={store} />}</div>
    </aside>
  </>
);
render(<App />, document.querySelector('#desk')!);
