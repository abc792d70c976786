import { computed, effect, type ReadonlySignal, untracked, useComputed } from '@preact/signals';
import type { Drawing } from '../../sketch/canvas/draw-part.ts';
import type { Sheet } from '../../sketch/canvas/sheet.ts';
import { checkPart } from '../../sketch/part/checks.ts';
import { hasErrors } from '../../sketch/part/severity.ts';
import { cutLine } from '../../sketch/view/cut-line.ts';
import { stage } from '../../sketch/view/stage.ts';
import type { Store } from '../../sketch/view/store.ts';
import { FilmStrip } from '../../toolpath/view/film-strip.tsx';
import { bringMachineBack, type MachineFile, machine } from '../../toolpath/view/machine-shop.ts';
import { shownSetup, shownStill } from '../../toolpath/view/showing.ts';
import { type Still, stillsOf } from '../../toolpath/view/work.ts';
import { type Adviser, createAdviser } from './advice.ts';
import { AtMachine, isAtMachine, machineSetup } from './at-machine.tsx';
import { type Bench, createBench } from './bench.ts';
import type { LaterPieces } from './desk.tsx';
import { FindingMarks } from './finding-marks.tsx';
import type { StageInk } from './ink-sheet.ts';
import { pickedFinding, pickedLine } from './picking.ts';
import { printDrawing } from './print-drawing.tsx';
import { pictureOf, SecondView } from './second-view.tsx';
import { stageInk } from './stage-ink.ts';
import { StagePanel } from './stage-panel.tsx';
import { createSurvey, type Survey } from './survey.ts';

const files = import.meta.glob<string>(
  ['../../samples/machines/*.json', '!../../samples/machines/*.schema.json'],
  { query: '?raw', import: 'default', eager: true },
);
const machines = Object.values(files).map(
  (text): MachineFile => ({ name: (JSON.parse(text) as { name: string }).name, text }),
);

/** What the workshop is opened on. */
interface Ground {
  readonly store: Store;
  readonly sheet: Sheet;
  readonly drawing: ReadonlySignal<Drawing | null>;
}

/** What the pieces of the later stages are made of. */
export interface ShopProps extends Ground {
  readonly bench: Bench;
  readonly survey: Survey;
  readonly adviser: Adviser;
  readonly machines: readonly MachineFile[];
  readonly stills: ReadonlySignal<readonly Still[]>;
  readonly onShow: (still: number) => void;
}

/** All that the stages after Draw bring: planning, proof, their pieces of the desk and their ink on the sheet. */
export interface Workshop extends LaterPieces {
  readonly ink: StageInk;
  /** Whether the drawing lies turned over: it lies as the work does in the setup that is shown. */
  readonly turned: ReadonlySignal<boolean>;
}

/** Opens the workshop: from here on every whole part is planned and proven. */
export const openWorkshop = ({ store, sheet, drawing }: Ground): Workshop => {
  bringMachineBack();
  const bench = createBench();
  const survey = createSurvey();
  const adviser = createAdviser();
  const stills = computed(() => (bench.work.value ? stillsOf(bench.work.value.plan) : []));
  const still = computed(() => stills.value[shownStill.value] ?? null);
  const turned = computed(() => {
    const work = bench.work.value;
    if (stage.value === 'Hold') {
      return work?.route.setups.find((s) => s.number === shownSetup.value)?.face === 'back';
    }
    return (stage.value === 'Cut' || stage.value === 'Take away') && still.value?.setup.frame.face === 'back';
  });
  const onShow = (index: number): void => {
    const last = stills.peek().length - 1;
    shownStill.value = Math.max(0, Math.min(last, index));
  };
  planEveryEdit(store, bench);
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
    if (still.value) shownSetup.value = still.value.setup.setup.number;
  });
  // Estimates belong to the passes they were made for.
  effect(() => {
    const work = bench.work.value;
    untracked(() => survey.follow(work));
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
  printDrawing(drawing);

  const props: ShopProps = { store, sheet, drawing, bench, survey, adviser, machines, stills, onShow };
  return {
    bench,
    turned: computed(() => turned.value === true),
    atMachine: isAtMachine,
    ink: stageInk(bench, still),
    AtMachine: () =>
      bench.work.value && (
        <AtMachine key={machineSetup.value} work={bench.work.value} stills={stills.value} onShow={onShow} />
      ),
    FindingMarks: () =>
      stage.value === 'Prove' && bench.judged.value ? (
        <FindingMarks sheet={sheet} proof={bench.judged.value} />
      ) : null,
    SecondView: () => <SecondView {...props} />,
    Strip: () => <Strip {...props} />,
    Trouble: () => <Trouble bench={bench} />,
    Panel: () => <StagePanel {...props} />,
  };
};

const BREATH = 40;
const REST = 250;

/**
 * Every edit that leaves a whole part is planned, after a breath so that a run of keys is planned once; while something
 * is dragged, when it rests. The worker drops what is older.
 */
const planEveryEdit = (store: Store, bench: Bench): void => {
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
};

const Strip = (p: ShopProps) => {
  const pictures = useComputed(() => p.stills.value.map((still) => pictureOf(p, still.index)));
  return (
    <FilmStrip
      work={p.bench.work.value}
      stills={p.stills.value}
      sections={p.bench.sections.value}
      shown={shownStill.value}
      onShow={p.onShow}
      progress={p.bench.progress.value}
      pictures={pictures.value}
    />
  );
};

/** Work that broke down or may have, and a way on. The part itself is not touched by it. */
const Trouble = ({ bench }: { readonly bench: Bench }) => {
  const said = bench.failure.value
    ? `Planning stopped: ${bench.failure.value}`
    : bench.silent.value
      ? 'Passes and proof have given no sign of life for a while. Your part is safe.'
      : null;
  return (
    said && (
      <p class="wrong" role="alert">
        {said}{' '}
        <button type="button" class="quiet" onClick={bench.again}>
          begin again
        </button>
      </p>
    )
  );
};
