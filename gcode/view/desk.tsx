import { useComputed } from '@preact/signals';
import type { Drawing } from '../../sketch/canvas/draw-part.ts';
import type { Sheet } from '../../sketch/canvas/sheet.ts';
import type { Finding } from '../../sketch/part/part.ts';
import { CutHandles } from '../../sketch/view/cut-handles.tsx';
import { canHoldCut, keptOnSheet } from '../../sketch/view/cut-line.ts';
import type { Drafting } from '../../sketch/view/drafting.ts';
import { DrawPanel } from '../../sketch/view/draw-panel.tsx';
import type { FeatureActs } from '../../sketch/view/feature-acts.ts';
import { FeatureSpots } from '../../sketch/view/feature-spots.tsx';
import { FeatureStrip } from '../../sketch/view/feature-strip.tsx';
import { FirstHint } from '../../sketch/view/first-hint.tsx';
import { Loupe } from '../../sketch/view/loupe.tsx';
import { MeasureSpots } from '../../sketch/view/measure-spots.tsx';
import { PencilCase } from '../../sketch/view/pencil-case.tsx';
import { drawerOpen, stage } from '../../sketch/view/stage.ts';
import { StageRail } from '../../sketch/view/stage-rail.tsx';
import type { Store } from '../../sketch/view/store.ts';
import { StrokeStrip } from '../../sketch/view/stroke-strip.tsx';
import { type Sample, TitleBlock } from '../../sketch/view/title-block.tsx';
import { applyRouteDocument } from '../../toolpath/route/document.ts';
import { CutPanel } from '../../toolpath/view/cut-panel.tsx';
import { FilmStrip } from '../../toolpath/view/film-strip.tsx';
import { HoldPanel } from '../../toolpath/view/hold-panel.tsx';
import type { MachineFile } from '../../toolpath/view/machine-shop.ts';
import { shownSetup, shownStill } from '../../toolpath/view/showing.ts';
import type { Still } from '../../toolpath/view/work.ts';
import { hasErrors } from '../chain.ts';
import type { Adviser } from './advice.ts';
import { AtMachine, isAtMachine, machineSetup } from './at-machine.tsx';
import type { Bench } from './bench.ts';
import { FindingMarks } from './finding-marks.tsx';
import { marksOf } from './marks.ts';
import { PeelPanel } from './peel-panel.tsx';
import { pickedFinding } from './picking.ts';
import { ProvePanel } from './prove-panel.tsx';
import { pictureOf, SecondView } from './second-view.tsx';
import type { Survey } from './survey.ts';
import { SurvivePanel } from './survive-panel.tsx';
import { TakeAwayPanel } from './take-away-panel.tsx';

export interface DeskProps {
  readonly store: Store;
  readonly bench: Bench;
  readonly survey: Survey;
  readonly adviser: Adviser;
  readonly sheet: Sheet;
  readonly drafting: Drafting;
  readonly acts: FeatureActs;
  readonly samples: readonly Sample[];
  readonly machines: readonly MachineFile[];
  readonly drawing: { readonly value: Drawing | null };
  readonly stills: { readonly value: readonly Still[] };
  readonly onFit: () => void;
  readonly onShow: (still: number) => void;
}

/**
 * Everything that lies on the sheet: the rail, the job card, the side section and the pass strip. Each piece reads the
 * signals that it shows, so that a step of the film does not lay the whole desk anew.
 */
export const Desk = (p: DeskProps) => {
  if (isAtMachine.value && p.bench.work.value) {
    return (
      <AtMachine
        key={machineSetup.value}
        work={p.bench.work.value}
        stills={p.stills.value}
        onShow={p.onShow}
      />
    );
  }
  return (
    <>
      <Rail {...p} />
      <Loupe sheet={p.sheet} store={p.store} onFit={p.onFit} />
      <DrawTools {...p} />
      <Marks {...p} />
      <SecondView {...p} />
      <Strip {...p} />
      <Card {...p} />
    </>
  );
};

/** What lies on the sheet while one draws: the pencil case, the figures of what is drawn or picked, the handles. */
const DrawTools = ({ store, sheet, drafting, acts, drawing }: DeskProps) => {
  const opened = store.opened.value;
  if (stage.value !== 'Draw' || !opened) return null;
  const said = drafting.trouble.value;
  return (
    <section aria-label="The pencil, and what is drawn">
      <PencilCase drafting={drafting} />
      <div class="draft-strips">
        {drafting.tool.value ? (
          <StrokeStrip drafting={drafting} />
        ) : (
          <FeatureStrip store={store} drafting={drafting} acts={acts} />
        )}
        {said && (
          <p class="wrong" role="alert" data-trouble-drawing>
            Not taken: {said}
          </p>
        )}
        {drafting.remark.value && (
          <p class="remark" role="status">
            {drafting.remark.value}
          </p>
        )}
      </div>
      <FirstHint store={store} sheet={sheet} drafting={drafting} />
      <MeasureSpots
        store={store}
        sheet={sheet}
        drafting={drafting}
        drawing={drawing}
        kept={keptOnSheet(sheet)}
      />
      <FeatureSpots store={store} sheet={sheet} drafting={drafting} />
    </section>
  );
};

