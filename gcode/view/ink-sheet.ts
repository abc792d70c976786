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
import type { Pen } from '../../sketch/canvas/pen.ts';
import type { Sheet } from '../../sketch/canvas/sheet.ts';
import type { Bar } from '../../sketch/part/part.ts';
import { canHoldCut, cutLine, keptOnSheet } from '../../sketch/view/cut-line.ts';
import type { Drafting } from '../../sketch/view/drafting.ts';
import { stage } from '../../sketch/view/stage.ts';
import type { Store } from '../../sketch/view/store.ts';
import { placement, underlay } from '../../sketch/view/underlay.ts';

/** What the stages after Draw put on the sheet, from below upward. Each may read signals. */
export interface StageInk {
  readonly stock: (pen: Pen) => void;
  readonly hold: (pen: Pen, bar: Bar) => void;
  readonly datum: (pen: Pen, bar: Bar) => void;
  readonly moves: (pen: Pen) => void;
  readonly cutter: (pen: Pen) => void;
}

interface Inking {
  readonly sheet: Sheet;
  readonly store: Store;
  readonly drafting: Drafting;
  readonly drawing: ReadonlySignal<Drawing | null>;
  /** Null until the later stages are here. */
  readonly later: ReadonlySignal<StageInk | null>;
}

/** Puts every layer on the sheet, lowest first. Each is drawn again when what it shows changes. */
export const inkSheet = ({ sheet, store, drafting, drawing, later }: Inking): void => {
  const cutting = (): boolean => stage.value === 'Cut' || stage.value === 'Take away';

  sheet.addLayer((pen) => {
    if (underlay.value && stage.value === 'Draw') drawUnderlay(pen, underlay.value.traced, placement.value);
  });
  sheet.addLayer((pen) => later.value?.stock(pen));
  sheet.addLayer((pen) => {
    const d = drawing.value;
    if (!d) return;
    later.value?.hold(pen, d.part.bar);
    drawBar(pen, d.part.bar);
    if (!cutting()) drawBody(pen, d);
    if (stage.value === 'Draw') drawCentres(pen, d);
    drawEdges(pen, d, cutting() ? 'thin' : 'heavy');
  });
  sheet.addLayer((pen) => {
    const d = drawing.value;
    if (d) later.value?.datum(pen, d.part.bar);
  });
  sheet.addLayer((pen) => {
    const cut = cutLine.value;
    if (cut && drawing.value && canHoldCut(stage.value, pen.viewport.width)) drawCut(pen, cut);
  });
  sheet.addLayer((pen) => later.value?.moves(pen));
  sheet.addLayer((pen) => {
    const d = drawing.value;
    if (!d) return;
    if (stage.value !== 'Draw') return;
    const chosen = store.chosen.value;
    for (const name of chosen) drawPicked(pen, d.part, name);
    // While something is dragged only its own measures are laid out: the others would jump about.
    const under = store.opened.value !== null && store.shown.value !== store.opened.value;
    drawDimensions(pen, d, chosen, {
      kept: keptOnSheet(sheet),
      ...(under ? { only: chosen } : {}),
    });
  });
  sheet.addLayer((pen) => later.value?.cutter(pen));
  sheet.addLayer((pen) => {
    const construction = drafting.construction.value;
    if (construction && stage.value === 'Draw') drawConstruction(pen, construction);
  });
};
