import type { ReadonlySignal } from '@preact/signals';
import type { Pen } from '../../sketch/canvas/pen.ts';
import type { Bar } from '../../sketch/part/part.ts';
import { stage } from '../../sketch/view/stage.ts';
import { toPart } from '../../toolpath/route/frame.ts';
import { inkDatum, inkHold } from '../../toolpath/view/hold-ink.ts';
import { inkCutter, inkMoves, inkPickedMove } from '../../toolpath/view/move-ink.ts';
import { shownSetup } from '../../toolpath/view/showing.ts';
import { inkStock } from '../../toolpath/view/stock-ink.ts';
import type { Still } from '../../toolpath/view/work.ts';
import { machineStop } from './at-machine.tsx';
import type { Bench } from './bench.ts';
import type { StageInk } from './ink-sheet.ts';
import { pickedLine } from './picking.ts';

/** What the stages after Draw put on the sheet. */
export const stageInk = (bench: Bench, still: ReadonlySignal<Still | null>): StageInk => {
  const cutting = (): boolean => stage.value === 'Cut' || stage.value === 'Take away';
  const setup = () => {
    const number = cutting() ? still.value?.setup.setup.number : shownSetup.value;
    const shown = bench.work.value?.route.setups.find((s) => s.number === number) ?? null;
    return stage.value === 'Hold' || cutting() ? shown : null;
  };
  return {
    stock: (pen: Pen): void => {
      const layer = bench.layer.value;
      if (cutting() && layer) inkStock(pen, layer.stock);
    },
    hold: (pen: Pen, bar: Bar): void => {
      const held = setup();
      if (held) inkHold(pen, bar, held);
    },
    datum: (pen: Pen, bar: Bar): void => {
      const held = setup();
      if (held) inkDatum(pen, bar, held);
    },
    moves: (pen: Pen): void => {
      const layer = bench.layer.value;
      const shown = still.value;
      if (!cutting() || !layer || !shown || layer.still !== shown.index) return;
      inkMoves(pen, layer.motions, shown.setup.frame, shown.pass.kind);
      const line = pickedLine.value;
      if (!line || line.setup !== shown.setup.setup.number) return;
      const motion = layer.motions.filter((m) => m.line <= line.line).at(-1) ?? layer.motions[0];
      if (motion) inkPickedMove(pen, motion, shown.setup.frame, shown.step.cutter.diameter);
    },
    cutter: (pen: Pen): void => {
      const stop = machineStop.value;
      if (stop) inkCutter(pen, toPart(stop.still.setup.frame, stop.row.at), stop.still.step.cutter.diameter);
    },
  };
};