const Rail = ({ store, bench }: DeskProps) => <StageRail marks={marksOf(store, bench)} />;

const Marks = ({ store, bench, sheet }: DeskProps) => {
  const opened = store.opened.value;
  const proof = bench.judged.value;
  return (
    <>
      {opened && canHoldCut(stage.value, sheet.viewport.value.width) && (
        <CutHandles sheet={sheet} unit={opened.part.unit} />
      )}
      {stage.value === 'Prove' && proof && <FindingMarks sheet={sheet} proof={proof} />}
    </>
  );
};

const Strip = (p: DeskProps) => {
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

const Card = (p: DeskProps) => {
  const { store, bench } = p;
  return (
    <aside class={drawerOpen.value ? 'card open' : 'card'} aria-label="Job card">
      <button
        type="button"
        class="drawer-handle"
        aria-expanded={drawerOpen.value}
        onClick={() => {
          drawerOpen.value = !drawerOpen.value;
        }}
      >
        <span>
          {stage.value}: {store.opened.value?.part.name ?? 'no part'}
        </span>
        <span aria-hidden="true">{drawerOpen.value ? '▼' : '▲'}</span>
      </button>
      <TitleBlock store={store} samples={p.samples} />
      <div class="card-body" tabIndex={-1}>
        <Trouble bench={bench} />
        <h2 class="hidden-words">{stage.value}</h2>
        <Panel key={store.generation.value} {...p} />
      </div>
    </aside>
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

/** What must be drawn before there is anything to hold, cut or prove. */
const Wanting = ({ findings }: { readonly findings: readonly Finding[] }) => (
  <>
    <p>The drawing is not a whole part yet:</p>
    <ul>
      {findings.map((f) => (
        <li key={f.message}>{f.message}</li>
      ))}
    </ul>
  </>
);

const Panel = (p: DeskProps) => {
  const { store, bench } = p;
  const made = bench.work.value;
  const opened = store.opened.value;
  if (stage.value === 'Draw') return <DrawPanel store={store} />;
  if (opened && opened.wanting.length > 0) return <Wanting findings={opened.wanting} />;
  if (!made || !opened) return <p class="aside">{bench.progress.value ?? 'No part is open.'}</p>;
  // The file's wishes are shown as they stand, while the passes they lead to are still being made.
  const wished = applyRouteDocument(made.proposed, opened.document.route, made.part);
  const work = { ...made, route: wished.route };
  const still = p.stills.value[shownStill.value] ?? null;
  switch (stage.value) {
    case 'Hold':
      return (
        <HoldPanel
          store={store}
          work={work}
          machines={p.machines}
          shown={shownSetup.value}
          onShow={(n) => {
            shownSetup.value = n;
          }}
        />
      );
    case 'Cut':
      return (
        <CutPanel
          store={store}
          work={work}
          still={still}
          onShow={(name) => {
            const first = p.stills.value.find((s) => s.step.step.name === name);
            if (first) p.onShow(first.index);
          }}
        />
      );
    case 'Prove':
      return (
        <>
          <ProvePanel
            proof={bench.judged.value}
            progress={bench.progress.value}
            proving={bench.proving.value}
            stopped={bench.stopped.value}
            onStop={bench.stopProof}
            onAgain={bench.proveAgain}
            foreign={bench.foreign.value}
            setups={made.plan.setups.map((s) => s.setup.number)}
            held={hasErrors(made.findings)}
            unit={opened.part.unit}
            picked={pickedFinding.value}
            onPick={(i) => {
              pickedFinding.value = i;
            }}
          />
          <SurvivePanel
            survey={p.survey}
            adviser={p.adviser}
            store={store}
            bench={bench}
            work={made}
            still={still}
            onShow={p.onShow}
          />
          <PeelPanel store={store} work={made} passes={p.survey.state.value?.passes ?? []} />
        </>
      );
    case 'Take away':
      return (
        <TakeAwayPanel
          bench={bench}
          survey={p.survey}
          adviser={p.adviser}
          work={work}
          still={still}
          stills={p.stills.value}
          onShow={p.onShow}
        />
      );
  }
};
