import type { ReadonlySignal } from '@preact/signals';
import type { ComponentType } from 'preact';
import type { Drawing } from '../../sketch/canvas/draw-part.ts';
import type { Sheet } from '../../sketch/canvas/sheet.ts';
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
import type { Bench } from './bench.ts';
import { marksOf } from './marks.ts';

/** The pieces of the desk that come after the first drawing: what the stages Hold, Cut, Prove and Take away need. */
export interface LaterPieces {
  readonly bench: Bench;
  /** Beside the machine it has the desk's place. */
  readonly atMachine: ReadonlySignal<boolean>;
  readonly AtMachine: ComponentType;
  readonly FindingMarks: ComponentType;
  readonly SecondView: ComponentType;
  readonly Strip: ComponentType;
  readonly Trouble: ComponentType;
  /** The job card's words in every stage but Draw. */
  readonly Panel: ComponentType;
}

export interface DeskProps {
  readonly store: Store;
  readonly sheet: Sheet;
  readonly drafting: Drafting;
  readonly acts: FeatureActs;
  readonly samples: readonly Sample[];
  readonly drawing: { readonly value: Drawing | null };
  readonly onFit: () => void;
  readonly later: ReadonlySignal<LaterPieces | null>;
  /** Why they did not come. */
  readonly missing: ReadonlySignal<string | null>;
}

/**
 * Everything that lies on the sheet: the rail, the job card, the side section and the pass strip. Each piece reads the
 * signals that it shows, so that a step of the film does not lay the whole desk anew.
 */
export const Desk = (p: DeskProps) => {
  const later = p.later.value;
  if (later?.atMachine.value && later.bench.work.value) return <later.AtMachine />;
  return (
    <>
      <Rail {...p} />
      <Loupe sheet={p.sheet} store={p.store} onFit={p.onFit} />
      <DrawTools {...p} />
      <CutEnds {...p} />
      {later && <later.FindingMarks />}
      {later && <later.SecondView />}
      {later ? <later.Strip /> : <StripToCome missing={p.missing} />}
      <Card {...p} />
    </>
  );
};

/** What lies on the sheet while one draws: the pencil case, the figures of what is drawn or picked, the handles. */
const DrawTools = (p: DeskProps) => {
  const { store, sheet, drafting } = p;
  if (stage.value !== 'Draw' || !(store.opened.value ?? store.shown.value)) return null;
  return (
    <section aria-label="The pencil, and what is drawn">
      {store.opened.value && <Pencil {...p} />}
      <FeatureSpots store={store} sheet={sheet} drafting={drafting} />
    </section>
  );
};

const Pencil = ({ store, sheet, drafting, acts, drawing }: DeskProps) => {
  const said = drafting.trouble.value;
  return (
    <>
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
    </>
  );
};

const Rail = ({ store, later }: DeskProps) => (
  <StageRail marks={marksOf(store, later.value?.bench ?? null)} />
);

const CutEnds = ({ store, sheet }: DeskProps) => {
  const opened = store.opened.value;
  if (!opened || !canHoldCut(stage.value, sheet.viewport.value.width)) return null;
  return <CutHandles sheet={sheet} unit={opened.part.unit} />;
};

/** The strip's place before the passes can be made. */
const StripToCome = ({ missing }: Pick<DeskProps, 'missing'>) => (
  <section class="film" aria-label="Passes in the order of cutting">
    <div class="film-controls">
      <p class="film-words">
        {missing.value === null && <span class="progress">Planning … </span>}
        {missing.value !== null && 'No passes.'}
      </p>
    </div>
  </section>
);

const Card = (p: DeskProps) => {
  const { store } = p;
  const later = p.later.value;
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
          {stage.value}: {(store.opened.value ?? store.shown.value)?.part.name ?? 'no part'}
        </span>
        <span aria-hidden="true">{drawerOpen.value ? '▼' : '▲'}</span>
      </button>
      <TitleBlock store={store} samples={p.samples} />
      <div class="card-body" tabIndex={-1}>
        {later ? <later.Trouble /> : <Missing {...p} />}
        <h2 class="hidden-words">{stage.value}</h2>
        <Panel key={store.generation.value} {...p} />
      </div>
    </aside>
  );
};

/** The later stages could not be fetched. Drawing goes on, and the part is kept in the browser as ever. */
const Missing = ({ missing }: DeskProps) =>
  missing.value === null ? null : (
    <p class="wrong" role="alert">
      Only the drawing is here: the rest of the program could not be fetched ({missing.value}).{' '}
      <button type="button" class="quiet" onClick={() => location.reload()}>
        load the page anew
      </button>
    </p>
  );

const Panel = ({ store, later, missing }: DeskProps) => {
  if (stage.value === 'Draw') {
    // At the first look the drawing comes first and its words a moment later.
    const firstLook = store.opened.value === null && store.shown.value !== null;
    return firstLook ? null : <DrawPanel store={store} />;
  }
  const all = later.value;
  if (all) return <all.Panel />;
  return missing.value === null ? <p class="aside">Planning …</p> : null;
};
