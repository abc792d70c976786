import type { ReadonlySignal } from '@preact/signals';
import { drawConstruction } from '../../sketch/canvas/draw-construction.ts';
import { drawCut } from '../../sketch/canvas/draw-cut.ts';
import { drawDimensions } from '../../sketch/canvas/draw-dimensions.ts';
import {
  type Drawing,
  drawBar,
  drawBody,
  drawCentres,
  drawEdges,
  drawPicked,
} from '../../sketch/canvas/draw-part.ts';
import { drawUnderlay } from '../../sketch/canvas/draw-underlay.ts';
import type { Sheet } from '../../sketch/canvas/sheet.ts';
import { canHoldCut, cutLine, keptOnSheet } from '../../sketch/view/cut-line.ts';
import type { Drafting } from '../../sketch/view/drafting.ts';
import { stage } from '../../sketch/view/stage.ts';
import type { Store } from '../../sketch/view/store.ts';
import { placement, underlay } from '../../sketch/view/underlay.ts';
import { toPart } from '../../toolpath/route/frame.ts';
import { inkDatum, inkHold } from '../../toolpath/view/hold-ink.ts';
import { inkCutter, inkMoves, inkPickedMove } from '../../toolpath/view/move-ink.ts';
import { shownSetup } from '../../toolpath/view/showing.ts';
import { inkStock } from '../../toolpath/view/stock-ink.ts';
import type { Still } from '../../toolpath/view/work.ts';
import { machineStop } from './at-machine.tsx';
import type { Bench } from './bench.ts';
import { pickedLine } from './picking.ts';

interface Inking {
  readonly sheet: Sheet;
  readonly store: Store;
  readonly drafting: Drafting;
  readonly bench: Bench;
  readonly drawing: ReadonlySignal<Drawing | null>;
  readonly still: ReadonlySignal<Still | null>;
}

/** Puts every layer on the sheet, lowest first. Each is drawn again when what it shows changes. */
export const inkSheet = ({ sheet, store, drafting, bench, drawing, still }: Inking): void => {
  const cutting = (): boolean => stage.value === 'Cut' || stage.value === 'Take away';
  const setup = () => {
    const number = cutting() ? still.value?.setup.setup.number : shownSetup.value;
    return bench.work.value?.route.setups.find((s) => s.number === number) ?? null;
  };

  sheet.addLayer((pen) => {
    if (underlay.value && stage.value === 'Draw') drawUnderlay(pen, underlay.value.traced, placement.value);
  });
  sheet.addLayer((pen) => {
    const layer = bench.layer.value;
    if (cutting() && layer) inkStock(pen, layer.stock);
  });
  sheet.addLayer((pen) => {
    const d = drawing.value;
    if (!d) return;
    const held = setup();
    if ((stage.value === 'Hold' || cutting()) && held) inkHold(pen, d.part.bar, held);
    drawBar(pen, d.part.bar);
    if (!cutting()) drawBody(pen, d);
    if (stage.value === 'Draw') drawCentres(pen, d);
    drawEdges(pen, d, cutting() ? 'thin' : 'heavy');
  });
  sheet.addLayer((pen) => {
    const d = drawing.value;
    const held = setup();
    if (d && held && (stage.value === 'Hold' || cutting())) inkDatum(pen, d.part.bar, held);
  });
  sheet.addLayer((pen) => {
    const cut = cutLine.value;
    if (cut && drawing.value && canHoldCut(stage.value, pen.viewport.width)) drawCut(pen, cut);
  });
  sheet.addLayer((pen) => {
    const layer = bench.layer.value;
    const shown = still.value;
    if (!cutting() || !layer || !shown || layer.still !== shown.index) return;
    inkMoves(pen, layer.motions, shown.setup.frame, shown.pass.kind);
    const line = pickedLine.value;
    if (!line || line.setup !== shown.setup.setup.number) return;
    const motion = layer.motions.filter((m) => m.line <= line.line).at(-1) ?? layer.motions[0];
    if (motion) inkPickedMove(pen, motion, shown.setup.frame, shown.step.cutter.diameter);
  });
  sheet.addLayer((pen) => {
    const d = drawing.value;
    if (!d) return;
    if (stage.value !== 'Draw') return;
    const chosen = store.chosen.value;
    for (const name of chosen) drawPicked(pen, d.part, name);
    // While something is dragged only its own measures are laid out: the others would jump about.
    const under = store.shown.value !== store.opened.value;
    drawDimensions(pen, d, chosen, {
      kept: keptOnSheet(sheet),
      ...(under ? { only: chosen } : {}),
    });
  });
  sheet.addLayer((pen) => {
    const stop = machineStop.value;
    if (stop) inkCutter(pen, toPart(stop.still.setup.frame, stop.row.at), stop.still.step.cutter.diameter);
  });
  sheet.addLayer((pen) => {
    const construction = drafting.construction.value;
    if (construction && stage.value === 'Draw') drawConstruction(pen, construction);
  });
};
